"""Radial deviations as orders per turn: fit, significance, removal, robust two-stage fit. Deviations in mm, angles rad.

r(th) = c0 + sum a_k cos k (th - ph_k). sd of an amplitude from n even readings: noise sqrt(2/n); of its phase:
sd/(k a). Amplitudes are biased up: a^2 - trace of the pair's covariance is fair (`fair_amplitude`).

Two-stage fit: 1. orders 1, 2, 3, N from a least-absolute start, then bisquare weights (4.7 noise floors); 2. orders 1
to 2N, each with a prior standard deviation, on the readings kept; drop what lies beyond 5 noise floors; once more.

References
----------
Method study of the estimator (simulated): reference figures in tests/reference/test_roundness_reference.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import optimize

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.arrays import Vector, finite_vector, same_length, whole_count
from hoopwright.kernels.circles.fits import least_squares_circle

Any64 = NDArray[Any]


@dataclass(frozen=True, slots=True)
class Order:
    """One order: cosine and sine part, sd of an amplitude [mm], p of no such order [1]."""

    order: int
    cosine: float
    sine: float
    sd: float
    p_value: float

    @property
    def amplitude(self) -> float:
        """a_k. [mm]"""
        return math.hypot(self.cosine, self.sine)

    @property
    def crest_rad(self) -> float:
        """Angle of the crest nearest to 0. [rad]"""
        return math.atan2(self.sine, self.cosine) / self.order

    @property
    def crest_sd_rad(self) -> float:
        """Its standard deviation; infinite without an amplitude. [rad]"""
        return self.sd / (self.order * self.amplitude) if self.amplitude > 0.0 else math.inf

    @property
    def fair_amplitude(self) -> float:
        """Amplitude with the bias of noise taken out. [mm]"""
        return math.sqrt(max(0.0, self.amplitude**2 - 2.0 * self.sd**2))


@dataclass(frozen=True, slots=True)
class Orders:
    """mean : c0 [mm]. noise : residual scatter [mm]. kept : which readings were used. residual : what is left [mm]."""

    mean: float
    orders: tuple[Order, ...]
    noise: float
    kept: tuple[bool, ...] = field(repr=False)
    residual: tuple[float, ...] = field(repr=False)

    def order(self, k: int) -> Order:
        """The order k; raises InputError where it was not fitted."""
        for order in self.orders:
            if order.order == k:
                return order
        known = ", ".join(str(order.order) for order in self.orders)
        raise InputError("order", k, "", f"one of {known}", "fit this order too")


def _columns(theta: Vector, orders: tuple[int, ...]) -> Vector:
    rows = [np.ones_like(theta)]
    for k in orders:
        rows += [np.cos(k * theta), np.sin(k * theta)]
    return np.column_stack(rows)


def _input(theta: ArrayLike, deviation: ArrayLike, orders: tuple[int, ...]) -> tuple[Vector, Vector]:
    th, r = finite_vector("angle", theta, "rad", 3), finite_vector("deviation", deviation, "mm", 3)
    same_length("deviation", r, "angle", th)
    for k in orders:
        whole_count("order", k, 1, 10_000)
    if len(set(orders)) != len(orders) or not orders:
        raise InputError("orders", orders, "", "each once", "name every order once")
    return th, r


def _pack(theta: Vector, r: Vector, orders: tuple[int, ...], p: Any64, cov: Any64, noise: float, kept: Any64) -> Orders:
    rows = []
    for n, k in enumerate(orders):
        pair = p[1 + 2 * n : 3 + 2 * n]
        block = cov[1 + 2 * n : 3 + 2 * n, 1 + 2 * n : 3 + 2 * n]
        sd = math.sqrt(max(0.5 * float(np.trace(block)), 0.0))
        t2 = float(pair @ np.linalg.pinv(block) @ pair) if sd > 0.0 else math.inf
        rows.append(Order(k, float(pair[0]), float(pair[1]), sd, math.exp(-0.5 * min(t2, 1400.0))))
    residual = r - _columns(theta, orders) @ p
    return Orders(float(p[0]), tuple(rows), noise, tuple(map(bool, kept)), tuple(map(float, residual)))


def fit_orders(theta: ArrayLike, deviation: ArrayLike, orders: tuple[int, ...], noise: float | None = None) -> Orders:
    """Plain least squares of the given orders [mm]; `noise` [mm] known, or taken from the residual.

    Raises
    ------
    InputError
        Fewer readings than unknowns, or orders that the readings cannot tell apart (their aliases are named).
    """
    th, r = _input(theta, deviation, orders)
    a = _columns(th, orders)
    unknown = a.shape[1]
    if th.size < unknown or np.linalg.matrix_rank(a, tol=1e-8 * math.sqrt(th.size)) < unknown:
        raise InputError(
            "readings", th.size, "", f"enough to tell orders {orders} apart (at least {unknown}, aliases distinct)",
            "measure at more angles, or ask for fewer orders",
        )  # fmt: skip
    p = np.linalg.lstsq(a, r, rcond=None)[0]
    rest = r - a @ p
    spare = th.size - unknown
    scatter = math.sqrt(float(rest @ rest) / spare) if spare > 0 else 0.0
    known = scatter if noise is None else require_positive("noise", noise, "mm")
    cov = known**2 * np.linalg.inv(a.T @ a)
    return _pack(th, r, orders, p, cov, scatter, np.ones(th.size, dtype=bool))


def without_orders(theta: ArrayLike, deviation: ArrayLike, orders: tuple[int, ...]) -> Vector:
    """Deviations with mean and these orders taken out by least squares, shape (n,). [mm]"""
    th, r = _input(theta, deviation, orders)
    a = _columns(th, orders)
    return np.asarray(r - a @ np.linalg.lstsq(a, r, rcond=None)[0], dtype=np.float64)


def prior_sd(order: int, segments: int) -> float:
    """Prior standard deviation of an order's parts, invented for a sized hoop; a shop replaces it. [mm]"""
    known = {1: 0.3, 2: 0.3, 3: 0.1, segments: 0.06, 2 * segments: 0.02}
    return known.get(order, 0.05 / order)


