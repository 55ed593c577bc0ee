"""Dimensions and leaders as strokes, in the manner of ISO 129 (from memory): figure above the line, filled slender
arrows, extension lines a little past the dimension line. All points in mm on paper, y up.
"""

from __future__ import annotations

import math

from hoopwright.kernels.profile import Point, arc, line
from hoopwright.papers.drawing.items import (
    AngleDimension,
    DiameterDimension,
    Leader,
    LinearDimension,
    RadiusDimension,
    circle,
    polyline,
)
from hoopwright.papers.drawing.lettering import CAPITAL, text_width
from hoopwright.papers.drawing.strokes import Primitive, Stroke, Words
from hoopwright.papers.numbers import NO_BREAK, written

ARROW_MM, ARROW_HALF_MM = 2.6, 0.42
GAP_MM, PAST_MM, ABOVE_MM = 0.6, 1.4, 0.8


def dimension_text(item: LinearDimension | RadiusDimension | DiameterDimension | AngleDimension) -> str:
    """What a dimension prints."""
    if isinstance(item, RadiusDimension):
        return f"R{NO_BREAK}{written(item.radius_mm, item.digits)}{item.suffix}"
    if isinstance(item, DiameterDimension):
        return f"Ø{NO_BREAK}{written(2.0 * item.radius_mm, item.digits)}{item.suffix}"
    if isinstance(item, AngleDimension):
        return f"{written(item.measured_deg, item.digits)}°{item.suffix}"
    value = item.measured_mm if item.value_mm is None else item.value_mm
    return f"{item.prefix}{written(value, item.digits)}{item.suffix}"


def arrow(tip: Point, angle: float) -> Stroke:
    """A filled arrow head pointing along `angle` [rad]."""
    c, s = math.cos(angle), math.sin(angle)
    back = (tip[0] - ARROW_MM * c, tip[1] - ARROW_MM * s)
    left = (back[0] - ARROW_HALF_MM * s, back[1] + ARROW_HALF_MM * c)
    right = (back[0] + ARROW_HALF_MM * s, back[1] - ARROW_HALF_MM * c)
    return Stroke(polyline([tip, left, right], closed=True), None, "ink", True)


def _rule(a: Point, b: Point) -> list[Primitive]:
    return [Stroke((line(a, b),), "narrow")] if math.dist(a, b) > 1e-6 else []


def _along(p: Point, angle: float, distance: float) -> Point:
    return (p[0] + distance * math.cos(angle), p[1] + distance * math.sin(angle))


def readable(angle: float) -> float:
    """Turn of lettering along a line, so that it reads from below or from the right. [rad]"""
    turn = math.remainder(angle, 2.0 * math.pi)
    if turn > 0.5 * math.pi + 1e-9 or turn <= -0.5 * math.pi + 1e-9:
        turn = math.remainder(turn + math.pi, 2.0 * math.pi)
    return turn


def _above(middle: Point, angle: float, text: str, size: float) -> Words:
    turn = readable(angle)
    place = _along(middle, turn + 0.5 * math.pi, ABOVE_MM)
    return Words(place, text, size, "figures", "middle", math.degrees(turn))


def linear_strokes(item: LinearDimension, p1: Point, p2: Point) -> list[Primitive]:
    """Extension lines, dimension line, arrows and figure of a linear dimension."""
    level = {"x": 0.0, "y": 0.5 * math.pi}.get(item.direction, math.atan2(p2[1] - p1[1], p2[0] - p1[0]))
    normal = level + 0.5 * math.pi
    along = (p2[0] - p1[0]) * math.cos(level) + (p2[1] - p1[1]) * math.sin(level)
    across = (p2[0] - p1[0]) * math.cos(normal) + (p2[1] - p1[1]) * math.sin(normal)
    a = _along(p1, normal, item.offset_mm)
    b = _along(a, level, along)
    parts = _extension(p1, normal, item.offset_mm) + _extension(p2, normal, item.offset_mm - across)
    ahead = level if along >= 0.0 else level + math.pi
    span, text = abs(along), dimension_text(item)
    size = text_width(text, item.size_mm, "figures")
    if span >= size + 2.0 * ARROW_MM + 0.8:
        return [
            *parts,
            *_rule(a, b),
            arrow(a, ahead + math.pi),
            arrow(b, ahead),
            _above(_middle(a, b), level, text, item.size_mm),
        ]
    outer_a, tail = _along(a, ahead, -ARROW_MM - 1.5), ARROW_MM + 1.5
    if span >= size + 0.8:
        outer_b, middle = _along(b, ahead, tail), _middle(a, b)
    else:
        outer_b, middle = _along(b, ahead, tail + size), _along(b, ahead, tail + 0.5 * size)
    heads: list[Primitive] = [arrow(a, ahead), arrow(b, ahead + math.pi)]
    return [*parts, *_rule(outer_a, outer_b), *heads, _above(middle, level, text, item.size_mm)]


def _middle(a: Point, b: Point) -> Point:
    return (0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]))


def _extension(foot: Point, normal: float, reach: float) -> list[Primitive]:
    """Extension line from near the foot to a little past the dimension line."""
    sign = 1.0 if reach >= 0.0 else -1.0
    if abs(reach) < GAP_MM:
        return []
    return _rule(_along(foot, normal, sign * GAP_MM), _along(foot, normal, reach + sign * PAST_MM))


