"""Free thermal strain by table, and what it does to a meridian that nothing restrains. degC, mm, strains engineering.

The movement of a point of a shell of revolution heated unevenly: u_r = r e, and along the meridian (slope phi from the
r axis)

    du_z/ds = e sin phi - r (de/ds) cos phi / sin phi

The second term is what a sum of "length times expansion" leaves out; it is nil on a cylinder and at one temperature.
Not for phi near 0 (plates): those go to the shell. Derived here; checked in tests/exact/test_thermal_exact.py.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, RangeError, require_finite, require_positive

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class StrainTable:
    """Free strain against temperature in equal steps. first, step : [degC]; values : strain, shape (n,)."""

    name: str
    first: float
    step: float
    values: Vector

    @property
    def last(self) -> float:
        """Highest temperature of the table. [degC]"""
        return self.first + self.step * (self.values.size - 1)

    def at(self, temperature: Vector | float) -> Vector:
        """Strain at temperatures of any shape, straight between the steps.

        Raises
        ------
        RangeError
            A temperature outside the table: growth is never extrapolated here.
        InputError
            A temperature that is not finite.
        """
        asked = np.asarray(temperature, dtype=np.float64)
        if not np.all(np.isfinite(asked)):
            raise InputError(f"temperature for {self.name}", "not finite", "degC", "finite", "fill the gap in the data")
        low, high = float(asked.min()), float(asked.max())
        if low < self.first - 1e-9 or high > self.last + 1e-9:
            out = low if low < self.first - 1e-9 else high
            raise RangeError(
                f"{self.name}: free strain is known from {self.first:g} to {self.last:g} degC; it was asked at {out:g} "
                f"degC. Do: stay inside, or enter expansion rows there on a card of your own."
            )
        place = np.clip((asked - self.first) / self.step, 0.0, self.values.size - 1.0)
        below = np.minimum(place.astype(np.int64), self.values.size - 2)
        share = place - below
        return np.asarray(self.values[below] * (1.0 - share) + self.values[below + 1] * share)


def strain_table(
    name: str, growth: Callable[[float], float], low: float, high: float, step: float = 1.0
) -> StrainTable:
    """Table of a growth function. The last step is drawn in so that `high` is a row.

    Raises
    ------
    InputError
        The range is empty.
    """
    require_finite("low end", low, "degC")
    require_positive("range of the table", high - low, "K")
    count = max(2, round((high - low) / require_positive("step", step, "K")) + 1)
    even = (high - low) / (count - 1)
    return StrainTable(name, low, even, np.array([growth(low + even * k) for k in range(count)]))


def axial_free(r: Vector, z: Vector, strain: Vector) -> Vector:
    """Axial movement along an unrestrained meridian, nil at its first node.

    Parameters
    ----------
    r, z : Vector
        Nodes, shape (n,). [mm]
    strain : Vector
        Free strain at the nodes, shape (n,) or (n, q).

    Returns
    -------
    Vector
        u_z at the nodes, same shape as `strain`. [mm]

    Raises
    ------
    InputError
        A piece of the meridian stands within 10 degrees of square to the axis and its strain is not uniform.
    """
    dr, dz = np.diff(r), np.diff(z)
    mean, slope = 0.5 * (strain[1:] + strain[:-1]), np.diff(strain, axis=0)
    flat = np.abs(dz) < 0.1736 * np.hypot(dr, dz)
    many = (slice(None),) + (None,) * (strain.ndim - 1)
    if np.any(flat[many] & (np.abs(slope) > 1e-12)):
        must = "steeper where temperature changes"
        raise InputError("slope of the meridian", "under 10", "deg", must, "use the shell")
    lean = np.where(flat, 0.0, 0.5 * (r[1:] + r[:-1]) * dr / np.where(flat, 1.0, dz))
    steps = mean * dz[many] - slope * lean[many]
    return np.asarray(np.concatenate((np.zeros_like(strain[:1]), np.cumsum(steps, axis=0))))
