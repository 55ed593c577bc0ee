"""The blank: a straight strip or a sector of a ring, true to size, with what the cutter needs. Units mm, deg.

A strip lies along +x from the origin, its forward edge below. A sector stands about the origin, its middle along +y,
so that its apex is the origin; the forward edge is the one its slant radius says.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import require_finite, require_positive
from hoopwright.kernels.profile import Point, line
from hoopwright.kernels.sector_shape import Sector
from hoopwright.papers.drawing.items import (
    AngleDimension,
    Chain,
    Drawing,
    Item,
    Leader,
    LinearDimension,
    Path,
    RadiusDimension,
    Text,
    bow,
    rectangle,
)
from hoopwright.papers.numbers import radius, with_unit, written


@dataclass(frozen=True, slots=True)
class StripBlank:
    """A straight strip. rough_length_mm : as cut from the sheet. cut_length_mm : after rolling, before the weld.

    end_trim_mm : taken off each end when the ends are cut. edge_trim_mm : left on each edge until after sizing.
    """

    name: str
    rough_length_mm: float
    width_mm: float
    cut_length_mm: float
    end_trim_mm: float
    edge_trim_mm: float
    thickness_mm: float
    length_digits: int = 0
    width_digits: int = 1
    cut_digits: int = 2


@dataclass(frozen=True, slots=True)
class SectorBlank:
    """A sector of a flat ring, as `kernels.sector_shape` has it: ends parallel to the rays of the net sector.

    end_trim_mm : taken off each end when the ends are cut. edge_trim_mm : left on each edge until after sizing.
    forward_inner : whether the forward edge is the inner arc.
    """

    name: str
    sector: Sector
    forward_inner: bool
    end_trim_mm: float
    edge_trim_mm: float
    thickness_mm: float
    digits: int = 2


Blank = StripBlank | SectorBlank


APEX_SHOWN_RAD = math.radians(60.0)
"""Sector from which the apex is shown on paper; a narrower one lies far from it, and its rays are broken off."""


def blank_drawing(blank: Blank, scale: float, whole: bool = False) -> Drawing:
    """The blank with its dimensions; layers CUT (outline), TRIM (lines to cut later), GRAIN (rolling direction).

    scale : paper scale the lettering is laid out for. whole : whether the apex of a narrow sector is drawn as well.
    """
    require_positive("scale", scale)
    if isinstance(blank, StripBlank):
        return _strip(blank, scale)
    return _sector(blank, scale, whole or blank.sector.angle_rad >= APEX_SHOWN_RAD)


def _strip(blank: StripBlank, scale: float) -> Drawing:
    for name in ("rough_length_mm", "width_mm", "cut_length_mm", "thickness_mm"):
        require_positive(f"{blank.name} {name}", getattr(blank, name), "mm")
    length, width, trim = blank.rough_length_mm, blank.width_mm, blank.end_trim_mm
    items: list[Item] = [Path(rectangle(0.0, 0.0, length, width), "wide", None, True, "CUT", "outline of the strip")]
    first = 0.5 * (length - blank.cut_length_mm)
    if require_finite("end trim", trim, "mm") > 0.0:
        for x in (first, first + blank.cut_length_mm):
            items.append(Path((line((x, 0.0), (x, width)),), "dashed", layer="TRIM"))
        items.append(LinearDimension((first, width), (first + blank.cut_length_mm, width), 8.0, blank.cut_digits))
    if require_finite("edge trim", blank.edge_trim_mm, "mm") > 0.0:
        for y in (blank.edge_trim_mm, width - blank.edge_trim_mm):
            items.append(Path((line((0.0, y), (length, y)),), "dashed", layer="TRIM"))
    items.append(LinearDimension((0.0, 0.0), (length, 0.0), -8.0, blank.length_digits))
    items.append(LinearDimension((length, 0.0), (length, width), -8.0, blank.width_digits))
    inside = (width - 2.0 * blank.edge_trim_mm) * scale >= GRAIN_MM
    items += _grain(0.5 * length, 0.5 * width if inside else width + 2.4 / scale, 22.0 / scale)
    items.append(Text((0.0, 0.0), "forward edge", shift=(1.2, -3.6)))
    words = (
        f"{blank.name}: strip {with_unit(length, blank.length_digits, 'mm')} by "
        f"{with_unit(width, blank.width_digits, 'mm')}, "
        f"sheet {with_unit(blank.thickness_mm, 3, 'mm')}"
    )
    return Drawing(tuple(items), f"blank of {blank.name}", words)


GRAIN_MM = 7.0
"""Width on paper from which the arrow of the rolling direction, with its words, stands on the blank."""


def _grain(x: float, y: float, length: float) -> list[Item]:
    """Double arrow of the sheet's rolling direction with its words."""
    a, b = (x - 0.5 * length, y), (x + 0.5 * length, y)
    head = 0.05 * length
    arrows = [
        Path(
            (line((p[0] + s * head, y + 0.4 * head), p), line(p, (p[0] + s * head, y - 0.4 * head))),
            "narrow",
            layer="GRAIN",
        )
        for p, s in ((a, 1.0), (b, -1.0))
    ]
    words = Text((x, y), "rolling direction", anchor="middle", shift=(0.0, 0.9), knockout=False)
    return [Path((line(a, b),), "narrow", layer="GRAIN"), *arrows, words]


