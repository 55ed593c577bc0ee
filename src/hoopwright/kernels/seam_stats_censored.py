"""Log-linear regression with run-outs: a test that ran out is known to live longer than its cycles, and no more.

Maximum likelihood of log10 N = X b + s e, e standard normal: a failure counts with its density, a run-out with the
probability of living longer. In b/s and 1/s the logarithm of the likelihood has one top, which Newton's steps find.

Limits take Student's t with failures less parameters as degrees of freedom, and the scatter widened by the root of
failures over degrees of freedom; without run-outs that is least squares to the last digit. With them it is an
approximation: tests/exact/test_censored_lives.py draws how often the bounds hold. unitless

Source: normal theory of censored samples (J. Schmee and G. J. Hahn 1979; J. Burridge 1981 for the single top), from
memory; tests/published/weld_statistics.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

from hoopwright.errors import InputError, NotConverged

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

ROUNDS: Final = 100
SETTLED: Final = 1e-12
HALF_LOG_TWO_PI: Final = 0.5 * math.log(2.0 * math.pi)


@dataclass(frozen=True, slots=True, eq=False)
class CensoredFit:
    """A fitted line or plane. beta (p,); scatter : widened; covariance (p, p) of beta; freedom : failures less p.

    likely : greatest logarithm of the likelihood; failures, run_outs : counts.
    """

    beta: Array
    scatter: float
    covariance: Array
    freedom: int
    likely: float
    failures: int
    run_outs: int

    def variance(self, row: Array) -> float:
        """Variance of row @ beta, row (p,)."""
        return float(row @ self.covariance @ row)


def censored_fit(basis: Array, y: Array, run_out: Flags) -> CensoredFit:
    """Maximum likelihood of y = basis @ beta with run-outs.

    Parameters
    ----------
    basis : ndarray
        Shape (n, p).
    y : ndarray
        Logarithm of the lives, shape (n,); of a run-out, of the cycles it was stopped at.
    run_out : ndarray of bool
        Shape (n,).

    Raises
    ------
    InputError
        No more failures than parameters, or failures at too few places to tell the parameters apart.
    """
    failed, p = ~run_out, basis.shape[1]
    if int(failed.sum()) <= p:
        must = f"more than {p}, one for each parameter and one for the scatter"
        raise InputError("failures", int(failed.sum()), "", must, "test on, at a higher amplitude too")
    if int(np.linalg.matrix_rank(basis[failed])) < p:
        raise InputError("failures", int(failed.sum()), "", "at two amplitudes or more", "test at a higher amplitude")
    start, *_ = np.linalg.lstsq(basis, y, rcond=None)
    left = y - basis @ start
    scale = max(math.sqrt(float(left @ left) / len(y)), 1e-9)
    first: Array = np.append(start, 1.0) / scale
    at = _climb(first, basis, y, run_out)
    beta, s = at[:p] / at[p], 1.0 / float(at[p])
    count = int(failed.sum())
    freedom = count - p
    widened = count / freedom
    covariance = widened * _covariance(beta, s, basis, y, run_out)
    return CensoredFit(
        beta, s * math.sqrt(widened), covariance, freedom, _likely(at, basis, y, run_out), count, len(y) - count
    )


def _climb(at: Array, basis: Array, y: Array, run_out: Flags) -> Array:
    """Newton's steps in b/s and 1/s, halved until they climb."""
    now = _likely(at, basis, y, run_out)
    for _ in range(ROUNDS):
        slope, bend = _derivatives(at, basis, y, run_out)
        step = np.asarray(np.linalg.solve(-bend, slope), dtype=np.float64)
        if float(step @ slope) < SETTLED:
            return at
        share = 1.0
        while share > 1e-9:
            tried = at + share * step
            reached = _likely(tried, basis, y, run_out) if tried[-1] > 0.0 else -math.inf
            if reached >= now:
                break
            share *= 0.5
        else:
            return at
        at, now = tried.astype(np.float64), reached
    raise NotConverged("The likelihood of the lives has not settled.", at, "look for a life that is mistyped.")


def _standard(at: Array, basis: Array, y: Array) -> Array:
    found: Array = at[-1] * y - basis @ at[:-1]
    return found


def _likely(at: Array, basis: Array, y: Array, run_out: Flags) -> float:
    z = _standard(at, basis, y)
    failed = math.log(at[-1]) - HALF_LOG_TWO_PI - 0.5 * z[~run_out] ** 2
    return float(failed.sum() + log_ndtr(-z[run_out]).sum())


def _hazard(z: Array) -> Array:
    """Density over the probability of living longer."""
    found: Array = np.exp(-0.5 * z**2 - HALF_LOG_TWO_PI - log_ndtr(-z))
    return found


def _derivatives(at: Array, basis: Array, y: Array, run_out: Flags) -> tuple[Array, Array]:
    """First and second derivatives to b/s and 1/s, shapes (p + 1,) and (p + 1, p + 1)."""
    z, rows = _standard(at, basis, y), np.column_stack([-basis, y])
    hazard = _hazard(z)
    pull = np.where(run_out, -hazard, -z)
    weight = np.where(run_out, hazard * (hazard - z), 1.0)
    slope = rows.T @ pull
    bend = -(rows.T * weight) @ rows
    slope[-1] += (~run_out).sum() / at[-1]
    bend[-1, -1] -= (~run_out).sum() / at[-1] ** 2
    return slope, bend


def _covariance(beta: Array, s: float, basis: Array, y: Array, run_out: Flags) -> Array:
    """Inverse of the observed information on beta with the scatter free, shape (p, p)."""
    p = len(beta)
    _, bend = _derivatives(np.append(beta, 1.0) / s, basis, y, run_out)
    # d(b/s, 1/s)/d(b, s); the first derivatives vanish at the top
    turn = np.zeros((p + 1, p + 1))
    turn[:p, :p] = np.eye(p) / s
    turn[:, p] = -np.append(beta, 1.0) / s**2
    return np.asarray(np.linalg.inv(-(turn.T @ bend @ turn)), dtype=np.float64)[:p, :p]
