"""How a result scatters from ring to ring against its limits, and which inputs make it scatter."""

from __future__ import annotations

import math

from hoopwright.kernels.profile import line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Placed, Text, rectangle
from hoopwright.papers.numbers import share_pct, written
from hoopwright.plan.study.limits import name_of, unit_of
from hoopwright.plan.study.study import Study, Told

WIDE_MM, HIGH_MM = 78.0, 26.0
BARS_X, BAR_MM, ROW_MM = 150.0, 40.0, 4.6
BLOCK_MM = 56.0
SHOWN_GROUPS = 8
LEAST_SHARE = 0.01


def spread_picture(study: Study, results: tuple[str, ...]) -> Drawing:
    """One row a result: histogram with limits and band, and bars of what makes it scatter; mm on paper.

    KeyError for a result the study does not have.
    """
    items: list[Item] = []
    for k, result in enumerate(results):
        told = study.of(result)
        items.append(Placed(_histogram(told), (0.0, -BLOCK_MM * k), 1.0))
        items.append(Placed(_bars(study, told), (BARS_X, -BLOCK_MM * k), 1.0))
    words = f"scatter of {len(results)} results over {study.samples} rings"
    return Drawing(tuple(items), words, f"{written(study.inside_pct, 1)} % of the rings keep every limit")


def _digits(told: Told) -> int:
    return 3 if unit_of(told.result) == "mm" else 1


def _histogram(told: Told) -> Drawing:
    limits = [] if told.limit is None else [v for v in (told.limit.low, told.limit.high) if math.isfinite(v)]
    span = told.edges[-1] - told.edges[0]
    near = [v for v in limits if told.edges[0] - 2.0 * span <= v <= told.edges[-1] + 2.0 * span]
    low, high = min([told.edges[0], *near]), max([told.edges[-1], *near])
    pad = 0.04 * ((high - low) or 1.0)
    low, high = low - pad, high + pad

    def x(value: float) -> float:
        return WIDE_MM * (value - low) / (high - low)

    most = max(told.counts)
    items: list[Item] = [Path(rectangle(x(told.low), 0.0, x(told.high), HIGH_MM), None, "panel", True)]
    for count, a, b in zip(told.counts, told.edges, told.edges[1:], strict=False):
        if count:
            items.append(Path(rectangle(x(a), 0.0, x(b), HIGH_MM * count / most), "fine", "band", True))
    items.append(Path((line((0.0, 0.0), (WIDE_MM, 0.0)),), "narrow"))
    for value in near:
        items.append(Path((line((x(value), 0.0), (x(value), HIGH_MM + 1.5)),), "wide"))
        items.append(Text((x(value), HIGH_MM + 2.4), written(value, _digits(told)), 2.95, "figures", "middle"))
    for value, side in ((told.low, "end"), (told.high, "start")):
        items.append(Path((line((x(value), 0.0), (x(value), -1.2)),), "narrow"))
        text = written(value, _digits(told))
        items.append(Text((x(value), -1.2), text, 2.95, "figures", side, (0.0, -3.4)))  # type: ignore[arg-type]
    items.append(Text((0.0, HIGH_MM + 7.2), f"{name_of(told.result)}, {unit_of(told.result)}", 3.4, "figures-bold"))
    inside = "no limit" if told.inside_pct is None else f"{written(told.inside_pct, 1)} % inside"
    items.append(Text((WIDE_MM + 14.0, HIGH_MM + 7.2), inside, 3.4, "figures"))
    return Drawing(tuple(items), name_of(told.result), inside)


def _bars(study: Study, told: Told) -> Drawing:
    """Total share as an open bar, first-order share filled in it; those below 1 % are left out."""
    rows = sorted(zip(study.groups, told.first, told.total, strict=True), key=lambda row: -row[2])
    items: list[Item] = [Text((-18.0, HIGH_MM + 7.2), "share of the scatter; filled: alone", 2.95, "italic")]
    for k, (name, first, total) in enumerate(row for row in rows[:SHOWN_GROUPS] if row[2] >= LEAST_SHARE):
        y = HIGH_MM + 1.5 - ROW_MM * k
        alone, whole = max(0.0, min(first, 1.0)), max(0.0, min(total, 1.0))
        if alone > 0.0:
            items.append(Path(rectangle(0.0, y - 2.6, max(BAR_MM * alone, 0.1), y), None, "band", True))
        items.append(Path(rectangle(0.0, y - 2.6, BAR_MM * whole, y), "fine"))
        items.append(Text((-1.5, y - 2.4), name, 2.95, "figures", "end"))
        items.append(Text((BAR_MM * whole + 1.2, y - 2.4), share_pct(whole), 2.95))
    return Drawing(tuple(items), f"what makes {name_of(told.result)} scatter")
