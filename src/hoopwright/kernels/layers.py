"""Layers through the sheet: where they lie and how much of the thickness each stands for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels.flow import Vector


@dataclass(frozen=True, slots=True, eq=False)
class Layers:
    """A stack through the sheet, inside face first.

    place : distance from the mid-surface as share of the thickness, -1/2 to 1/2, shape (m,).
    share : share of the thickness each layer stands for, sum 1, shape (m,).
    """

    place: Vector
    share: Vector

    def packed(self) -> Vector:
        """The stack as compiled loops take it, shape (2, m)."""
        return np.stack([self.place, self.share])


def midpoint_layers(count: int) -> Layers:
    """Equal layers, each judged at its middle.

    Raises
    ------
    InputError
        A count that is no whole number of at least 1.
    """
    if isinstance(count, bool) or not isinstance(count, (int, np.integer)) or count < 1:
        raise InputError(
            "count of layers", count, "", "a whole number of at least 1", "enter 21 for sizing, 41 for curl"
        )
    return Layers((np.arange(count) + 0.5) / count - 0.5, np.full(count, 1.0 / count))
