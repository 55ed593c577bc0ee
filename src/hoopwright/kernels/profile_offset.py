"""Exact offset of a line-and-arc profile: lines move, arc radii change, tangent joins stay joined. Units mm, rad."""

from __future__ import annotations

import math
from dataclasses import replace

from hoopwright.errors import GeometryError, require_finite
from hoopwright.kernels.profile import Point, Profile, Segment


def offset(profile: Profile, distance: float) -> Profile:
    """The contour moved to its left by `distance` [mm] (negative: to its right).

    A centre on the left shrinks the arc by the distance, a centre on the right widens it.

    Raises
    ------
    GeometryError
        When an arc would lose its radius, or the profile has a kink (more than 0.2 degrees) at which a single
        offset is not defined.

    Examples
    --------
    >>> from hoopwright.kernels.profile import Profile, arc
    >>> quarter = Profile((arc((1.0, 0.0), (0.0, 1.0), (0.0, 0.0), True),))
    >>> round(offset(quarter, -0.5).length / quarter.length, 9)
    1.5
    """
    require_finite("offset", distance, "mm")
    moved = [_offset_segment(number, segment, distance) for number, segment in enumerate(profile.segments)]
    for number, (one, two) in enumerate(zip(profile.segments, profile.segments[1:], strict=False)):
        turn = (two.angle_at(0.0) - one.angle_at(one.length) + math.pi) % (2.0 * math.pi) - math.pi
        if abs(turn) > math.radians(0.2):
            raise GeometryError(
                f"kink after segment {number}", round(math.degrees(turn), 3), "deg", "0", "put a fillet there"
            )
        moved[number + 1] = replace(moved[number + 1], start=moved[number].end)
    return Profile(tuple(moved), profile.name)


def _left_of(point: Point, angle: float, distance: float) -> Point:
    return (point[0] - distance * math.sin(angle), point[1] + distance * math.cos(angle))


def _offset_segment(number: int, segment: Segment, distance: float) -> Segment:
    start = _left_of(segment.start, segment.angle_at(0.0), distance)
    end = _left_of(segment.end, segment.angle_at(segment.length), distance)
    if segment.centre is not None:
        radius = segment.radius - distance if segment.ccw else segment.radius + distance
        if radius <= 1e-9:
            raise GeometryError(
                f"radius of arc {number} after an offset of {distance:g} mm",
                round(radius, 4),
                "mm",
                "above 0",
                "use a larger radius or a thinner sheet",
            )
    return replace(segment, start=start, end=end)
