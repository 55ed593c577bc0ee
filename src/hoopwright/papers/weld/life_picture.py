"""Lives of weld and parent over amplitude, both logarithmic; what ran out is open and bears an arrow."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point, line
from hoopwright.kernels.seam_stats_life import LifeComparison, LifeTests
from hoopwright.papers.drawing.items import Dot, Drawing, Item, Path, Text, circle, polyline
from hoopwright.papers.numbers import written

ARROW_MM = 4.0


def life_drawing(
    lives: tuple[LifeTests, LifeTests], found: LifeComparison, width_mm: float = 110.0, height_mm: float = 62.0
) -> Drawing:
    """Cycles to the right, amplitude upwards. Dots are weld, squares are parent; open with an arrow: ran out.

    Raises
    ------
    InputError
        No tests.
    """
    every = [*lives[0].cycles, *lives[1].cycles], [*lives[0].amplitude, *lives[1].amplitude, found.design]
    if len(every[0]) < 2:
        raise InputError("life tests", len(every[0]), "", "two or more", "test more")
    # a run-out's arrow needs room to the right
    x = math.log10(min(every[0])) - 0.15, math.log10(max(every[0])) + 0.25
    y = math.log10(0.93 * min(every[1])), math.log10(1.07 * max(every[1]))

    def on(cycles: float, amplitude: float) -> Point:
        return (
            width_mm * (math.log10(cycles) - x[0]) / (x[1] - x[0]),
            height_mm * (math.log10(amplitude) - y[0]) / (y[1] - y[0]),
        )

    items: list[Item] = [*_axes(x, y, width_mm, height_mm)]
    level = on(10.0 ** x[0], found.design)[1]
    items.append(Path((line((0.0, level), (width_mm, level)),), "limit"))
    items.append(Text((width_mm, level), "design", 2.95, "italic", "start", (1.5, -1.0)))
    for k, tests in enumerate(lives):
        items += _line(found.lines[k], (10.0 ** y[0], 10.0 ** y[1]), x, on, "wide" if k == 0 else "dashed")
        for cycles, amplitude, out in _points(tests):
            items += _mark(on(cycles, amplitude), k == 0, out)
    items += _legend(width_mm, height_mm, any(any(t.run_out) for t in lives))
    return Drawing(tuple(items), "Life of weld and parent", "cycles against amplitude, both logarithmic")


def _points(tests: LifeTests) -> Iterable[tuple[float, float, bool]]:
    out = tests.run_out if len(tests.run_out) else [False] * len(tests.cycles)
    return zip(tests.cycles, tests.amplitude, out, strict=True)


def _mark(at: Point, weld: bool, out: bool) -> list[Item]:
    x, y = at
    shape = (
        circle(at, 1.0) if weld else polyline([(x - 1, y - 1), (x + 1, y - 1), (x + 1, y + 1), (x - 1, y + 1)], True)
    )
    items: list[Item] = [Path(shape, "narrow", "sheet" if out or not weld else "ink", True)]
    if not weld and not out:
        items.append(Dot(at, 0.35))
    if out:
        tip = (x + ARROW_MM, y)
        items.append(Path((line((x + 1.0, y), tip),), "narrow"))
        items.append(Path(polyline([(tip[0] - 1.2, y + 0.6), tip, (tip[0] - 1.2, y - 0.6)]), "narrow"))
    return items


def _line(
    fitted: tuple[float, float], amplitudes: tuple[float, float], x: tuple[float, float], on: object, pen: str
) -> list[Item]:
    """The fitted line, cut at the sides of the picture."""
    assert callable(on)
    a, b = fitted
    points = []
    for share in range(41):
        amplitude = amplitudes[0] * (amplitudes[1] / amplitudes[0]) ** (share / 40.0)
        lg = a + b * math.log10(amplitude)
        if x[0] <= lg <= x[1]:
            points.append(on(10.0**lg, amplitude))
    return [Path(polyline(points), pen)] if len(points) > 1 else []


def _axes(x: tuple[float, float], y: tuple[float, float], width: float, height: float) -> list[Item]:
    items: list[Item] = [
        Path((line((0.0, 0.0), (width, 0.0)),), "narrow"),
        Path((line((0.0, 0.0), (0.0, height)),), "narrow"),
    ]
    for cycles in _round_cycles(*x):
        at = width * (math.log10(cycles) - x[0]) / (x[1] - x[0])
        items.append(Path((line((at, 0.0), (at, -1.2)),), "narrow"))
        items.append(Text((at, -4.8), written(cycles, 0), anchor="middle"))
    low, high = 10.0 ** y[0], 10.0 ** y[1]
    step = next(s for s in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000) if (high - low) / s <= 6)
    for value in range(math.ceil(low / step) * step, math.floor(high) + 1, step):
        at = height * (math.log10(value) - y[0]) / (y[1] - y[0])
        items.append(Path((line((0.0, at), (-1.2, at)),), "narrow"))
        items.append(Text((-2.0, at - 1.0), written(float(value), 0), anchor="end"))
    items.append(Text((width, -9.4), "cycles", anchor="end"))
    items.append(Text((0.0, height + 1.8), "amplitude, MPa"))
    return items


def _round_cycles(low: float, high: float) -> list[float]:
    """Round lives between two logarithms: every decade, and 2 and 5 between them where the picture is short."""
    steps = (1.0, 2.0, 5.0) if high - low < 1.6 else (1.0, 3.0) if high - low < 2.6 else (1.0,)
    powers = range(math.floor(low), math.ceil(high) + 1)
    return [m * 10.0**k for k in powers for m in steps if low <= k + math.log10(m) <= high]


def _legend(width: float, height: float, ran_out: bool) -> list[Item]:
    x, y = width + 16.0, height - 3.0
    items: list[Item] = [*_mark((x, y), True, False), Text((x + 7.0, y - 1.0), "weld, line")]
    items += [*_mark((x, y - 6.0), False, False), Text((x + 7.0, y - 7.0), "parent, dashed")]
    if ran_out:
        items += [*_mark((x, y - 12.0), True, True), Text((x + 7.0, y - 13.0), "ran out, weld")]
        items += [*_mark((x, y - 18.0), False, True), Text((x + 7.0, y - 19.0), "ran out, parent")]
    return items
