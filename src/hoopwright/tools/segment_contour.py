"""Profile of the segments: the loaded inside face of the ring, as exact lines and arcs.

Reckoned face points come by station. Each straight of the section gives one straight of the profile, parallel to it and
as far off as its own stations say in the mean,
or at its control size where it carries one; corners are where neighbours meet; each fillet is the mid radius plus or
minus half the loaded thickness there. Where the section does not alternate straight and arc, the whole mid-surface is
lifted by the mean springback and offset by the mean half thickness instead. What is left between stations and profile
is told.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Point, Profile, Segment
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.process.workpiece import Array

CHORD_MM = 2e-4
POINT_STEP_MM = 0.001
"""Corner points are rounded to the step a toolmaker reads."""

Row = tuple[Segment, NDArray[np.int64]]
"""A segment of the section with the numbers of the stations on it."""


@dataclass(frozen=True, slots=True, eq=False)
class FacePoints:
    """Loaded inside face by station, all shapes (n,): place, radius, thickness; segment of the section it lies on."""

    z_mm: Array
    radius_mm: Array
    thickness_mm: Array
    segment: NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class SegmentContour:
    """The profile; miss_mm : station less profile, radially, shape (n,); exact : built straight by straight.

    points_mm : points (z, r) of the profile whose chords leave it by at most 0.0002, shape (k, 2).
    """

    profile: Profile
    points_mm: Array
    miss_mm: Array
    exact: bool

    def radius_at(self, z_mm: Array) -> Array:
        """Radius of the profile at places along the axis, shape (k,); held on beyond its ends."""
        return np.asarray(np.interp(z_mm, self.points_mm[:, 0], self.points_mm[:, 1]))


def segment_contour(section: Profile, face: FacePoints, held_z_mm: tuple[float, ...] = ()) -> SegmentContour:
    """Profile from reckoned face points.

    Parameters
    ----------
    section : Profile
        Mid-surface they were reckoned over, edge trims on.
    held_z_mm : tuple of float
        Places of control sizes: the straight over one of them goes through its face there.
    """
    rows = _merged(section, face)
    try:
        profile, exact = _straight_by_straight(rows, face, held_z_mm), True
    except GeometryError:
        profile, exact = _lifted(section, face), False
    points = profile.polyline(CHORD_MM)
    miss = face.radius_mm - np.interp(face.z_mm, points[:, 0], points[:, 1])
    return SegmentContour(profile, points, np.asarray(miss), exact)


def _merged(section: Profile, face: FacePoints) -> list[Row]:
    """Segments with their stations; straights in one line (edge trims) taken together."""
    rows: list[Row] = []
    for number, segment in enumerate(section):
        stations = np.flatnonzero(face.segment == number)
        if rows and not segment.is_arc and not rows[-1][0].is_arc and _in_line(rows[-1][0], segment):
            before, own = rows[-1]
            rows[-1] = (Segment(before.start, segment.end), np.concatenate((own, stations)))
        else:
            rows.append((segment, stations))
    return rows


def _in_line(one: Segment, two: Segment) -> bool:
    return abs(math.remainder(two.angle_at(0.0) - one.angle_at(0.0), 2.0 * math.pi)) < 1e-6


def _straight_by_straight(rows: list[Row], face: FacePoints, held: tuple[float, ...]) -> Profile:
    kinds = [segment.is_arc for segment, _ in rows]
    if any(arc != bool(k % 2) for k, arc in enumerate(kinds)) or len(rows) % 2 == 0:
        raise GeometryError("section", len(rows), "", "straights and arcs in turn", "")
    lines = [_moved_line(segment, stations, face, held) for segment, stations in rows[::2]]
    points: list[Point] = [lines[0][0]]
    radii: list[float] = []
    for k, (one, two) in enumerate(itertools.pairwise(lines)):
        bend, stations = rows[2 * k + 1]
        half = 0.5 * float(face.thickness_mm[stations].mean())
        radii.append(round(bend.radius + (half if bend.ccw else -half), 3))
        points.append(_meeting(one, two))
    points.append(lines[-1][1])
    if min(radii, default=1.0) <= 0.0:
        raise GeometryError("fillet of the segments", min(radii), "mm", "above 0", "widen the corner")
    rounded = [(round(z / POINT_STEP_MM) * POINT_STEP_MM, round(r / POINT_STEP_MM) * POINT_STEP_MM) for z, r in points]
    return from_corners(rounded, radii, "segments")


def _moved_line(
    segment: Segment, stations: NDArray[np.int64], face: FacePoints, held: tuple[float, ...]
) -> tuple[Point, Point]:
    """The straight moved square to itself: by what its stations say at a held place, else in the mean."""
    angle = segment.angle_at(0.0)
    normal = (-math.sin(angle), math.cos(angle))
    along, up = face.z_mm[stations] - segment.start[0], face.radius_mm[stations] - segment.start[1]
    gap = along * normal[0] + up * normal[1]
    low, high = sorted((segment.start[0], segment.end[0]))
    on_it = [z for z in held if low <= z <= high]
    shift = float(np.interp(on_it[0], face.z_mm[stations], gap)) if on_it else float(gap.mean())
    move = (shift * normal[0], shift * normal[1])
    start, end = segment.start, segment.end
    return (start[0] + move[0], start[1] + move[1]), (end[0] + move[0], end[1] + move[1])


def _meeting(one: tuple[Point, Point], two: tuple[Point, Point]) -> Point:
    (x1, y1), (x2, y2) = one
    (x3, y3), (x4, y4) = two
    cross = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    if abs(cross) < 1e-9:
        raise GeometryError("corner", 0.0, "deg", "a turn", "merge the two straights")
    share = ((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3)) / cross
    return (x1 + share * (x2 - x1), y1 + share * (y2 - y1))


def _lifted(section: Profile, face: FacePoints) -> Profile:
    """Mid-surface lifted by one springback and offset by one half thickness."""
    half = 0.5 * float(face.thickness_mm.mean())
    inner = offset(section, -half)
    line = inner.polyline(CHORD_MM)
    lift = float(np.mean(face.radius_mm - np.interp(face.z_mm, line[:, 0], line[:, 1])))
    return inner.moved(0.0, round(lift, 3))
