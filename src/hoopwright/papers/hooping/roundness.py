"""Polar picture of the ring's roundness: departure from its mean radius, slots and seam marked."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.profile import line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, circle, polyline
from hoopwright.papers.hooping.ring import place
from hoopwright.papers.hooping.view import HitView, Trace
from hoopwright.papers.numbers import written

MIDDLE_MM, REACH_MM = 26.0, 14.0
"""Radius of the mean circle on paper, and of the largest departure about it."""

STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)


def polar_roundness(view: HitView, states: tuple[str, ...] = ("free",)) -> Drawing:
    """Departure from the mean radius, mm on paper; a ring of the grid is one step, which is said.

    states : of "incoming", "loaded", "free"; the last is drawn widest.
    """
    traces = [{"incoming": view.incoming, "loaded": view.loaded, "free": view.free}[state] for state in states]
    most = max(float(np.max(np.abs(t.radius_mm - t.mean_mm))) for t in traces)
    step = next((s for s in STEPS if 4.0 * s >= most), STEPS[-1])
    unit = REACH_MM / (4.0 * step)
    items: list[Item] = [Path(circle((0.0, 0.0), MIDDLE_MM), "centre", title="mean radius")]
    for ring in (-4, -2, 2, 4):
        items.append(Path(circle((0.0, 0.0), MIDDLE_MM + ring * step * unit), "hair"))
    items += _marks(view)
    for number, (state, trace) in enumerate(zip(states, traces, strict=True)):
        last = number == len(states) - 1
        items.append(_departure(trace, unit, "reckoned" if last else "hidden", _NAMES[state]))
    digits = 3
    words = [f"a line of the grid is {written(2.0 * step, digits)}"]
    words += [
        f"{_NAMES[s]}: peak to valley {written(float(np.ptp(t.radius_mm)), 3)}"
        for s, t in zip(states, traces, strict=True)
    ]
    for k, text in enumerate(words):
        low = -MIDDLE_MM - REACH_MM - 7.0 - 4.2 * k
        items.append(Text((0.0, low), text, 2.95, "figures" if k else "italic", "middle"))
    title = f"{view.name}, hit {view.number} of {view.of}: departure from round"
    return Drawing(tuple(items), title, "; ".join(words))


_NAMES = {"incoming": "as welded", "loaded": "on the segments", "free": "let off"}


def _departure(trace: Trace, unit: float, pen: str, title: str) -> Path:
    r = MIDDLE_MM + unit * (trace.radius_mm - trace.mean_mm)
    points = [place(float(a), float(t)) for t, a in zip(trace.clock_rad, r, strict=True)]
    return Path(polyline(points, closed=True), pen, title=title)


def _marks(view: HitView) -> list[Item]:
    outer = MIDDLE_MM + REACH_MM
    items: list[Item] = []
    for slot in view.slots_rad:
        ends = place(MIDDLE_MM - REACH_MM, float(slot)), place(outer + 1.0, float(slot))
        items.append(Path((line(*ends),), "slot", title="a slot"))
    for k in range(view.count):
        items.append(
            Text(place(outer + 2.6, k * view.pitch_rad), str(k + 1), 2.95, "figures-bold", "middle", (0.0, -1.0))
        )
    if view.seam_rad is not None:
        ends = place(outer - 1.5, view.seam_rad), place(outer + 1.5, view.seam_rad)
        side = "start" if math.sin(view.seam_rad) >= 0.0 else "end"
        items.append(Path((line(*ends),), "wide", title="the seam"))
        items.append(
            Text(place(outer + 2.4, view.seam_rad), "seam", 2.95, "italic", side, (0.0, -1.0))  # type: ignore[arg-type]
        )
    return items
