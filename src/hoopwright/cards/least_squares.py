"""Least squares of the three laws on points [plastic strain, MPa]: several starts, standard errors, misfit."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

Vector = NDArray[np.float64]

Fitted = tuple[list[float], list[float], float]


def _swift(x: Vector, p: Vector) -> Vector:
    return np.asarray(np.exp(x[0]) * (np.exp(x[1]) + p) ** np.exp(x[2]))


def _voce(x: Vector, p: Vector) -> Vector:
    return np.asarray(np.exp(x[0]) + np.exp(x[1]) * (1.0 - np.exp(-np.exp(x[2]) * p)))


def _ludwik(x: Vector, p: Vector) -> Vector:
    return np.asarray(np.exp(x[0]) + np.exp(x[1]) * p ** np.exp(x[2]))


LAWS: dict[str, Callable[[Vector, Vector], Vector]] = {"swift": _swift, "voce": _voce, "ludwik": _ludwik}


def _starts(law: str, strain: Vector, stress: Vector) -> list[list[float]]:
    """Logarithms of first guesses: all constants are positive, so the fit runs on their logarithms."""
    first, last = max(float(stress.min()), 1.0), float(stress.max())
    rise, reach = max(last - first, 0.05 * last), max(float(strain.max()), 1e-3)
    if law == "swift":
        return [[math.log(last / reach**n), math.log(e0), math.log(n)] for n in (0.15, 0.3, 0.5) for e0 in (1e-3, 2e-2)]
    if law == "voce":
        return [[math.log(first), math.log(1.2 * rise), math.log(rate / reach)] for rate in (1.0, 3.0, 10.0)]
    return [[math.log(0.9 * first), math.log(rise / reach**n), math.log(n)] for n in (0.3, 0.6, 0.9)]


def fit_starts(law: str, strain: Vector, stress: Vector) -> Fitted | None:
    """Constants, standard errors and root mean square misfit of the best start; None where none converged."""
    model = LAWS[law]
    scale = float(stress.max())

    def misfit(x: Vector) -> Vector:
        return (model(x, strain) - stress) / scale

    best: Any = None
    with np.errstate(over="ignore", invalid="ignore"):
        for start in _starts(law, strain, stress):
            if not np.all(np.isfinite(misfit(np.array(start)))):
                continue
            low, high = np.array(start) - 12.0, np.array(start) + 12.0
            found = least_squares(misfit, start, bounds=(low, high), xtol=1e-14, ftol=1e-14, gtol=1e-14, max_nfev=400)
            if found.success and (best is None or found.cost < best.cost):
                best = found
    if best is None:
        return None
    values = [float(value) for value in np.exp(best.x)]
    residual = misfit(best.x) * scale
    return values, _errors(best.jac * scale, residual, values), float(math.sqrt(float(np.mean(residual**2))))


def _errors(jacobian: Vector, residual: Vector, values: list[float]) -> list[float]:
    """Standard error of each constant, carried from its logarithm; infinite where the points do not fix it."""
    freedom = residual.size - len(values)
    variance = float(np.sum(residual**2)) / freedom if freedom > 0 else math.inf
    information = jacobian.T @ jacobian
    if freedom <= 0 or np.linalg.matrix_rank(information, tol=1e-12 * float(np.trace(information))) < len(values):
        return [math.inf] * len(values)
    spread = np.sqrt(np.diag(np.linalg.inv(information)) * variance)
    return [float(value * s) for value, s in zip(values, spread, strict=True)]
