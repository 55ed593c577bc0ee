"""Reference circles of a roundness profile: least squares, minimum zone, circumscribed, inscribed. Coordinates in mm.

least squares   orthogonal distances, Gauss-Newton from the algebraic circle, damped where the arc is short
minimum zone    exact: distances linearised about the last centre, the Chebyshev fit of the linearised problem by
                exchanging one of four reference points, repeated about the new centre (quadratic convergence)
circumscribed   exact: smallest circle round all points, by points of support
inscribed       largest circle that holds no point, about the nearest local centre: the same exchange, one-sided

References
----------
ISO 12181-1 names the four circles (from memory). Exchange method: derived here, checked against enumeration of all
four-point references and against linear programmes (tests/exact/test_circle_fits_exact.py).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import linalg, optimize

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.arrays import Vector, finite_vector, same_length

MOST_ROUNDS = 60
Numbers = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Circle:
    """Centre and the two radii between which every point lies [mm]; radius is the circle's own.

    contacts : numbers of the points that hold it, in rising angle (empty for least squares).
    """

    x: float
    y: float
    radius: float
    inner: float
    outer: float
    contacts: tuple[int, ...] = ()

    @property
    def zone(self) -> float:
        """Roundness deviation about this circle's centre. [mm]"""
        return self.outer - self.inner


def _points(x: ArrayLike, y: ArrayLike) -> tuple[Vector, Vector]:
    xs, ys = finite_vector("x", x, "mm", 3), finite_vector("y", y, "mm", 3)
    same_length("y", ys, "x", xs)
    flat = np.linalg.svd(np.column_stack((xs - xs.mean(), ys - ys.mean())), compute_uv=False)
    if flat[1] <= 1e-9 * max(flat[0], 1e-300):
        raise InputError("points", "on one line", "", "round an arc", "measure round the circle")
    return xs, ys


def _circle(xs: Vector, ys: Vector, x: float, y: float, radius: float | None, contacts: tuple[int, ...] = ()) -> Circle:
    r = np.hypot(xs - x, ys - y)
    low, high = float(r.min()), float(r.max())
    return Circle(x, y, 0.5 * (low + high) if radius is None else radius, low, high, contacts)


def algebraic_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """Linear fit of x^2 + y^2 (quick, pulled inward on short arcs): a start for the others. [mm]"""
    xs, ys = _points(x, y)
    mx, my = float(xs.mean()), float(ys.mean())
    u, v = xs - mx, ys - my
    rows = np.column_stack((u, v, np.ones_like(u)))
    a, b, c = np.linalg.lstsq(rows, u * u + v * v, rcond=None)[0]
    radius = math.sqrt(max(float(c + 0.25 * (a * a + b * b)), 0.0))
    return _circle(xs, ys, mx + 0.5 * float(a), my + 0.5 * float(b), radius)


def algebraic_circle_unit_norm(x: ArrayLike, y: ArrayLike) -> Circle:
    """Algebraic fit a (x^2+y^2) + b x + c y + d with a unit coefficient vector: for comparison only. [mm]"""
    xs, ys = _points(x, y)
    rows = np.column_stack((xs * xs + ys * ys, xs, ys, np.ones_like(xs)))
    a, b, c, d = linalg.svd(rows)[2][-1]
    cx, cy = -0.5 * b / a, -0.5 * c / a
    return _circle(xs, ys, float(cx), float(cy), math.sqrt(float(cx * cx + cy * cy - d / a)))


def least_squares_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """Circle of least squared radial distance. [mm]"""
    xs, ys = _points(x, y)
    start = algebraic_circle(xs, ys)

    def miss(p: Vector) -> Vector:
        return np.hypot(xs - p[0], ys - p[1]) - p[2]

    def slope(p: Vector) -> Vector:
        dx, dy = xs - p[0], ys - p[1]
        r = np.maximum(np.hypot(dx, dy), 1e-300)
        return np.column_stack((-dx / r, -dy / r, -np.ones_like(r)))

    first = np.array([start.x, start.y, start.radius])
    found = optimize.least_squares(miss, first, slope, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=2000)
    if not found.success:
        raise NotConverged("the least-squares circle stops short", found.x, "measure round more of the circle")
    return _circle(xs, ys, float(found.x[0]), float(found.x[1]), float(found.x[2]))


def _spokes(xs: Vector, ys: Vector, x: float, y: float) -> tuple[Vector, Vector]:
    """Radii about a centre, and rows (cos, sin, 1) of the linearised radii."""
    dx, dy = xs - x, ys - y
    r = np.hypot(dx, dy)
    if r.min() <= 0.0:
        raise InputError("points", "at the centre", "", "round a circle", "remove the stray point")
    return r, np.column_stack((dx / r, dy / r, np.ones_like(r)))


