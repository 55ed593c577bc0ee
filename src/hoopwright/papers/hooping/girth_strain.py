"""Strain once round the ring, unrolled: washed by share of its limit, hatched where the limit is passed."""

from __future__ import annotations

import math
from itertools import groupby

import numpy as np

from hoopwright.kernels.profile import line
from hoopwright.papers.drawing.items import Drawing, Hatch, Item, Path, Text, polyline, rectangle
from hoopwright.papers.drawing.pens import wash_step
from hoopwright.papers.hooping.view import HitView
from hoopwright.papers.numbers import share_pct, written
from hoopwright.process.workpiece import Array

STRIP_MM, GRAPH_MM, GAP_MM = 6.0, 26.0, 7.0
LIMIT_PCT = 100.0
CELLS = 720


def girth_strain(view: HitView, width_mm: float = 170.0) -> Drawing:
    """The strip (share of the limit) over the line of the strain; mm on paper, origin lower left of the graph."""
    turn = 2.0 * math.pi
    edges = np.linspace(0.0, turn, CELLS + 1)
    middle = 0.5 * (edges[1:] + edges[:-1])
    share = np.interp(middle, view.clock_rad, view.share_pct, period=turn)
    strain = 100.0 * np.interp(middle, view.clock_rad, view.strain_log, period=turn)
    low, top = GRAPH_MM + GAP_MM, GRAPH_MM + GAP_MM + STRIP_MM
    items: list[Item] = []
    for (step, over), (a, b) in _runs([(wash_step(float(s)), bool(s > LIMIT_PCT)) for s in share]):
        box = rectangle(width_mm * a / CELLS, low, width_mm * (b + 1) / CELLS, top)
        items.append(Path(box, None, f"wash{step}", True))
        if over:
            items += [Hatch((box,), 45.0, 0.65, "near"), Hatch((box,), -45.0, 0.65, "over")]
    items.append(Path(rectangle(0.0, low, width_mm, top), "fine"))
    items += _marks(view, width_mm, top)
    items += _graph(middle / turn * width_mm, strain, width_mm)
    peak = share_pct(0.01 * float(share.max()))
    items.append(Text((0.0, top + 9.4), f"share of the strain limit used, at most {peak}", 2.95))
    title = f"{view.name}, hit {view.number} of {view.of}: stretch once round"
    span = f"{written(float(strain.min()), 2)} to {written(float(strain.max()), 2)} %"
    return Drawing(tuple(items), title, f"stretch {span}, at most {peak} of its limit; {view.count} slots, one seam")


def _runs(values: list[tuple[int, bool]]) -> list[tuple[tuple[int, bool], tuple[int, int]]]:
    found, begin = [], 0
    for value, group in groupby(values):
        count = sum(1 for _ in group)
        found.append((value, (begin, begin + count - 1)))
        begin += count
    return found


def _marks(view: HitView, width_mm: float, top: float) -> list[Item]:
    """Slots as dotted lines through strip and graph, segment numbers over their middles, the seam as a tick."""
    items: list[Item] = []
    for slot in view.slots_rad:
        x = width_mm * float(slot) / (2.0 * math.pi)
        items.append(Path((line((x, 0.0), (x, top + 1.2)),), "slot", title="a slot"))
    for k in range(view.count):
        x = width_mm * k / view.count
        items.append(Text((x, top + 1.6), str(k + 1), 2.95, "figures-bold", "start" if k == 0 else "middle"))
    if view.seam_rad is not None:
        x = width_mm * view.seam_rad / (2.0 * math.pi)
        items.append(Path((line((x, top), (x, top + 4.6)),), "wide", title="the seam"))
        items.append(Text((x, top + 5.0), "seam", 2.95, "italic", "middle"))
    return items


def _graph(x: Array, strain: Array, width_mm: float) -> list[Item]:
    low, high = float(strain.min()), float(strain.max())
    span = max(high - low, 0.05)
    floor, ceiling = low - 0.1 * span, high + 0.1 * span

    def up(value: float) -> float:
        return GRAPH_MM * (value - floor) / (ceiling - floor)

    points = [(float(a), up(float(b))) for a, b in zip(x, strain, strict=True)]
    items: list[Item] = [
        Path((line((0.0, 0.0), (width_mm, 0.0)),), "narrow"),
        Path((line((0.0, 0.0), (0.0, GRAPH_MM)),), "narrow"),
        Path(polyline(points), "reckoned-narrow", title="stretch round the ring"),
    ]
    for value in (low, high):
        items.append(Path((line((0.0, up(value)), (-1.2, up(value))),), "narrow"))
        items.append(Text((-1.8, up(value)), written(value, 2), 2.95, "figures", "end", (0.0, -1.0)))
    items.append(Text((1.5, GRAPH_MM + 1.4), "stretch, %, natural", 2.95, knockout=True))
    for degrees in range(0, 361, 45):
        at = width_mm * degrees / 360.0
        items.append(Path((line((at, 0.0), (at, -1.2)),), "narrow"))
        items.append(Text((at, -1.2), f"{degrees}", 2.95, "figures", "middle", (0.0, -3.4)))
    items.append(Text((width_mm, -1.2), "degrees from the middle of segment 1", 2.95, "figures", "end", (0.0, -7.8)))
    return items
