"""The trade-offs of a segment set drawn: roundness, thinning, pull, edges, cuts and rocking over the count."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Dot, Drawing, Item, Path, Placed, Text, polyline
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.curves import ticks
from hoopwright.plan.choice.choose import Choice
from hoopwright.plan.choice.options import HIT_PLANS, HIT_WORDS
from hoopwright.plan.choice.weigh import Weighed

WIDE_MM, HIGH_MM = 46.0, 30.0
STEP_X, STEP_Y = 66.0, 54.0
PENS = {"one": "wide", "low-then-full": "reckoned", "twice": "dashed", "second-lower": "dotted"}


@dataclass(frozen=True, slots=True)
class Panel:
    """One trade-off: words, unit, what of a choice, decimals, and its limit where it has one."""

    words: str
    of: Callable[[Weighed], float]
    digits: int
    limit: float | None = None


def trade_offs(choice: Choice, edge_radius_mm: float) -> Drawing:
    """Six panels over the count of segments, a line for each way of hitting; edges as given, turned where it sizes.

    Raises
    ------
    InputError
        No choice with these edges.
    """
    limits = {name: limit for name, limit, _unit in choice.limits}
    panels = (
        Panel("out of round, mm", lambda w: w.peak_to_valley_mm, 3, limits["roundness the tool may use"]),
        Panel("thinnest place, mm", lambda w: w.thinnest_mm, 3),
        Panel("pin pull, kN", lambda w: w.pull_kN, 1),
        Panel("edge pressure, MPa", lambda w: w.edge_pressure_MPa, 0, limits["edge pressure"]),
        Panel("wire cuts", lambda w: float(w.option.cuts), 0),
        Panel("rocking stiffness", lambda w: w.rocking, 2),
    )
    shown = [
        row.weighed
        for row in choice.ranked
        if row.weighed.option.edge_radius_mm == edge_radius_mm and row.weighed.option.under_mm == 0.0
    ]
    planned = [w.option.stretch_eng for w in shown]
    shown = [w for w in shown if planned.count(w.option.stretch_eng) == max(map(planned.count, set(planned)))]
    if not shown:
        raise InputError("edge radius", edge_radius_mm, "mm", "one of the choices", "take one that was looked at")
    best = choice.best.weighed
    items: list[Item] = []
    for k, panel in enumerate(panels):
        at = (STEP_X * (k % 3), -STEP_Y * (k // 3))
        items.append(Placed(_panel(panel, shown, best), at, 1.0))
    items += _legend()
    return Drawing(tuple(items), "segment sets: what each count and way of hitting costs", "best choice dotted")


def _panel(panel: Panel, shown: Sequence[Weighed], best: Weighed) -> Drawing:
    counts = sorted({w.option.count for w in shown})
    values = [panel.of(w) for w in shown]
    near = panel.limit is not None and panel.limit <= 1.6 * max(values)
    top = max([*values, *([panel.limit] if near and panel.limit is not None else [])])
    low = min(0.0, *values) if panel.digits != 3 or min(values) < 0.3 * top else min(values) - 0.3 * (top - min(values))
    high = top + 0.08 * ((top - low) or 1.0)
    x0, x1 = counts[0] - 0.6, counts[-1] + 0.6

    def on(count: float, value: float) -> Point:
        return WIDE_MM * (count - x0) / (x1 - x0), HIGH_MM * (value - low) / (high - low)

    items: list[Item] = [
        Path((line((0.0, 0.0), (WIDE_MM, 0.0)),), "narrow"),
        Path((line((0.0, 0.0), (0.0, HIGH_MM)),), "narrow"),
        Text((0.0, HIGH_MM), panel.words, 2.95, "figures-bold", "start", (0.0, 2.4)),
    ]
    items += _scales(counts, (low, high), panel.digits, on)
    if near and panel.limit is not None:
        y = on(counts[0], panel.limit)[1]
        items += [
            Path((line((0.0, y), (WIDE_MM, y)),), "limit"),
            Text((WIDE_MM, y), "limit", 2.95, "italic", "end", (0.0, 0.9)),
        ]
    for plan in HIT_PLANS:
        points = sorted(on(w.option.count, panel.of(w)) for w in shown if w.option.hits == plan)
        if len(points) > 1:
            items.append(Path(polyline(points), PENS[plan], title=HIT_WORDS[plan]))
        elif points:
            items.append(Dot(points[0], 0.5))
    if best.option.count in counts:
        items.append(Dot(on(best.option.count, panel.of(best)), 1.1))
    return Drawing(tuple(items), panel.words)


def _scales(counts: Sequence[int], span: Point, digits: int, on: Callable[[float, float], Point]) -> list[Item]:
    items: list[Item] = []
    for count in counts:
        x = on(count, span[0])[0]
        items.append(Path((line((x, 0.0), (x, -1.0)),), "narrow"))
        items.append(Text((x, -1.0), str(count), 2.95, "figures", "middle", (0.0, -3.3)))
    for value in ticks(*span, wanted=4):
        y = on(counts[0], value)[1]
        items.append(Path((line((0.0, y), (-1.0, y)),), "narrow"))
        items.append(Text((-1.0, y), written(value, digits), 2.95, "figures", "end", (-0.6, -1.0)))
    return items


def _legend() -> list[Item]:
    items: list[Item] = []
    y = -STEP_Y - 16.0
    for k, plan in enumerate(HIT_PLANS):
        x, down = 0.0, y - 5.0 * k
        items.append(Path((line((x, down + 1.0), (x + 9.0, down + 1.0)),), PENS[plan]))
        items.append(Text((x + 11.0, down), HIT_WORDS[plan], 2.95))
    items.append(Dot((4.5, y - 19.0), 1.1))
    items.append(Text((11.0, y - 20.0), "first choice; over the count of segments", 2.95))
    return items
