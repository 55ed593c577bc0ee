"""Small pictures of where the part stands in its walk, about 11 mm on paper, centre at the origin."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hoopwright.errors import InputError, require_range
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Drawing, Item, Path, bow, circle, polyline

Kind = Literal["strip", "arc", "rolling", "rolled", "closed", "annealed", "sized", "trimmed", "drilled"]
RADIUS_MM = 5.0


@dataclass(frozen=True, slots=True)
class Icon:
    """Which picture. share : how far the strip is curled, 0 flat to 1 closed. segments : of the set it is stretched on.

    seam_deg : place of the seam, clockwise from the top as the operator sees it.
    """

    kind: Kind
    share: float = 1.0
    segments: int = 8
    seam_deg: float = 0.0


def icon(wanted: Icon) -> Drawing:
    """The picture of this icon."""
    makers = {
        "strip": _strip,
        "arc": _arc,
        "rolling": _rolling,
        "rolled": _rolled,
        "closed": _closed,
        "annealed": _annealed,
        "sized": _sized,
        "trimmed": _trimmed,
        "drilled": _drilled,
    }
    if wanted.kind not in makers:
        raise InputError("icon", wanted.kind, "", "one of " + ", ".join(makers), "take one of these")
    items, words = makers[wanted.kind](wanted)
    return Drawing(tuple(items), words)


def _polar(radius: float, clock_deg: float) -> Point:
    t = math.radians(90.0 - clock_deg)
    return (radius * math.cos(t), radius * math.sin(t))


def _seam(wanted: Icon) -> list[Item]:
    return [Path(circle(_polar(RADIUS_MM, wanted.seam_deg), 0.85), "narrow", "sheet", True)]


def _strip(_: Icon) -> tuple[list[Item], str]:
    return [Path((line((-5.5, 0.0), (5.5, 0.0)),), "wide")], "flat strip"


def _arc(_: Icon) -> tuple[list[Item], str]:
    centre = (0.0, -7.0)
    outer, inner = bow(centre, 10.0, 125.0, 55.0), bow(centre, 7.4, 55.0, 125.0)
    chain = (outer, line(outer.end, inner.start), inner, line(inner.end, outer.start))
    return [Path(chain, "narrow", None, True)], "arc blank"


def _rolling(_: Icon) -> tuple[list[Item], str]:
    rolls: list[Item] = [Path(circle((0.0, y), 2.1), "narrow", "metal", True) for y in (2.45, -2.45)]
    return [*rolls, Path((line((-5.5, 0.0), (5.5, 0.0)),), "wide")], "strip between the rolls"


def _rolled(wanted: Icon) -> tuple[list[Item], str]:
    share = require_range("curl of the icon", wanted.share, 0.0, 1.0)
    if share < 0.02:
        return _strip(wanted)
    half = 180.0 * min(share, 0.965)
    return [Path((bow((0.0, 0.0), RADIUS_MM, 270.0 - half, 270.0 + half),), "wide")], "strip, rolled and curled"


def _closed(wanted: Icon) -> tuple[list[Item], str]:
    return [Path(circle((0.0, 0.0), RADIUS_MM), "wide", None, True), *_seam(wanted)], "hoop with its seam"


def _annealed(wanted: Icon) -> tuple[list[Item], str]:
    items, _ = _closed(wanted)
    for x in (-2.1, 0.0, 2.1):
        items.append(Path((bow((x, 0.8), 0.8, 90.0, 270.0), bow((x, -0.8), 0.8, 90.0, -90.0)), "narrow"))
    return items, "hoop in the furnace"


def _sized(wanted: Icon) -> tuple[list[Item], str]:
    if wanted.segments < 2:
        raise InputError("segments", wanted.segments, "", "2 or more", "give the count of the set")
    items: list[Item] = [Path(circle((0.0, 0.0), RADIUS_MM), "wide", None, True)]
    pitch = 360.0 / wanted.segments
    gap_out, gap_in = 4.0, 8.0
    for k in range(wanted.segments):
        a, b = k * pitch - 0.5 * pitch, k * pitch + 0.5 * pitch
        outer = bow((0.0, 0.0), RADIUS_MM - 0.7, 90.0 - a - gap_out, 90.0 - b + gap_out)
        inner = bow((0.0, 0.0), 1.9, 90.0 - b + gap_in, 90.0 - a - gap_in)
        chain = (outer, line(outer.end, inner.start), inner, line(inner.end, outer.start))
        items.append(Path(chain, "fine", "metal", True))
    return [*items, *_seam(wanted)], f"hoop stretched on {wanted.segments} segments"


def _trimmed(wanted: Icon) -> tuple[list[Item], str]:
    items: list[Item] = [Path(polyline([(-3.6, -5.0), (3.6, -5.0), (3.6, 5.0), (-3.6, 5.0)], True), "wide", None, True)]
    for side in (-1.0, 1.0):
        items.append(Path((line((side * 4.9, -5.0), (side * 4.9, 5.0)),), "dashed"))
    items.append(Path((line((-5.8, 0.0), (5.8, 0.0)),), "centre"))
    return items, "ring, edges trimmed"


def _drilled(wanted: Icon) -> tuple[list[Item], str]:
    items, _ = _closed(wanted)
    for k in range(12):
        clock = 15.0 + 30.0 * k
        items.append(Path((line(_polar(RADIUS_MM - 0.9, clock), _polar(RADIUS_MM + 0.9, clock)),), "narrow"))
    return items, "ring with its holes"
