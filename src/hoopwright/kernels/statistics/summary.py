"""Mean, standard deviation, serial correlation, outlier and comparison tests of small samples; units as given, [1].

References
----------
Mean and standard deviation are corrected two-pass sums, proven on the reference sets of tests/published/statistics.
Grubbs (1969) single outlier test; Welch (1947) unequal variances; Schuirmann (1987) two one-sided tests: from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import special

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.arrays import finite_vector


@dataclass(frozen=True, slots=True)
class Summary:
    """count, mean, sd (n - 1), lag1: serial correlation of neighbours (0 where all values are alike)."""

    count: int
    mean: float
    sd: float
    lag1: float


def student_quantile(probability: float, dof: float) -> float:
    """Quantile of Student's t, infinite degrees of freedom being the normal. [1]"""
    require_range("probability", probability, 1e-9, 1.0 - 1e-9)
    if dof == math.inf:
        return float(special.ndtri(probability))
    return float(special.stdtrit(require_positive("degrees of freedom", dof), probability))


def summary(values: ArrayLike) -> Summary:
    """Count, mean, standard deviation and lag-1 correlation, safe against cancellation. Units as given."""
    x = finite_vector("values", values, "", 2)
    rough = float(x[0]) + math.fsum(x - x[0]) / x.size
    rest = x - rough
    shift = math.fsum(rest) / x.size
    mean = rough + shift
    rest = rest - shift
    squares = math.fsum(rest * rest)
    lag = math.fsum(rest[1:] * rest[:-1]) / squares if squares > 0.0 else 0.0
    return Summary(int(x.size), mean, math.sqrt(squares / (x.size - 1)), lag)


@dataclass(frozen=True, slots=True)
class Outlier:
    """index : the reading furthest out. statistic : its distance in sd. critical : limit. is_outlier : beyond it."""

    index: int
    statistic: float
    critical: float

    @property
    def is_outlier(self) -> bool:
        """Whether it lies beyond the limit."""
        return self.statistic > self.critical


def grubbs(values: ArrayLike, confidence: float = 0.95) -> Outlier:
    """Two-sided single-outlier test; a sample whose values are all alike has none. Units as given."""
    x = finite_vector("values", values, "", 3)
    require_range("confidence", confidence, 0.5, 0.9999)
    n = x.size
    found = summary(x)
    away = np.abs(x - found.mean)
    index = int(np.argmax(away))
    statistic = float(away[index] / found.sd) if found.sd > 0.0 else 0.0
    t = student_quantile(1.0 - (1.0 - confidence) / (2.0 * n), n - 2)
    critical = (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))
    return Outlier(index, statistic, critical)


@dataclass(frozen=True, slots=True)
class Difference:
    """difference of two means, its standard error, t, degrees of freedom and two-sided p."""

    difference: float
    standard_error: float
    t: float
    dof: float
    p_value: float


def welch(one: ArrayLike, two: ArrayLike) -> Difference:
    """Difference of the means of two samples of unequal scatter. Units as given."""
    a, b = summary(one), summary(two)
    va, vb = a.sd**2 / a.count, b.sd**2 / b.count
    if va + vb <= 0.0:
        raise InputError("values", "all alike", "", "scattered", "enter the readings as the gauge shows them")
    error = math.sqrt(va + vb)
    dof = (va + vb) ** 2 / (va**2 / (a.count - 1) + vb**2 / (b.count - 1))
    t = (a.mean - b.mean) / error
    return Difference(a.mean - b.mean, error, t, dof, 2.0 * float(special.stdtr(dof, -abs(t))))


def equivalent(one: ArrayLike, two: ArrayLike, margin: float) -> float:
    """p of two one-sided tests that the means differ by less than `margin` (units as given); small: proven alike."""
    require_positive("margin", margin)
    d = welch(one, two)
    low = float(special.stdtr(d.dof, -(d.difference + margin) / d.standard_error))
    high = float(special.stdtr(d.dof, (d.difference - margin) / d.standard_error))
    return max(low, high)
