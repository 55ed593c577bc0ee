"""What is left of a drawing when its scale is known: strokes and words in mm on paper, y up, in clusters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import TypeAlias

from hoopwright.kernels.profile import Point
from hoopwright.papers.drawing.hatching import chain_points
from hoopwright.papers.drawing.items import Anchor, Chain
from hoopwright.papers.drawing.lettering import CAPITAL, DESCENT, text_width
from hoopwright.papers.drawing.pens import Face, pen

Box = tuple[float, float, float, float]
"""x least, y least, x greatest, y greatest. [mm]"""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A chain stroked and filled; several chains of one pen where `more` is given (hatching)."""

    segments: Chain
    pen: str | None
    fill: str | None = None
    closed: bool = False
    more: tuple[Chain, ...] = ()
    title: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """One line of lettering on its base line."""

    at: Point
    text: str
    size_mm: float
    face: Face
    anchor: Anchor = "start"
    turn_deg: float = 0.0
    colour: str = "ink"

    @property
    def width_mm(self) -> float:
        """Width along the base line. [mm]"""
        return text_width(self.text, self.size_mm, self.face)


@dataclass(frozen=True, slots=True)
class Cluster:
    """Primitives that belong together, with a title for a reader who cannot see them and a link."""

    parts: tuple[Primitive, ...]
    title: str = ""
    href: str = ""


Primitive: TypeAlias = Stroke | Words | Cluster


def flat(parts: Sequence[Primitive]) -> list[Stroke | Words]:
    """All strokes and words, clusters opened, in drawing order."""
    found: list[Stroke | Words] = []
    for part in parts:
        if isinstance(part, Cluster):
            found += flat(part.parts)
        else:
            found.append(part)
    return found


def words_box(words: Words) -> Box:
    """Box about a line of lettering, turned ones by their corners. [mm]"""
    size = words.width_mm
    left = {"start": 0.0, "middle": -0.5 * size, "end": -size}[words.anchor]
    down, up = -DESCENT * words.size_mm, (CAPITAL + 0.08) * words.size_mm
    c, s = cos(radians(words.turn_deg)), sin(radians(words.turn_deg))
    corners = [(left, down), (left + size, down), (left, up), (left + size, up)]
    xs = [words.at[0] + x * c - y * s for x, y in corners]
    ys = [words.at[1] + x * s + y * c for x, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def stroke_box(stroke: Stroke) -> Box:
    """Box about a stroke, half its pen included. [mm]"""
    points = [p for chain in (stroke.segments, *stroke.more) for p in chain_points(chain, 0.02)]
    half = 0.5 * pen(stroke.pen).width_mm if stroke.pen else 0.0
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half


def box_of(parts: Sequence[Primitive]) -> Box:
    """Box about everything; (0, 0, 0, 0) about nothing. [mm]"""
    boxes = [words_box(p) if isinstance(p, Words) else stroke_box(p) for p in flat(parts)]
    if not boxes:
        return 0.0, 0.0, 0.0, 0.0
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)
