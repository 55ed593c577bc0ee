"""What is wrong with a part, from everything that is in the records of it; or a row of the failure catalogue."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.correct.catalogue import FailureRow, RowDiagnosis, diagnose_row, rows_like
from hoopwright.correct.diagnosis import Diagnosis as Weighing
from hoopwright.correct.diagnosis import diagnose as weigh
from hoopwright.correct.lobes import LobeDiagnosis, diagnose_lobes
from hoopwright.design.shapes import Liner
from hoopwright.desk.in_force import expectations, needed_liner, register_of
from hoopwright.desk.record_book import records
from hoopwright.desk.ring_trials import HitRead, hits_of
from hoopwright.desk.tool_book import refusal
from hoopwright.errors import InputError, require_finite
from hoopwright.findings import Finding, gravest_first
from hoopwright.measure.roundness import Roundness, RoundnessSettings, evaluate_roundness
from hoopwright.records import Store
from hoopwright.records.making import DEAD_STATES, Operation, Part, Reading, Tool
from hoopwright.records.material import Sheet

SEEN_P = 0.01
SEGMENTS = 8


@dataclass(frozen=True, slots=True)
class TurnShown:
    """One roundness reading: readings a turn, held how, minimum zone and what is left without orders [mm], orders."""

    reading: str
    readings: int
    held: str
    minimum_zone_mm: float
    left_mm: tuple[tuple[str, float], ...]
    orders: tuple[tuple[int, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class PartDiagnosis:
    """seen : every reading that was weighed, as deviation from plan. ranked causes and next measurement within."""

    serial: str
    ring: str
    seen: tuple[tuple[str, float], ...]
    diagnosis: Weighing | None
    turns: tuple[TurnShown, ...]
    lobes: LobeDiagnosis | None
    findings: tuple[Finding, ...]


def diagnose_part(
    address: str | Path | None,
    serial: str,
    also: Mapping[str, float] | None = None,
    seam_deg: float | None = None,
    needed_radius_mm: float | None = None,
) -> PartDiagnosis:
    """Weigh everything that was read of a serial.

    Parameters
    ----------
    also : further readings by their names in the list of signatures ("bead_mm", "hardness_pct").
    seam_deg : where the seam lay in the roundness readings, from their zero.
    needed_radius_mm : turned radius of the right segment set at the station of the roundness reading.

    Raises
    ------
    InputError
        Nothing was read of it.
    """
    with records(address) as store:
        liner = needed_liner(store)
        part = store.get(Part, serial).thing
        hits = hits_of(store, liner, serial) if expectations(store, part.part) else ()
        turns = _turns(store, liner, part)
        seen, findings = _records_say(store, part, hits[-1].segment_set if hits else _set_of(turns))
        seen |= _of_hit(hits[-1]) if hits else {}
        for reading, turn in turns:
            seen |= _of_turn(turn, reading.held, seam_deg)
        seen |= {name: require_finite(name, value) for name, value in (also or {}).items()}
        lobes = _lobes(store, liner, part, turns, needed_radius_mm)
    if not seen and not turns:
        raise InputError(f"readings of {serial}", "none", "", "one or more", "enter its girths: hoopwright read")
    measured = {name for name in seen if name not in ("label", "cast_record")}
    found = weigh(seen) if measured or any(seen.values()) else None
    findings += [f for _, turn in turns for f in turn.findings]
    findings += list(lobes.findings) if lobes is not None else []
    return PartDiagnosis(
        serial, part.part, tuple(seen.items()), found, tuple(_shown(r, t) for r, t in turns), lobes,
        gravest_first(findings),
    )  # fmt: skip


def _of_hit(read: HitRead) -> dict[str, float]:
    """Deviations of the last hit: size, taper, repeat, loaded."""
    stations = sorted(read.trial.stations, key=lambda s: s.axis)
    off = [s.mean_free_mm - s.predicted_free_mm for s in stations]
    found = {"size_mm": math.fsum(off) / len(off)}
    if len(off) > 1:
        found["taper_mm"] = off[-1] - off[0]
    spreads = [max(s.free_mm) - min(s.free_mm) for s in stations if len(s.free_mm) > 1]
    if spreads:
        found["repeat_mm"] = max(spreads)
    loaded = [s.read_loaded_mm - s.loaded_mm for s in stations if s.read_loaded_mm is not None]
    if loaded:
        found["loaded_mm"] = math.fsum(loaded) / len(loaded)
    return found


def _set_of(turns: Sequence[tuple[Reading, Roundness]]) -> str:
    return next((r.tool or str(dict(r.more).get("segment_set", "")) for r, _ in turns), "")


def _records_say(store: Store, part: Part, used_set: str) -> tuple[dict[str, float], list[Finding]]:
    """What needs no gauge: is it the right set, and does the cast agree with its sheet's?"""
    found: dict[str, float] = {}
    findings: list[Finding] = []
    done = [(k.thing.tool or "", k.entered_at) for k in store.list(Operation, serial=part.id)]
    read = [(used_set, k.entered_at) for k in store.list(Reading, serial=part.id, what=("roundness", "girth"))]
    known = {name: at for name, at in (*done, *read) if name and store.find(Tool, name) is not None}
    refused = [
        f
        for name, at in known.items()
        if _sizes(store, name)
        and (f := refusal(store, name, part.part)) is not None
        and _refused_then(store, name, at, f)
    ]
    if known:
        found["label"] = 1.0 if refused else 0.0
        findings += refused
    if part.sheet is not None and part.cast is not None:
        sheet = store.get(Sheet, part.sheet).thing
        found["cast_record"] = 0.0 if sheet.cast == part.cast else 1.0
    return found, findings


