"""Arrays at the door of a kernel: finite, one-dimensional, of equal length; units as the caller names them, else mm."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.polynomial.legendre import leggauss
from numpy.typing import ArrayLike, NDArray

from hoopwright.errors import InputError

Vector = NDArray[np.float64]


@lru_cache(maxsize=32)
def gauss_rule(count: int) -> tuple[Vector, Vector]:
    """Gauss-Legendre nodes and weights on -1 to 1, made once; not to be written to."""
    nodes, weights = leggauss(count)
    nodes.setflags(write=False)
    weights.setflags(write=False)
    return nodes, weights


def finite_vector(field: str, values: ArrayLike, unit: str, least: int = 1) -> Vector:
    """The values as float64, shape (n,), n at least `least`; refuses NaN, infinity and any other shape."""
    array = np.asarray(values, dtype=np.float64)
    if array.ndim != 1 or array.size < least:
        raise InputError(
            field, f"of shape {array.shape}", "", f"a list of at least {least}", "enter one value a station"
        )
    if not np.all(np.isfinite(array)):
        wrong = int(np.argmin(np.isfinite(array)))
        raise InputError(f"{field}[{wrong}]", array[wrong], unit, "a finite number", "enter a finite number")
    return array


def positive_vector(field: str, values: ArrayLike, unit: str, least: int = 1) -> Vector:
    """The same, every value above zero."""
    array = finite_vector(field, values, unit, least)
    if np.any(array <= 0.0):
        wrong = int(np.argmax(array <= 0.0))
        raise InputError(f"{field}[{wrong}]", array[wrong], unit, "above 0", "enter a value above 0")
    return array


def rising_vector(field: str, values: ArrayLike, unit: str, least: int = 2) -> Vector:
    """The same, each value above the one before."""
    array = finite_vector(field, values, unit, least)
    if np.any(np.diff(array) <= 0.0):
        wrong = int(np.argmax(np.diff(array) <= 0.0)) + 1
        raise InputError(f"{field}[{wrong}]", array[wrong], unit, f"above {array[wrong - 1]:g}", "sort the stations")
    return array


def same_length(field: str, values: Vector, other: str, reference: Vector) -> None:
    """Refuse two lists that do not belong together."""
    if values.shape != reference.shape:
        raise InputError(
            field, f"{values.size} long", "", f"as long as {other} ({reference.size})", "enter one value a station"
        )


def whole_count(field: str, value: int, low: int, high: int) -> int:
    """A count from `low` to `high`; refuses fractions, truth values and the rest."""
    if isinstance(value, bool) or not isinstance(value, (int, np.integer)) or not low <= int(value) <= high:
        raise InputError(field, value, "", f"a whole number from {low} to {high}", "enter a count in this range")
    return int(value)


def rounded_up(value: float, step: float) -> float:
    """The next multiple of `step` that is not below `value` (a part in 1e9 of a step is taken as rounding)."""
    return step * math.ceil(value / step - 1e-9)


def rounded_down(value: float, step: float) -> float:
    """The last multiple of `step` that is not above `value` (a part in 1e9 of a step is taken as rounding)."""
    return step * math.floor(value / step + 1e-9)
