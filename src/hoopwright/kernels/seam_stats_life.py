"""Log-linear life lines, log10 N = A + B log10 x: one line, weld against parent, and what a test can see. unitless

Source: method of ASTM E739, from memory; tests/published/weld_statistics. Without run-outs these are its formulas; with
run-outs, which it does not take, the likelihood of `seam_stats_censored` stands in, and the result says how many ran
out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import f, ncf, nct, t

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.seam_stats_censored import CensoredFit, censored_fit
from hoopwright.kernels.seam_stats_tolerance import CONFIDENCE, counted

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class LifeTests:
    """Life tests of one kind. amplitude; cycles : to failure, or to where a run-out was stopped; run_out : of each, or
    () where all failed."""

    amplitude: Sequence[float]
    cycles: Sequence[float]
    run_out: Sequence[bool] = ()

    def logs(self) -> tuple[Array, Array, Flags]:
        """Logarithms of amplitude and cycles, and which ran out, shapes (n,).

        Raises
        ------
        InputError
            Fewer than 3 tests, lists that do not match, values not above 0, one amplitude only.
        """
        n = len(self.amplitude)
        if len(self.cycles) != n or n < 3 or len(self.run_out) not in (0, n):
            raise InputError("life tests", n, "", "three or more amplitudes, a life each", "test more")
        x = np.log10([require_positive("amplitude", v) for v in self.amplitude])
        y = np.log10([require_positive("cycles", v) for v in self.cycles])
        if float(np.ptp(x)) <= 0.0:
            first = float(self.amplitude[0])
            raise InputError("amplitudes", first, "", "of two levels or more", "test at another amplitude")
        flags = np.array(self.run_out, dtype=np.bool_) if len(self.run_out) else np.zeros(n, dtype=np.bool_)
        return x, y, flags


@dataclass(frozen=True, slots=True)
class LifeLine:
    """A fitted line. a, b with two-sided limits; s : of log10 N; count of tests; run_outs among them.

    covariance : of a and b, as (aa, ab, bb).
    """

    a: float
    b: float
    a_limits: tuple[float, float]
    b_limits: tuple[float, float]
    s: float
    count: int
    run_outs: int
    covariance: tuple[float, float, float]

    def log_life(self, amplitude: float) -> float:
        """log10 of the median life at an amplitude."""
        return self.a + self.b * math.log10(amplitude)

    def variance(self, amplitude: float) -> float:
        """Variance of that logarithm."""
        x, (aa, ab, bb) = math.log10(amplitude), self.covariance
        return aa + 2.0 * x * ab + x * x * bb


@dataclass(frozen=True, slots=True)
class LifeComparison:
    """Weld against parent. p_one_line, p_slopes : of the F tests for one line and for equal slopes; ratio of median
    lives at the design amplitude with its one-sided bound and two-sided limits; outside : of the amplitudes tested.

    counts, run_outs : of weld and parent. lines : a and b of weld, then of parent. design : the amplitude asked for.
    """

    p_one_line: float
    p_slopes: float
    ratio: float
    lower: float
    limits: tuple[float, float]
    s: float
    outside: bool
    counts: tuple[int, int]
    run_outs: tuple[int, int]
    lines: tuple[tuple[float, float], tuple[float, float]]
    design: float


def life_line(tests: LifeTests, confidence: float = CONFIDENCE) -> LifeLine:
    """Line of log10 life on log10 amplitude: least squares, or the likelihood where tests ran out.

    Raises
    ------
    InputError
        As `LifeTests.logs`; fewer than 3 failures, or failures at one amplitude only.
    """
    x, y, run_out = tests.logs()
    fit = censored_fit(np.column_stack([np.ones_like(x), x]), y, run_out)
    q = float(t.ppf(0.5 + 0.5 * confidence, fit.freedom))
    (a, b), (aa, ab, bb) = fit.beta, (fit.covariance[0, 0], fit.covariance[0, 1], fit.covariance[1, 1])
    half_a, half_b = q * math.sqrt(aa), q * math.sqrt(bb)
    return LifeLine(
        float(a), float(b), (float(a) - half_a, float(a) + half_a), (float(b) - half_b, float(b) + half_b),
        fit.scatter, len(y), fit.run_outs, (float(aa), float(ab), float(bb)),
    )  # fmt: skip


def compare_lives(
    weld: LifeTests, parent: LifeTests, design_amplitude: float, confidence: float = CONFIDENCE
) -> LifeComparison:
    """Weld against parent; separate slopes and one scatter for the ratio at the design amplitude.

    Raises
    ------
    InputError
        As `LifeTests.logs`; too few failures of either.
    """
    (xw, yw, ow), (xp, yp, op) = weld.logs(), parent.logs()
    at = require_positive("design amplitude", design_amplitude)
    x, y, run_out = np.concatenate([xw, xp]), np.concatenate([yw, yp]), np.concatenate([ow, op])
    which = np.concatenate([np.ones(xw.size), np.zeros(xp.size)])
    one = np.ones_like(x)
    apart = censored_fit(np.column_stack([which, which * x, one - which, (one - which) * x]), y, run_out)
    together = censored_fit(np.column_stack([one, x]), y, run_out)
    parallel = censored_fit(np.column_stack([one, x, which]), y, run_out)
    place = math.log10(at)
    row = np.array([1.0, place, -1.0, -place])
    d, se = float(row @ apart.beta), math.sqrt(apart.variance(row))
    q1, q2 = float(t.ppf(confidence, apart.freedom)), float(t.ppf(0.5 + 0.5 * confidence, apart.freedom))
    lowest, highest = max(xw.min(), xp.min()), min(xw.max(), xp.max())
    aw, bw, ap, bp = map(float, apart.beta)
    return LifeComparison(
        _nested(apart, together, 2), _nested(apart, parallel, 1), 10.0**d, 10.0 ** (d - q1 * se),
        (10.0 ** (d - q2 * se), 10.0 ** (d + q2 * se)), apart.scatter, not lowest <= place <= highest,
        (xw.size, xp.size), (int(ow.sum()), int(op.sum())), ((aw, bw), (ap, bp)), at,
    )  # fmt: skip


def _nested(wide: CensoredFit, narrow: CensoredFit, more: int) -> float:
    """p of the test that `more` parameters are not needed; without run-outs the exact F test."""
    gain = math.expm1(2.0 * max(wide.likely - narrow.likely, 0.0) / wide.failures)
    return float(f.sf(gain * wide.freedom / more, more, wide.freedom))


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
