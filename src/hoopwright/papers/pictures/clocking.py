"""Seams of a shell round the clock, with port middles: one circle a ring, forward ring innermost. mm on paper."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, circle

FIRST_MM, STEP_MM = 20.0, 8.0


def clocking_chart(title: str, seams: Sequence[tuple[str, float]], ports_deg: Sequence[float]) -> Drawing:
    """seams : ring and angle of its seam, forward to aft. ports_deg : middles of the ports. [deg]"""
    outer = FIRST_MM + STEP_MM * max(len(seams) - 1, 0)
    items: list[Item] = []
    for angle in ports_deg:
        items.append(Path((line(_at(FIRST_MM - 6.0, angle), _at(outer + 6.0, angle)),), "centre"))
    for k, (name, angle) in enumerate(seams):
        radius = FIRST_MM + STEP_MM * k
        items.append(Path(circle((0.0, 0.0), radius), "narrow"))
        items.append(Path(circle(_at(radius, angle), 1.6), "narrow", "ink", True))
        x, y = _at(radius, angle)
        anchor = "start" if x >= 0.0 else "end"
        shift = 2.6 if x >= 0.0 else -2.6
        items.append(Text((x + shift, y - 1.0), f"{name} {angle:g}°", 2.95, "figures-bold", anchor, knockout=True))  # type: ignore[arg-type]
    items.append(Text((0.0, -1.0), title, 3.66, "italic", "middle", colour="ink2"))
    return Drawing(tuple(items), f"{title}: seams by the clock", "theta zero at port 1, on top; aft rings outside")


def _at(radius: float, clock_deg: float) -> Point:
    t = math.radians(90.0 - clock_deg)
    return (radius * math.cos(t), radius * math.sin(t))
