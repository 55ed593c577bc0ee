"""Ranked causes of a sizing fault from readings: likelihood over severities, what was weighed, what to measure next.

P(obs | cause) = mean over draws of prod_j [0.99 N(obs_j; mean_j, sd_j) + 0.01 floor], raised to the temper (0.7), times
the prior. Evidence of one measurement: log10 of its likelihood ratio against "nothing wrong", severity fitted to all
readings. A cause is named only when its share is above 0.9, two measurements each speak for it by more than 0.5, none
speaks against it by more than 0.7, and no reading stays more than 3.5 sd from its best severity.

Method study (simulated); figures in tests/correct/test_diagnosis_on_simulated_faults.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from hoopwright.correct.catalogue import NOT_LISTED, NOTHING_WRONG, failure_row, word
from hoopwright.correct.signatures import Array, Signatures, signatures
from hoopwright.errors import InputError, require_finite

FOR, AGAINST, STRAY_SD, SURE = 0.5, 0.7, 3.5, 0.9
QUIET_SD = 2.0
SCATTER = (0.6, 1.0, 1.6)
NEXT_DRAWS, NEXT_SIMULATIONS = 100, 40


@dataclass(frozen=True, slots=True)
class Weighed:
    """A measurement with its evidence for (+) or against (-) a cause, log10."""

    measurement: str
    evidence: float


@dataclass(frozen=True, slots=True)
class RankedFault:
    """A cause, its share, the word for it, what was weighed, readings it leaves unexplained, row of the catalogue."""

    name: str
    share: float
    word: str
    weighed: tuple[Weighed, ...]
    stray: tuple[str, ...]
    row: int | None


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """ranked : all causes. named : the one that the rule allows to be named, "" else. next_measurements : (name, bits
    per minute) best first. correction : of the named cause. note : what else to know."""

    ranked: tuple[RankedFault, ...]
    named: str
    next_measurements: tuple[tuple[str, float], ...]
    correction: str
    note: str = ""

    def share(self, name: str) -> float:
        """Share of a cause."""
        return next(r.share for r in self.ranked if r.name == name)


def _logs(obs: Array, where: list[int], data: Signatures, draws: int | None = None) -> Array:
    """log density of each reading under each draw, shape (cause, draw, reading seen)."""
    means = data.means[:, :draws, where]
    sd, reach = data.sd[where], data.reach[where]
    return _log_density((obs - means) / sd, sd, reach)


def _log_density(z: Array, sd: Array, reach: Array) -> Array:
    """log of 0.99 times a normal of unknown scatter (0.6, 1, 1.6 times the stated sd) plus 0.01 of a floor."""
    square = -0.5 * z * z
    bell = sum(np.exp(square / scale**2) / scale for scale in SCATTER) / (len(SCATTER) * np.sqrt(2.0 * np.pi) * sd)
    return np.asarray(np.log(0.99 * bell + 0.01 / (2.0 * reach)))


def _posterior(total: Array, data: Signatures) -> Array:
    """Shares of the causes from summed log densities (cause, draw), shape (cause,)."""
    top = total.max()
    like = np.log(np.exp(total - top).mean(axis=1) + 1e-300) + top
    logs = data.temper * like + np.log(data.priors)
    shares = np.exp(logs - logs.max())
    return np.asarray(shares / shares.sum())


def diagnose(seen: Mapping[str, float], data: Signatures | None = None, look_ahead: bool = True) -> Diagnosis:
    """Rank causes from readings by name (`correct.signatures`), each as deviation from plan.

    A ring whose readings are all inside 2 sd is not diagnosed: proving nothing costs 40 minutes.

    Raises
    ------
    InputError
        No reading, an unknown one, or one that is no number.
    """
    known = data if data is not None else signatures()
    if not seen:
        raise InputError("readings", "none", "", "one or more", "measure the girth at three stations")
    where = [known.index(name) for name in seen]
    obs = np.array([require_finite(name, value) for name, value in seen.items()])
    logs = _logs(obs, where, known)
    total = logs.sum(axis=2)
    shares = _posterior(total, known)
    ranked = sorted(
        (_ranked(k, name, float(shares[k]), obs, where, logs, total, known) for k, name in enumerate(known.names)),
        key=lambda r: -r.share,
    )
    quiet = bool(np.all(np.abs(obs) <= QUIET_SD * known.sd[where]))
    first = ranked[0]
    named = first.name if first.word == "likely" and first.row is not None and not quiet else ""
    ahead = next_measurements(seen, known) if look_ahead and not named and not quiet else ()
    note = "every reading is inside 2 sd of plan: nothing to diagnose" if quiet else ""
    if named and first.stray:
        note = "a reading stays unexplained: look for a second cause"
    correction = failure_row(first.row).correct if named and first.row is not None else ""
    return Diagnosis(tuple(ranked), named, ahead, correction, note)


def _ranked(
    k: int, name: str, share: float, obs: Array, where: list[int], logs: Array, total: Array, data: Signatures
) -> RankedFault:
    best = int(total[k].argmax())
    nothing = data.names.index(NOTHING_WRONG)
    ratio = (logs[k, best] - logs[nothing, 0]) / np.log(10.0)
    weighed = []
    for measurement in data.measurements:
        own = [n for n, j in enumerate(where) if data.readings[j] in measurement.readings]
        if own:
            weighed.append(Weighed(measurement.name, float(ratio[own].sum())))
    away = np.abs(obs - data.means[k, best, where]) / data.sd[where]
    stray = tuple(data.readings[j] for n, j in enumerate(where) if away[n] > STRAY_SD)
    listed = name not in (NOTHING_WRONG, NOT_LISTED)
    spoken = sum(w.evidence > FOR for w in weighed)
    against = any(w.evidence < -AGAINST for w in weighed)
    rule = spoken >= 2 and not against and not stray if listed else not stray
    row = data.causes[k].row if listed else None
    return RankedFault(name, share, word(share, rule and share > SURE), tuple(weighed), stray, row)


def next_measurements(
    seen: Mapping[str, float], data: Signatures | None = None, seed: int = 3
) -> tuple[tuple[str, float], ...]:
    """Measurements not yet taken, by expected drop of entropy [bits] a minute (plus one for picking the gauge up)."""
    known = data if data is not None else signatures()
    where = [known.index(name) for name in seen]
    obs = np.array(list(seen.values()), dtype=np.float64)
    total = _logs(obs, where, known, NEXT_DRAWS).sum(axis=2) if where else np.zeros((len(known.names), NEXT_DRAWS))
    shares = _posterior(total, known)
    rng = np.random.default_rng(seed)
    found = []
    for measurement in known.measurements:
        new = [known.index(r) for r in measurement.readings if r not in seen]
        if new:
            drop = _expected_drop(total, shares, new, known, rng)
            found.append((measurement.name, drop / (measurement.minutes + 1.0)))
    return tuple(sorted(found, key=lambda f: -f[1]))


def _expected_drop(total: Array, shares: Array, new: list[int], data: Signatures, rng: np.random.Generator) -> float:
    """Entropy now less its mean after the new readings, over simulated readings. [bit]"""
    causes = rng.choice(shares.size, NEXT_SIMULATIONS, p=shares)
    weights = np.exp(total - total.max(axis=1, keepdims=True))
    weights /= weights.sum(axis=1, keepdims=True)
    draws = np.array([rng.choice(weights.shape[1], p=weights[c]) for c in causes])
    means = data.means[causes, draws][:, new]
    obs = means + data.sd[new] * rng.standard_normal(means.shape)
    # shape (simulation, cause, draw)
    z = (obs[:, None, None, :] - data.means[None, :, :NEXT_DRAWS, new]) / data.sd[new]
    dens = _log_density(z, data.sd[new], data.reach[new]).sum(axis=3)
    both = dens + total[None]
    top = both.max(axis=(1, 2), keepdims=True)
    like = np.log(np.exp(both - top).mean(axis=2) + 1e-300)
    logs = data.temper * like + np.log(data.priors)
    after = np.exp(logs - logs.max(axis=1, keepdims=True))
    after /= after.sum(axis=1, keepdims=True)
    return float(_bits(shares[None])[0] - _bits(after).mean())


def _bits(shares: Array) -> Array:
    return np.asarray(-(shares * np.log2(np.maximum(shares, 1e-300))).sum(axis=-1))