def _refused_then(store: Store, tool: str, at: dt.datetime, found: Finding) -> bool:
    """Whether a set that is refused today was so when it was used: what was right then is no fault of the part."""
    if found.topic == "tool-of-another-ring":
        return True
    states = [entry.body["state"] for entry in store.history(Tool, tool) if entry.at <= at]
    return not states or states[-1] in DEAD_STATES


def _sizes(store: Store, tool: str) -> bool:
    return "segment" in store.get(Tool, tool).thing.what


def _turns(store: Store, liner: Liner, part: Part) -> list[tuple[Reading, Roundness]]:
    segments = next((e.segments for e in expectations(store, part.part)), SEGMENTS)
    base = max(c.diameter_mm for c in liner.ring(part.part).controls) / 2.0
    found = []
    for kept in store.list(Reading, serial=part.id, what="roundness", standing="stands"):
        series = kept.thing.series
        settings = RoundnessSettings(segments, base, kept.thing.held or "free")
        found.append((kept.thing, evaluate_roundness(series[0::2], series[1::2], settings)))
    return found


def _of_turn(turn: Roundness, held: str, seam_deg: float | None) -> dict[str, float]:
    """Lobes signed by where their crests lie; the oval along the seam's axis and across it."""
    segments = turn.settings.segments
    found: dict[str, float] = {}
    known = {order.order for order in turn.orders.orders}
    for order, name in ((segments, "aN_mm"), (2 * segments, "a2N_mm")):
        if order in known:
            lobe = turn.orders.order(order)
            found[name] = lobe.amplitude * math.cos(order * lobe.crest_rad) if order == segments else lobe.amplitude
    if seam_deg is not None and 2 in known:
        oval = turn.orders.order(2)
        angle = 2.0 * (oval.crest_rad - math.radians(seam_deg))
        word = "held" if held == "restrained" else "free"
        found[f"a2_seam_{word}_mm"] = oval.amplitude * math.cos(angle)
        found[f"a2_across_{word}_mm"] = oval.amplitude * math.sin(angle)
    return found


def _lobes(
    store: Store, liner: Liner, part: Part, turns: Sequence[tuple[Reading, Roundness]], needed: float | None
) -> LobeDiagnosis | None:
    if not turns or needed is None:
        return None
    reading, turn = turns[-1]
    used = str(dict(reading.more).get("segment_set", reading.tool or "the set used"))
    return diagnose_lobes(turn, register_of(store, liner.id), part.part, used, needed)


def _shown(reading: Reading, turn: Roundness) -> TurnShown:
    orders = tuple((o.order, o.amplitude, math.degrees(o.crest_rad), o.p_value) for o in turn.orders.orders)
    seen = tuple(order for order in orders if order[3] < SEEN_P)
    return TurnShown(
        reading.note or reading.id, turn.readings, reading.held_how or reading.held, turn.minimum_zone.zone,
        turn.peak_to_valley_mm, seen,
    )  # fmt: skip


def diagnose_symptom(row: int, signs: Mapping[str, bool]) -> RowDiagnosis:
    """Causes of a row of the failure catalogue, by the signs that were looked for."""
    return diagnose_row(row, signs)


def symptoms(words: str) -> tuple[FailureRow, ...]:
    """Rows of the failure catalogue that these words describe."""
    return rows_like(words)


__all__ = ["PartDiagnosis", "TurnShown", "Weighing", "diagnose_part", "diagnose_symptom", "symptoms"]
