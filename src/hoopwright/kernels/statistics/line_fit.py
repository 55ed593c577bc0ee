"""A straight line through points, with limits; units as given, [1] where none.

References
----------
Ordinary least squares; QR of the centred column, so that no digits are lost. Linearised strain-life practice
(ASTM E739) and its limits: tests/published/statistics.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.arrays import finite_vector, same_length
from hoopwright.kernels.statistics.summary import student_quantile


@dataclass(frozen=True, slots=True)
class Line:
    """y = intercept + slope x. sd_*: standard errors. residual_sd: scatter about the line. r_squared in [1]."""

    count: int
    intercept: float
    slope: float
    sd_intercept: float
    sd_slope: float
    residual_sd: float
    r_squared: float
    mean_x: float
    spread_x: float

    def at(self, x: float) -> float:
        """The line's value at x. Units of y."""
        return self.intercept + self.slope * require_finite("x", x)

    def limits(self, confidence: float = 0.95) -> tuple[tuple[float, float], tuple[float, float]]:
        """Two-sided limits of intercept and slope."""
        t = student_quantile(0.5 + 0.5 * confidence, self.count - 2)
        a, b = t * self.sd_intercept, t * self.sd_slope
        return (self.intercept - a, self.intercept + a), (self.slope - b, self.slope + b)

    def band(self, x: float, confidence: float = 0.95, single: bool = True) -> tuple[float, float]:
        """Limits at x for one further reading (`single`) or for the line itself."""
        t = student_quantile(0.5 + 0.5 * confidence, self.count - 2)
        share = 1.0 / self.count + (x - self.mean_x) ** 2 / self.spread_x + (1.0 if single else 0.0)
        half = t * self.residual_sd * math.sqrt(share)
        return self.at(x) - half, self.at(x) + half


def fit_line(x: ArrayLike, y: ArrayLike) -> Line:
    """Least squares through at least three points. Units as given."""
    xs, ys = finite_vector("x", x, "", 3), finite_vector("y", y, "", 3)
    same_length("y", ys, "x", xs)
    n = xs.size
    mean_x, mean_y = math.fsum(xs) / n, math.fsum(ys) / n
    dx, dy = xs - mean_x, ys - mean_y
    sxx = math.fsum(dx * dx)
    if sxx <= 0.0:
        raise InputError("x", float(xs[0]), "", "at least two different values", "measure at a second setting")
    slope = math.fsum(dx * dy) / sxx
    rest = dy - slope * dx
    residual = math.fsum(rest * rest)
    s = math.sqrt(residual / (n - 2))
    syy = math.fsum(dy * dy)
    return Line(
        n,
        mean_y - slope * mean_x,
        slope,
        s * math.sqrt(1.0 / n + mean_x**2 / sxx),
        s / math.sqrt(sxx),
        s,
        1.0 - residual / syy if syy > 0.0 else 1.0,
        mean_x,
        sxx,
    )
