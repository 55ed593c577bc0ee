"""Pin stop against size: stroke, diameter across segment middles, girth. mm, rad.

One mm of pin is 2 tan a of diameter across segment middles. A girth tape round the segments (or the hoop on them)
reads sin b / b of that, b = pi/N, whatever the slots, because the hull's length is N (2 ae R + w + 2 d sin b).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import require_finite
from hoopwright.kernels.arrays import Vector, finite_vector
from hoopwright.kernels.segment_hull import SegmentCircle, girth_factor
from hoopwright.kernels.taper_drive import TaperDrive


@dataclass(frozen=True, slots=True, eq=False)
class StopTable:
    """Rows of shape (n,). stroke_mm : pin past (+) or short of (-) the place where the segments stand as turned.

    across_mm : diameter across segment middles. girth_mm : diameter a girth tape reads. lobe_mm : peak-to-valley of
    the hull.
    """

    stroke_mm: Vector
    across_mm: Vector
    girth_mm: Vector
    lobe_mm: Vector


def stop_table(drive: TaperDrive, turned_radius: float, slot: float, strokes: ArrayLike) -> StopTable:
    """Sizes at the given pin strokes [mm] from the turned position, for the surface turned to `turned_radius`. [mm]

    Raises InputError when a stroke shuts the slots.
    """
    stroke = finite_vector("pin stroke", strokes, "mm")
    standing = 0.5 * drive.diameter_per_stroke * stroke
    circles = [SegmentCircle(drive.count, turned_radius, float(d), slot) for d in standing]
    return StopTable(
        stroke,
        np.array([2.0 * circle.middle_radius_mm for circle in circles]),
        np.array([2.0 * circle.mean_radius_mm for circle in circles]),
        np.array([circle.peak_to_valley_mm for circle in circles]),
    )


def girth_per_stroke(drive: TaperDrive) -> float:
    """Diameter a girth tape reads, per mm of pin: 2 tan a sin b / b.

    >>> import math
    >>> round(girth_per_stroke(TaperDrive(8, math.radians(7.0), 0.10)), 4)
    0.2393
    """
    return drive.diameter_per_stroke * girth_factor(drive.count)


def shim_for_girth(drive: TaperDrive, diameter_change: float) -> float:
    """Change of the pin's stop for a wished change of the girth diameter, same sign. [mm]"""
    return require_finite("change of diameter", diameter_change, "mm") / girth_per_stroke(drive)


def shim_across(drive: TaperDrive, diameter_change: float) -> float:
    """Change of the pin's stop by the diameter across segment middles, the hand method: dD / (2 tan a). [mm]"""
    return require_finite("change of diameter", diameter_change, "mm") / drive.diameter_per_stroke
