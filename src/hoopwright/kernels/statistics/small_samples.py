"""Factors of small normal samples: tolerance factors, ranges, zero-failure trials, capability, censored life. [1]

k one-sided   : T' noncentral t quantile over sqrt(n), exact (`one_sided_factor`).
k two-sided   : exact integral over the sample mean (`two_sided_factor`): P[chi2 >= nu r(z)^2 / k^2] averaged over z.

References
----------
Noncentral t and its integral are textbook statistics; figures in tests/published/statistics.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike
from scipy import integrate, optimize, special

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.arrays import gauss_rule, positive_vector, whole_count


def _shares(share: float, confidence: float) -> None:
    require_range("share of the population", share, 0.5, 0.99999)
    require_range("confidence", confidence, 0.5, 0.99999)


def one_sided_factor(count: int, share: float, confidence: float) -> float:
    """k with mean - k s below `share` of all parts, with that confidence. [1]"""
    n = whole_count("count", count, 2, 1_000_000)
    _shares(share, confidence)
    z = float(special.ndtri(share)) * math.sqrt(n)
    return float(special.nctdtrit(n - 1, z, confidence)) / math.sqrt(n)


def two_sided_factor(count: int, share: float, confidence: float) -> float:
    """k with mean -+ k s holding `share` of all parts between them, with that confidence, exactly. [1]"""
    n = whole_count("count", count, 2, 1_000_000)
    _shares(share, confidence)
    nodes, weights = gauss_rule(64)
    reach = 8.0 / math.sqrt(n)
    z = 0.5 * reach * (nodes + 1.0)
    density = 2.0 * math.sqrt(n / (2.0 * math.pi)) * np.exp(-0.5 * n * z * z) * 0.5 * reach * weights
    halves = np.array([_half_width(float(x), share) for x in z])

    def cover(k: float) -> float:
        tail = special.chdtrc(n - 1, (n - 1) * (halves / k) ** 2)
        return float(density @ tail) - confidence

    return float(optimize.brentq(cover, 0.1, 1e5, xtol=1e-12, rtol=1e-13))


def _half_width(z: float, share: float) -> float:
    """r with Phi(z + r) - Phi(z - r) = share."""
    return float(optimize.brentq(lambda r: special.ndtr(z + r) - special.ndtr(z - r) - share, 0.0, z + 10.0))


@lru_cache(maxsize=64)
def range_moments(size: int) -> tuple[float, float]:
    """Mean and sd of the range of `size` unit normals (d2, d3). [1]"""
    n = whole_count("size", size, 2, 100)
    d2 = integrate.quad(lambda x: 1.0 - special.ndtr(x) ** n - special.ndtr(-x) ** n, -9.0, 9.0, epsabs=1e-12)[0]

    nodes, weights = gauss_rule(200)
    high = 8.0 * nodes[:, None]
    half = 0.5 * (high + 8.0)
    a, b = special.ndtr(high), special.ndtr(half * nodes[None, :] + 0.5 * (high - 8.0))
    joint = 1.0 - a**n - (1.0 - b) ** n + (a - b) ** n
    total = float(8.0 * weights @ ((joint @ weights) * half[:, 0]))
    return float(d2), math.sqrt(2.0 * total - d2 * d2)


def mean_range_factor(size: int, groups: int) -> float:
    """d2*: what the mean of `groups` ranges of `size` is divided by, sqrt(d2^2 + d3^2/groups). [1]"""
    d2, d3 = range_moments(size)
    return math.sqrt(d2 * d2 + d3 * d3 / whole_count("groups", groups, 1, 1_000_000))


def unbiasing_c4(size: int) -> float:
    """Mean of the sample sd of unit normals. [1]"""
    n = whole_count("size", size, 2, 1_000_000)
    return math.sqrt(2.0 / (n - 1)) * math.exp(math.lgamma(0.5 * n) - math.lgamma(0.5 * (n - 1)))


def zero_failure_trials(share: float, confidence: float) -> int:
    """Trials without a failure that show `share` good with that confidence: ceil(ln(1 - C)/ln R). [1]"""
    _shares(share, confidence)
    return math.ceil(math.log1p(-confidence) / math.log(share) - 1e-12)


@dataclass(frozen=True, slots=True)
class Capability:
    """cp, cpk, cpm (about the middle of the tolerance) and their limits at 95 % where known. [1]"""

    cp: float
    cpk: float
    cpm: float
    cp_limits: tuple[float, float]
    cpk_limits: tuple[float, float]


def capability(mean: float, sd: float, low: float, high: float, count: int, confidence: float = 0.95) -> Capability:
    """Capability from a sample's mean and sd; cp limits by chi-square, cpk by the normal approximation. [1]"""
    m, s = require_finite("mean", mean), require_positive("sd", sd)
    if not low < high:
        raise InputError("low limit", low, "", f"below the high limit {high:g}", "exchange the two")
    n = whole_count("count", count, 2, 1_000_000)
    cp = (high - low) / (6.0 * s)
    cpk = min(high - m, m - low) / (3.0 * s)
    cpm = (high - low) / (6.0 * math.hypot(s, m - 0.5 * (low + high)))
    alpha = 0.5 * (1.0 - confidence)
    spread = [math.sqrt(float(special.chdtri(n - 1, 1.0 - p)) / (n - 1)) for p in (alpha, 1.0 - alpha)]
    half = float(special.ndtri(1.0 - alpha)) * math.sqrt(1.0 / (9.0 * n) + cpk * cpk / (2.0 * (n - 1)))
    return Capability(cp, cpk, cpm, (cp * spread[0], cp * spread[1]), (cpk - half, cpk + half))


@dataclass(frozen=True, slots=True)
class Life:
    """Weibull shape [1] and scale (units of the times), and minus log likelihood."""

    shape: float
    scale: float
    minus_log_likelihood: float

    def share_failed_at(self, share: float) -> float:
        """Time by which `share` have failed. Units of the times."""
        return self.scale * (-math.log1p(-share)) ** (1.0 / self.shape)


def weibull_life(failures: ArrayLike, stopped: ArrayLike = ()) -> Life:
    """Maximum likelihood with units stopped before they failed. Units of the times."""
    t = positive_vector("failure times", failures, "", 2)
    out = np.asarray(stopped, dtype=np.float64)
    if out.size:
        positive_vector("stopped times", out, "")
    every = np.concatenate((t, out))
    top = float(every.max())
    logs, scaled = np.log(every / top), math.fsum(np.log(t / top)) / t.size

    def slope(shape: float) -> float:
        w = np.exp(shape * logs)
        return float((w * logs).sum() / w.sum()) - 1.0 / shape - scaled

    shape = float(optimize.brentq(slope, 1e-3, 1e3, xtol=1e-13))
    scale = top * (float(np.exp(shape * logs).sum()) / t.size) ** (1.0 / shape)
    z = t / scale
    hazard = float(((every / scale) ** shape).sum())
    like = t.size * math.log(shape / scale) + (shape - 1.0) * math.fsum(np.log(z)) - hazard
    return Life(shape, scale, -like)
