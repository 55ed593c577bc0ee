"""Refusing what cannot be: tools that stand inside the sheet or run through each other. Units mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_crossing import crossings
from hoopwright.kernels.section.contour import packed
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.shapes import Matrix
from hoopwright.kernels.section.tool import Tool
from hoopwright.kernels.section.touch import least_gap

DEEP = 0.25
"""Share of the thickness by which a tool may stand in the sheet when it comes into play; a cushion may by all of it."""


def _apart(one: Profile, two: Profile) -> bool:
    """Whether the boxes round two contours do not meet."""
    ax, ay, bx, by = one.bounds
    cx, cy, dx, dy = two.bounds
    return bx < cx or dx < ax or by < cy or dy < ay


def crossing_point(one: Profile, two: Profile) -> tuple[float, float] | None:
    """A point at which two contours cross, or None."""
    if _apart(one, two):
        return None
    for a in one:
        for b in two:
            found = crossings(a, b)
            if found:
                return found[0]
    return None


def check_paths(name: str, tools: Sequence[Tool], active: Sequence[int], start: Matrix, end: Matrix) -> None:
    """Refuse rigid tools whose contours cross at the start or the end of a step (a punch that cannot enter).

    start, end (k, 2) : places of the active tools. [mm]
    """
    for when, place in (("start", start), ("end", end)):
        for i in range(len(active)):
            for j in range(i + 1, len(active)):
                one, two = tools[active[i]], tools[active[j]]
                point = crossing_point(one.contour.moved(*place[i]), two.contour.moved(*place[j]))
                if point is not None:
                    raise GeometryError(
                        f"{name}: {one.name} and {two.name}",
                        f"crossing at ({point[0]:.3f}, {point[1]:.3f}) at the {when} of the step",
                        "",
                        "clear of each other on the whole way",
                        "shorten the travel, widen the opening, or cut back the ends of the contours",
                    )


def check_start(name: str, section: Section, tools: Sequence[Tool], active: Sequence[int], place: Matrix) -> None:
    """Refuse a tool that comes into play deep inside the sheet. active : tools that did not press before this step."""
    sheet = section.sheet()
    thick = float(np.mean(section.thickness_mm))
    for k, number in enumerate(active):
        tool = tools[number]
        gap = float(least_gap(packed(tool.contour), sheet.q, sheet.half, float(place[k, 0]), float(place[k, 1])))
        if gap < -thick * (DEEP if tool.cushion_N_per_mm3 is None else 1.0):
            raise GeometryError(
                f"{name}: {tool.name}",
                f"{-gap:.4f} mm inside the sheet at the start of the step",
                "",
                "at or before first touch",
                "find its place with first_touch_mm, and keep its free side on the left of travel",
            )