def radius_strokes(item: RadiusDimension, centre: Point, radius: float) -> list[Primitive]:
    """Line on the spoke with an arrow on the arc and the figure on a short shelf beyond."""
    spoke = math.radians(item.angle_deg)
    return _spoke_with_shelf(_along(centre, spoke, radius), spoke, item.reach_mm, dimension_text(item), item.size_mm)


def _spoke_with_shelf(tip: Point, spoke: float, reach: float, text: str, size_mm: float) -> list[Primitive]:
    end = _along(tip, spoke, reach)
    pointing = spoke + math.pi if reach >= 0.0 else spoke
    side = 1.0 if end[0] >= tip[0] - 1e-9 else -1.0
    size = text_width(text, size_mm, "figures")
    shelf = (end[0] + side * (size + 0.8), end[1])
    start = end if side > 0.0 else shelf
    words = Words((start[0] + 0.4, start[1] + ABOVE_MM), text, size_mm, "figures")
    return [*_rule(tip, end), *_rule(end, shelf), arrow(tip, pointing), words]


def diameter_strokes(item: DiameterDimension, centre: Point, radius: float) -> list[Primitive]:
    """Line through the centre, arrow at the near end, the far end led out to the figure."""
    spoke = math.radians(item.angle_deg)
    near, far = _along(centre, spoke, -radius), _along(centre, spoke, radius)
    inside = 2.0 * radius >= 2.0 * ARROW_MM + 2.0
    led = _spoke_with_shelf(far, spoke, item.reach_mm, dimension_text(item), item.size_mm)
    if not inside:
        return [*_rule(near, far), *led]
    return [*_rule(near, far), arrow(near, spoke + math.pi), *led]


def angle_strokes(item: AngleDimension, centre: Point, radius: float) -> list[Primitive]:
    """Arc with arrows and the figure outside its middle; the legs are drawn by whoever draws the thing."""
    a, b = math.radians(item.start_deg), math.radians(item.start_deg + item.measured_deg)
    start, end = _along(centre, a, radius), _along(centre, b, radius)
    text = dimension_text(item)
    if item.measured_deg >= 360.0 - 1e-9:
        whole: list[Primitive] = [Stroke(circle(centre, radius), "narrow", None, True)]
        return [*whole, _outside(centre, radius, 0.5 * (a + b), text, item.size_mm)]
    bow: list[Primitive] = [Stroke((arc(start, end, centre, True),), "narrow")]
    # an arrow is a chord of the arc: it is laid along the arc's own direction under the middle of the head
    lean = 0.5 * ARROW_MM / radius
    if radius * (b - a) >= 2.0 * ARROW_MM + 1.0:
        heads: list[Primitive] = [arrow(start, a - 0.5 * math.pi + lean), arrow(end, b + 0.5 * math.pi - lean)]
        return [*bow, *heads, _outside(centre, radius, 0.5 * (a + b), text, item.size_mm)]
    heads = [arrow(start, a + 0.5 * math.pi - lean), arrow(end, b - 0.5 * math.pi + lean)]
    tail = (ARROW_MM + 1.2) / radius
    past = Stroke((arc(end, _along(centre, b + tail, radius), centre, True),), "narrow")
    before = Stroke((arc(_along(centre, a - tail, radius), start, centre, True),), "narrow")
    reach = tail + (0.5 * text_width(text, item.size_mm, "figures") + 0.6) / radius
    return [*bow, before, past, *heads, _outside(centre, radius - ABOVE_MM, b + reach, text, item.size_mm)]


def _outside(centre: Point, radius: float, spoke: float, text: str, size: float) -> Words:
    """Lettering outside an arc, square to the spoke and readable."""
    up = math.sin(spoke) >= -1e-9
    place = _along(centre, spoke, radius + ABOVE_MM + (0.0 if up else CAPITAL * size))
    return Words(place, text, size, "figures", "middle", math.degrees(readable(spoke - 0.5 * math.pi)))


def leader_strokes(item: Leader, tip: Point) -> list[Primitive]:
    """Line from the tip to the shelf, dot or arrow at the tip, words on and under the shelf."""
    elbow = (tip[0] + item.elbow[0], tip[1] + item.elbow[1])
    side = 1.0 if item.elbow[0] >= 0.0 else -1.0
    size = max(text_width(t, item.size_mm, item.face) for t in item.lines) + 1.2
    shelf = (elbow[0] + side * size, elbow[1])
    left = min(elbow[0], shelf[0]) + 0.6
    parts = [*_rule(tip, elbow), *_rule(elbow, shelf)]
    if item.end == "dot":
        parts.append(Stroke(circle(tip, 0.6), None, "ink", True))
    else:
        parts.append(arrow(tip, math.atan2(tip[1] - elbow[1], tip[0] - elbow[0])))
    parts.append(Words((left, elbow[1] + ABOVE_MM), item.lines[0], item.size_mm, item.face))
    for number, text in enumerate(item.lines[1:], start=1):
        down = elbow[1] - 0.5 - number * 1.25 * item.size_mm + 0.35 * item.size_mm
        parts.append(Words((left, down), text, item.size_mm, "figures"))
    return parts
