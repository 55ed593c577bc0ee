"""Gaussian process with a linear basis against dense algebra and Bayes' rule for a line."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.gaussian_process import Choice, fit_process, matern52

RNG = np.random.default_rng(3)
X = RNG.random((14, 4))
H = np.column_stack([np.ones(14), X[:, 0]])
Y = 0.4 + 0.7 * X[:, 0] + 0.1 * np.sin(5.0 * X[:, 1])
NOISE = np.full(14, 0.05)
B0, SD = np.array([0.2, 0.0]), np.array([0.5, 1.0])
ONE = Choice((0.6,), (0.3,), (0.8, 1.0, 1.0, 1.3))


def test_prediction_is_that_of_dense_algebra() -> None:
    process = fit_process(X, Y, NOISE, H, np.zeros(14), B0, SD, ONE)
    at = RNG.random((5, 4))
    basis = np.column_stack([np.ones(5), at[:, 0]])
    mean, variance = process.predict(at, basis, np.zeros(5))
    scale = 0.6 * np.array([0.8, 1.0, 1.0, 1.3])

    def covariance(a: np.ndarray, ha: np.ndarray, b: np.ndarray, hb: np.ndarray) -> np.ndarray:
        r = np.sqrt(5.0) * np.linalg.norm((a[:, None] - b[None]) / scale, axis=2)
        return 0.09 * (1.0 + r + r * r / 3.0) * np.exp(-r) + ha @ np.diag(SD**2) @ hb.T

    k = covariance(X, H, X, H) + np.diag(NOISE**2)
    cross = covariance(at, basis, X, H)
    assert mean == pytest.approx(basis @ B0 + cross @ np.linalg.solve(k, Y - H @ B0), rel=1e-9)
    dense = np.diag(covariance(at, basis, at, basis) - cross @ np.linalg.solve(k, cross.T))
    assert variance == pytest.approx(dense, rel=1e-6)


def test_without_a_process_it_is_bayes_for_a_line() -> None:
    none = Choice((1.0,), (1e-9,), (1.0, 1.0, 1.0, 1.0))
    process = fit_process(X, Y, NOISE, H, np.zeros(14), B0, SD, none)
    precision = np.diag(SD**-2) + H.T @ H / 0.05**2
    b = np.linalg.solve(precision, B0 / SD**2 + H.T @ Y / 0.05**2)
    basis = np.array([[1.0, 0.3]])
    mean, variance = process.predict(np.full((1, 4), 0.3), basis, np.zeros(1))
    assert mean[0] == pytest.approx(float((basis @ b)[0]), rel=1e-7)
    assert variance[0] == pytest.approx(float((basis @ np.linalg.inv(precision) @ basis.T)[0, 0]), rel=1e-5)


def test_likelihood_chooses_the_length_that_made_the_data() -> None:
    rng = np.random.default_rng(8)
    x = rng.random((60, 4))
    k = matern52(x / 0.35, x / 0.35, 1.0) + 1e-6 * np.eye(60)
    y = np.linalg.cholesky(k) @ rng.normal(size=60)
    choice = Choice((0.35, 1.8), (1.0,), (1.0, 1.0, 1.0, 1.0))
    process = fit_process(
        x, y, np.full(60, 1e-2), np.ones((60, 1)), np.zeros(60), np.zeros(1), np.full(1, 1e-3), choice
    )
    assert process.scale[0] == 0.35


def test_refusals() -> None:
    with pytest.raises(InputError, match="noise"):
        fit_process(X, Y, np.zeros(14), H, np.zeros(14), B0, SD, ONE)
    with pytest.raises(InputError, match="readings"):
        fit_process(X, Y[:5], NOISE, H, np.zeros(14), B0, SD, ONE)
