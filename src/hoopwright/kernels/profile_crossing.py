"""Where line-and-arc contours meet: crossings of segments, self-crossing of a profile, distance from a point.

Units mm.
"""

from __future__ import annotations

import math

from hoopwright.kernels.profile import Point, Profile, Segment


def nearest_on(segment: Segment, point: Point) -> tuple[Point, float]:
    """Nearest point of a segment to `point` [mm] and its distance along the segment [mm]."""
    candidates = [0.0, segment.length]
    if segment.centre is None:
        (x0, y0), (x1, y1) = segment.start, segment.end
        size = segment.length
        along = ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / size
        candidates.append(min(max(along, 0.0), size))
    else:
        spoke = math.atan2(point[1] - segment.centre[1], point[0] - segment.centre[0])
        reached = _along_arc(segment, spoke)
        if reached is not None:
            candidates.append(reached)
    best = min(candidates, key=lambda s: math.dist(segment.point_at(s), point))
    return segment.point_at(best), best


def _along_arc(segment: Segment, spoke: float, slack: float = 0.0) -> float | None:
    """Distance along the arc at which its spoke has the given angle; None where the arc does not reach."""
    assert segment.centre is not None
    begin = math.atan2(segment.start[1] - segment.centre[1], segment.start[0] - segment.centre[0])
    turn = segment.sweep
    ahead = (spoke - begin) % (2.0 * math.pi) if turn > 0.0 else (begin - spoke) % (2.0 * math.pi)
    if ahead <= abs(turn) + slack:
        return min(ahead, abs(turn)) * segment.radius
    return 0.0 if 2.0 * math.pi - ahead <= slack else None


def distance(profile: Profile, point: Point) -> float:
    """Least distance from `point` to the profile. [mm]"""
    return min(math.dist(nearest_on(segment, point)[0], point) for segment in profile)


def crossings(one: Segment, two: Segment) -> list[Point]:
    """Points that two segments share (touching counts; segments on the same line or circle give none)."""
    if one.centre is None and two.centre is None:
        found = _line_line(one, two)
    elif one.centre is None:
        found = _line_arc(one, two)
    elif two.centre is None:
        found = _line_arc(two, one)
    else:
        found = _arc_arc(one, two)
    slack = 1e-9
    return [p for p in found if all(math.dist(nearest_on(s, p)[0], p) < slack + 1e-9 * abs(p[0]) for s in (one, two))]


def _line_line(one: Segment, two: Segment) -> list[Point]:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = one.start, one.end, two.start, two.end
    cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if abs(cross) < 1e-14 * one.length * two.length:
        return []
    share = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / cross
    return [(ax + share * (bx - ax), ay + share * (by - ay))]


def _line_arc(straight: Segment, bow: Segment) -> list[Point]:
    assert bow.centre is not None
    (x0, y0), size = straight.start, straight.length
    ux, uy = (straight.end[0] - x0) / size, (straight.end[1] - y0) / size
    fx, fy = x0 - bow.centre[0], y0 - bow.centre[1]
    along, square = -(fx * ux + fy * uy), fx * fx + fy * fy
    inside = bow.radius**2 - (square - along * along)
    if inside < 0.0:
        return []
    half = math.sqrt(inside)
    return [(x0 + s * ux, y0 + s * uy) for s in (along - half, along + half)]


def _arc_arc(one: Segment, two: Segment) -> list[Point]:
    assert one.centre is not None and two.centre is not None
    gap = math.dist(one.centre, two.centre)
    r1, r2 = one.radius, two.radius
    if gap < 1e-12 or gap > r1 + r2 or gap < abs(r1 - r2):
        return []
    along = (gap * gap + r1 * r1 - r2 * r2) / (2.0 * gap)
    half = math.sqrt(max(r1 * r1 - along * along, 0.0))
    ux, uy = (two.centre[0] - one.centre[0]) / gap, (two.centre[1] - one.centre[1]) / gap
    x, y = one.centre[0] + along * ux, one.centre[1] + along * uy
    return [(x - half * uy, y + half * ux), (x + half * uy, y - half * ux)]


def self_crossings(profile: Profile) -> list[tuple[int, int, Point]]:
    """Where a profile runs through itself: (segment, segment, point). Shared ends of neighbours do not count."""
    found: list[tuple[int, int, Point]] = []
    count = len(profile)
    for i in range(count):
        for j in range(i + 1, count):
            one, two = profile.segments[i], profile.segments[j]
            for point in crossings(one, two):
                shared = math.dist(point, one.end) < 1e-6 and math.dist(point, two.start) < 1e-6
                closing = math.dist(point, one.start) < 1e-6 and math.dist(point, two.end) < 1e-6
                if not (j == i + 1 and shared) and not (i == 0 and j == count - 1 and closing):
                    found.append((i, j, point))
    return found


def levels_at(profile: Profile, x: float) -> list[float]:
    """All y at which the profile stands over `x`, in the order of travel. [mm]"""
    low, high = profile.bounds[1], profile.bounds[3]
    upright = Segment((x, low - 1.0), (x, high + 1.0))
    values: list[float] = []
    for segment in profile:
        for point in crossings(upright, segment):
            if not values or abs(values[-1] - point[1]) > 1e-9:
                values.append(point[1])
    return values


def clearance(one: Profile, two: Profile, chord_error: float = 0.001) -> float:
    """Least distance between two profiles [mm], within `chord_error`; 0 where they cross."""
    if any(crossings(a, b) for a in one for b in two):
        return 0.0
    ends = min(
        min(distance(two, (float(p[0]), float(p[1]))) for p in one.polyline(chord_error)),
        min(distance(one, (float(p[0]), float(p[1]))) for p in two.polyline(chord_error)),
    )
    return ends
