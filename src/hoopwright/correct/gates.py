"""Gates before any correction: where the evidence contradicts the model, what to check, and how the trial is still
used.

In turn, against the predictive distribution of this hit: (1) two readings of a station that disagree by more than
3 gauge sd; (2) a contrast between stations beyond 2.8 sd: seat, dirt, lean; (3) the mean of stations beyond 2.8 sd:
loaded size off beyond 2.5 sd means the stop, hardness off means the cast, neither means unexplained; (4) chi-square
beyond 0.995. The house window of +-15 % on the implied stress stands beside them. A wrong cast cannot be seen from the
girths of a first ring: hardness is asked for. A gated trial is widened in its suspect part, never thrown away.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from scipy import special

from hoopwright.correct.trials import Trial, all_readings
from hoopwright.findings import Finding, Source
from hoopwright.kernels.wayback.levels import Scatter, noise, posterior

REPEAT_SD, CONTRAST_SD, MEAN_SD, LOADED_SD, CHI2 = 3.0, 2.8, 2.8, 2.5, 0.995
HARDNESS_SD_PCT, HARDNESS_OFF = 3.5, 2.0
WINDOW = 0.15
HOUSE = Source("practice", "house window, a shop sets its own")


@dataclass(frozen=True, slots=True)
class Gate:
    """suspect : "" when the trial may be corrected. statistics : name and value of everything that was weighed."""

    suspect: str
    finding: Finding | None
    statistics: tuple[tuple[str, float], ...]
    ask_hardness: bool

    @property
    def open(self) -> bool:
        """Whether a correction may be offered."""
        return not self.suspect


def gate(trial: Trial, earlier: Sequence[Trial], sd: Scatter | None = None) -> Gate:
    """Hold a trial against what earlier trials let expect."""
    scatter = sd if sd is not None else Scatter()
    ask = trial.hardness_pct is None and all(t.cast != trial.cast for t in earlier)
    rows: list[tuple[str, float]] = []

    def shut(suspect: str, sentence: str, remedy: str, why: str = "") -> Gate:
        about = f"{trial.ring} {trial.serial} hit {trial.hit}"
        finding = Finding("stop", f"No correction: {sentence}", remedy, about, "no-correction", why)
        return Gate(suspect, finding, tuple(rows), ask)

    for station in trial.stations:
        if len(station.free_mm) > 1:
            apart = (max(station.free_mm) - min(station.free_mm)) / (scatter.gauge * math.sqrt(2.0))
            rows.append((f"repeat {station.name}", apart))
            if apart > REPEAT_SD:
                text = f"two readings of {station.name} differ by {apart:.1f} gauge sd (limit {REPEAT_SD:g})."
                return shut(f"reading {station.name}", text, "read that station again")
    free_z, contrast, mean_z, loaded_z, chi2 = _distances(trial, earlier, scatter)
    rows += [("contrast", contrast), ("mean", mean_z), ("loaded", loaded_z), ("chi-square", chi2)]
    if contrast > CONTRAST_SD:
        text = f"the stations disagree by {contrast:.1f} sd (limit {CONTRAST_SD:g})."
        return shut("seat", text, "wipe the base, flip the ring, tape the three planes again", "Seat, dirt or lean.")
    if mean_z > MEAN_SD:
        return _mean_gate(trial, mean_z, loaded_z, shut)
    if chi2 > CHI2:
        text = f"the readings together are less likely than 1 in 200 (chi-square share {chi2:.4f})."
        return shut("unexplained", text, "check seat, stop and hardness, and read again")
    del free_z
    ratio = implied_ratio(trial)
    rows.append(("implied stress over prediction", ratio))
    if abs(ratio - 1.0) > WINDOW:
        text = f"the implied flow stress is {ratio:.2f} of the prediction (window 1 +- {WINDOW:g})."
        return shut("unexplained", text, "check seat, stop and hardness")
    return Gate("", None, tuple(rows), ask)


def _mean_gate(trial: Trial, mean_z: float, loaded_z: float, shut: _Shut) -> Gate:
    text = f"all stations are {mean_z:.1f} sd from what the model lets expect (limit {MEAN_SD:g})."
    if loaded_z > LOADED_SD:
        return shut("stop", text, "check the stop and its shim", f"The loaded size is off as well ({loaded_z:.1f} sd).")
    hard = trial.hardness_pct
    if hard is not None and abs(hard) / HARDNESS_SD_PCT > HARDNESS_OFF:
        return shut(
            "cast", text, "check the cast number; enter the cast's own tests", f"Hardness is {hard:+.1f} % off."
        )
    asked = "seat, stop and hardness" if hard is None else "seat and stop"
    return shut("unexplained", text, f"check {asked}", "Neither loaded size nor hardness explains it.")


def implied_ratio(trial: Trial) -> float:
    """Springback as read over springback as predicted, mean of the stations: by the loaded size read, else the
    stop's."""
    shares = []
    for s in trial.stations:
        loaded = s.read_loaded_mm if s.read_loaded_mm is not None else s.loaded_mm
        shares.append((loaded - s.mean_free_mm) / s.springback_mm)
    return math.fsum(shares) / len(shares)


def _distances(trial: Trial, earlier: Sequence[Trial], sd: Scatter) -> tuple[list[float], float, float, float, float]:
    """Distance of each free reading, largest contrast, mean of stations, loaded mean, chi-square share."""
    plain = replace(trial, suspect="")
    readings = plain.readings(sd)
    places = [r.place for r in readings]
    # the scatter as stated: what is to be gated must not widen its own gate
    found = posterior(all_readings(earlier, sd), places, sd, grid=(1.0,))
    y = np.array([r.residual for r in readings])
    cov = found.cov + np.diag(noise(places, sd))
    rest = y - found.mean
    free = [n for n, p in enumerate(places) if not p.loaded]
    loaded = [n for n, p in enumerate(places) if p.loaded]

    def z(weights: np.ndarray) -> float:
        return abs(float(weights @ rest)) / math.sqrt(float(weights @ cov @ weights))

    unit = np.eye(len(places))
    single = [z(unit[n]) for n in free]
    contrasts = [z(unit[a] - unit[b]) for k, a in enumerate(free) for b in free[k + 1 :]]
    mean = z(unit[free].mean(axis=0))
    load = z(unit[loaded].mean(axis=0)) if loaded else 0.0
    chi = float(rest @ np.linalg.solve(cov, rest))
    share = float(special.gammainc(0.5 * len(places), 0.5 * chi))
    return single, max(contrasts, default=0.0), mean, load, share


def admitted(trial: Trial, earlier: Sequence[Trial], sd: Scatter | None = None) -> Trial:
    """The trial as the calibration takes it: as it is, or with its suspect part widened."""
    found = gate(trial, earlier, sd)
    return trial if found.open else replace(trial, suspect=found.suspect)


class _Shut(Protocol):
    """Shape of the function that makes a shut gate."""

    def __call__(self, suspect: str, sentence: str, remedy: str, why: str = "") -> Gate: ...
