"""Labels led out from a picture into a row above or below it, spread so that no two meet. mm on paper at one scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from hoopwright.errors import require_positive
from hoopwright.kernels.profile import Point
from hoopwright.papers.drawing.items import Dot, Item, Path, Text, polyline
from hoopwright.papers.drawing.lettering import text_width
from hoopwright.papers.drawing.pens import LEAST_TEXT_MM

GAP_MM = 2.5
_ARROW_MM, _ARROW_HALF_MM = 2.4, 0.4


@dataclass(frozen=True, slots=True)
class Callout:
    """Something to say about a place. lines : at most two; the first stands on the shelf, the second under it."""

    tip: Point
    lines: tuple[str, ...]

    @property
    def width_mm(self) -> float:
        """Width of the shelf."""
        return max(text_width(text, LEAST_TEXT_MM, "figures") for text in self.lines) + 1.4


def spread(wanted: Sequence[float], widths: Sequence[float], gap: float = GAP_MM) -> list[float]:
    """Left ends of labels in one row, in the order given, none overlapping, close to the ends wanted.

    Neighbours that would overlap become one group, which is set about the mean of its wishes (pooling of adjacent
    violators).

    >>> spread([0.0, 1.0, 30.0], [10.0, 10.0, 10.0], 2.0)
    [-5.5, 6.5, 30.0]
    """
    groups: list[tuple[list[int], float]] = []
    offsets = [0.0] * len(wanted)
    for k, wish in enumerate(wanted):
        members, start = [k], wish
        while groups and groups[-1][1] + _extent(groups[-1][0], widths, gap) > start:
            members = groups.pop()[0] + members
            place = 0.0
            for m in members:
                offsets[m] = place
                place += widths[m] + gap
            start = math.fsum(wanted[m] - offsets[m] for m in members) / len(members)
        if len(members) == 1:
            offsets[k] = 0.0
        groups.append((members, start))
    return [start + offsets[m] for members, start in groups for m in members]


def _extent(members: list[int], widths: Sequence[float], gap: float) -> float:
    return math.fsum(widths[m] + gap for m in members)


def kept_left(lefts: Sequence[float], widths: Sequence[float], limit: float, gap: float = GAP_MM) -> list[float]:
    """Labels of a row pushed to the left until the last ends at `limit`, none overlapping.

    >>> kept_left([0.0, 10.0], [5.0, 5.0], 12.0, 2.0)
    [0.0, 7.0]
    """
    moved: list[float] = []
    for left, width in zip(reversed(lefts), reversed(widths), strict=True):
        moved.insert(0, min(left, limit - width))
        limit = moved[0] - gap
    return moved


def row_of_callouts(
    callouts: Sequence[Callout],
    row_y: float,
    scale: float,
    end: Literal["dot", "arrow"] = "dot",
    right_x: float | None = None,
) -> tuple[Item, ...]:
    """Shelves at `row_y` of the thing drawn, with a leader each; a leader comes up to its shelf past the lettering.

    Parameters
    ----------
    row_y : height of the shelves, in mm of the thing drawn. scale : mm on paper for each mm of the thing drawn.
    right_x : where the row ends at the right, in mm of the thing drawn; None lets it run on.
    """
    k = require_positive("scale", scale)
    ordered = sorted(callouts, key=lambda c: c.tip[0])
    wishes = [k * c.tip[0] + 1.5 for c in ordered]
    widths = [c.width_mm for c in ordered]
    lefts = spread(wishes, widths)
    if right_x is not None:
        lefts = kept_left(lefts, widths, k * right_x)
    items: list[Item] = []
    for callout, left in zip(ordered, lefts, strict=True):
        above = row_y > callout.tip[1]
        # the leader passes the lettering on its own side of the shelf upright: under it above, over it below
        pass_by = -(1.5 + 3.6 * (len(callout.lines) - 1)) if above else 4.6
        elbow, knee = (left / k, row_y), (left / k, row_y + pass_by / k)
        shelf = ((left + callout.width_mm) / k, row_y)
        items.append(Text(elbow, callout.lines[0], shift=(0.7, 0.9), knockout=True))
        for number, text in enumerate(callout.lines[1:], start=1):
            items.append(Text(elbow, text, shift=(0.7, -3.2 - 3.8 * (number - 1)), knockout=True))
        # lines come after the lettering, whose ground would else wipe out a piece of the shelf
        items.append(Path(polyline([callout.tip, knee, elbow, shelf]), "narrow"))
        items.append(_end(callout.tip, knee, k, end))
    return tuple(items)


def _end(tip: Point, knee: Point, scale: float, end: str) -> Item:
    if end == "dot":
        return Dot(tip)
    a = math.atan2(tip[1] - knee[1], tip[0] - knee[0])
    c, s = math.cos(a), math.sin(a)
    length, half = _ARROW_MM / scale, _ARROW_HALF_MM / scale
    back = (tip[0] - length * c, tip[1] - length * s)
    sides = [(back[0] - half * s, back[1] + half * c), (back[0] + half * s, back[1] - half * c)]
    return Path(polyline([tip, *sides], closed=True), None, "ink", True)