def _on(r: float, angle_deg: float) -> Point:
    """Point at radius r, angle from +y, positive towards +x."""
    t = math.radians(90.0 - angle_deg)
    return (r * math.cos(t), r * math.sin(t))


def _corners(blank: SectorBlank, r: float, allowance: float) -> float:
    """Polar angle of an end that stands `allowance` past its ray, at the radius r. [deg]"""
    return math.degrees(0.5 * blank.sector.angle_rad + math.asin(allowance / r))


def _outline(blank: SectorBlank) -> Chain:
    inner, outer, allowance = blank.sector.inner_mm, blank.sector.outer_mm, blank.sector.end_allowance_mm
    out, back = _corners(blank, outer, allowance), _corners(blank, inner, allowance)
    upper, lower = bow((0.0, 0.0), outer, 90.0 + out, 90.0 - out), bow((0.0, 0.0), inner, 90.0 - back, 90.0 + back)
    return (upper, line(upper.end, lower.start), lower, line(lower.end, upper.start))


def _sector(blank: SectorBlank, scale: float, apex: bool) -> Drawing:
    sector, digits = blank.sector, blank.digits
    require_positive(f"{blank.name} thickness_mm", blank.thickness_mm, "mm")
    items: list[Item] = [Path(_outline(blank), "wide", None, True, "CUT", "outline of the sector")]
    items += _sector_trims(blank)
    items += _sector_axes(blank, scale, apex)
    items += _sector_sizes(blank, scale, apex)
    middle = 0.5 * (sector.inner_mm + sector.outer_mm)
    half = min(0.5 * sector.angle_rad, 0.5 * math.pi)
    inside = (sector.outer_mm - sector.inner_mm - 2.0 * blank.edge_trim_mm) * scale >= GRAIN_MM
    place = middle - 1.0 / scale if inside else sector.outer_mm + 2.4 / scale
    items += _grain(0.0, place, min(1.2 * middle * math.sin(half), 22.0 / scale))
    items.append(_forward_edge(blank))
    words = (
        f"{blank.name}: sector of {written(math.degrees(sector.angle_rad), digits)}° with "
        f"{with_unit(sector.end_allowance_mm, digits, 'mm')} at each end, slant radii as cut "
        f"{radius(sector.inner_mm, digits)} and {radius(sector.outer_mm, digits)}"
    )
    return Drawing(tuple(items), f"blank of {blank.name}", words)


