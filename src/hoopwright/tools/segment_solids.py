"""Segments as bodies: one is built and turned round to the others; pulled in along its own middle. Units mm."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.segment_retract import Contour
from hoopwright.tools import solids
from hoopwright.tools.segment_body import LEVEL, SetForm
from hoopwright.tools.solids import Body, Colour

STEEL: Colour = (0.62, 0.66, 0.70)
MARKED: Colour = (0.80, 0.62, 0.25)


def sharp_segment(form: SetForm) -> Body:
    """One segment about the x axis, its slot edges still sharp."""
    half = 0.5 * form.pitch_rad
    wedge = solids.revolved(f"{form.name} segment", form.section, form.pitch_rad, -half)
    reach = form.section.bounds[3] + 5.0
    slab = solids.box("slot", (0.0, -0.5 * form.slot_mm, -1.0), (reach, 0.5 * form.slot_mm, form.height_mm + 1.0))
    body = solids.cut(wedge, solids.turned(slab, -half), solids.turned(slab, half))
    t = form.tongue
    tongue = solids.box("tongue", (t.from_mm, -0.5 * t.width_mm, -t.depth_mm), (t.to_mm, 0.5 * t.width_mm, 0.0))
    return solids.joined(body, tongue)


def rounded_segment(form: SetForm, sharp: Body) -> Body:
    """The segment with its slot edges rounded along the profile."""
    if form.edge_radius_mm == 0.0:
        return sharp
    half, low = 0.5 * form.slot_mm, form.profile.bounds[1]
    bottom, top = form.profile.start[0] - form.ahead_mm, form.profile.end[0] + LEVEL
    sine, cosine = math.sin(0.5 * form.pitch_rad), math.cos(0.5 * form.pitch_rad)

    def picked(x: float, y: float, z: float) -> bool:
        outside = bottom + 1e-3 < z < top - 1e-3 and math.hypot(x, y) > low - 1e-3
        return outside and abs(x * sine - abs(y) * cosine - half) < 1e-6

    return solids.rounded(sharp, form.edge_radius_mm, picked)


def placed(form: SetForm, segment: Body, number: int, retracted_mm: float = 0.0) -> Body:
    """Segment `number` (from 1) at its place; numbers run clockwise seen from the leading end, above."""
    body = solids.moved(segment, -retracted_mm, 0.0, 0.0) if retracted_mm else segment
    colour = MARKED if number == 1 else STEEL
    return solids.turned(body, -(number - 1) * form.pitch_rad).named(f"{form.name} segment {number}", colour)


def whole_set(form: SetForm, segment: Body, retracted_mm: float = 0.0) -> tuple[Body, ...]:
    """All segments at one position."""
    return tuple(placed(form, segment, k, retracted_mm) for k in range(1, form.count + 1))


def passing_miss(form: SetForm, points_mm: NDArray[np.float64], ring: Contour, retracted_mm: float) -> float:
    """Least radial room between a retracted segment and a ring that slides off over the top. [mm]

    Parameters
    ----------
    points_mm : corners of the segment's triangles, loaded, about the x axis, shape (n, 3).
    ring : Contour
        Inside of the ring, in its own z, where it sits when the set is loaded. It is slid off in steps of half a
        millimetre; at every step each corner of the triangles is held against the ring's inside at its height.
    """
    height = np.array([form.height_of(z) for z in ring.z_mm])
    order = np.argsort(height)
    inside_u, inside_r = height[order], ring.radius_mm[order]
    reach = np.hypot(points_mm[:, 0] - retracted_mm, points_mm[:, 1])
    # the shoulder is below the ring at every step: the ring only goes up
    above = points_mm[:, 2] >= inside_u[0] - 1e-6
    z, reach = points_mm[above, 2], reach[above]
    room = math.inf
    for shift in np.arange(0.0, form.height_mm - inside_u[0] + 0.5, 0.5):
        met = (z - shift >= inside_u[0]) & (z - shift <= inside_u[-1])
        if met.any():
            room = min(room, float(np.min(np.interp(z[met] - shift, inside_u, inside_r) - reach[met])))
    return room


def beside_slot(form: SetForm, points_mm: NDArray[np.float64]) -> float:
    """How far the segment stays behind the planes of both its slot faces, at its nearest; 0 where it lies on them. [mm]

    Neighbours that keep behind planes a gap apart are nowhere nearer than that gap.
    """
    half = 0.5 * form.pitch_rad
    across = points_mm[:, 0] * math.sin(half) - np.abs(points_mm[:, 1]) * math.cos(half)
    return float(np.min(across)) - 0.5 * form.slot_mm
