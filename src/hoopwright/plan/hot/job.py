"""The liner ready to be heated: parts with their metal, temperatures by place, free strain tables, datum and holds."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from hoopwright.cards.alloy import Alloy, alloy
from hoopwright.cards.limits import HouseLimits
from hoopwright.design.shapes import Joint, Liner
from hoopwright.design.wishes import limits_for
from hoopwright.errors import InputError, RangeError
from hoopwright.findings import Source
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_crossing import levels_at, nearest_on
from hoopwright.kernels.thermal_strain import StrainTable, strain_table

DRAWING_DEGC = 20.0
OFF_PART_MM = 1.0
"""A temperature given further off a part than this belongs to another part: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Place:
    """Metal temperature at a distance along a part's section. [mm, degC]"""

    s_mm: float
    metal_degC: float


@dataclass(frozen=True, slots=True, eq=False)
class HotPart:
    """One sheet part. places : metal temperatures along it, one for the whole part or two and more. strain : free
    strain of its metal from the drawing's 20 degC. side : "outer", "inner" or "plate"."""

    id: str
    side: str
    section: Profile
    thickness_mm: float
    alloy: Alloy
    strain: StrainTable
    places: tuple[Place, ...]

    @property
    def hottest_degC(self) -> float:
        """Highest metal temperature given."""
        return max(place.metal_degC for place in self.places)


@dataclass(frozen=True, slots=True)
class Tie:
    """A joint as the shell sees it: distances along both sections, and what is locked."""

    joint: Joint
    outer: int
    inner: int
    outer_s_mm: float
    inner_s_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class HotJob:
    """Everything the chapters of this room read. datum : part number and distance along its section."""

    liner: Liner
    parts: tuple[HotPart, ...]
    ties: tuple[Tie, ...]
    datum: tuple[int, float]
    limits: HouseLimits
    shop_folder: Path | None

    def number(self, part: str) -> int:
        """Number of a part by its drawing number. Raises InputError."""
        for k, one in enumerate(self.parts):
            if one.id == part:
                return k
        known = ", ".join(one.id for one in self.parts)
        raise InputError("part", part, "", f"one of {known}", "take one of these")

    def metal(self, card: str) -> Alloy:
        """A card by its id."""
        return alloy(card, self.shop_folder)

    def source(self, what: str) -> Source:
        """Ground of a value of the liner file."""
        return self.liner.source(what)

    def identity(self, rest: str) -> str:
        """Identity of a figure: "growth/ports-axial" becomes "HD-400/growth/ports-axial"."""
        return f"{self.liner.id}/{rest}"

    @property
    def aft_outer(self) -> int | None:
        """Number of the aft ring of the outer shell."""
        rings = [r for r in self.liner.rings if r.side == "outer"]
        return self.number(max(rings, key=lambda r: r.order).id) if rings else None

    @property
    def plate(self) -> int | None:
        """Number of the end plate."""
        return None if self.liner.end_plate is None else self.number(self.liner.end_plate.id)


def hot_job(liner: Liner, shop_folder: Path | None = None) -> HotJob:
    """The job of a liner.

    Raises
    ------
    InputError
        No growth data at all, a temperature off its part, a datum off its part, a joint where a part does not stand.
    RangeError
        A metal temperature outside the expansion table of its card.
    CardError
        A card that is not there.
    """
    if liner.thermal is None:
        raise InputError(
            f"{liner.id}: [thermal]",
            "missing",
            "",
            "there for a growth sheet",
            "enter inner_path and outer_path from the datum forward, and the metal temperatures",
        )
    parts = tuple(_parts(liner, shop_folder))
    ties = tuple(_tie(parts, joint) for joint in liner.joints)
    return HotJob(liner, parts, ties, _datum(liner, parts), limits_for(liner, shop_folder), shop_folder)


def _parts(liner: Liner, shop_folder: Path | None) -> list[HotPart]:
    tables: dict[str, tuple[Alloy, StrainTable]] = {}
    shapes = [(r.id, r.side, r) for r in liner.rings]
    found = []
    for name, side, part in [*shapes, *([(liner.end_plate.id, "plate", liner.end_plate)] if liner.end_plate else [])]:
        if part.material not in tables:  # type: ignore[attr-defined]
            card = alloy(part.material, shop_folder)  # type: ignore[attr-defined]
            tables[card.id] = (card, free_strain(card))
        card, table = tables[part.material]  # type: ignore[attr-defined]
        own = replace(table, name=f"{name}, {table.name}")
        places = _places(liner, name, part.section, part.metal_degC)  # type: ignore[attr-defined]
        for place in places:
            own.at(place.metal_degC)
        thickness = part.thickness_mm  # type: ignore[attr-defined]
        found.append(HotPart(name, side, part.section, thickness, card, own, places))  # type: ignore[attr-defined]
    return found


