"""A roll contour by what can be changed on it: turns of its bends, hollow of its crowns, straights, radii.

Turns go with the arc's length kept, so that nothing beside the bend moves along the sheet. A crown is an inner straight
whose two bends turn alike: closed rolls bend it and flatten it again, and it bulges when let go, so it is cut hollow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from hoopwright.errors import GeometryError
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Point, Profile, Segment

Kind = Literal["turn", "hollow", "straight", "radius"]
Amounts = dict[tuple[Kind, int], float]

FLATTEST_PER_MM = 1e-7
"""A crown flatter than this is drawn straight."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that can be changed. segment : number in the section. step : of a difference [rad, 1/mm, mm, mm]."""

    kind: Kind
    segment: int
    step: float


def changes_of(section: Profile, every: bool) -> tuple[Change, ...]:
    """Turns and crown hollows; with `every` the hollow of other inner straights, their lengths, and the radii too."""
    bends = [k for k, segment in enumerate(section) if segment.is_arc]
    inner = [k for k in range(len(section)) if not section.segments[k].is_arc and bends and bends[0] < k < bends[-1]]
    crowns = [k for k in inner if section.segments[k - 1].curvature * section.segments[k + 1].curvature > 0.0]
    found = [Change("turn", k, math.radians(0.2)) for k in bends]
    found += [Change("hollow", k, 0.001) for k in crowns]
    if every:
        found += [Change("hollow", k, 0.001) for k in inner if k not in crowns]
        found += [Change("straight", k, 0.05) for k in inner]
        found += [Change("radius", k, 0.1) for k in bends]
    return tuple(found)


def changed(
    section: Profile, changes: tuple[Change, ...], values: Vector, least_radius_mm: float, held: float
) -> Profile:
    """The section with its changes, laid so that the place `held` along it stays where it is, and its direction there.

    Raises
    ------
    GeometryError
        A bend tighter than `least_radius_mm`, a straight without length, or a bend without turn.
    """
    amount: Amounts = {
        (change.kind, change.segment): float(value) for change, value in zip(changes, values, strict=True)
    }
    pieces: list[tuple[float, float]] = []
    for k, segment in enumerate(section):
        length, curve = segment.length, segment.curvature
        if segment.is_arc:
            length, curve = _bend(k, segment, amount, least_radius_mm)
        else:
            length += amount.get(("straight", k), 0.0)
            curve = amount.get(("hollow", k), 0.0)
            if length <= 0.0:
                raise GeometryError(f"straight {k}", round(length, 4), "mm", "longer than 0", "change less")
        pieces.append((length, curve))
    return _laid(section, _drawn(pieces), held)


def _bend(k: int, segment: Segment, amount: Amounts, least: float) -> tuple[float, float]:
    """Length and curvature of a bend: its turn with the length kept, then its radius with the turn kept."""
    sense = math.copysign(1.0, segment.sweep)
    turn = abs(segment.sweep) + sense * amount.get(("turn", k), 0.0)
    if turn <= 1e-3:
        raise GeometryError(f"turn of bend {k}", round(math.degrees(turn), 3), "deg", "above 0", "change less")
    radius = segment.length / turn + amount.get(("radius", k), 0.0)
    if radius < least:
        raise GeometryError(f"radius of bend {k}", round(radius, 4), "mm", f"at least {least:g}", "change less")
    return radius * turn, sense / radius


def _drawn(pieces: list[tuple[float, float]]) -> list[Segment]:
    """Segments of given length and curvature, one tangent to the next, from the origin along +x."""
    at: Point = (0.0, 0.0)
    heading = 0.0
    segments: list[Segment] = []
    for length, curve in pieces:
        if abs(curve) < FLATTEST_PER_MM:
            end = (at[0] + length * math.cos(heading), at[1] + length * math.sin(heading))
            segments.append(Segment(at, end))
        else:
            centre = (at[0] - math.sin(heading) / curve, at[1] + math.cos(heading) / curve)
            heading += length * curve
            end = (centre[0] + math.sin(heading) / curve, centre[1] - math.cos(heading) / curve)
            segments.append(Segment(at, end, centre, curve > 0.0))
        at = end
    return segments


def _laid(section: Profile, segments: list[Segment], held: float) -> Profile:
    """Moved and turned so that both run through the same point in the same direction at the held place."""
    number, share = _where(section, held)
    drawn = Profile(tuple(segments), section.name)
    length = segments[number].length
    point, angle = segments[number].point_at(share * length), segments[number].angle_at(share * length)
    goal, heading = section.point_at(held), section.angle_at(held)
    turned = drawn.turned(heading - angle, point)
    return turned.moved(goal[0] - point[0], goal[1] - point[1])


def _where(section: Profile, held: float) -> tuple[int, float]:
    breaks = section.breaks
    number = int(np.clip(np.searchsorted(breaks, held, side="right") - 1, 0, len(section) - 1))
    return number, (held - float(breaks[number])) / section.segments[number].length
