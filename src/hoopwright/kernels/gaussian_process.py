"""Gaussian process with a linear basis whose coefficients carry a normal prior; numbers without units. unitless

    y(x) = m(x) + h(x) b + g(x) + e,  b ~ N(b0, diag(s^2)),  g Matern 5/2 on scaled inputs,  e ~ N(0, noise^2)

Basis and process together are one covariance, so the doubt about the coefficients is carried into the prediction.
Length and amplitude are taken from a short list by marginal likelihood with weak priors. Source: C. E. Rasmussen and
C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, sections 2.7, 4.2, 5.4, from memory;
tests/exact/test_gp_exact.py. Loops are compiled: threads of a matrix library cost more than they give at this size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.kernels.compiled import compiled

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Choice:
    """Lists to choose from, and weak priors: mean and sd of ln length and ln amplitude."""

    lengths: Sequence[float]
    amplitudes: Sequence[float]
    anisotropy: tuple[float, ...]
    log_length: tuple[float, float] = (math.log(0.8), 0.7)
    log_amplitude: tuple[float, float] = (math.log(0.3), 1.0)
    amplitude_unit: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Process:
    """A fitted process. basis_mean, basis_sd : prior of b; x, basis : training places, shapes (n, k) and (n, m);
    misfit : squares of what is left in units of the covariance, about n when the model is right."""

    x: Array
    basis: Array
    basis_mean: Array
    basis_sd: Array
    scale: Array
    amplitude: float
    factor: Array
    weights: Array
    log_likelihood: float
    misfit: float

    def predict(self, x: Array, basis: Array, mean: Array) -> tuple[Array, Array]:
        """Mean and variance of the noise-free reading at places x, shapes (p,) and (p,)."""
        cross = self.cross(x, basis)
        own = self.amplitude**2 + ((basis * self.basis_sd) ** 2).sum(axis=1)
        told = _explained(cross, self.factor)
        return self._middle(basis, mean, cross), np.maximum(own - told, 1e-12)

    def middle(self, x: Array, basis: Array, mean: Array) -> Array:
        """Mean alone, shape (p,)."""
        return self._middle(basis, mean, self.cross(x, basis))

    def _middle(self, basis: Array, mean: Array, cross: Array) -> Array:
        return mean + _row_sums(basis, self.basis_mean) + _row_sums(cross, self.weights)

    def cross(self, x: Array, basis: Array) -> Array:
        """Covariance between places x and the training places, shape (p, n)."""
        return _joint(x / self.scale, self.x / self.scale, self.amplitude, basis, self.basis * self.basis_sd**2)


@compiled
def matern52(a: Array, b: Array, amplitude: float) -> Array:
    """Matern 5/2 covariance between rows of a, shape (p, k), and of b, shape (n, k), inputs scaled."""
    out = np.empty((a.shape[0], b.shape[0]))
    for i in range(a.shape[0]):
        for j in range(b.shape[0]):
            square = 0.0
            for k in range(a.shape[1]):
                square += (a[i, k] - b[j, k]) ** 2
            r = math.sqrt(5.0 * square)
            out[i, j] = amplitude * amplitude * (1.0 + r + r * r / 3.0) * math.exp(-r)
    return out


@compiled
def _joint(a: Array, b: Array, amplitude: float, basis: Array, other: Array) -> Array:
    out = matern52(a, b, amplitude)
    for i in range(a.shape[0]):
        for j in range(b.shape[0]):
            for k in range(basis.shape[1]):
                out[i, j] += basis[i, k] * other[j, k]
    return out


@compiled
def _row_sums(rows: Array, weights: Array) -> Array:
    out = np.zeros(rows.shape[0])
    for i in range(rows.shape[0]):
        for k in range(weights.size):
            out[i] += rows[i, k] * weights[k]
    return out


@compiled
def _explained(cross: Array, factor: Array) -> Array:
    """Variance that the readings explain: |L^-1 c|^2 of each row c of `cross`."""
    p, n = cross.shape
    out = np.zeros(p)
    part = np.empty(n)
    for i in range(p):
        for j in range(n):
            left = cross[i, j]
            for k in range(j):
                left -= factor[j, k] * part[k]
            part[j] = left / factor[j, j]
            out[i] += part[j] * part[j]
    return out


@compiled
def _lower_factor(covariance: Array) -> Array:
    n = covariance.shape[0]
    lower = np.zeros((n, n))
    for i in range(n):
        for j in range(i + 1):
            left = covariance[i, j]
            for k in range(j):
                left -= lower[i, k] * lower[j, k]
            lower[i, j] = math.sqrt(left) if i == j else left / lower[j, j]
    return lower


@compiled
def _solved(lower: Array, right: Array) -> Array:
    n = right.size
    x = right.copy()
    for i in range(n):
        for k in range(i):
            x[i] -= lower[i, k] * x[k]
        x[i] /= lower[i, i]
    for i in range(n - 1, -1, -1):
        for k in range(i + 1, n):
            x[i] -= lower[k, i] * x[k]
        x[i] /= lower[i, i]
    return x


def fit_process(
    x: Array, y: Array, noise: Array, basis: Array, mean: Array, basis_mean: Array, basis_sd: Array, choice: Choice
) -> Process:
    """The process of readings y at places x, its length and amplitude chosen from the lists.

    Raises
    ------
    InputError
        No reading; shapes that do not match; noise not above 0.
    """
    n = y.size
    if n == 0 or x.shape[0] != n or basis.shape[0] != n or noise.shape != (n,) or mean.shape != (n,):
        raise InputError("readings", n, "", "one or more, with a place, noise, basis and mean each", "give all of them")
    if not np.all(np.isfinite(y)) or not np.all(noise > 0.0):
        raise InputError("noise", noise.tolist(), "", "above 0, and every reading a number", "correct the readings")
    left = y - mean - _row_sums(basis, basis_mean)
    linear = _joint(x, x, 0.0, basis, basis * basis_sd**2)
    best: Process | None = None
    for length in choice.lengths:
        scale = length * np.array(choice.anisotropy)
        unit = matern52(x / scale, x / scale, 1.0)
        for share in choice.amplitudes:
            amplitude = share * choice.amplitude_unit
            covariance = amplitude**2 * unit + linear
            covariance[np.diag_indices(n)] += noise**2
            factor = _lower_factor(covariance)
            weights = _solved(factor, left)
            misfit = float((left * weights).sum())
            value = -0.5 * misfit - float(np.log(np.diag(factor)).sum())
            value -= 0.5 * ((math.log(length) - choice.log_length[0]) / choice.log_length[1]) ** 2
            value -= 0.5 * ((math.log(share) - choice.log_amplitude[0]) / choice.log_amplitude[1]) ** 2
            if best is None or value > best.log_likelihood:
                best = Process(x, basis, basis_mean, basis_sd, scale, amplitude, factor, weights, value, misfit)
    assert best is not None
    return best
