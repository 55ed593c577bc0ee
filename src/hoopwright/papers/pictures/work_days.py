"""Steps of a change by the day: a row a step, a diamond where it is done, weeks ruled. mm on paper."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from hoopwright.errors import InputError
from hoopwright.kernels.profile import line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, polyline

ROW_MM, LEFT_MM, RIGHT_MM = 6.4, 52.0, 196.0


def work_days(start: dt.date, steps: Sequence[tuple[str, dt.date]]) -> Drawing:
    """steps : what is done, and the day it is done."""
    if not steps:
        raise InputError("steps", 0, "", "one or more", "plan the change first")
    last = max(day for _, day in steps)
    days = [start + dt.timedelta(days=k) for k in range((last - start).days + 2)]
    width = (RIGHT_MM - LEFT_MM) / max(len(days), 1)
    foot = -ROW_MM * len(steps) - 2.0
    items: list[Item] = []
    for k, day in enumerate(days):
        x = LEFT_MM + width * k
        monday = day.weekday() == 0
        items.append(Path((line((x, 4.0 if monday else 0.0), (x, foot)),), "narrow" if monday else "hair"))
        if day.weekday() < 5:
            items.append(Text((x + 0.5 * width, 1.2), str(day.day), 2.95, anchor="middle"))
        if monday or k == 0:
            items.append(
                Text((x, 5.4), f"week of {day.day} {day:%B}" if monday else f"{day:%B %Y}", 2.95, colour="ink2")
            )
    for n, (name, day) in enumerate(steps):
        y = -ROW_MM * (n + 0.6)
        x = LEFT_MM + width * ((day - start).days + 0.5)
        items.append(Text((0.0, y - 1.1), name, 3.3, "figures-bold" if name.endswith("ready") else "figures"))
        items.append(Path((line((LEFT_MM, y), (x, y)),), "hair"))
        diamond = polyline([(x, y + 1.7), (x + 1.5, y), (x, y - 1.7), (x - 1.5, y)], True)
        items.append(Path(diamond, None, "ink", True))
    words = f"from {start:%d %B %Y} to {last:%d %B %Y}"
    return Drawing(tuple(items), "Steps of the change by the day", words)
