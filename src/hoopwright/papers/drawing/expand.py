"""From items to strokes and words on paper at one scale (mm on paper for each mm of the thing drawn)."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import require_positive
from hoopwright.kernels.profile import Point, Segment
from hoopwright.papers.drawing.expand_dimension import (
    angle_strokes,
    diameter_strokes,
    leader_strokes,
    linear_strokes,
    radius_strokes,
)
from hoopwright.papers.drawing.hatching import hatch_lines
from hoopwright.papers.drawing.items import (
    AngleDimension,
    Chain,
    DiameterDimension,
    Dot,
    Drawing,
    Group,
    Hatch,
    Item,
    Leader,
    LinearDimension,
    Mark,
    Path,
    Placed,
    RadiusDimension,
    Text,
    circle,
    polyline,
)
from hoopwright.papers.drawing.lettering import CAPITAL, DESCENT, text_width
from hoopwright.papers.drawing.strokes import Cluster, Primitive, Stroke, Words


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a drawing lies on the paper: its origin at `at`, `scale` mm on paper for each of its own."""

    scale: float
    at: Point = (0.0, 0.0)

    def point(self, p: Point) -> Point:
        """A point of the drawing, on paper."""
        return (self.at[0] + self.scale * p[0], self.at[1] + self.scale * p[1])

    def chain(self, chain: Chain) -> Chain:
        """A chain of the drawing, on paper."""
        return tuple(self._segment(s) for s in chain)

    def _segment(self, s: Segment) -> Segment:
        centre = None if s.centre is None else self.point(s.centre)
        return Segment(self.point(s.start), self.point(s.end), centre, s.ccw, s.name)


def expand(drawing: Drawing, scale: float = 1.0, at: Point = (0.0, 0.0)) -> tuple[Primitive, ...]:
    """Strokes and words of a drawing on paper, y up. [mm]"""
    require_positive("scale", scale)
    frame = Frame(scale, at)
    return tuple(p for item in drawing.items for p in item_strokes(item, frame))


def item_strokes(item: Item, frame: Frame) -> list[Primitive]:
    """Strokes and words of one item."""
    if isinstance(item, Path):
        return [Stroke(frame.chain(item.segments), item.pen, item.fill, item.closed, title=item.title)]
    if isinstance(item, Hatch):
        return _hatch(item, frame)
    if isinstance(item, Text):
        return _text(item, frame)
    if isinstance(item, Mark):
        return _mark(item, frame)
    if isinstance(item, Dot):
        return [Stroke(circle(frame.point(item.at), item.radius_mm), None, item.colour, True)]
    if isinstance(item, Group):
        return [Cluster(tuple(p for i in item.items for p in item_strokes(i, frame)), item.title, item.href)]
    if isinstance(item, Placed):
        inner = Frame(item.scale * frame.scale, frame.point(item.at))
        parts = tuple(p for i in item.drawing.items for p in item_strokes(i, inner))
        return [Cluster(parts, item.drawing.title)]
    return _annotation(item, frame)


def _annotation(
    item: LinearDimension | RadiusDimension | DiameterDimension | AngleDimension | Leader, frame: Frame
) -> list[Primitive]:
    if isinstance(item, LinearDimension):
        return linear_strokes(item, frame.point(item.p1), frame.point(item.p2))
    if isinstance(item, RadiusDimension):
        return radius_strokes(item, frame.point(item.centre), item.radius_mm * frame.scale)
    if isinstance(item, DiameterDimension):
        return diameter_strokes(item, frame.point(item.centre), item.radius_mm * frame.scale)
    if isinstance(item, AngleDimension):
        return angle_strokes(item, frame.point(item.centre), item.radius_mm * frame.scale)
    return leader_strokes(item, frame.point(item.tip))


def _hatch(item: Hatch, frame: Frame) -> list[Primitive]:
    lines = hatch_lines([frame.chain(loop) for loop in item.loops], item.angle_deg, item.spacing_mm)
    if not lines:
        return []
    return [Stroke((lines[0],), item.pen, more=tuple((line,) for line in lines[1:]))]


def _text(item: Text, frame: Frame) -> list[Primitive]:
    x, y = frame.point(item.at)
    place = (x + item.shift[0], y + item.shift[1])
    words = Words(place, item.text, item.size_mm, item.face, item.anchor, item.turn_deg, item.colour)
    return [*([_behind(words)] if item.knockout else []), words]


def _behind(words: Words) -> Stroke:
    """A patch of the sheet's colour behind lettering, a little larger than it."""
    size, pad = words.width_mm, 0.12 * words.size_mm
    left = {"start": 0.0, "middle": -0.5 * size, "end": -size}[words.anchor] - pad
    low, high = -DESCENT * words.size_mm - 0.5 * pad, CAPITAL * words.size_mm + pad
    turn = math.radians(words.turn_deg)
    c, s = math.cos(turn), math.sin(turn)
    corners = [(left, low), (left + size + 2.0 * pad, low), (left + size + 2.0 * pad, high), (left, high)]
    points = [(words.at[0] + a * c - b * s, words.at[1] + a * s + b * c) for a, b in corners]
    return Stroke(polyline(points, closed=True), None, "sheet", True)


MARK_RADIUS_MM = 2.5


def _mark(item: Mark, frame: Frame) -> list[Primitive]:
    x, y = frame.point(item.at)
    centre = (x + item.shift[0], y + item.shift[1])
    number = str(item.number)
    size = 3.1 if text_width(number, 3.1, "figures-bold") < 2.9 else 2.95
    colour = "sheet" if item.level == "stop" else "ink"
    words = Words((centre[0], centre[1] - 0.5 * CAPITAL * size), number, size, "figures-bold", "middle", 0.0, colour)
    title = f"finding {item.number}, {item.level}"
    if item.level == "stop":
        corners = [
            (centre[0] + 2.75 * math.cos(math.radians(a)), centre[1] + 2.75 * math.sin(math.radians(a)))
            for a in (22.5 + 45.0 * k for k in range(8))
        ]
        return [Cluster((Stroke(polyline(corners, closed=True), None, "ink", True), words), title)]
    rings: list[Primitive] = [Stroke(circle(centre, MARK_RADIUS_MM), "narrow", "sheet", True)]
    if item.level == "caution":
        rings = [
            Stroke(circle(centre, MARK_RADIUS_MM + 0.6), "narrow", "sheet", True),
            Stroke(circle(centre, MARK_RADIUS_MM), "narrow", None, True),
        ]
    return [Cluster((*rings, words), title)]