def _sector_trims(blank: SectorBlank) -> list[Item]:
    """Where the ends are cut before the weld, and the edges after sizing."""
    sector, items = blank.sector, list[Item]()
    left = sector.end_allowance_mm - require_finite("end trim", blank.end_trim_mm, "mm")
    if blank.end_trim_mm > 0.0 and left >= 0.0:
        for side in (-1.0, 1.0):
            ends = [_on(r, side * _corners(blank, r, left)) for r in (sector.inner_mm, sector.outer_mm)]
            items.append(Path((line(ends[0], ends[1]),), "dashed", layer="TRIM"))
    if require_finite("edge trim", blank.edge_trim_mm, "mm") > 0.0:
        for r in (sector.inner_mm + blank.edge_trim_mm, sector.outer_mm - blank.edge_trim_mm):
            half = _corners(blank, r, sector.end_allowance_mm)
            items.append(Path((bow((0.0, 0.0), r, 90.0 + half, 90.0 - half),), "dashed", layer="TRIM"))
    return items


def _forward_edge(blank: SectorBlank) -> Leader:
    """Which arc is the forward edge, said where no size is led out."""
    # the outer arc has the allowance led out at its left end and its radius left of the middle
    place = -0.75 if blank.forward_inner else 0.6
    elbow = (3.0, -9.0) if blank.forward_inner else (4.0, 6.0)
    r = blank.sector.inner_mm if blank.forward_inner else blank.sector.outer_mm
    tip = _on(r, place * min(60.0, math.degrees(0.5 * blank.sector.angle_rad)))
    return Leader(tip, elbow, ("forward edge",), "arrow")


ANGLE_MM = 16.0
"""Where the angle of a sector without its apex is written, below its inner arc, on paper."""


def _sector_axes(blank: SectorBlank, scale: float, apex: bool) -> list[Item]:
    """Rays of the net sector, from the apex with a cross on it, or from a little below the inner arc."""
    cross, half = 0.03 * blank.sector.inner_mm, math.degrees(0.5 * blank.sector.angle_rad)
    reach = blank.sector.outer_mm
    foot = 0.0 if apex else blank.sector.inner_mm - (ANGLE_MM + 4.0) / scale
    rays: list[Item] = [Path((line(_on(foot, a), _on(reach, a)),), "centre", layer="CENTRE") for a in (-half, half)]
    if not apex:
        return rays
    return [
        *rays,
        Path((line((-cross, 0.0), (cross, 0.0)),), "centre", layer="CENTRE"),
        Path((line((0.0, -cross), (0.0, cross)),), "centre", layer="CENTRE"),
    ]


def _sector_sizes(blank: SectorBlank, scale: float, apex: bool) -> list[Item]:
    """Net sector, slant radii as cut, allowance at an end."""
    sector, digits = blank.sector, blank.digits
    half = math.degrees(0.5 * sector.angle_rad)
    angle_at = 0.4 * sector.inner_mm if apex else sector.inner_mm - ANGLE_MM / scale
    ray = _on(sector.outer_mm, -half)
    corner = _on(sector.outer_mm, -_corners(blank, sector.outer_mm, sector.end_allowance_mm))
    # the allowance is measured square to the ray: its foot on the ray lies a little inward of the outer arc
    along = math.cos(math.asin(sector.end_allowance_mm / sector.outer_mm))
    foot = (ray[0] * along, ray[1] * along)
    items: list[Item] = [
        AngleDimension((0.0, 0.0), 90.0 - half, 90.0 + half, angle_at, digits),
        RadiusDimension((0.0, 0.0), sector.outer_mm, 90.0 + 0.4 * half, 7.0, digits),
        RadiusDimension((0.0, 0.0), sector.inner_mm, 90.0 - 0.6 * half, -7.0, digits),
    ]
    if sector.end_allowance_mm > 0.0:
        items.append(LinearDimension(corner, foot, 6.0, digits))
    return items
