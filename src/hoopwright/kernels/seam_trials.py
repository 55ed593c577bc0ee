"""Planning weld trials: where to start, which trial next, which setting at the end, and when to say nothing. mm, s, W.

Next is the setting whose weld passes most probably: max sum ln Phi(mu/sqrt(s^2 + sd^2)). Final is the largest
lower-bound margin in units of the machine's scatter: max min (mu - s)/sd. A setting is named only when P(inside) is
0.95 or more, P(margin > 2) 0.5 or more, and eight trials or more have readings. Every choice comes from a stored
seed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr, ndtr
from scipy.stats import qmc

from hoopwright.kernels.melt_trial import TrialMetal, TrialPrior, melt_at
from hoopwright.kernels.seam_window import CONSTRAINTS, Slack, Window

Array = NDArray[np.float64]

STARTS: Final = 8
SPREAD_POINTS: Final = 10
AROUND: Final = 200
SCREENED: Final = 140
CLOSEST: Final = 0.02
P_INSIDE: Final = 0.95
P_MARGIN: Final = 0.50
WANTED_MARGIN: Final = 2.0
LEAST_READ: Final = 8
FIRST: Final = np.array([0.28, 0.35, 0.5, 0.15])
START_OVER: Final = (-0.2, 2.0)
START_INDEX: Final = 55.0


@dataclass(frozen=True, slots=True, eq=False)
class Verdict:
    """A setting and what is known of it. settings (4,); margins : mu/sd of each constraint; lower : the lower bound.

    inside, margin_two, passes : probabilities that the setting is inside, that its margin is above 2, that the next
    weld passes. blocking : the constraint that holds it back most. far : distance to the nearest trial, box units.
    """

    settings: Array
    margins: Array
    lower: float
    inside: float
    margin_two: float
    passes: float
    blocking: str
    far: float

    def speaks(self, readings: int) -> bool:
        """Whether the setting may be named, from this many trials with readings."""
        return readings >= LEAST_READ and self.inside >= P_INSIDE and self.margin_two >= P_MARGIN


def starting_trials(
    metal: TrialMetal, prior: TrialPrior, low: Array, high: Array, seed: int, count: int = STARTS
) -> Array:
    """First settings, shape (count, 4): left of the box's middle, then as far apart as the plausible region allows."""
    unit = np.vstack([FIRST, _sobol(10, seed)])
    melt = melt_at(low + unit * (high - low), np.array(prior.mean), metal)
    plausible = (melt.over > START_OVER[0]) & (melt.over < START_OVER[1]) & (melt.index < START_INDEX)
    pool = unit[plausible] if plausible.sum() >= 4 * count else unit
    chosen = [int(np.argmin(((pool - FIRST) ** 2).sum(axis=1)))]
    nearest = ((pool - pool[chosen[0]]) ** 2).sum(axis=1)
    while len(chosen) < count:
        chosen.append(int(np.argmax(nearest)))
        nearest = np.minimum(nearest, ((pool - pool[chosen[-1]]) ** 2).sum(axis=1))
    found: Array = low + pool[chosen] * (high - low)
    return found


def next_trial(window: Window, made: Array, seed: int) -> Array:
    """Setting whose weld passes most probably, shape (4,); made : settings tried, shape (n, 4)."""
    pool, slack = _candidates(window, made, seed)
    value = log_pass(slack)
    near = _distance(window.unit_of(pool), window.unit_of(made)) < CLOSEST
    value[near] = -math.inf
    chosen: Array = pool[int(np.argmax(value))]
    return chosen


def final_setting(window: Window, made: Array, seed: int) -> Verdict:
    """Setting with the largest lower bound of the margin, refined in four shrinking clouds."""
    pool, slack = _candidates(window, made, seed)
    rng = np.random.default_rng(seed + 1)
    lower = lower_bound(slack)
    best, top = pool[int(np.argmax(lower))], float(lower.max())
    for reach in (0.10, 0.06, 0.035, 0.02):
        cloud = _clipped(window.unit_of(best) + reach * rng.normal(size=(80, 4)), window)
        lower = lower_bound(window.slack(cloud))
        if lower.max() > top:
            best, top = cloud[int(np.argmax(lower))], float(lower.max())
    return verdict_at(window, best, made)


def verdict_at(window: Window, settings: Array, made: Array) -> Verdict:
    """What is known of one setting, shape (4,)."""
    slack = window.slack(settings[None])
    margins = (slack.mean / slack.scatter)[0]
    bounds = ((slack.mean - slack.doubt) / slack.scatter)[0]
    inside = float(np.prod(ndtr(slack.mean / slack.doubt)))
    two = float(np.prod(ndtr((slack.mean - WANTED_MARGIN * slack.scatter) / slack.doubt)))
    passes = float(np.exp(log_pass(slack)[0]))
    blocking = CONSTRAINTS[int(np.argmin(bounds))]
    far = float(_distance(window.unit_of(settings[None]), window.unit_of(made))[0])
    return Verdict(settings, margins, float(bounds.min()), inside, two, passes, blocking, far)


def log_pass(slack: Slack) -> Array:
    """ln of the probability that a weld passes every limit, shape (p,)."""
    z = slack.mean / np.hypot(slack.doubt, slack.scatter)
    found: Array = log_ndtr(z).sum(axis=1)
    return found


def lower_bound(slack: Slack) -> Array:
    """Least (mean - doubt)/scatter over the constraints, shape (p,)."""
    found: Array = ((slack.mean - slack.doubt) / slack.scatter).min(axis=1)
    return found


def _candidates(window: Window, made: Array, seed: int) -> tuple[Array, Slack]:
    """Settings worth a closer look: screened with typical scatter, then with their own."""
    unit = _sobol(SPREAD_POINTS, seed)[:768]
    spread = window.low + unit * (window.high - window.low)
    first = window.slack(np.vstack([spread, made]), exact=False)
    best = np.vstack([spread, made])[int(np.argmax(log_pass(first)))]
    rng = np.random.default_rng(seed)
    around = _clipped(window.unit_of(best) + 0.08 * rng.normal(size=(AROUND, 4)), window)
    pool = np.vstack([spread, around])
    value = log_pass(window.slack(pool, exact=False))
    kept = pool[np.argsort(-value)[:SCREENED]]
    return kept, window.slack(kept)


def _clipped(unit: Array, window: Window) -> Array:
    found: Array = window.low + np.clip(unit, 0.0, 1.0) * (window.high - window.low)
    return found


def _sobol(power: int, seed: int) -> Array:
    points: Array = qmc.Sobol(4, seed=np.random.default_rng(seed)).random_base2(power)
    return points


def _distance(a: Array, b: Array) -> Array:
    found: Array = np.sqrt(((a[:, None, :] - b[None, :, :]) ** 2).sum(axis=2)).min(axis=1)
    return found
