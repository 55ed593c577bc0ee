"""Sheet about a mid-surface, as a closed chain, and what a section looks like when it is cut. Units mm."""

from __future__ import annotations

import math
from typing import Literal

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Point, Profile, line
from hoopwright.kernels.profile_offset import offset
from hoopwright.papers.drawing.items import Chain, Hatch, Item, Path, polyline

Firmness = Literal["pencil", "outline", "hatched", "solid"]
"""How far a part has come: drawn only, tools in the making, tools proven, a part measured within its drawing."""


def sheet_outline(section: Profile, thickness_mm: float) -> Chain:
    """Both faces and both edges of a sheet, left face first, as one closed chain.

    A section with a kink has no exact offset; its faces are drawn from short chords instead.
    """
    half = 0.5 * thickness_mm
    try:
        left, right = offset(section, half).segments, offset(section, -half).reversed().segments
    except GeometryError:
        return _by_chords(section, half)
    return (*left, line(left[-1].end, right[0].start), *right, line(right[-1].end, left[0].start))


def _by_chords(section: Profile, half: float) -> Chain:
    table = section.stations(0.5, 7)
    normals = [(-math.sin(a), math.cos(a)) for a in table.angle]
    points = list(zip(table.x.tolist(), table.y.tolist(), strict=True))

    def face(side: float) -> list[Point]:
        return [(x + side * n[0], y + side * n[1]) for (x, y), n in zip(points, normals, strict=True)]

    return polyline([*face(half), *reversed(face(-half))], closed=True)


def cut_sheet(
    section: Profile, thickness_mm: float, firmness: Firmness = "hatched", layer: str = "", title: str = ""
) -> tuple[Item, ...]:
    """A sheet cut by the section plane, in the manner of its firmness."""
    chain = sheet_outline(section, thickness_mm)
    if firmness == "pencil":
        return (Path(chain, "dashed", "sheet", True, layer, title),)
    if firmness == "solid":
        return (Path(chain, "narrow", "ink", True, layer, title),)
    if firmness == "outline":
        return (Path(chain, "narrow", "sheet", True, layer, title),)
    return (Path(chain, "narrow", "sheet", True, layer, title), Hatch((chain,), 45.0, 1.1))
