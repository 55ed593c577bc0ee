"""Plane contours of lines and arcs, exact. Coordinates (x, y) [mm]; angles [rad], counter-clockwise from +x.

A `Profile` is an open or closed chain of `Segment`s. The left side of the direction of travel is positive: for a
contour that runs towards +x, `offset(+d)` moves it towards +y. Nothing here knows what the contour is for.
Building, offsetting, integrals and crossings have modules of their own (`profile_build`, `profile_offset`,
`profile_integrals`, `profile_crossing`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import GeometryError, require_finite, require_positive

Point = tuple[float, float]
Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Segment:
    """A line (centre is None) or a circular arc from `start` to `end`; `ccw` is the sense of an arc.

    `name` travels with the segment through offsets, so that a feature keeps its name.
    """

    start: Point
    end: Point
    centre: Point | None = None
    ccw: bool = False
    name: str = ""

    @property
    def is_arc(self) -> bool:
        """Whether this is an arc."""
        return self.centre is not None

    @property
    def radius(self) -> float:
        """Radius of the arc, measured at its start; infinite for a line. [mm]"""
        return math.inf if self.centre is None else math.dist(self.start, self.centre)

    @property
    def sweep(self) -> float:
        """Turn from start to end, positive counter-clockwise, at most one full turn; 0 for a line. [rad]"""
        if self.centre is None:
            return 0.0
        (cx, cy), (x0, y0), (x1, y1) = self.centre, self.start, self.end
        turn = (math.atan2(y1 - cy, x1 - cx) - math.atan2(y0 - cy, x0 - cx)) % (2.0 * math.pi)
        return turn if self.ccw else turn - 2.0 * math.pi

    @property
    def length(self) -> float:
        """Length along the segment. [mm]"""
        return math.dist(self.start, self.end) if self.centre is None else self.radius * abs(self.sweep)

    @property
    def curvature(self) -> float:
        """Signed curvature d angle / d s, positive turning left; 0 for a line. [1/mm]"""
        return 0.0 if self.centre is None else (1.0 if self.ccw else -1.0) / self.radius

    def angle_at(self, s: float) -> float:
        """Direction of travel at the distance s from the start. [rad]"""
        if self.centre is None:
            return math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0])
        spoke = math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0])
        sense = 1.0 if self.ccw else -1.0
        return spoke + sense * (s / self.radius + 0.5 * math.pi)

    def point_at(self, s: float) -> Point:
        """Point at the distance s from the start. [mm]"""
        if self.centre is None:
            share = s / self.length
            return (
                self.start[0] + share * (self.end[0] - self.start[0]),
                self.start[1] + share * (self.end[1] - self.start[1]),
            )
        spoke = math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0]) + s * self.curvature
        return (self.centre[0] + self.radius * math.cos(spoke), self.centre[1] + self.radius * math.sin(spoke))

    def reversed(self) -> Segment:
        """The same segment, travelled the other way."""
        return replace(self, start=self.end, end=self.start, ccw=not self.ccw)

    def moved(self, dx: float, dy: float) -> Segment:
        """The segment shifted by (dx, dy) [mm]."""
        centre = None if self.centre is None else (self.centre[0] + dx, self.centre[1] + dy)
        start, end = self.start, self.end
        return replace(self, start=(start[0] + dx, start[1] + dy), end=(end[0] + dx, end[1] + dy), centre=centre)


def line(start: Point, end: Point, name: str = "") -> Segment:
    """A straight segment."""
    return Segment(start, end, None, False, name)


def arc(start: Point, end: Point, centre: Point, ccw: bool, name: str = "") -> Segment:
    """An arc segment from start to end about `centre`."""
    return Segment(start, end, centre, ccw, name)


@dataclass(frozen=True, slots=True)
class Stations:
    """Points along a profile, all arrays of shape (n,).

    s : distance along the profile. x, y : coordinates. angle : direction of travel. curvature : signed, positive
    turning left. weight : length that belongs to the point, summing to the profile's length (midpoint rule).
    segment : number of the segment it lies on.
    """

    s: Vector
    x: Vector
    y: Vector
    angle: Vector
    curvature: Vector
    weight: Vector
    segment: NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Profile:
    """A chain of segments; each starts where the one before ends.

    Raises GeometryError when empty, when a segment has no length or a chain does not join within 1e-3 mm
    (coordinates in files are rounded; `profile_build.closed_up` mends such gaps exactly).
    """

    segments: tuple[Segment, ...]
    name: str = ""

    def __post_init__(self) -> None:
        if not self.segments:
            raise GeometryError(self.name or "profile", "empty", "", "at least one segment", "add a line or an arc")
        for number, segment in enumerate(self.segments):
            for point in (segment.start, segment.end):
                require_finite("profile point", point[0], "mm")
                require_finite("profile point", point[1], "mm")
            if not segment.length > 0.0:
                raise GeometryError(f"segment {number}", 0.0, "mm", "longer than 0", "remove the segment")
        for number, (one, two) in enumerate(zip(self.segments, self.segments[1:], strict=False)):
            gap = math.dist(one.end, two.start)
            if gap > 1e-3:
                raise GeometryError(
                    f"gap after segment {number}", round(gap, 6), "mm", "0", "make the next start equal this end"
                )

    def __iter__(self) -> Iterator[Segment]:
        return iter(self.segments)

    def __len__(self) -> int:
        return len(self.segments)

    @property
    def start(self) -> Point:
        """First point. [mm]"""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """Last point. [mm]"""
        return self.segments[-1].end

    @property
    def length(self) -> float:
        """Length along the profile. [mm]"""
        return math.fsum(segment.length for segment in self.segments)

    @property
    def breaks(self) -> Vector:
        """Distance along the profile at which each segment starts, and the end; shape (segments + 1,). [mm]"""
        return np.concatenate(([0.0], np.cumsum([segment.length for segment in self.segments])))

    def _locate(self, s: float) -> tuple[Segment, float]:
        breaks = self.breaks
        number = int(np.clip(np.searchsorted(breaks, s, side="right") - 1, 0, len(self.segments) - 1))
        return self.segments[number], s - float(breaks[number])

    def point_at(self, s: float) -> Point:
        """Point at the distance s from the start. [mm]"""
        segment, rest = self._locate(s)
        return segment.point_at(rest)

    def angle_at(self, s: float) -> float:
        """Direction of travel at the distance s. [rad]"""
        segment, rest = self._locate(s)
        return segment.angle_at(rest)

    def reversed(self) -> Profile:
        """The same contour, travelled the other way."""
        return Profile(tuple(segment.reversed() for segment in reversed(self.segments)), self.name)

    def moved(self, dx: float, dy: float) -> Profile:
        """The contour shifted by (dx, dy) [mm]."""
        return Profile(tuple(segment.moved(dx, dy) for segment in self.segments), self.name)

    def turned(self, angle: float, about: Point = (0.0, 0.0)) -> Profile:
        """The contour turned by `angle` [rad], positive counter-clockwise, about a point [mm]."""
        cosine, sine = math.cos(angle), math.sin(angle)

        def turn(point: Point) -> Point:
            x, y = point[0] - about[0], point[1] - about[1]
            return (about[0] + cosine * x - sine * y, about[1] + sine * x + cosine * y)

        def turn_segment(segment: Segment) -> Segment:
            centre = None if segment.centre is None else turn(segment.centre)
            return replace(segment, start=turn(segment.start), end=turn(segment.end), centre=centre)

        return Profile(tuple(turn_segment(segment) for segment in self.segments), self.name)

    def mirrored_y(self) -> Profile:
        """The contour with y turned to -y."""

        def flip(segment: Segment) -> Segment:
            centre = None if segment.centre is None else (segment.centre[0], -segment.centre[1])
            start, end = (segment.start[0], -segment.start[1]), (segment.end[0], -segment.end[1])
            return replace(segment, start=start, end=end, centre=centre, ccw=not segment.ccw)

        return Profile(tuple(flip(segment) for segment in self.segments), self.name)

    def stations(self, step: float = 1.0, arc_points: int = 5) -> Stations:
        """Midpoint stations: every segment cut into equal parts no longer than `step` [mm], an arc into at least
        `arc_points`. The midpoint rule over `weight` is exact for the length and second order for all else.
        """
        require_positive("station step", step, "mm")
        rows: list[tuple[float, float, float, float, float, float, int]] = []
        begin = 0.0
        for number, segment in enumerate(self.segments):
            size = segment.length
            count = max(1, math.ceil(size / step - 1e-9), arc_points if segment.is_arc else 1)
            part = size / count
            for k in range(count):
                rest = (k + 0.5) * part
                x, y = segment.point_at(rest)
                rows.append((begin + rest, x, y, segment.angle_at(rest), segment.curvature, part, number))
            begin += size
        table = np.array(rows, dtype=np.float64)
        columns = [np.ascontiguousarray(table[:, k]) for k in range(6)]
        numbers = table[:, 6].astype(np.int64)
        return Stations(columns[0], columns[1], columns[2], columns[3], columns[4], columns[5], numbers)

    def polyline(self, chord_error: float = 0.01) -> Vector:
        """Points from start to end whose chords leave the contour by at most `chord_error` [mm]; shape (n, 2)."""
        require_positive("chord error", chord_error, "mm")
        points: list[Point] = [self.start]
        for segment in self.segments:
            count = 1
            if segment.is_arc:
                widest = 2.0 * math.acos(max(-1.0, 1.0 - min(chord_error, segment.radius) / segment.radius))
                count = max(1, math.ceil(abs(segment.sweep) / widest))
            points += [segment.point_at(segment.length * k / count) for k in range(1, count)]
            points.append(segment.end)
        return np.array(points, dtype=np.float64)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Exact (x least, y least, x greatest, y greatest), arcs included. [mm]"""
        xs = [self.start[0], self.end[0]]
        ys = [self.start[1], self.end[1]]
        for segment in self.segments:
            xs += [segment.start[0], segment.end[0]]
            ys += [segment.start[1], segment.end[1]]
            if segment.centre is not None:
                for x, y in _quadrant_points(segment):
                    xs.append(x)
                    ys.append(y)
        return min(xs), min(ys), max(xs), max(ys)


def _quadrant_points(segment: Segment) -> Iterator[Point]:
    """Points of an arc at which it is level or upright."""
    assert segment.centre is not None
    (cx, cy), radius = segment.centre, segment.radius
    begin = math.atan2(segment.start[1] - cy, segment.start[0] - cx)
    turn = segment.sweep
    for quarter in range(4):
        spoke = quarter * 0.5 * math.pi
        ahead = (spoke - begin) % (2.0 * math.pi) if turn > 0.0 else -((begin - spoke) % (2.0 * math.pi))
        if abs(ahead) <= abs(turn):
            yield cx + radius * math.cos(spoke), cy + radius * math.sin(spoke)
