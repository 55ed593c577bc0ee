"""What to do after a reading at the press: the next hit of this ring, or no correction and why; the next ring."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from hoopwright.correct.actions import Offer, Situation, offers
from hoopwright.correct.calibration import NextRing, predict_next
from hoopwright.correct.gates import Gate, gate
from hoopwright.correct.trials import Trial
from hoopwright.design.shapes import Liner
from hoopwright.desk.hardness import hardness_pct
from hoopwright.desk.in_force import needed_liner
from hoopwright.desk.record_book import records
from hoopwright.desk.ring_trials import HitRead, controls_of, earlier_trials, hits_of
from hoopwright.desk.tool_book import refusal
from hoopwright.errors import InputError
from hoopwright.findings import Finding, gravest_first
from hoopwright.kernels.segment_hull import lobe_factor
from hoopwright.kernels.wayback.gains import same_ring_gain
from hoopwright.records.making import Part, Tool

STOP_STEP_MM = 0.01
UNKNOWN_SD_MM, GAUGE_SD_MM = 0.075, 0.015
MOST_OFFERS = 3


@dataclass(frozen=True, slots=True)
class StationRead:
    """A control size after a hit: as read, as expected, wanted [mm]; inside its limits or not."""

    name: str
    free_mm: float
    expected_mm: float
    target_mm: float
    tolerance_mm: float

    @property
    def inside(self) -> bool:
        """Whether it is inside its limits as read."""
        return abs(self.free_mm - self.target_mm) <= self.tolerance_mm + 1e-9


@dataclass(frozen=True, slots=True)
class SameRing:
    """The next hit of the same ring. move_mm : of the stop, 0 where none is offered. index_deg : turn of the ring.

    after : sizes expected after it; strain_share : extra stretch [1]; lobes_mm : peak to valley it adds.
    """

    move_mm: float
    stop_mm: float
    index_deg: float
    strain_share: float
    lobes_mm: float
    after: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class RingAhead:
    """The next ring of this kind and cast: stop to set, sizes with band and chance inside at that stop."""

    cast: str
    rings: int
    hit: int
    stop_mm: float
    stations: tuple[tuple[str, float, float, float, float], ...]
    offers: tuple[Offer, ...]


@dataclass(frozen=True, slots=True)
class Correction:
    """What to do. weighed : name and value of everything the gates looked at. rests_on : trials
    behind what was expected. ask_hardness : a first ring of a cast."""

    serial: str
    ring: str
    hit: int
    stop_mm: float
    segment_set: str
    stations: tuple[StationRead, ...]
    same_ring: SameRing | None
    next_ring: RingAhead | None
    weighed: tuple[tuple[str, float], ...]
    rests_on: tuple[str, ...]
    ask_hardness: bool
    findings: tuple[Finding, ...]


def correct(address: str | Path | None, serial: str, hit: int | None = None) -> Correction:
    """What the readings of a serial's last hit (or of the one named) ask for.

    Raises
    ------
    InputError
        Nothing was read of it, or its plan is not in the records.
    """
    with records(address) as store:
        liner = needed_liner(store)
        hits = hits_of(store, liner, serial)
        if not hits:
            raise InputError(f"hits of {serial}", "none", "", "measured once", "enter its girths: hoopwright read")
        read = hits[-1] if hit is None else next((h for h in hits if h.hit == hit), None)
        if read is None:
            known = ", ".join(str(h.hit) for h in hits)
            raise InputError("--hit", hit, "", f"one that was measured: {known}", "name one of these")
        own = [h.trial for h in hits if h.hit < read.hit]
        earlier = (*earlier_trials(store, liner, read.trial.ring, serial), *own)
        part = store.get(Part, serial).thing
        read = dataclasses.replace(read, trial=dataclasses.replace(read.trial, hardness_pct=hardness_pct(store, part)))
        found = gate(read.trial, earlier)
        refused = refusal(store, read.segment_set, read.trial.ring) if store.find(Tool, read.segment_set) else None
    return _correction(liner, read, earlier, found, refused)


def _correction(
    liner: Liner, read: HitRead, earlier: Sequence[Trial], found: Gate, refused: Finding | None
) -> Correction:
    stations = _stations(liner, read)
    findings: list[Finding] = [f for f in (refused, found.finding) if f is not None]
    about = f"{read.trial.serial} hit {read.hit}"
    same: SameRing | None = None
    if not findings:
        same, more = _same_ring(read, stations, about)
        findings += more
    if found.ask_hardness:
        findings.append(
            Finding(
                "caution",
                "This is the first ring of its cast: a wrong cast cannot be seen from its girths.",
                "measure its hardness and one of another cast beside it",
                about,
                "hardness-asked",
            )
        )
    ahead = _ahead(liner, read, (*earlier, read.trial)) if found.open and refused is None else None
    return Correction(
        read.trial.serial, read.trial.ring, read.hit, read.stop_mm, read.segment_set, stations, same, ahead,
        found.statistics, tuple(_named(t) for t in earlier), found.ask_hardness, gravest_first(findings),
    )  # fmt: skip


def _named(trial: Trial) -> str:
    held = f" (held back: {trial.suspect})" if trial.suspect else ""
    return f"{trial.serial} hit {trial.hit}{held}"


def _stations(liner: Liner, read: HitRead) -> tuple[StationRead, ...]:
    controls = controls_of(liner, read.trial.ring)
    return tuple(
        StationRead(
            s.name, s.mean_free_mm, s.predicted_free_mm, controls[s.name].diameter_mm, controls[s.name].tolerance_mm
        )
        for s in read.trial.stations
    )


def _same_ring(read: HitRead, stations: Sequence[StationRead], about: str) -> tuple[SameRing | None, list[Finding]]:
    """Every station grows by the same diameter: a change that keeps all inside, as near the middles as it can be."""
    over = [s for s in stations if s.free_mm > s.target_mm + s.tolerance_mm]
    if over:
        worst = max(over, key=lambda s: s.free_mm - s.target_mm - s.tolerance_mm)
        by = worst.free_mm - worst.target_mm - worst.tolerance_mm
        sentence = f"{worst.name} is {by:.3f} mm over its limit, and a ring cannot be shrunk."
        remedy = "pair it with a larger mate, or ask for a concession; the stop for the next ring may go down"
        return None, [Finding("stop", sentence, remedy, about, "oversize")]
    low = max(0.0, *(s.target_mm - s.tolerance_mm - s.free_mm for s in stations))
    high = min(s.target_mm + s.tolerance_mm - s.free_mm for s in stations)
    wanted = sum(s.target_mm - s.free_mm for s in stations) / len(stations)
    if low > high:
        sentence = (
            "No stretch brings every control size inside: one passes its upper limit before another reaches its lower."
        )
        remedy = "flip the ring and read it again; then weigh a shim under the set"
        return None, [Finding("stop", sentence, remedy, about, "no-stretch-suffices")]
    if low == 0.0 and all(s.inside for s in stations) and wanted <= 0.5 * min(s.tolerance_mm for s in stations):
        sentence = "Every control size is inside its limits: no further hit."
        return None, [Finding("note", sentence, "leave the stop for this ring", about, "on-target")]
    readings = min(len(s.free_mm) for s in read.trial.stations)
    gain = same_ring_gain(UNKNOWN_SD_MM, GAUGE_SD_MM / math.sqrt(readings))
    change = min(max(gain * wanted, low), high)
    e = read.expected[0]
    move = STOP_STEP_MM * round(change / e.free_per_mm / STOP_STEP_MM)
    standing = 0.5 * e.across_per_mm * move
    after = tuple((s.name, s.free_mm + move * e.free_per_mm) for s in stations)
    same = SameRing(
        move, read.stop_mm + move, 90.0 / e.segments, move * e.free_per_mm / stations[0].free_mm,
        standing * lobe_factor(e.segments), after,
    )  # fmt: skip
    return same, []


def _ahead(liner: Liner, read: HitRead, trials: Sequence[Trial]) -> RingAhead:
    """The next ring of this cast at its last planned hit, and what brings it home."""
    controls = controls_of(liner, read.trial.ring)
    targets = [controls[s.name].diameter_mm for s in read.trial.stations]
    tolerances = [controls[s.name].tolerance_mm for s in read.trial.stations]
    last = read.expected
    ask = Trial(read.trial.ring, "next", read.trial.cast, read.segment_set, read.hit + 1, read.trial.stations)
    found = predict_next(trials, ask, targets, min(tolerances))
    rate = last[0].free_per_mm
    error = sum(s.free_mm - t for s, t in zip(found.stations, targets, strict=True)) / len(targets)
    stop = STOP_STEP_MM * round((read.stop_mm - error / rate) / STOP_STEP_MM)
    moved = rate * (stop - read.stop_mm)
    rows = []
    for n, (station, target, tolerance) in enumerate(zip(found.stations, targets, tolerances, strict=True)):
        base = station.free_mm - float(found.posterior.mean[n])
        inside = found.posterior.inside(n, target - tolerance - base - moved, target + tolerance - base - moved)
        rows.append(
            (station.station, station.free_mm + moved, station.band.low + moved, station.band.high + moved, inside)
        )
    return RingAhead(
        read.trial.cast, found.rings, read.hit, stop, tuple(rows), _offers(found, read, targets, tolerances)
    )  # fmt: skip


def _offers(found: NextRing, read: HitRead, targets: Sequence[float], tolerances: Sequence[float]) -> tuple[Offer, ...]:
    mean = np.array([s.free_mm - t for s, t in zip(found.stations, targets, strict=True)])
    axis = np.array([s.axis for s in read.trial.stations])
    situation = Situation(mean, found.posterior.cov, axis, np.array(tolerances))
    return offers(situation)[:MOST_OFFERS]
