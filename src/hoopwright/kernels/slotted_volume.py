"""Volume of a body of revolution cut by equal radial slots with parallel sides. Units mm, mm^3.

At the radius r each of N slots of width w takes 2 asin(w/2r) of the turn, so

    V = integral over the section of r (2 pi - 2 N asin(w/2r)) dA,

for which Green's theorem gives a boundary integral of

    F(r) = pi r^2 - N (r^2 asin(h/r) + h sqrt(r^2 - h^2)),  h = w/2,  V = | closed integral of F dx |,

taken by Gauss's rule on every line and arc. Derived here; checked against closed forms in tests/exact.
"""

from __future__ import annotations

import math

import numpy as np

from hoopwright.errors import GeometryError, require_finite
from hoopwright.kernels.arrays import whole_count
from hoopwright.kernels.profile import Profile, Segment

NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)


def slotted_volume(section: Profile, count: int, slot: float) -> float:
    """Volume of the closed section turned about the x axis, less `count` slots of width `slot`. [mm^3]

    Raises
    ------
    GeometryError
        The section is not closed, reaches the slots' middle, or the slots leave nothing at its least radius.
    """
    gap = math.dist(section.start, section.end)
    if gap > 1e-6:
        raise GeometryError("gap between end and start", gap, "mm", "0", "close the section")
    half = 0.5 * require_finite("slot", slot, "mm")
    least = section.bounds[1]
    whole_count("number of slots", count, 0, 400)
    room = least * (math.sin(math.pi / count) if count > 1 else 1.0)
    if half < 0.0 or (count > 0 and half > 0.0 and half >= room):
        raise GeometryError(
            "slot", slot, "mm", "narrow enough to leave metal at the bore", "use fewer or narrower slots"
        )
    return abs(math.fsum(_along(segment, count, half) for segment in section))


def _along(segment: Segment, count: int, half: float) -> float:
    length = segment.length
    s = 0.5 * length * (NODES + 1.0)
    if segment.centre is None:
        share = s / length
        r = segment.start[1] + share * (segment.end[1] - segment.start[1])
        slope = np.full_like(s, (segment.end[0] - segment.start[0]) / length)
    else:
        spoke = math.atan2(segment.start[1] - segment.centre[1], segment.start[0] - segment.centre[0])
        angle = spoke + s * segment.curvature
        sense = 1.0 if segment.ccw else -1.0
        r, slope = segment.centre[1] + segment.radius * np.sin(angle), -sense * np.sin(angle)
    return float(0.5 * length * np.dot(WEIGHTS, _potential(r, count, half) * slope))


def _potential(r: np.ndarray, count: int, half: float) -> np.ndarray:
    whole = math.pi * r * r
    if count == 0 or half == 0.0:
        return whole
    return whole - count * (r * r * np.arcsin(half / r) + half * np.sqrt(r * r - half * half))


def strip_in_circle(radius: float, half: float) -> float:
    """Area of the part of a disc with x >= 0 and |y| <= half: what a bore has already taken from a slot. [mm^2]"""
    return half * math.sqrt(radius * radius - half * half) + radius * radius * math.asin(half / radius)
