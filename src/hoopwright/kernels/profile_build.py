"""Making profiles: from corners with fillet radii, and closing up the rounding of a file. Units mm, rad."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoopwright.errors import GeometryError, InputError, require_finite
from hoopwright.kernels.profile import Point, Profile, Segment, arc, line


def from_corners(points: Sequence[Point], radii: Sequence[float], name: str = "") -> Profile:
    """A chain of straights with tangent fillets.

    Parameters
    ----------
    points : n corner points, n at least 2. [mm]
    radii : n - 2 fillet radii of the inner corners, 0 for a sharp one. [mm]

    Raises
    ------
    GeometryError
        When a fillet does not fit between its neighbours, naming the corner and the straight that is missing.

    Notes
    -----
    Tangent length of a fillet R at a turn a is R tan(a/2).
    """
    if len(points) < 2:
        raise InputError("corners", len(points), "", "at least 2 points", "add corner points")
    if len(radii) != len(points) - 2:
        raise InputError("fillet radii", len(radii), "", f"{len(points) - 2} values, one per inner corner", "")
    turns = [_turn(points, k) for k in range(1, len(points) - 1)]
    # a turn this small moves nothing by more than a picometre, and its fillet would have no length to stand on
    turns = [turn if abs(turn) > 1e-6 else 0.0 for turn in turns]
    reach = [0.0] + [_tangent_length(k + 1, radii[k], turns[k]) for k in range(len(turns))] + [0.0]
    segments: list[Segment] = []
    for k in range(len(points) - 1):
        span = math.dist(points[k], points[k + 1])
        left = span - reach[k] - reach[k + 1]
        if left < -1e-9:
            raise GeometryError(
                f"straight between corners {k} and {k + 1}",
                round(left, 4),
                "mm",
                "0 or longer after the fillets",
                "make the fillet radii smaller or the corners further apart",
            )
        begin, end = _towards(points[k], points[k + 1], reach[k]), _towards(points[k + 1], points[k], reach[k + 1])
        if left > 1e-9:
            segments.append(line(begin, end))
        if k < len(turns) and radii[k] > 0.0 and turns[k] != 0.0:
            segments.append(_fillet(points[k + 1], end, points[k + 2], radii[k], reach[k + 1], turns[k]))
    return closed_up(Profile(tuple(segments), name))


def _turn(points: Sequence[Point], k: int) -> float:
    """Signed turn at corner k. [rad]"""
    before = math.atan2(points[k][1] - points[k - 1][1], points[k][0] - points[k - 1][0])
    after = math.atan2(points[k + 1][1] - points[k][1], points[k + 1][0] - points[k][0])
    return (after - before + math.pi) % (2.0 * math.pi) - math.pi


def _tangent_length(corner: int, radius: float, turn: float) -> float:
    if require_finite(f"fillet radius at corner {corner}", radius, "mm") < 0.0:
        raise GeometryError(f"fillet radius at corner {corner}", radius, "mm", "0 or more", "enter the radius")
    if abs(abs(turn) - math.pi) < 1e-9:
        raise GeometryError(f"turn at corner {corner}", 180.0, "deg", "less than 180", "move the corner")
    return radius * math.tan(0.5 * abs(turn))


def _towards(origin: Point, target: Point, distance: float) -> Point:
    span = math.dist(origin, target)
    if span == 0.0:
        raise GeometryError("corner", origin, "mm", "apart from its neighbour", "remove the doubled corner")
    share = distance / span
    return (origin[0] + share * (target[0] - origin[0]), origin[1] + share * (target[1] - origin[1]))


def _fillet(corner: Point, begin: Point, beyond: Point, radius: float, reach: float, turn: float) -> Segment:
    end = _towards(corner, beyond, reach)
    heading = math.atan2(corner[1] - begin[1], corner[0] - begin[0])
    side = heading + math.copysign(0.5 * math.pi, turn)
    centre = (begin[0] + radius * math.cos(side), begin[1] + radius * math.sin(side))
    return arc(begin, end, centre, turn > 0.0)


def closed_up(profile: Profile) -> Profile:
    """The profile with every end set exactly on the next start and every arc centre set equally far from both ends.

    Files print coordinates to four decimals, so ends miss each other and arcs are not quite round. The centre is
    moved along the chord's perpendicular bisector onto the printed radius (mean of the two printed spokes).
    """
    segments: list[Segment] = []
    for number, segment in enumerate(profile.segments):
        start = segments[-1].end if number else segment.start
        centre = segment.centre
        if centre is not None:
            centre = _true_centre(start, segment.end, centre, segment.ccw, segment.sweep)
        segments.append(Segment(start, segment.end, centre, segment.ccw, segment.name))
    return Profile(tuple(segments), profile.name)


def _true_centre(start: Point, end: Point, centre: Point, ccw: bool, sweep: float) -> Point:
    radius = 0.5 * (math.dist(start, centre) + math.dist(end, centre))
    chord = math.dist(start, end)
    if chord < 1e-6 * radius or chord > 2.0 * radius:
        return centre
    middle = (0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1]))
    height = math.sqrt(max(radius * radius - 0.25 * chord * chord, 0.0))
    left = (-(end[1] - start[1]) / chord, (end[0] - start[0]) / chord)
    side = 1.0 if ccw == (abs(sweep) <= math.pi) else -1.0
    return (middle[0] + side * height * left[0], middle[1] + side * height * left[1])