def _chebyshev(rows: Vector, values: Vector) -> tuple[Vector, Numbers]:
    """Coefficients p with least max |values - rows p| by exchange on four reference points; and their numbers."""
    count = values.size
    fit = np.linalg.lstsq(rows, values, rcond=None)[0]
    away = values - rows @ fit
    angle = np.argsort(np.arctan2(rows[:, 1], rows[:, 0]))
    quarters = np.array_split(angle, 4)
    # alternate high and low by quarter: a reference that is close to the answer
    chosen = np.array([q[np.argmax((1 if k % 2 == 0 else -1) * away[q])] for k, q in enumerate(quarters)])
    p, level = _level(rows, values, chosen)
    for _ in range(20 * MOST_ROUNDS):
        miss = values - rows @ p
        worst = int(np.argmax(np.abs(miss)))
        if abs(miss[worst]) <= level * (1.0 + 1e-12) + 1e-14:
            return p, chosen
        best: tuple[float, Vector, Numbers] | None = None
        for place in range(4):
            trial = chosen.copy()
            trial[place] = worst
            if np.unique(trial).size < 4:
                continue
            p_try, level_try = _level(rows, values, trial)
            if best is None or level_try > best[0]:
                best = (level_try, p_try, trial)
        if best is None or best[0] <= level:
            break
        level, p, chosen = best
    return _chebyshev_by_programme(rows, values, count)


def _level(rows: Vector, values: Vector, chosen: Numbers) -> tuple[Vector, float]:
    """The fit that misses four points by the same amount, high and low in turn; and that amount."""
    four = rows[chosen]
    null = linalg.svd(four.T)[2][-1]
    signs = np.where(null >= 0.0, 1.0, -1.0)
    total = float(np.abs(null).sum())
    level = float(null @ values[chosen]) / total
    p = np.linalg.lstsq(four, values[chosen] - level * signs, rcond=None)[0]
    return np.asarray(p, dtype=np.float64), abs(level)


def _chebyshev_by_programme(rows: Vector, values: Vector, count: int) -> tuple[Vector, Numbers]:
    """The same by a linear programme: where the exchange stalls on points that share an angle."""
    ones = np.ones((count, 1))
    a_ub = np.vstack((np.hstack((rows, -ones)), np.hstack((-rows, -ones))))
    found = optimize.linprog(
        [0.0, 0.0, 0.0, 1.0], a_ub, np.concatenate((values, -values)), bounds=[(None, None)] * 4, method="highs-ds"
    )
    if found.status != 0:
        raise NotConverged("the minimum zone stops short", None, "check the points")
    p = np.asarray(found.x[:3])
    return p, np.argsort(-np.abs(values - rows @ p))[:4].astype(np.int64)


def minimum_zone_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """The two concentric circles of least difference that hold all points between them; radius is their mean. [mm]

    Raises
    ------
    InputError
        Fewer than four points.
    """
    xs, ys = _points(x, y)
    if xs.size < 4:
        raise InputError("points", xs.size, "", "four or more", "measure more points")
    centre = least_squares_circle(xs, ys)
    cx, cy, best = centre.x, centre.y, _circle(xs, ys, centre.x, centre.y, None)
    for _ in range(MOST_ROUNDS):
        r, rows = _spokes(xs, ys, cx, cy)
        p, chosen = _chebyshev(rows, r)
        cx, cy = cx + float(p[0]), cy + float(p[1])
        order = chosen[np.argsort(np.arctan2(ys[chosen] - cy, xs[chosen] - cx))]
        now = _circle(xs, ys, cx, cy, None, tuple(int(k) for k in order))
        if now.zone < best.zone:
            best = now
        if math.hypot(p[0], p[1]) <= 1e-12 * max(r.max(), 1.0):
            return best if best.contacts else now
    return best


def circumscribed_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """Smallest circle round all points. [mm]"""
    return _one_sided(x, y, outer=True)


def inscribed_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """Largest circle inside all points, about the centre next to the least-squares one. [mm]"""
    return _one_sided(x, y, outer=False)


def _one_sided(x: ArrayLike, y: ArrayLike, outer: bool) -> Circle:
    """Least largest (outer) or largest least (inner) radius: linear programmes about the moving centre, in a box."""
    xs, ys = _points(x, y)
    start = least_squares_circle(xs, ys)
    cx, cy = start.x, start.y
    sense = 1.0 if outer else -1.0
    box = max(start.zone, 1e-9)

    def value(px: float, py: float) -> float:
        return float(np.max(sense * np.hypot(xs - px, ys - py)))

    now = value(cx, cy)
    for _ in range(4 * MOST_ROUNDS):
        r, rows = _spokes(xs, ys, cx, cy)
        a_ub = np.column_stack((-sense * rows[:, 0], -sense * rows[:, 1], -np.ones_like(r)))
        found = optimize.linprog(
            [0.0, 0.0, 1.0], a_ub, -sense * r + now, bounds=[(-box, box), (-box, box), (None, None)], method="highs-ds"
        )
        if found.status != 0:
            raise NotConverged("the reference circle stops short", (cx, cy), "check the points")
        dx, dy = float(found.x[0]), float(found.x[1])
        then = value(cx + dx, cy + dy)
        if then < now:
            cx, cy, now = cx + dx, cy + dy, then
        else:
            box *= 0.25
        if math.hypot(dx, dy) <= 1e-12 * start.radius or box < 1e-13 * start.radius:
            break
    r = np.hypot(xs - cx, ys - cy)
    touching = np.nonzero(np.abs(sense * r - now) <= 1e-7)[0]
    order = touching[np.argsort(np.arctan2(ys[touching] - cy, xs[touching] - cx))]
    return _circle(xs, ys, cx, cy, sense * now, tuple(int(k) for k in order))