def free_strain(card: Alloy) -> StrainTable:
    """Free strain of a metal from 20 degC, every kelvin, as far as its card reaches."""
    names = [n for n in ("mean_expansion", "instantaneous_expansion") if n in card.card.tables]
    if names:
        high = max(card.card.tables[n].high for n in names)
    else:
        at = card.card.entry("mean_expansion_um_per_mK").at
        high = at.to_degC if at.to_degC is not None else 1000.0

    def growth(degC: float) -> float:
        return card.thermal_growth_eng(degC, DRAWING_DEGC).value

    low = DRAWING_DEGC - 5.0
    try:
        growth(low)
    except RangeError:
        low = DRAWING_DEGC
    return strain_table(f"card {card.id}", growth, low, high)


def _places(liner: Liner, part: str, section: Profile, metal_degC: float) -> tuple[Place, ...]:
    assert liner.thermal is not None
    given = [one for one in liner.thermal.stations if one.part == part]
    if not given:
        return (Place(0.5 * section.length, metal_degC),)
    found = []
    for one in given:
        levels = levels_at(section, one.z_mm)
        if one.r_mm is None and len(levels) > 1:
            raise InputError(
                f"temperature of {part} at z {one.z_mm:g}",
                "no r_mm",
                "",
                "with r_mm: the part stands there more than once",
                "enter r_mm",
            )
        near = one.r_mm if one.r_mm is not None else levels[0] if levels else section.point_at(0.0)[1]
        s, off = place_on(section, (one.z_mm, near))
        if off > OFF_PART_MM:
            raise InputError(
                f"temperature of {part} at z {one.z_mm:g}",
                round(off, 3),
                "mm off the part",
                f"within {OFF_PART_MM:g}",
                "correct z_mm or r_mm, or name another part",
            )
        found.append(Place(s, one.metal_degC))
    found.sort(key=lambda place: place.s_mm)
    for one_place, two in pairwise(found):
        if two.s_mm - one_place.s_mm < 1e-6:
            raise InputError(f"temperature of {part}", "two at one place", "", "one a place", "take one out")
    return tuple(found)


def place_on(section: Profile, point: tuple[float, float]) -> tuple[float, float]:
    """Distance along a section of its nearest point to (z, r), and how far that is off. [mm]"""
    best, begin = (0.0, math.inf), 0.0
    for segment in section:
        near, along = nearest_on(segment, point)
        off = math.dist(near, point)
        if off < best[1]:
            best = (begin + along, off)
        begin += segment.length
    return best


def _tie(parts: tuple[HotPart, ...], joint: Joint) -> Tie:
    numbers = []
    for name in (joint.outer, joint.inner):
        known = [k for k, part in enumerate(parts) if part.id == name]
        if not known:
            raise InputError(f"joint {joint.id}", name, "", "between parts of the liner", "correct the part's number")
        numbers.append(known[0])
    levels = [levels_at(parts[k].section, joint.weld_z_mm) for k in numbers]
    for name, found in zip((joint.outer, joint.inner), levels, strict=True):
        if not found:
            raise InputError(
                f"joint {joint.id}, weld_z_mm", joint.weld_z_mm, "mm", f"on {name}", "move the weld onto both parts"
            )
    pair = min(((a, b) for a in levels[0] for b in levels[1]), key=lambda ab: abs(ab[0] - ab[1]))
    outer, inner = (place_on(parts[k].section, (joint.weld_z_mm, r))[0] for k, r in zip(numbers, pair, strict=True))
    return Tie(joint, numbers[0], numbers[1], outer, inner)


def _datum(liner: Liner, parts: tuple[HotPart, ...]) -> tuple[int, float]:
    assert liner.thermal is not None
    thermal = liner.thermal
    name = thermal.datum_part or (thermal.inner_path[0].part if thermal.inner_path else "")
    known = [k for k, part in enumerate(parts) if part.id == name]
    if not known:
        remedy = "name the part that the liner hangs on"
        raise InputError("thermal.datum_part", name or "missing", "", "a ring or the end plate", remedy)
    z = thermal.datum_z_mm if thermal.datum_z_mm is not None else liner.length_mm
    section = parts[known[0]].section
    levels = levels_at(section, z)
    point = (z, levels[0] if levels else min(section.start, section.end, key=lambda p: abs(p[0] - z))[1])
    s, off = place_on(section, point)
    if off > OFF_PART_MM:
        raise InputError("thermal.datum_z_mm", z, "mm", f"on {name}", "correct it, or name another datum part")
    return known[0], s
