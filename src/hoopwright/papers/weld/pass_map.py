"""Map of the probability that a weld passes, over power and speed, with the trials on it. One grey scale."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels.profile import line
from hoopwright.papers.drawing.items import Dot, Drawing, Item, Path, Text, circle, rectangle
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.curves import ticks
from hoopwright.plan.seam.trial_entry import WeldTrial
from hoopwright.plan.seam.trials import PassMap

STEPS = (0.05, 0.25, 0.50, 0.75, 0.90)
"""Upper ends of the first five greys; the sixth is everything above."""


def pass_map_drawing(
    found: PassMap, trials: Sequence[WeldTrial], width_mm: float = 110.0, height_mm: float = 70.0
) -> Drawing:
    """The map. Dots are trials, open ones burnt through; the ring is the best setting known.

    Raises
    ------
    InputError
        A map of fewer than two powers or speeds.
    """
    columns, rows = len(found.power_W), len(found.speed_mm_per_s)
    if columns < 2 or rows < 2:
        raise InputError("map", f"{columns} by {rows}", "", "two powers and two speeds or more", "ask for a finer map")
    x0, x1 = float(found.power_W[0]), float(found.power_W[-1])
    y0, y1 = float(found.speed_mm_per_s[0]), float(found.speed_mm_per_s[-1])
    wide, high = width_mm / columns, height_mm / rows
    items: list[Item] = []
    for j in range(rows):
        for i in range(columns):
            cell = rectangle(i * wide, j * high, (i + 1) * wide, (j + 1) * high)
            items.append(Path(cell, None, _grey(float(found.probability[j, i])), True))
    items += _axes((x0, x1), (y0, y1), width_mm, height_mm)
    items += _best(found, (x0, x1), (y0, y1), width_mm, height_mm)
    for trial in trials:
        x = width_mm * (trial.power_W - x0) / (x1 - x0)
        y = height_mm * (trial.speed_mm_per_s - y0) / (y1 - y0)
        if 0.0 <= x <= width_mm and 0.0 <= y <= height_mm:
            items.append(Path(circle((x, y), 1.1), "narrow", "sheet", True))
            if not trial.burnt:
                items.append(Dot((x, y), 0.7))
    items += _legend(width_mm, height_mm, found.best is not None)
    said = f"Probability that a weld passes, focus {found.focus_mm:+.2f} mm, gap {found.gap_mm:.3f} mm"
    return Drawing(
        tuple(items), said, "grey steps from 0.05 to 0.90; dots are trials, open ones burnt through; ringed: best"
    )


def _best(found: PassMap, x: tuple[float, float], y: tuple[float, float], width: float, height: float) -> list[Item]:
    """A pale ring with dark edges: it shows on light and on dark."""
    if found.best is None:
        return []
    at = (width * (found.best[0] - x[0]) / (x[1] - x[0]), height * (found.best[1] - y[0]) / (y[1] - y[0]))
    i = int(np.argmin(np.abs(found.power_W - found.best[0])))
    j = int(np.argmin(np.abs(found.speed_mm_per_s - found.best[1])))
    return [
        Path(circle(at, 3.1), "narrow", "sheet", True),
        Path(circle(at, 2.3), "narrow", _grey(float(found.probability[j, i])), True),
    ]


def _grey(probability: float) -> str:
    return f"wash{sum(probability >= top for top in STEPS)}"


def _axes(x: tuple[float, float], y: tuple[float, float], width: float, height: float) -> list[Item]:
    items: list[Item] = [Path(rectangle(0.0, 0.0, width, height), "narrow", None, True)]
    for value in ticks(*x):
        at = width * (value - x[0]) / (x[1] - x[0])
        items += [Path((line((at, 0.0), (at, -1.2)),), "narrow"), Text((at, -4.6), written(value, 0), anchor="middle")]
    for value in ticks(*y):
        at = height * (value - y[0]) / (y[1] - y[0])
        items += [
            Path((line((0.0, at), (-1.2, at)),), "narrow"),
            Text((-2.0, at - 1.0), written(value, 0), anchor="end"),
        ]
    items.append(Text((width, -9.0), "power on the work, W", anchor="end"))
    items.append(Text((0.0, height + 1.8), "speed, mm/s"))
    return items


def _legend(width: float, height: float, ringed: bool) -> list[Item]:
    items: list[Item] = [Text((width + 6.0, height - 2.0), "passes with")]
    names = ("under 0.05", "0.05", "0.25", "0.50", "0.75", "0.90 or more")
    for step, name in enumerate(names):
        y = height - 9.0 - 6.0 * step
        items.append(Path(rectangle(width + 6.0, y, width + 11.0, y + 4.2), "fine", f"wash{step}", True))
        items.append(Text((width + 13.0, y + 1.0), name))
    x, y = width + 8.5, height - 9.0 - 6.0 * len(names) - 2.0
    hollow = Path(circle((x, y), 1.1), "narrow", "sheet", True)
    items += [hollow, Dot((x, y), 0.7), Text((width + 13.0, y - 1.0), "trial")]
    items += [Path(circle((x, y - 6.0), 1.1), "narrow", "sheet", True), Text((width + 13.0, y - 7.0), "burnt through")]
    if ringed:
        items += [Path(circle((x, y - 12.5), r), "narrow", "sheet", True) for r in (3.1, 2.3)]
        items.append(Text((width + 13.0, y - 13.5), "best known"))
    return items
