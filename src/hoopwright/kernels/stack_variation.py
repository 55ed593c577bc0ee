"""Stacks: what a figure does when its inputs vary. Worst case, root-sum-square, sampled, contributions. mm, N, MPa.

g(x) is wanted at or above 0 (or is any figure). Worst case over the corners of the box, all 2^n of them up to n = 14;
beyond, from the corner the gradient points to, flipping single inputs until nothing lowers it. The linear worst case
is printed beside, it is not safe either way. Sampling: normal with 3 sigma = tolerance, or uniform; correlated where
asked.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite

Vector = NDArray[np.float64]
Function = Callable[[Vector], Vector]
"""Figures of many inputs at once: (q, n) to (q,)."""

FULL_CORNERS = 14


@dataclass(frozen=True, slots=True)
class Varies:
    """One input: nominal, and how far it may lie below and above. spread : how it is sampled."""

    name: str
    nominal: float
    minus: float
    plus: float
    unit: str = "mm"
    spread: Literal["normal", "uniform"] = "normal"

    @property
    def middle(self) -> float:
        """Middle of the range."""
        return self.nominal + 0.5 * (self.plus - self.minus)

    @property
    def half(self) -> float:
        """Half of the range."""
        return 0.5 * (self.plus + self.minus)


@dataclass(frozen=True, slots=True)
class Share:
    """What one input contributes. slope : d figure/d input; worst : |slope| half range; worst_share, square_share : of
    the whole, by sum and by sum of squares."""

    name: str
    slope: float
    worst: float
    worst_share: float
    square_share: float


@dataclass(frozen=True, slots=True, eq=False)
class StackResult:
    """A stack. nominal : all at nominal. middle : all in the middle. low, high : over corners, with the corner of the
    low one. linear_low, rss_low, rss_high : linearised about the middle. shares : greatest first."""

    nominal: float
    middle: float
    low: float
    high: float
    low_corner: tuple[float, ...]
    linear_low: float
    linear_high: float
    rss_low: float
    rss_high: float
    shares: tuple[Share, ...]


def stack(function: Function, inputs: Sequence[Varies]) -> StackResult:
    """Worst case, linear, root-sum-square and contributions.

    Raises
    ------
    InputError
        No input, a range that is negative or not finite, or a figure that is not finite at a corner.
    """
    _check(inputs)
    nominal = _one(function, np.array([v.nominal for v in inputs]))
    centre, half = np.array([v.middle for v in inputs]), np.array([v.half for v in inputs])
    slopes = gradient(function, centre, half)
    middle = _one(function, centre)
    parts = np.abs(slopes) * half
    total, square = float(parts.sum()), float(np.sqrt(np.sum(parts**2)))
    low, corner = _corner(function, centre, half, slopes, 1.0)
    high, _ = _corner(function, centre, half, slopes, -1.0)
    shares = [
        Share(v.name, float(s), float(p), float(p / (total or 1.0)), float(p**2 / (square**2 or 1.0)))
        for v, s, p in zip(inputs, slopes, parts, strict=True)
    ]
    ranked = tuple(sorted(shares, key=lambda one: -one.worst))
    return StackResult(
        nominal, middle, low, high, tuple(float(c) for c in corner), middle - total, middle + total,
        middle - square, middle + square, ranked,
    )  # fmt: skip


def sampled(
    function: Function, inputs: Sequence[Varies], count: int, seed: int, correlation: Vector | None = None
) -> Vector:
    """Figures of `count` samples, shape (count,); the same seed gives the same samples.

    correlation : of the inputs, (n, n); uniform inputs are drawn through the normal with this correlation.
    """
    _check(inputs)
    if count < 1:
        raise InputError("samples", count, "", "one or more", "ask for some")
    drawn = np.random.default_rng(seed).standard_normal((count, len(inputs)))
    if correlation is not None:
        try:
            drawn = drawn @ np.linalg.cholesky(np.asarray(correlation) + 1e-12 * np.eye(len(inputs))).T
        except np.linalg.LinAlgError:
            raise InputError("correlation", "not positive", "", "a correlation matrix", "check its entries") from None
    values = np.empty_like(drawn)
    for k, v in enumerate(inputs):
        if v.spread == "normal":
            values[:, k] = v.middle + v.half / 3.0 * drawn[:, k]
        else:
            values[:, k] = v.middle + v.half * (2.0 * _normal_share(drawn[:, k]) - 1.0)
    return np.asarray(function(values), dtype=np.float64)


def _normal_share(x: Vector) -> Vector:
    from scipy.special import ndtr

    return np.asarray(ndtr(x))


def gradient(function: Function, at: Vector, half: Vector) -> Vector:
    """Central differences over a hundredth of each range."""
    step = np.where(half > 0.0, 0.01 * half, 1e-6 * np.maximum(1.0, np.abs(at)))
    moved = np.concatenate((at + np.diag(step), at - np.diag(step)))
    values = _all(function, moved)
    return np.asarray((values[: at.size] - values[at.size :]) / (2.0 * step))


def _corner(function: Function, centre: Vector, half: Vector, slopes: Vector, sense: float) -> tuple[float, Vector]:
    """Lowest (sense 1) or highest (sense -1) value over the corners of the box."""
    moving = np.flatnonzero(half > 0.0)
    if moving.size <= FULL_CORNERS:
        signs = np.zeros((2**moving.size, centre.size))
        signs[:, moving] = np.array(list(product((-1.0, 1.0), repeat=moving.size)))
        corners = centre + signs * half
        values = sense * _all(function, corners)
        best = int(np.argmin(values))
        return float(sense * values[best]), corners[best]
    sign = -sense * np.where(slopes >= 0.0, 1.0, -1.0)
    value = sense * _one(function, centre + sign * half)
    for _ in range(10 * centre.size):
        tries = np.repeat(sign[None, :], moving.size, axis=0)
        tries[np.arange(moving.size), moving] *= -1.0
        values = sense * _all(function, centre + tries * half)
        best = int(np.argmin(values))
        if values[best] >= value - 1e-15:
            break
        value, sign = float(values[best]), tries[best]
    return float(sense * value), centre + sign * half


def _all(function: Function, rows: Vector) -> Vector:
    values = np.asarray(function(rows), dtype=np.float64)
    if values.shape != (rows.shape[0],) or not np.all(np.isfinite(values)):
        raise InputError("stack", "not finite", "", "a number at every corner", "narrow the ranges, or mend the figure")
    return values


def _one(function: Function, row: Vector) -> float:
    return float(_all(function, row[None, :])[0])


def _check(inputs: Sequence[Varies]) -> None:
    if not inputs:
        raise InputError("stack", "empty", "", "one input or more", "give what varies")
    for v in inputs:
        require_finite(v.name, v.nominal, v.unit)
        for side in (v.minus, v.plus):
            if not np.isfinite(side) or side < 0.0:
                raise InputError(f"tolerance of {v.name}", side, v.unit, "0 or more", "give both sides as sizes")
