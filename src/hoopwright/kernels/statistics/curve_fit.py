"""A curve with unknown constants through points, by damped least squares, with standard errors. Units as given."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import optimize

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.arrays import Vector, finite_vector


@dataclass(frozen=True, slots=True)
class Curve:
    """constants and their standard errors; residual_squares: sum of squared residuals; residual_sd: their scatter."""

    constants: tuple[float, ...]
    sd: tuple[float, ...]
    residual_squares: float
    residual_sd: float


def fit_curve(curve: Callable[[Vector, Vector], Vector], x: ArrayLike, y: ArrayLike, start: ArrayLike) -> Curve:
    """Least squares of `curve(constants, x)` against y, from `start`; constants may differ by many decades.

    Raises
    ------
    InputError
        No more points than constants.
    NotConverged
        The search stops short, or a constant has no effect at the answer.
    """
    xs, ys, first = finite_vector("x", x, ""), finite_vector("y", y, ""), finite_vector("start", start, "")
    if xs.size <= first.size:
        raise InputError("x", xs.size, "points", f"more than {first.size}", "measure more points")
    scale = np.where(first == 0.0, 1.0, np.abs(first))

    def miss(shares: Vector) -> Vector:
        return np.asarray(curve(shares * scale, xs) - ys, dtype=np.float64)

    found = optimize.least_squares(
        miss, first / scale, jac="3-point", method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=5000
    )
    if not found.success:
        raise NotConverged("the curve fit stops short", found.x * scale, "start nearer to the answer")
    jacobian = found.jac / scale
    residual = math.fsum(found.fun * found.fun)
    variance = residual / (xs.size - first.size)
    inverse = np.linalg.pinv(found.jac.T @ found.jac) * np.outer(scale, scale)
    if np.linalg.matrix_rank(found.jac) < first.size or not np.all(np.isfinite(jacobian)):
        raise NotConverged("a constant of the curve has no effect", found.x * scale, "leave it out")
    sd = np.sqrt(variance * np.diag(inverse))
    return Curve(tuple(map(float, found.x * scale)), tuple(map(float, sd)), residual, math.sqrt(variance))
