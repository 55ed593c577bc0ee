"""Rectangular strips on a sheet, counted exactly. mm.

The sheet's x runs along its rolling direction. A border stays free all round, a cut gap between pieces, and bands may
be kept back (for test pieces) along one side and across one end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite, require_positive

Points = NDArray[np.float64]
Along = Literal["rolling", "across"]


@dataclass(frozen=True, slots=True)
class SheetPlate:
    """A sheet. length_mm along the rolling direction, width_mm across it.

    band_end_mm : kept back across the far end, its cut gap included. band_side_mm : kept back along the far side.
    """

    length_mm: float
    width_mm: float
    border_mm: float = 0.0
    cut_gap_mm: float = 0.0
    band_end_mm: float = 0.0
    band_side_mm: float = 0.0

    def __post_init__(self) -> None:
        require_positive("sheet length", self.length_mm, "mm")
        require_positive("sheet width", self.width_mm, "mm")
        for name in ("border_mm", "cut_gap_mm", "band_end_mm", "band_side_mm"):
            if require_finite(name, getattr(self, name), "mm") < 0.0:
                raise InputError(name, getattr(self, name), "mm", "0 or more", "enter 0 or a value above it")
        if self.usable_length_mm <= 0.0 or self.usable_width_mm <= 0.0:
            raise InputError("border and bands", self.border_mm, "mm", "smaller than the sheet", "reduce them")

    @property
    def usable_length_mm(self) -> float:
        """Along the rolling direction, between borders and bands."""
        return self.length_mm - 2.0 * self.border_mm - self.band_end_mm

    @property
    def usable_width_mm(self) -> float:
        """Across the rolling direction, between borders and bands."""
        return self.width_mm - 2.0 * self.border_mm - self.band_side_mm


@dataclass(frozen=True, slots=True, eq=False)
class StripNest:
    """Strips on one sheet. along : direction of their length. corner_mm : lower left corners, shape (count, 2).

    size_mm : (extent along x, extent along y) of a strip as it lies. yield_share : strips' area over the sheet's.
    """

    along: Along
    columns: int
    rows: int
    corner_mm: Points
    size_mm: tuple[float, float]
    yield_share: float

    @property
    def count(self) -> int:
        """Strips on the sheet."""
        return self.columns * self.rows


def fitting(room: float, size: float, gap: float) -> int:
    """How many pieces of `size` with `gap` between them fit into `room` (a nanometre is taken as rounding)."""
    return max(0, int((room + gap + 1e-6) // (size + gap)))


def nest_strips(sheet: SheetPlate, strip_length: float, strip_width: float, along: Along = "rolling") -> StripNest:
    """As many strips as fit in rows and columns, all one way; count 0 where none fits.

    Examples
    --------
    >>> nest = nest_strips(SheetPlate(2438.0, 1219.0, 10.0, 3.0), 815.0, 54.5)
    >>> nest.columns, nest.rows, nest.count
    (2, 20, 40)
    """
    long = require_positive("strip length", strip_length, "mm")
    wide = require_positive("strip width", strip_width, "mm")
    if along not in ("rolling", "across"):
        raise InputError("along", along, "", "rolling or across", "name the direction of the strips")
    dx, dy = (long, wide) if along == "rolling" else (wide, long)
    gap = sheet.cut_gap_mm
    columns, rows = fitting(sheet.usable_length_mm, dx, gap), fitting(sheet.usable_width_mm, dy, gap)
    columns, rows = (columns, rows) if columns * rows else (0, 0)
    x = sheet.border_mm + (dx + gap) * np.arange(columns)
    y = sheet.border_mm + (dy + gap) * np.arange(rows)
    corners = np.array([(a, b) for b in y for a in x], dtype=np.float64).reshape(-1, 2)
    share = columns * rows * dx * dy / (sheet.length_mm * sheet.width_mm)
    return StripNest(along, columns, rows, corners, (dx, dy), share)
