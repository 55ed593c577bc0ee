"""Correcting the segments' profile until the trimmed ring of the proof walk has its control sizes.

Each straight of the profile is moved square to itself: under a control size by what that size misses, elsewhere by what
the ring misses in the mean, and only where the loaded ring lies on the segments, since a tool that does not touch moves
nothing. A free size follows its tool by all but some thousandths, so every turn takes most of the miss.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.plan.inside_face import face_points
from hoopwright.plan.job import with_trims
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.shapes import RingJob
from hoopwright.process.proof_piece import section_of
from hoopwright.process.proof_size import Stop, diameter_at
from hoopwright.process.step import Step
from hoopwright.tools.segment_contour import SegmentContour, segment_contour

MOST_MM = 0.25
"""Largest correction of a place of the profile: beyond it the tool is not what is wrong."""

TURNS = 5
SHARE_OF_TOLERANCE = 0.1
AIM = 0.5
"""Corrections go on until a control size misses by less than this share of what is allowed to be left."""

Size = Callable[[Profile, Stop], tuple[Step, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class Corrected:
    """Profile found. shift_mm : radial correction of the reckoned face by station, shape (n,). before, steps : hits and
    trim on the profile as reckoned, and on the corrected one. missed_mm : of each control size, diameter, last.
    stop : edge of the ring that a ledge holds.
    """

    surface: SegmentContour
    shift_mm: Vector
    before: tuple[Step, ...]
    steps: tuple[Step, ...]
    missed_mm: tuple[float, ...]
    turns: int
    stop: Stop = "none"


def surface_with(plan: RingPlan, shift_mm: Vector) -> SegmentContour:
    """Profile of the segments with the reckoned loaded face shifted by station."""
    job = plan.job
    face = face_points(job, plan.reckoning)
    held = tuple(control.z_mm for control in job.ring.controls)
    whole = with_trims(job.section, job.limits.edge_trim_mm.value)
    return segment_contour(whole, replace(face, radius_mm=face.radius_mm + shift_mm), held)


def misses(job: RingJob, section: Section, added_mm: tuple[float, ...]) -> tuple[float, ...]:
    """Diameter of each control size less the drawing. added_mm : what segments add to each. [mm]"""
    return tuple(
        diameter_at(section, control.z_mm, control.face) + more - control.diameter_mm
        for control, more in zip(job.ring.controls, added_mm, strict=True)
    )


def corrected(plan: RingPlan, size: Size, added_mm: tuple[float, ...]) -> Corrected:
    """Profile whose ring, trimmed, has its control sizes.

    A ring that finds no place of its own on the segments (a cone slides until its contour stops it) is held by a ledge
    at one edge, the one with the smaller radius first.
    """
    free = _corrected(plan, size, added_mm, "none")
    if _settled(plan.job, free.missed_mm, 1.0):
        return free
    section = plan.job.section
    edges: list[Stop] = ["aft", "forward"] if section.end[1] <= section.start[1] else ["forward", "aft"]
    for edge in edges:
        held = _corrected(plan, size, added_mm, edge)
        if _settled(plan.job, held.missed_mm, 1.0):
            return replace(held, before=free.before)
    return free


def _settled(job: RingJob, missed: tuple[float, ...], share: float) -> bool:
    """Whether every control size misses by less than a share of what may be left."""
    return all(
        abs(m) < share * SHARE_OF_TOLERANCE * control.tolerance_mm
        for m, control in zip(missed, job.ring.controls, strict=True)
    )


def _corrected(plan: RingPlan, size: Size, added_mm: tuple[float, ...], stop: Stop) -> Corrected:
    job = plan.job
    shift = np.zeros_like(job.stations.x)
    surface = surface_with(plan, shift)
    before = steps = size(surface.profile, stop)
    for turn in range(1, TURNS + 1):
        missed = misses(job, section_of(steps[-1].workpiece), added_mm)
        if (turn > 2 and _settled(job, missed, AIM)) or turn == TURNS:
            break
        shift = np.clip(shift + _turn(job, surface, steps, missed), -MOST_MM, MOST_MM)
        surface = surface_with(plan, shift)
        steps = size(surface.profile, stop)
    return Corrected(surface, shift, before, steps, missed, turn, stop)


def _turn(job: RingJob, surface: SegmentContour, steps: tuple[Step, ...], missed: tuple[float, ...]) -> Vector:
    """What every station's tool radius has to move by."""
    free = section_of(steps[-1].workpiece)
    stations, trims = job.stations, 1 if job.limits.edge_trim_mm.value > 0.0 else 0
    move = np.zeros_like(stations.x)
    on_ring = (stations.s >= 0.0) & (stations.s <= job.section.length)
    miss = np.interp(stations.x, free.x_mm, free.y_mm) - stations.y
    for number, segment in enumerate(job.section):
        if segment.is_arc:
            continue
        own = stations.segment == number + trims
        low, high = sorted((segment.start[0], segment.end[0]))
        held = [m for c, m in zip(job.ring.controls, missed, strict=True) if low <= c.z_mm <= high]
        if held:
            move[own] = -0.5 * held[0]
        elif _lies_on(surface, steps, low, high):
            move[own] = -float(np.mean(miss[own & on_ring]))
    if trims:
        first, last = stations.segment == 0, stations.segment == stations.segment.max()
        inner = np.flatnonzero(on_ring)
        move[first], move[last] = move[inner[0]], move[inner[-1]]
    return move


NEAR_MM = 0.01


def _lies_on(surface: SegmentContour, steps: tuple[Step, ...], low: float, high: float) -> bool:
    """Whether at least half of a straight of the ring, let off, is within a hundredth of its tool less the springback
    that the ring as a whole has."""
    section = section_of(steps[-2].workpiece)
    middle = 0.5 * (section.x_mm[1:] + section.x_mm[:-1])
    inside = (middle >= low) & (middle <= high)
    if not np.any(inside):
        return False
    slope = np.cos(0.5 * (section.angle_rad[1:] + section.angle_rad[:-1]))
    face = 0.5 * (section.y_mm[1:] + section.y_mm[:-1]) - 0.5 * section.thickness_mm / slope
    lift = face - surface.radius_at(middle)
    spring = float(np.median(lift))
    return bool(np.mean(np.abs(lift[inside] - spring) < 5.0 * NEAR_MM) >= 0.5)
