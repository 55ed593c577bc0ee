"""The flat blank of a ring as the section kernel takes it, lying where its rolls will take hold of it.

A strip is flat and straight. An arc blank is flat too and curved in its plane: its fibres are longer on one edge than
on the other by the slope of its blank line, which is a camber that it has without any stress.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.section import Section
from hoopwright.kernels.section.mesh import mesh_profile
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.solve import flat_blank, incoming_radius
from hoopwright.plan.walk import blank_shape

INNER_RADIUS_PARTS = 15.0
COARSE, FINEST = 160, 480
"""Elements of a search, and the most of a proof; a proof takes elements no longer than a fifteenth of the tightest
inner bend radius (method paper on rolling, section 9)."""

LEVEL_MM = 0.02

__all__ = ["COARSE", "Start", "anchor", "elements_for", "start_of"]


@dataclass(frozen=True, slots=True, eq=False)
class Start:
    """A flat blank in front of its rolls.

    section : flat, stress-free, in the frame of the rolls. node : kept in its place along the rolls; place_mm : where
    it belongs on the drawing. first, last : nodes of the finished edges. least : first and last node of the place with
    the smallest radius of the drawing. middle : section of the drawing as it stands
    in the rolls. cant_rad : its turn there. camber_per_mm : of the blank, at its middle.
    """

    section: Section
    node: int
    place_mm: tuple[float, float]
    first: int
    last: int
    least: tuple[int, int]
    middle: Profile
    cant_rad: float
    camber_per_mm: float


def anchor(section: Profile) -> float:
    """Distance along a section of the place that is held in the rolls: the middle of its crown, a straight whose two
    bends turn alike; else the middle of its longest inner straight. [mm]"""
    breaks, bends = section.breaks, [k for k, segment in enumerate(section) if segment.is_arc]
    found: list[tuple[bool, float, float]] = []
    for a, b in pairwise(bends):
        alike = section.segments[a].curvature * section.segments[b].curvature > 0.0
        found.append((alike, float(breaks[b] - breaks[a + 1]), 0.5 * float(breaks[a + 1] + breaks[b])))
    return max(found)[2] if found else 0.5 * section.length


def smallest(section: Profile) -> tuple[float, float]:
    """Distances along a section between which its radius is smallest: a whole level straight, else a place 3 wide. [mm]

    A single node would do for a perfect section; a rolled one is wavy by some hundredths.
    """
    breaks = section.breaks
    for k, segment in enumerate(section):
        ends = segment.start[1], segment.end[1]
        if not segment.is_arc and max(ends) <= section.bounds[1] + LEVEL_MM:
            return float(breaks[k]), float(breaks[k + 1])
    s = np.linspace(0.0, section.length, 2001)
    middle = float(s[int(np.argmin([section.point_at(float(v))[1] for v in s]))])
    low = min(max(middle - 1.5, 0.0), section.length - 3.0)
    return low, low + 3.0


def elements_for(section: Profile, width_mm: float, thickness_mm: float) -> int:
    """Elements of a proof: at least 320, no longer than a fifteenth of the tightest inner radius, at most 480."""
    radii = [segment.radius - 0.5 * thickness_mm for segment in section if segment.is_arc]
    if not radii:
        return COARSE
    return int(min(FINEST, max(320, math.ceil(width_mm * INNER_RADIUS_PARTS / min(radii)))))


def least_radius(section: Section, nodes: tuple[int, int]) -> float:
    """Mean mid-surface radius over the place of smallest radius. [mm]"""
    return float(section.y_mm[nodes[0] : nodes[1] + 1].mean())


def start_of(plan: RingPlan, elements: int | None = None, points_per_half: int = 4) -> Start:
    """The blank of a plan, meshed with a node at the anchor and at both finished edges.

    Parameters
    ----------
    elements : int, optional
        As many as a proof takes where not given.
    """
    job, settings = plan.job, plan.settings
    shape = blank_shape(job, settings.ratio_per_mm)
    width = flat_blank(job, shape, incoming_radius(job)).weight_mm
    stations, trim = job.stations, max(job.limits.edge_trim_mm.value, 0.0)
    along = np.concatenate(([0.0], np.cumsum(width)))
    drawn = np.concatenate(([0.0], np.cumsum(stations.weight))) - trim

    def place(s: float) -> float:
        return float(np.interp(s, drawn, along))

    cant = math.radians(plan.passes.rolls.cant_deg)
    in_rolls = job.section.turned(cant, job.section.start)
    held = anchor(job.section)
    x, y = in_rolls.point_at(held)
    whole = float(along[-1])
    edges = (place(0.0), place(job.section.length))
    marks = [place(held), *(s for s in edges if 1e-6 < s < whole - 1e-6)]
    count = elements if elements is not None else elements_for(job.section, whole, job.thickness_mm.value)
    begin = x - place(held)
    straight = Profile((line((begin, y), (begin + whole, y)),))
    flat = mesh_profile(straight, job.thickness_mm.value, count, "prism", points_per_half, marks)
    node, first, last = (int(np.argmin(np.abs(flat.x_mm - begin - s))) for s in (place(held), *edges))
    girth = settings.cut_length_mm - settings.shrinkage_mm
    camber = 2.0 * math.pi * plan.reckoning.line.slope / girth
    flat = cambered(flat, camber, begin + place(0.5 * job.section.length))
    low, high = (place(s) for s in smallest(job.section))
    inside = np.flatnonzero((flat.x_mm - begin >= low - 1e-9) & (flat.x_mm - begin <= high + 1e-9))
    least = (int(inside[0]), int(inside[-1]))
    return Start(flat, node, job.section.point_at(held), first, last, least, in_rolls, cant, camber)


def cambered(flat: Section, camber_per_mm: float, middle_mm: float) -> Section:
    """The flat section of a blank that is curved in its plane, without stress; fibre length 1 at `middle_mm`."""
    if camber_per_mm == 0.0:
        return flat
    fibre = 1.0 + camber_per_mm * (0.5 * (flat.x_mm[1:] + flat.x_mm[:-1]) - middle_mm)
    return replace(
        flat,
        camber_per_mm=camber_per_mm,
        stretch=1.0 - camber_per_mm * middle_mm,
        weight_mm3=flat.weight_mm3 * fibre[:, None],
        fibre_start=fibre,
    )
