"""The liner cold and hot in one picture, movements exaggerated; datum, slip joint and ports marked. mm; x = z, y =
r."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.kernels.profile import Point
from hoopwright.papers.drawing.items import Drawing, Item, Leader, Path, Text, polyline
from hoopwright.papers.numbers import written

EXAGGERATED = 10.0


@dataclass(frozen=True, slots=True)
class Outline:
    """Mid-surface of a part, cold and by how much it moves, point by point. [mm]"""

    part: str
    cold: tuple[Point, ...]
    moved: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Callout:
    """Words at a place of the hot liner. moved : true movement there, for the exaggerated place."""

    at: Point
    moved: Point
    lines: tuple[str, ...]
    elbow: Point


def hot_overlay(outlines: Sequence[Outline], callouts: Sequence[Callout], times: float = EXAGGERATED) -> Drawing:
    """Cold lines dashed, hot lines full, `times` too far apart; true numbers stand at the leaders."""
    items: list[Item] = []
    for one in outlines:
        hot = [(x + times * u, y + times * v) for (x, y), (u, v) in zip(one.cold, one.moved, strict=True)]
        items.append(Path(polyline(list(one.cold)), "other", title=f"{one.part} cold"))
        items.append(Path(polyline(hot), "wide", title=f"{one.part} hot, movement times {times:g}"))
    for call in callouts:
        tip = (call.at[0] + times * call.moved[0], call.at[1] + times * call.moved[1])
        items.append(Leader(tip, call.elbow, call.lines))
    low = min(p[1] for one in outlines for p in one.cold)
    left = min(p[0] for one in outlines for p in one.cold)
    words = f"chain line: cold; full line: hot, movement shown {written(times, 0)} times"
    items.append(Text((left, low), words, shift=(0.0, -9.0)))
    parts = ", ".join(one.part for one in outlines)
    return Drawing(tuple(items), "liner cold and hot", f"mid-surfaces of {parts}, movement shown {times:g} times")
