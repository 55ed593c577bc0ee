"""Sections of turned tools: chains of corners joined to a contour and closed. Units mm; x along the axis, y radius."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Point, Profile, Segment, arc, line

SAME_MM = 1e-9


def through(points: Sequence[Point]) -> tuple[Segment, ...]:
    """Straights through points; doubled points are left out."""
    return tuple(line(a, b) for a, b in pairwise(points) if math.dist(a, b) > SAME_MM)


def closed(name: str, before: Sequence[Point], contour: Profile | None, after: Sequence[Point]) -> Profile:
    """A closed section: corners, the contour between them, corners, and back to the first.

    Parameters
    ----------
    before, after : corners ahead of the contour and after it, in the order of travel.
    """
    if contour is None:
        return Profile(through([*before, *after, before[0]]), name)
    head = through([*before, contour.start])
    return Profile((*head, *contour.segments, *through([contour.end, *after, before[0]])), name)


def mirrored_x(profile: Profile) -> Profile:
    """The contour seen from the other end: x turned to -x, travelled so that x rises again."""
    return profile.turned(math.pi).mirrored_y().reversed()


def between_x(contour: Profile, low: float, high: float) -> Profile:
    """The part of a contour between two places along x, both of which lie on straights near its ends.

    Raises
    ------
    GeometryError
        A place that no straight of the contour passes.
    """
    first = next((k for k, s in enumerate(contour.segments) if s.end[0] > low + SAME_MM), None)
    last = next((k for k in range(len(contour) - 1, -1, -1) if contour.segments[k].start[0] < high - SAME_MM), None)
    if first is None or last is None or last < first:
        raise GeometryError("part of a contour", (low, high), "mm", "inside the contour", "check the widths")
    kept = list(contour.segments[first : last + 1])
    kept[0] = replace(kept[0], start=_on(kept[0], low))
    kept[-1] = replace(kept[-1], end=_on(kept[-1], high))
    return Profile(tuple(kept), contour.name)


def _on(segment: Segment, x: float) -> Point:
    """The point of a straight at x."""
    (x0, y0), (x1, y1) = segment.start, segment.end
    if segment.is_arc or not min(x0, x1) - 1e-6 <= x <= max(x0, x1) + 1e-6:
        raise GeometryError("end of a contour", round(x, 4), "mm", "on a straight of it", "lengthen the edge trim")
    return (x, y0 + (x - x0) * (y1 - y0) / (x1 - x0))


def radius_at(contour: Profile, x: float) -> float:
    """Radius of an open contour that rises along x, at a place on it. [mm]"""
    for segment in contour.segments:
        if segment.start[0] - 1e-9 <= x <= segment.end[0] + 1e-9:
            return _level(segment, x)
    raise GeometryError("place on the contour", round(x, 4), "mm", "between its ends", "check the place")


def _level(segment: Segment, x: float) -> float:
    if segment.centre is None:
        share = (x - segment.start[0]) / (segment.end[0] - segment.start[0])
        return segment.start[1] + share * (segment.end[1] - segment.start[1])
    (cx, cy), radius = segment.centre, segment.radius
    rise = math.sqrt(max(radius * radius - (x - cx) ** 2, 0.0))
    return cy + rise if segment.point_at(0.5 * segment.length)[1] > cy else cy - rise


def full_circle(centre: Point, radius: float) -> tuple[Segment, ...]:
    """A circle as two arcs."""
    right, left = (centre[0] + radius, centre[1]), (centre[0] - radius, centre[1])
    return (arc(right, left, centre, True), arc(left, right, centre, True))


def clipped(section: Profile, low: float, high: float) -> Profile:
    """The part of a closed section of straights between two places along x.

    Raises
    ------
    GeometryError
        A section with an arc, or nothing of it between the places.
    """
    if any(segment.is_arc for segment in section.segments):
        raise GeometryError("section to clip", "with an arc", "", "of straights only", "clip a section of straights")
    points = [segment.start for segment in section.segments]
    for place, sense in ((low, 1.0), (high, -1.0)):
        points = _kept(points, place, sense)
    if len(points) < 3:
        raise GeometryError("part of a section", (low, high), "mm", "inside the section", "check the places")
    return closed(section.name, points, None, [])


def _kept(points: Sequence[Point], place: float, sense: float) -> list[Point]:
    """Corners of a polygon on one side of a place along x (Sutherland and Hodgman)."""
    made: list[Point] = []
    for (x0, y0), (x1, y1) in pairwise([*points, points[0]] if points else []):
        inside, onward = sense * (x0 - place) >= 0.0, sense * (x1 - place) >= 0.0
        if inside:
            made.append((x0, y0))
        if inside != onward:
            made.append((place, y0 + (place - x0) * (y1 - y0) / (x1 - x0)))
    return made
