"""Trials of a ring out of the records: what the plan let expect for the stop that was used, and what was read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hoopwright.correct.gates import admitted
from hoopwright.correct.trials import Station, Trial
from hoopwright.design.shapes import ControlSize, Liner
from hoopwright.desk.in_force import needed_expectations
from hoopwright.errors import InputError
from hoopwright.records import Store
from hoopwright.records.making import Expectation, Operation, Part, Reading

HIT_STEP = "sizing hit "
MOST_SERIALS = 24
"""Serials that a correction looks back on; older ones tell nothing new of cast, machine or set."""

MOST_ROWS = 10_000


@dataclass(frozen=True, slots=True)
class HitRead:
    """One hit as recorded: its trial, the stop that was used, the set, and the expectations of its stations."""

    trial: Trial
    stop_mm: float
    segment_set: str
    expected: tuple[Expectation, ...]
    reading_ids: tuple[str, ...]

    @property
    def hit(self) -> int:
        """Number of the hit."""
        return self.trial.hit


def controls_of(liner: Liner, ring: str) -> Mapping[str, ControlSize]:
    """Control sizes of a ring by name."""
    return {control.name: control for control in liner.ring(ring).controls}


def axis_of(liner: Liner, ring: str, name: str) -> float:
    """Where a control size lies along the ring: -1 at its forward end, 1 at its aft end [1]."""
    x0, _, x1, _ = liner.ring(ring).section.bounds
    controls = controls_of(liner, ring)
    if name not in controls:
        raise InputError("size", name, "", f"a control size of {ring}: {', '.join(controls)}", "correct the name")
    return max(-1.0, min(1.0, 2.0 * (controls[name].z_mm - x0) / (x1 - x0) - 1.0))


def hits_of(store: Store, liner: Liner, serial: str) -> tuple[HitRead, ...]:
    """Every hit of a serial that was measured, first to last.

    Raises
    ------
    InputError
        No such serial, or its plan is not in the records.
    """
    part = store.get(Part, serial).thing
    return _hits(store, liner, [part]).get(serial, ())


def _hits(store: Store, liner: Liner, parts: Sequence[Part]) -> dict[str, tuple[HitRead, ...]]:
    """Hits of several serials, in two questions to the store."""
    of = {part.id: part for part in parts}
    names = tuple(of)
    readings: dict[str, list[Reading]] = {}
    for kept in store.list(Reading, MOST_ROWS, serial=names, standing="stands", what=("girth", "loaded")):
        readings.setdefault(kept.thing.operation or "", []).append(kept.thing)
    found: dict[str, list[HitRead]] = {}
    for operation in store.list(Operation, MOST_ROWS, serial=names):
        one, own = operation.thing, readings.get(operation.id, [])
        if one.step.startswith(HIT_STEP) and any(r.what == "girth" for r in own):
            found.setdefault(one.serial, []).append(_hit(store, liner, of[one.serial], one, own))
    return {serial: tuple(sorted(hits, key=lambda h: h.hit)) for serial, hits in found.items()}


def _hit(store: Store, liner: Liner, part: Part, operation: Operation, readings: Sequence[Reading]) -> HitRead:
    number = int(operation.step.removeprefix(HIT_STEP))
    settings = dict(operation.settings)
    planned = max((e.hit for e in needed_expectations(store, part.part)), default=number)
    expected = needed_expectations(store, part.part, min(number, planned))
    stop = float(settings.get("stop_mm") or _stop_of(expected, readings))
    stations, used = [], []
    for e in expected:
        free = tuple(r.value for r in readings if r.what == "girth" and r.characteristic == e.control and r.value)
        loaded = [r.value for r in readings if _measured_loaded(r) and r.characteristic == e.control and r.value]
        if not free:
            continue
        on_segments = e.loaded_mm + e.girth_per_mm * (stop - e.stop_mm)
        off_segments = e.free_mm + e.free_per_mm * (stop - e.stop_mm)
        stations.append(
            Station(
                e.control, axis_of(liner, part.part, e.control), on_segments, on_segments - off_segments, free,
                loaded[-1] if loaded else None,
            )
        )  # fmt: skip
        used.append(e)
    if not stations:
        names = ", ".join(sorted({r.characteristic for r in readings}))
        must = f"of a control size of {part.part}: {', '.join(e.control for e in expected)}"
        raise InputError(f"{operation.id} readings", names, "", must, "correct the name of the size")
    tool = str(settings.get("segment_set", operation.tool or "unknown"))
    # two rings of casts that nobody wrote down are not of one cast
    cast = part.cast or f"unknown cast of {part.id}"
    trial = Trial(part.part, part.id, cast, tool, number, tuple(stations))
    return HitRead(trial, stop, tool, tuple(used), tuple(r.id for r in readings))


def _measured_loaded(reading: Reading) -> bool:
    return reading.what == "loaded" and dict(reading.more).get("from") != "stop"


def _stop_of(expected: Sequence[Expectation], readings: Sequence[Reading]) -> float:
    """Stop of a hit for which none was written down: from a loaded size that was reckoned from it, else as planned."""
    for reading in readings:
        if reading.what == "loaded" and not _measured_loaded(reading) and reading.value is not None:
            for e in expected:
                if e.control == reading.characteristic:
                    return e.stop_mm + (reading.value - e.loaded_mm) / e.girth_per_mm
    return expected[0].stop_mm


def earlier_trials(store: Store, liner: Liner, ring: str, but: str = "") -> tuple[Trial, ...]:
    """Trials of the newest other serials of a ring, in the order in which the serials were entered.

    One that a gate held back is taken with its suspect part widened, never thrown away.
    """
    newest = store.list(Part, MOST_SERIALS + 1, newest_first=True, part=ring)
    parts = [kept.thing for kept in reversed(newest) if kept.id != but][-MOST_SERIALS:]
    hits = _hits(store, liner, parts) if parts else {}
    found: list[Trial] = []
    for part in parts:
        for hit in hits.get(part.id, ()):
            found.append(admitted(hit.trial, found))
    return tuple(found)
