"""Weld strength over parent strength: bounds, equivalence, power and how many coupons. Logarithms, common cv. unitless

Mean ratio: lower bound exp(d - t(.95, df) s h), h = sqrt(1/nw + 1/np), d difference of the mean logarithms.
Equivalence: two one-sided tests against limits lo and hi; its power integrates over the scatter found. "Not
significantly different" is no claim. Source: normal theory (two one-sided tests: D. J. Schuirmann 1987, from memory);
tests/reference/test_seam_statistics_reference.py, tests/published/weld_statistics.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln, ndtr, stdtrit
from scipy.stats import nct, t

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.seam_stats_tolerance import CONFIDENCE, counted, two_sample_factor

Array = NDArray[np.float64]

MOST_COUPONS = 80
NODES, WEIGHTS = np.polynomial.legendre.leggauss(120)


@dataclass(frozen=True, slots=True)
class RatioResult:
    """Weld against parent. ratio : of the geometric means; lower, upper : one-sided bounds; cv : pooled.

    each_lower : bound above which a share `each_share` of welds lies, over the parent mean. p_low, p_high : p of the
    two one-sided tests against `limits`; equivalent : both below 1 - confidence.
    """

    ratio: float
    lower: float
    upper: float
    cv: float
    freedom: int
    each_share: float
    each_lower: float
    limits: tuple[float, float]
    p_low: float
    p_high: float
    equivalent: bool


def compare(
    welds: Sequence[float],
    parents: Sequence[float],
    limits: tuple[float, float] = (0.95, 1.0 / 0.95),
    each_share: float = 0.90,
    confidence: float = CONFIDENCE,
) -> RatioResult:
    """Weld strengths against strengths of the same sheet. [MPa]

    Raises
    ------
    InputError
        Fewer than 2 of either, a strength not above 0, limits not about 1, strengths without any scatter.
    """
    w, p = logs("weld strengths", welds), logs("parent strengths", parents)
    low, high = limits
    if not 0.0 < low < 1.0 < high:
        raise InputError(
            "equivalence limits", limits, "", "one below and one above 1", "give limits such as 0.95 to 1.053"
        )
    freedom = w.size + p.size - 2
    s = math.sqrt((float(((w - w.mean()) ** 2).sum()) + float(((p - p.mean()) ** 2).sum())) / freedom)
    if s <= 0.0:
        raise InputError("strengths", "all alike", "", "scattered", "check that readings were not copied")
    h = math.sqrt(1.0 / w.size + 1.0 / p.size)
    d, q = float(w.mean() - p.mean()), float(t.ppf(confidence, freedom))
    p_low = float(t.sf((d - math.log(low)) / (s * h), freedom))
    p_high = float(t.cdf((d - math.log(high)) / (s * h), freedom))
    k = two_sample_factor(int(w.size), int(p.size), each_share, confidence)
    return RatioResult(
        math.exp(d), math.exp(d - q * s * h), math.exp(d + q * s * h), s, freedom, each_share, math.exp(d - k * s),
        limits, p_low, p_high, max(p_low, p_high) < 1.0 - confidence,
    )  # fmt: skip


def logs(name: str, values: Sequence[float]) -> Array:
    """Logarithms of two or more strengths [MPa]."""
    if len(values) < 2:
        raise InputError(name, len(values), "", "two or more", "test more coupons of the same sheet")
    return np.log([require_positive(name, v, "MPa") for v in values])


def _spread(welds: int, parents: int) -> tuple[float, int]:
    h = math.sqrt(1.0 / counted("weld coupons", welds, 1) + 1.0 / counted("parent coupons", parents, 1))
    return h, counted("coupons together", welds + parents, 3) - 2


def mean_power(
    welds: int, parents: int, cv: float, true: float, limit: float = 0.95, confidence: float = CONFIDENCE
) -> float:
    """Probability that the lower bound of the mean ratio passes `limit`.

    >>> round(mean_power(6, 3, 0.01, 0.98), 3)
    0.989
    """
    h, freedom = _spread(welds, parents)
    shift = (math.log(true) - math.log(limit)) / (require_positive("scatter", cv) * h)
    return float(nct.sf(float(t.ppf(confidence, freedom)), freedom, shift))


def each_power(
    welds: int, parents: int, cv: float, true: float, share: float, limit: float = 0.95, confidence: float = CONFIDENCE
) -> float:
    """Probability that the bound of each coupon passes `limit`."""
    h, freedom = _spread(welds, parents)
    k = two_sample_factor(welds, parents, share, confidence)
    shift = (math.log(true) - math.log(limit)) / (require_positive("scatter", cv) * h)
    return float(nct.sf(k / h, freedom, shift))


def equivalence_power(
    welds: int, parents: int, cv: float, true: float, low: float = 0.95, confidence: float = CONFIDENCE
) -> float:
    """Probability that both one-sided tests pass, limits low and 1/low; integrated over the scatter found.

    >>> round(equivalence_power(6, 6, 0.02, 0.98), 3)
    0.805
    """
    h, freedom = _spread(welds, parents)
    q, width = float(stdtrit(freedom, confidence)), -2.0 * math.log(low)
    most = width / (2.0 * q * require_positive("scatter", cv) * h)
    # u = s/sigma follows chi(df)/sqrt(df); beyond `most` no difference passes both tests
    top = min(most, 1.0 + 8.0 / math.sqrt(2.0 * freedom))
    u = 0.5 * top * (NODES + 1.0)
    half = 0.5 * freedom
    log_density = math.log(2.0) + half * math.log(half) - gammaln(half) + (freedom - 1) * np.log(u) - half * u * u
    d = math.log(true)
    upper = (-math.log(low) - q * cv * h * u - d) / (cv * h)
    lower = (math.log(low) + q * cv * h * u - d) / (cv * h)
    inside = np.maximum(ndtr(upper) - ndtr(lower), 0.0)
    return float(0.5 * top * (WEIGHTS * np.exp(log_density) * inside).sum())


def coupons_needed(power: Callable[[int], float], wanted: float, most: int = MOST_COUPONS) -> int | None:
    """Least number from 2 up to `most` with the power wanted; None where none has it. [1]"""
    require_range("power wanted", wanted, 0.0, 1.0)
    return next((n for n in range(2, most + 1) if power(n) >= wanted), None)


def scatter_of(values: Sequence[float]) -> float:
    """Coefficient of variation, as the standard deviation of the logarithms. [1]"""
    return require_finite("scatter", float(logs("strengths", values).std(ddof=1)))
