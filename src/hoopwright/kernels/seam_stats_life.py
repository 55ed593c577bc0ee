"""Log-linear life lines, log10 N = A + B log10 x: one line, weld against parent, and what a test can see. unitless

Source: method of ASTM E739, from memory; tests/published/weld_statistics. Run-outs do not belong in these formulas (a
censored likelihood would take them); nothing here can tell one from a failure, so the caller must leave them out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import f, ncf, nct, t

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.seam_stats_tolerance import CONFIDENCE, counted

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LifeLine:
    """A fitted line. a, b with two-sided limits; s : of log10 N; count; x_mean, x_square : mean and sum of squares."""

    a: float
    b: float
    a_limits: tuple[float, float]
    b_limits: tuple[float, float]
    s: float
    count: int
    x_mean: float
    x_square: float

    def log_life(self, amplitude: float) -> float:
        """log10 of the median life at an amplitude."""
        return self.a + self.b * math.log10(amplitude)

    def leverage(self, amplitude: float) -> float:
        """Variance of the median's logarithm over s^2."""
        return 1.0 / self.count + (math.log10(amplitude) - self.x_mean) ** 2 / self.x_square


@dataclass(frozen=True, slots=True)
class LifeComparison:
    """Weld against parent. p_one_line, p_slopes : of the F tests for one line and for equal slopes; ratio of median
    lives at the design amplitude with its one-sided bound and two-sided limits; outside : of the amplitudes tested.
    """

    p_one_line: float
    p_slopes: float
    ratio: float
    lower: float
    limits: tuple[float, float]
    s: float
    outside: bool


def life_line(amplitude: Sequence[float], cycles: Sequence[float], confidence: float = CONFIDENCE) -> LifeLine:
    """Least squares of log10 life on log10 amplitude.

    Raises
    ------
    InputError
        Fewer than 3 tests, lists that do not match, values not above 0, one amplitude only.
    """
    x, y = _logs(amplitude, cycles)
    n, mean = x.size, float(x.mean())
    square = float(((x - mean) ** 2).sum())
    b = float(((x - mean) * (y - y.mean())).sum()) / square
    a = float(y.mean()) - b * mean
    s = math.sqrt(float(((y - a - b * x) ** 2).sum()) / (n - 2))
    q = float(t.ppf(0.5 + 0.5 * confidence, n - 2))
    half_a, half_b = q * s * math.sqrt(1.0 / n + mean**2 / square), q * s / math.sqrt(square)
    return LifeLine(a, b, (a - half_a, a + half_a), (b - half_b, b + half_b), s, n, mean, square)


def compare_lives(
    weld: tuple[Sequence[float], Sequence[float]],
    parent: tuple[Sequence[float], Sequence[float]],
    design_amplitude: float,
    confidence: float = CONFIDENCE,
) -> LifeComparison:
    """Weld against parent, each as (amplitudes, cycles); separate slopes for the ratio at the design amplitude."""
    (xw, yw), (xp, yp) = _logs(*weld), _logs(*parent)
    w, p = life_line(*weld), life_line(*parent)
    at = require_positive("design amplitude", design_amplitude)
    freedom = w.count + p.count - 4
    apart = (w.count - 2) * w.s**2 + (p.count - 2) * p.s**2
    x, y = np.concatenate([xw, xp]), np.concatenate([yw, yp])
    which = np.concatenate([np.ones(xw.size), np.zeros(xp.size)])
    together = _left(np.column_stack([np.ones_like(x), x]), y)
    parallel = _left(np.column_stack([np.ones_like(x), x, which]), y)
    s2 = apart / freedom
    p_one = float(f.sf((together - apart) / 2.0 / s2, 2, freedom))
    p_slopes = float(f.sf((parallel - apart) / s2, 1, freedom))
    d = w.log_life(at) - p.log_life(at)
    se = math.sqrt(s2 * (w.leverage(at) + p.leverage(at)))
    q1, q2 = float(t.ppf(confidence, freedom)), float(t.ppf(0.5 + 0.5 * confidence, freedom))
    lowest, highest = max(xw.min(), xp.min()), min(xw.max(), xp.max())
    outside = not lowest <= math.log10(at) <= highest
    return LifeComparison(
        p_one, p_slopes, 10.0**d, 10.0 ** (d - q1 * se), (10.0 ** (d - q2 * se), 10.0 ** (d + q2 * se)),
        math.sqrt(s2), outside,
    )  # fmt: skip


def claim_power(count: int, s: float, true: float, claimed: float = 0.5, confidence: float = CONFIDENCE) -> float:
    """Probability that `count` tests of each prove a ratio of lives above `claimed`; s of log10 life.

    >>> round(claim_power(4, 0.10, 1.0), 2)
    0.96
    """
    freedom = 2 * counted("tests of each", count, 3) - 4
    shift = math.log10(true / claimed) / (require_positive("scatter", s) * math.sqrt(2.0 / count))
    return float(nct.sf(float(t.ppf(confidence, freedom)), freedom, shift))


def difference_power(count: int, s: float, factor: float, confidence: float = CONFIDENCE) -> float:
    """Probability that the test for one line sees a factor between the lives, `count` tests of each."""
    freedom = 2 * counted("tests of each", count, 3) - 4
    noncentral = 0.5 * count * (math.log10(factor) / require_positive("scatter", s)) ** 2
    return float(ncf.sf(float(f.ppf(confidence, 2, freedom)), 2, freedom, noncentral))


def _logs(amplitude: Sequence[float], cycles: Sequence[float]) -> tuple[Array, Array]:
    if len(amplitude) != len(cycles) or len(amplitude) < 3:
        raise InputError("life tests", len(amplitude), "", "three or more amplitudes, a life each", "test more")
    x = np.log10([require_positive("amplitude", v) for v in amplitude])
    y = np.log10([require_positive("cycles to failure", v) for v in cycles])
    if float(np.ptp(x)) <= 0.0:
        raise InputError("amplitudes", float(amplitude[0]), "", "of two levels or more", "test at another amplitude")
    return x, y


def _left(basis: Array, y: Array) -> float:
    found, *_ = np.linalg.lstsq(basis, y, rcond=None)
    return float(((y - basis @ found) ** 2).sum())
