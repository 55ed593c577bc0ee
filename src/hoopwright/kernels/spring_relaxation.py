"""Load lost by a spring held hot: from tests, through a set that stays, not through a weaker spring. h, shares.

    loss(t) = a + b log10(t/100 h)        s(t) = loss(t) d        F(d') = k(T) (d' - s)

with d the held deflection: later deflections d' act on what is left. One pair (a, b) for one temperature and one stress
level. a and b are normal with a wide prior; tests sharpen it: posterior precision = prior precision + A'A/sd^2.
Prior for aged nickel spring at 400 to 500 degC, 100 h: a 10 +- 4.5 %, b 3.5 +- 1.8 % a decade (from memory 5 to 20 %,
widened). Creep tables of bar are never used: springs lost load one to three orders faster than bar creep predicts
(Gill and others, 2014, abstract read). Losses above 20 %, or curved in log t, mean creep and are not extended.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_positive, require_range

REFERENCE_H = 100.0
PRIOR_MEAN = (0.10, 0.035)
PRIOR_SD = (0.045, 0.018)


@dataclass(frozen=True, slots=True)
class RelaxationTest:
    """One reading: hours under load, share of the load lost."""

    hours: float
    loss: float


@dataclass(frozen=True, slots=True)
class Relaxation:
    """Loss by time. level, slope : a and b; covariance of the two; tests : how many readings; curved : whether the
    readings bend in log t by more than their scatter."""

    level: float
    slope: float
    covariance: tuple[float, float, float]
    tests: int
    curved: bool

    def loss(self, hours: float) -> float:
        """Share of the load lost, not below 0."""
        return max(0.0, self.level + self.slope * self._decades(hours))

    def spread(self, hours: float) -> float:
        """Standard deviation of that share."""
        x = self._decades(hours)
        aa, ab, bb = self.covariance
        return math.sqrt(aa + 2.0 * ab * x + bb * x * x)

    @staticmethod
    def _decades(hours: float) -> float:
        return math.log10(require_positive("time under load", hours, "h") / REFERENCE_H)


def relaxation(tests: Sequence[RelaxationTest], scatter: float = 0.005) -> Relaxation:
    """Loss from tests and the prior. scatter : standard deviation of a reading, as a share.

    Raises
    ------
    InputError
        A reading not between 0 and 1, or not after the start.
    """
    require_positive("scatter of a relaxation test", scatter)
    prior = np.diag([1.0 / PRIOR_SD[0] ** 2, 1.0 / PRIOR_SD[1] ** 2])
    x = np.array([math.log10(require_positive("time under load", t.hours, "h") / REFERENCE_H) for t in tests])
    y = np.array([require_range("loss share", t.loss, 0.0, 0.999) for t in tests])
    design = np.stack((np.ones_like(x), x), axis=1)
    precision = prior + design.T @ design / scatter**2
    covariance = np.linalg.inv(precision)
    mean = covariance @ (prior @ np.array(PRIOR_MEAN) + design.T @ y / scatter**2)
    cov = (float(covariance[0, 0]), float(covariance[0, 1]), float(covariance[1, 1]))
    return Relaxation(float(mean[0]), float(mean[1]), cov, len(tests), _is_curved(x, y, scatter))


def _is_curved(x: np.ndarray, y: np.ndarray, scatter: float) -> bool:
    if x.size < 4 or np.unique(x).size < 4:
        return False
    straight = y - np.polyval(np.polyfit(x, y, 1), x)
    return bool(np.abs(straight).max() > 3.0 * scatter)


def load_after(stiffness: float, held: float, loss: float, deflection: float) -> float:
    """F = k (d' - loss d), nil once the spring has lost touch. [N]"""
    for name, value in (("stiffness", stiffness), ("held deflection", held)):
        require_positive(name, value)
    if loss < 0.0 or loss >= 1.0:
        raise InputError("loss share", loss, "", "from 0 to under 1", "enter the share of load lost")
    return max(0.0, stiffness * (deflection - loss * held))