def robust_orders(theta: ArrayLike, deviation: ArrayLike, segments: int, noise: float = 0.012) -> Orders:
    """The two-stage fit for N segments: orders 1 to 2N, readings that do not belong left out. [mm]

    A left-out reading near a seam or slot is a feature to be measured again in small steps, never only a wrong reading:
    the caller says so (`measure.roundness`).
    """
    n = whole_count("segments", segments, 4, 400)
    require_positive("noise", noise, "mm")
    every = tuple(range(1, 2 * n + 1))
    th, r = _input(theta, deviation, every)
    few = _columns(th, tuple(sorted({1, 2, 3, n})))
    if th.size <= few.shape[1]:
        raise InputError("readings", th.size, "", f"more than {few.shape[1]}", "measure at more angles")
    p = _least_absolute(few, r)
    for _ in range(50):
        w = np.clip(1.0 - ((r - few @ p) / (4.7 * 0.020)) ** 2, 0.0, None) ** 2
        if np.count_nonzero(w) <= few.shape[1]:
            break
        step = np.linalg.lstsq(few * np.sqrt(w)[:, None], r * np.sqrt(w), rcond=None)[0]
        moved = float(np.abs(step - p).max())
        p = np.asarray(step)
        if moved < 1e-9:
            break
    kept = np.abs(r - few @ p) < 4.7 * 0.020
    a = _columns(th, every)
    inverse = np.concatenate(([0.0], np.repeat([1.0 / prior_sd(k, n) ** 2 for k in every], 2)))
    for _ in range(2):
        p, cov = _ridge(a[kept], r[kept], inverse, noise)
        rest = r - a @ p
        scale = max(noise, 1.4826 * float(np.median(np.abs(rest[kept]))))
        kept = np.abs(rest) <= 5.0 * scale
    p, cov = _ridge(a[kept], r[kept], inverse, noise)
    rest = (r - a @ p)[kept]
    return _pack(th, r, every, p, cov, math.sqrt(float(rest @ rest) / max(rest.size, 1)), kept)


def _least_absolute(a: Any64, r: Any64) -> Any64:
    """Coefficients of least summed absolute residual, as a linear programme."""
    count, unknown = a.shape
    eye = np.eye(count)
    cost = np.concatenate((np.zeros(unknown), np.ones(2 * count)))
    bounds = [(None, None)] * unknown + [(0.0, None)] * (2 * count)
    found = optimize.linprog(cost, A_eq=np.hstack((a, eye, -eye)), b_eq=r, bounds=bounds, method="highs-ds")
    return np.asarray(found.x[:unknown]) if found.status == 0 else np.linalg.lstsq(a, r, rcond=None)[0]


def _ridge(a: Any64, r: Any64, inverse: Any64, noise: float) -> tuple[Any64, Any64]:
    cov = np.linalg.inv(a.T @ a / noise**2 + np.diag(inverse))
    return cov @ (a.T @ r) / noise**2, cov


def points_of(theta: ArrayLike, deviation: ArrayLike, base_radius: float) -> tuple[Vector, Vector]:
    """Coordinates of radial deviations about a circle of `base_radius`. [mm]"""
    th, r = finite_vector("angle", theta, "rad", 3), finite_vector("deviation", deviation, "mm", 3)
    same_length("deviation", r, "angle", th)
    whole = require_positive("base radius", base_radius, "mm") + r
    return whole * np.cos(th), whole * np.sin(th)


def recentred(theta: ArrayLike, deviation: ArrayLike, base_radius: float) -> tuple[Vector, Vector]:
    """Angles [rad] and deviations [mm] about the least-squares centre, free of the false orders of an offset table.

    An eccentricity e makes a false order 2 of e^2/4R and couples neighbours; about the fitted centre both are gone.
    """
    x, y = points_of(theta, deviation, base_radius)
    circle = least_squares_circle(x, y)
    dx, dy = x - circle.x, y - circle.y
    return np.arctan2(dy, dx), np.hypot(dx, dy) - circle.radius
