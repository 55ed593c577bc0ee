"""A control size of a serial as it stands now: the mean of what was read after its newest hit."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.records import Store
from hoopwright.records.making import Reading


def hit_of(reading: Reading) -> int:
    """Hit after which a reading was taken; 0 where it was after none."""
    number = (reading.operation or "").rpartition(".hit-")[2]
    return int(number) if number.isdigit() else 0


def newest_mean(readings: Sequence[Reading]) -> float | None:
    """Mean of the readings after the newest hit among them; none where there is none. [mm]"""
    values = [r for r in readings if r.value is not None]
    last = max((hit_of(r) for r in values), default=0)
    newest = [r.value for r in values if hit_of(r) == last and r.value is not None]
    return sum(newest) / len(newest) if newest else None


def size_now(store: Store, serial: str, control: str) -> float | None:
    """A control size of a serial as last read; none where it was never read. [mm]"""
    found = store.list(Reading, serial=serial, what="girth", characteristic=control, standing="stands")
    return newest_mean([k.thing for k in found])
