"""Curves over an axis: a gap against time, a load against deflection. Origin lower left, mm on paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Dot, Drawing, Item, Path, Text, polyline
from hoopwright.papers.numbers import written


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve: its words, points and pen."""

    words: str
    points: tuple[Point, ...]
    pen: str = "wide"


@dataclass(frozen=True, slots=True)
class Axes:
    """Size on paper [mm], words of both axes, decimals of their figures, levels to rule across, points to mark."""

    width_mm: float
    height_mm: float
    x_words: str
    y_words: str
    levels: tuple[tuple[float, str], ...] = ()
    marks: tuple[tuple[Point, str], ...] = ()


def ticks(low: float, high: float, wanted: int = 5) -> list[float]:
    """Round values inside a range.

    >>> ticks(0.0, 1.0)
    [0.0, 0.2, 0.4, 0.6, 0.8, 1.0]
    """
    rough = (high - low) / wanted
    size = 10.0 ** math.floor(math.log10(rough))
    step = next(m * size for m in (1.0, 2.0, 2.5, 5.0, 10.0) if m * size >= rough - 1e-12)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [round(k * step, 12) for k in range(first, last + 1)]


def curves(axes: Axes, shown: Sequence[Curve], title: str) -> Drawing:
    """The curves with axes, ruled levels and marked points.

    Raises
    ------
    InputError
        No curve, or one without two points.
    """
    if not shown or any(len(c.points) < 2 for c in shown):
        raise InputError(title, len(shown), "curves", "one or more of two points", "give something to show")
    xs = [p[0] for c in shown for p in c.points]
    ys = [p[1] for c in shown for p in c.points] + [level for level, _ in axes.levels]
    x0, x1 = min(xs), max(xs)
    y0, y1 = min(ys), max(ys)
    span = y1 - y0 or 1.0
    # words stand under a mark: leave them room over the axis
    deep = any(point[1] < y0 + 0.1 * span for point, _ in axes.marks)
    y0, y1 = y0 - (0.18 if deep else 0.05) * span, y1 + 0.05 * span

    def on(point: Point) -> Point:
        x = axes.width_mm * (point[0] - x0) / (x1 - x0 or 1.0)
        return x, axes.height_mm * (min(max(point[1], y0), y1) - y0) / (y1 - y0)

    items: list[Item] = [*_frame(axes, (x0, x1), (y0, y1), on)]
    for level, words in axes.levels:
        items.append(Path((line(on((x0, level)), on((x1, level))),), "limit"))
        if words:
            items.append(Text((0.5 * axes.width_mm, on((x0, level))[1]), words, 2.95, "italic", shift=(0.0, 1.0)))
    for number, curve in enumerate(shown):
        items.append(Path(polyline([on(p) for p in curve.points]), curve.pen, title=curve.words))
        end = on(curve.points[-1])
        items.append(
            Text(end, curve.words, 2.95, "figures", "end", (-1.0, 1.4 if number % 2 == 0 else -3.6), knockout=True)
        )
    for point, words in axes.marks:
        items.append(Dot(on(point), 0.9))
        items.append(Text(on(point), words, 2.95, shift=(1.6, -3.4), knockout=True))
    return Drawing(tuple(items), title, f"{axes.y_words} over {axes.x_words}")


def _frame(axes: Axes, x: Point, y: Point, on: object) -> list[Item]:
    assert callable(on)
    items: list[Item] = [
        Path((line((0.0, 0.0), (axes.width_mm, 0.0)),), "narrow"),
        Path((line((0.0, 0.0), (0.0, axes.height_mm)),), "narrow"),
    ]
    for values, digits, flat in ((ticks(*x), _digits(ticks(*x)), True), (ticks(*y), _digits(ticks(*y)), False)):
        for value in values:
            at = on((value, y[0])) if flat else on((x[0], value))
            tail = (at[0], -1.2) if flat else (-1.2, at[1])
            items.append(Path((line(at, tail),), "narrow"))
            anchor, shift = ("middle", (0.0, -3.4)) if flat else ("end", (-0.8, -1.0))
            items.append(Text(tail, written(value, digits), 2.95, "figures", anchor, shift))  # type: ignore[arg-type]
    items.append(Text((axes.width_mm, 0.0), axes.x_words, 2.95, "figures", "end", (0.0, -9.0)))
    items.append(Text((0.0, axes.height_mm), axes.y_words, 2.95, "figures", "start", (1.0, 1.6)))
    return items


def _digits(values: list[float]) -> int:
    return max((len(f"{v:.6f}".rstrip("0").partition(".")[2]) for v in values), default=0)
