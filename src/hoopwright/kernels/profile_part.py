"""A contour on its way from flat: every angle at a share of its turn, lengths kept. Units mm, rad.

Lines keep their lengths; an arc of radius R and sweep a becomes one of radius R / share and sweep share a, which has
the same length R |a|. At share 0 the whole is one straight. This is how a strip stands between passes that close one
pair of rolls in steps: the neutral fibre keeps its length, so the strip is wider the flatter it is.

Derived here; exact. Checked in tests/exact/test_profile_part_exact.py against the closed form of a joggle.
"""

from __future__ import annotations

import math

from hoopwright.errors import require_range
from hoopwright.kernels.profile import Point, Profile, Segment, arc, line


def part_turned(profile: Profile, share: float, level: float = 0.0) -> Profile:
    """The contour with every direction at `level + share (direction - level)`, started at its own start.

    Parameters
    ----------
    profile : open contour whose directions stay within half a turn of `level`. [mm]
    share : 0 flat to 1 as given. [1]
    level : direction of the flat. [rad]

    Raises
    ------
    InputError
        A share outside 0 to 1.
    """
    part = require_range("share of the turn", share, 0.0, 1.0)
    if part == 0.0:
        length, (x, y) = profile.length, profile.start
        return Profile((line((x, y), (x + length * math.cos(level), y + length * math.sin(level))),), profile.name)
    at, made = profile.start, []
    for segment in profile:
        heading = level + part * (_near(segment.angle_at(0.0), level) - level)
        made.append(_onward(segment, at, heading, part))
        at = made[-1].end
    return Profile(tuple(made), profile.name)


def _near(angle: float, level: float) -> float:
    """The same direction within half a turn of the level. [rad]"""
    return level + math.remainder(angle - level, 2.0 * math.pi)


def _onward(segment: Segment, at: Point, heading: float, share: float) -> Segment:
    if segment.centre is None:
        length = segment.length
        return line(at, (at[0] + length * math.cos(heading), at[1] + length * math.sin(heading)), segment.name)
    radius, side = segment.radius / share, 1.0 if segment.ccw else -1.0
    centre = (at[0] - side * radius * math.sin(heading), at[1] + side * radius * math.cos(heading))
    turned = heading + share * segment.sweep
    end = (centre[0] + side * radius * math.sin(turned), centre[1] - side * radius * math.cos(turned))
    return arc(at, end, centre, segment.ccw, segment.name)
