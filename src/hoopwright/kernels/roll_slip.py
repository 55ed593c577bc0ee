"""Slip between two contoured tools that roll on a strip, and where their pitch lines should lie. mm, rad.

Both tools turn so that their surfaces agree at the pitch line. At a height h of the strip's mid-surface over that line
the faces run at speeds in the ratio (Rp + h)/(Rp - h), so face slips on face by 2|h|/Rp. A level pitch line at
mid-depth makes the worst slip smallest: depth/Rp.

A pitch line need not be level. On cones whose common apex is the apex of a sector-shaped blank, Rp(z) is proportional
to the blank's slant radius: then every place of the blank moves as fast as the blank itself turns, and only the height
over the conical line slips. `level`, `canted` (the section turned before it is rolled) and `conical` are weighed alike.

References
----------
Derived here; sliding limits are house limits and not part of this module.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.arrays import Vector, finite_vector, positive_vector, same_length
from hoopwright.kernels.hull_sides import hull_sides


@dataclass(frozen=True, slots=True, eq=False)
class SlipMap:
    """Face-to-face slip by station, all arrays of shape (n,).

    height_mm : of the mid-surface over the pitch line. pitch_radius_mm : of both tools at the station.
    slip : 2|h|/Rp as a share. inner_radius_mm : radius of the tool below the strip (on the inside of the curl),
    Rp + h - t/2; outer_radius_mm : of the tool above it, Rp - h - t/2.
    """

    height_mm: Vector
    pitch_radius_mm: Vector
    slip: Vector
    inner_radius_mm: Vector
    outer_radius_mm: Vector

    @property
    def worst(self) -> float:
        """Largest slip, as a share."""
        return float(self.slip.max())

    @property
    def worst_station(self) -> int:
        """Where it is."""
        return int(np.argmax(self.slip))


def level_pitch_height(height: ArrayLike) -> float:
    """Height of the level pitch line that makes the worst slip smallest: mid-depth. [mm]"""
    h = finite_vector("height", height, "mm")
    return 0.5 * float(h.min() + h.max())


def slip_map(height: ArrayLike, pitch_radius: ArrayLike | float, thickness: float) -> SlipMap:
    """Slip of a section whose mid-surface stands `height` over the pitch line [mm], shape (n,).

    pitch_radius [mm] is one value (level pitch line) or one a station (conical).

    Examples
    --------
    Depth 2.35 on pitch radius 50, pitch line at mid-depth:

    >>> slips = slip_map([-1.175, 1.175], 50.0, 0.8)
    >>> round(slips.worst, 4), slips.inner_radius_mm.round(3).tolist()
    (0.047, [48.425, 50.775])
    """
    h = finite_vector("height", height, "mm")
    given = np.asarray(pitch_radius, dtype=np.float64)
    radius = positive_vector("pitch radius", np.full(h.shape, given) if given.ndim == 0 else given, "mm")
    same_length("pitch radius", radius, "height", h)
    half = 0.5 * require_positive("thickness", thickness, "mm")
    inner, outer = radius + h - half, radius - h - half
    smallest = float(min(inner.min(), outer.min()))
    if smallest <= 0.0:
        raise InputError("pitch radius", float(radius.min()), "mm", "wide enough to leave both tools a radius", "widen")
    return SlipMap(h, radius, 2.0 * np.abs(h) / radius, inner, outer)


def pitch_radius_needed(depth: float, slip_limit: float) -> float:
    """Pitch radius at which a depth with the pitch line at its middle just meets the limit: depth/limit. [mm]

    >>> round(pitch_radius_needed(3.05, 0.05), 2)
    61.0
    """
    if require_finite("depth", depth, "mm") < 0.0:
        raise InputError("depth", depth, "mm", "0 or more", "enter the depth of the section")
    return depth / require_positive("slip limit", slip_limit)


@dataclass(frozen=True, slots=True, eq=False)
class Cant:
    """The section turned by angle_rad (its +z end towards +r) before it is rolled.

    axial_mm, height_mm : stations in the turned frame, heights from mid-depth, shape (n,). depth_mm : their range.
    """

    angle_rad: float
    axial_mm: Vector
    height_mm: Vector
    depth_mm: float


def canted(z: ArrayLike, r: ArrayLike, angle: float) -> Cant:
    """Stations (z, r) [mm] seen from a pitch line that rises by `angle` [rad] along z."""
    axial = finite_vector("z", z, "mm", 2)
    radius = finite_vector("r", r, "mm", 2)
    same_length("r", radius, "z", axial)
    turn = require_range("cant", angle, -0.5 * math.pi, 0.5 * math.pi, "rad")
    height = radius * math.cos(turn) - axial * math.sin(turn)
    along = axial * math.cos(turn) + radius * math.sin(turn)
    middle = 0.5 * float(height.max() + height.min())
    return Cant(turn, along, height - middle, float(height.max() - height.min()))


def cant_for_least_depth(z: ArrayLike, r: ArrayLike, largest: float) -> Cant:
    """The cant, at most `largest` [rad] either way, that leaves the least depth.

    Depth against cant is the width of the stations' convex hull, whose least lies at the direction of one of the
    hull's sides, or at the allowed end.
    """
    axial = finite_vector("z", z, "mm", 2)
    radius = finite_vector("r", r, "mm", 2)
    same_length("r", radius, "z", axial)
    limit = require_range("largest cant", largest, 0.0, 0.5 * math.pi, "rad")
    angles = [0.0, -limit, limit]
    for i, j in hull_sides(axial, radius):
        side = math.atan2(float(radius[j] - radius[i]), float(axial[j] - axial[i]))
        if abs(side) <= limit:
            angles.append(side)
    turns = np.array(angles)
    heights = np.outer(np.cos(turns), radius) - np.outer(np.sin(turns), axial)
    depths = np.ptp(heights, axis=1)
    best = min(range(turns.size), key=lambda k: (depths[k], abs(turns[k])))
    return canted(axial, radius, float(turns[best]))


def conical_pitch(slant_radius: ArrayLike, mean_pitch_radius: float) -> Vector:
    """Pitch radii on cones through the blank's apex: proportional to the blank's slant radius, shape (n,). [mm]

    mean_pitch_radius belongs to the middle between the largest and smallest slant radius.
    """
    slant = positive_vector("slant radius", slant_radius, "mm")
    middle = 0.5 * float(slant.max() + slant.min())
    return require_positive("pitch radius", mean_pitch_radius, "mm") * slant / middle


def steering(slant_radius: ArrayLike, pitch_radius: ArrayLike | float) -> float:
    """How badly tools and blank disagree on speed along the strip: range of Rp/slant over its mean, as a share.

    0 for cones through the apex; for straight pitch lines on a curved blank it is what makes the blank steer.
    """
    slant = positive_vector("slant radius", slant_radius, "mm")
    ratio = np.asarray(pitch_radius, dtype=np.float64) / slant
    return float((ratio.max() - ratio.min()) / (0.5 * (ratio.max() + ratio.min())))
