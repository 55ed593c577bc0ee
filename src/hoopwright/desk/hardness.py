"""Hardness of a cast against the shop's other casts, out of the records: a wrong cast cannot be seen from girths."""

from __future__ import annotations

from hoopwright.findings import Finding
from hoopwright.measure.sheet_receiving import evaluate_hardness
from hoopwright.records import Store
from hoopwright.records.making import Part, Reading
from hoopwright.records.material import Sheet

MOST_ROWS, MOST_READINGS = 10_000, 500


def hardness_of(store: Store, cast: str) -> tuple[list[float], list[float]]:
    """Newest hardness readings of a cast, and of all others, on sheets and parts. [HV]"""
    own: list[float] = []
    others: list[float] = []
    cast_of: dict[str, str | None] = {k.id: k.thing.cast for k in store.list(Sheet, MOST_ROWS)}
    cast_of |= {k.id: k.thing.cast for k in store.list(Part, MOST_ROWS, newest_first=True)}
    for kept in store.list(Reading, MOST_READINGS, newest_first=True, what="hardness", standing="stands"):
        reading = kept.thing
        of = cast_of.get(reading.sheet or reading.serial or "")
        if reading.value is not None and of is not None:
            (own if of == cast else others).append(reading.value)
    return own, others


def hardness_pct(store: Store, part: Part) -> float | None:
    """Hardness of a serial's cast against the mean of the other casts [pct]; none where either is not read."""
    if part.cast is None:
        return None
    own, others = hardness_of(store, part.cast)
    if not own or not others:
        return None
    return 100.0 * (sum(own) / len(own) / (sum(others) / len(others)) - 1.0)


def received(store: Store, cast: str, about: str) -> tuple[Finding, ...]:
    """What the hardness of a cast says at receiving; nothing before two readings of it and one of another."""
    own, others = hardness_of(store, cast)
    if len(own) < 2 or not others:
        return ()
    return evaluate_hardness(own, sum(others) / len(others), about).findings
