"""From what the file says of a section to the exact mid-surface at 20 degC, or to the faults that prevent it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from hoopwright.cards.alloy import alloy
from hoopwright.design.chain_checks import KINK_DEG, Trouble, chain_troubles
from hoopwright.design.dxf_chain import chain_from_dxf
from hoopwright.design.section_schema import ArcShape, CornerShape, PlateSection, RingSection
from hoopwright.errors import CardError, Fault, FileFaults, GeometryError, InputError, RangeError
from hoopwright.kernels.profile import Point, Profile, Segment, arc, line
from hoopwright.kernels.profile_build import closed_up, from_corners
from hoopwright.kernels.profile_offset import offset

LEFT_FACES = ("outside", "forward")


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What the conversion of a section needs to know of its part. folder : of the liner file; cards : shop's cards."""

    key: str
    thickness_mm: float
    material: str
    runs_along: int
    folder: Path | None
    cards: Path | None


def mid_surface(section: RingSection | PlateSection, sheet: SheetWords) -> Profile | list[Fault]:
    """Mid-surface, cold, running along z (rings) or along r (end plate and ports); or every fault of the section.

    `sheet.runs_along` is the coordinate that grows from start to end: 0 for z, 1 for r.
    """
    faults = _choice_faults(section, sheet.key)
    if faults:
        return faults
    try:
        found = _as_written(section, sheet)
        if isinstance(found, list):
            return found
        return _mid(_cold(_oriented(found, sheet.runs_along), section, sheet), section, sheet)
    except GeometryError as problem:
        return [Fault(f"{sheet.key}: {problem.field}", str(problem.value), problem.unit, problem.must, problem.remedy)]
    except FileFaults as problem:
        return [Fault(f"{sheet.key}.dxf", f"{f.value}", f.unit, f.must, f.remedy) for f in problem.faults]
    except InputError as problem:
        return [Fault(f"{sheet.key}.{problem.field}", str(problem.value), problem.unit, problem.must, problem.remedy)]


def _choice_faults(section: RingSection | PlateSection, key: str) -> list[Fault]:
    faults: list[Fault] = []
    given = [name for name in ("chain", "corners", "dxf") if getattr(section, name) is not None]
    if len(given) != 1:
        shown = " and ".join(given) or "none of them"
        must = "one of chain, corners and dxf"
        faults.append(Fault(f"{key}.{given[1] if given else 'chain'}", shown, "", must, "keep or enter just one"))
    hot = {"hot_degC": "degC", "hot_fixed_z_mm": "mm"}
    for name, unit in hot.items():
        value = getattr(section, name)
        if section.state == "hot" and value is None:
            what = "temperature of the sizes" if name == "hot_degC" else "the z that stands still in the growth"
            must = f"there with hot sizes, in {unit}: {what}"
            faults.append(Fault(f"{key}.{name}", "missing", "", must, "enter it, or give cold sizes"))
        if section.state == "cold" and value is not None:
            remedy = 'write state = "hot", or remove it'
            faults.append(Fault(f"{key}.{name}", f"{value:g}", unit, "left out with cold sizes", remedy))
    if section.dxf is not None and section.dxf_layer is None:
        faults.append(Fault(f"{key}.dxf_layer", "missing", "", "there with a DXF", "name the layer of the section"))
    if section.dxf is None:
        for name in ("dxf_layer", "dxf_unit", "dxf_origin_mm"):
            if getattr(section, name) is not None:
                faults.append(Fault(f"{key}.{name}", str(getattr(section, name)), "", "with a DXF only", "remove it"))
    return faults


def _as_written(section: RingSection | PlateSection, sheet: SheetWords) -> Profile | list[Fault]:
    if section.corners is not None:
        faults = _corner_faults(section.corners, f"{sheet.key}.corners")
        return faults or _from_corners(section.corners)
    if section.chain is not None:
        segments = [_segment(element) for element in section.chain]
        radii = [element.rad_mm if isinstance(element, ArcShape) else None for element in section.chain]
        troubles = chain_troubles(segments, radii)
        place = f"{sheet.key}.chain"
    else:
        segments = list(_from_dxf(section, sheet))
        troubles = chain_troubles(segments)
        place = ""
    if troubles:
        return [_fault(trouble, place, f"{sheet.key}.dxf") for trouble in troubles]
    return closed(segments)


def closed(segments: Sequence[Segment]) -> Profile:
    """Profile of a chain that is sound; the rounding of a file is closed up, and what is exact stays as it is."""
    profile = Profile(tuple(segments))
    gaps = [math.dist(a.end, b.start) for a, b in pairwise(segments)]
    spokes = [abs(math.dist(s.end, s.centre) - s.radius) for s in segments if s.centre is not None]
    return closed_up(profile) if max([*gaps, *spokes], default=0.0) > 1e-9 else profile


def _fault(trouble: Trouble, chain: str, dxf: str) -> Fault:
    key = f"{chain}[{trouble.element + 1}].{trouble.key}" if chain else dxf
    value = trouble.value if chain else f"drawn with {trouble.value}"
    return Fault(key, value, trouble.unit, trouble.must, trouble.remedy)


def _segment(element: object) -> Segment:
    if isinstance(element, ArcShape):
        return arc(_pair(element.p0_mm), _pair(element.p1_mm), _pair(element.c_mm), element.ccw)
    return line(_pair(getattr(element, "p0_mm")), _pair(getattr(element, "p1_mm")))  # noqa: B009


def _pair(values: list[float]) -> Point:
    return (values[0], values[1])


def _corner_faults(corners: list[CornerShape], key: str) -> list[Fault]:
    faults: list[Fault] = []
    points = [_pair(corner.at_mm) for corner in corners]
    for number, corner in enumerate(corners):
        inner = 0 < number < len(corners) - 1
        place = f"{key}[{number + 1}]"
        if number and math.dist(points[number], points[number - 1]) < 1e-6:
            must = "apart from the corner before"
            faults.append(Fault(f"{place}.at_mm", str(corner.at_mm), "mm", must, "remove the doubled corner"))
        elif inner and not corner.fillet_mm and abs(_turn_deg(points, number)) > KINK_DEG:
            shown = "missing" if corner.fillet_mm is None else "0"
            turn = f"above 0: the line turns by {_turn_deg(points, number):.1f} deg here"
            faults.append(Fault(f"{place}.fillet_mm", shown, "mm", turn, "enter the fillet radius"))
        if not inner and corner.fillet_mm is not None:
            must = "left out at an end of the section"
            faults.append(Fault(f"{place}.fillet_mm", f"{corner.fillet_mm:g}", "mm", must, "remove it"))
    return faults


def _turn_deg(points: list[Point], k: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = points[k - 1], points[k], points[k + 1]
    turn = math.atan2(cy - by, cx - bx) - math.atan2(by - ay, bx - ax)
    return math.degrees((turn + math.pi) % (2.0 * math.pi) - math.pi)


def _from_corners(corners: list[CornerShape]) -> Profile:
    points = [_pair(corner.at_mm) for corner in corners]
    return from_corners(points, [corner.fillet_mm or 0.0 for corner in corners[1:-1]])


def _from_dxf(section: RingSection | PlateSection, sheet: SheetWords) -> tuple[Segment, ...]:
    assert section.dxf is not None and section.dxf_layer is not None
    if sheet.folder is None:
        must = "in a liner file that lies in a folder"
        raise InputError("dxf", section.dxf, "", must, "give the section inline where a text is read without a folder")
    inside = Path(section.dxf)
    if inside.is_absolute() or ".." in inside.parts:
        must = "beside or below the liner file"
        raise InputError("dxf", f'"{section.dxf}"', "", must, "copy the drawing there and name it from there")
    origin = _pair(section.dxf_origin_mm) if section.dxf_origin_mm is not None else (0.0, 0.0)
    return chain_from_dxf(sheet.folder / inside, section.dxf_layer, section.dxf_unit, origin).segments


def _oriented(profile: Profile, runs_along: int) -> Profile:
    return profile if profile.start[runs_along] <= profile.end[runs_along] else profile.reversed()


def _cold(profile: Profile, section: RingSection | PlateSection, sheet: SheetWords) -> Profile:
    """Hot sizes brought to 20 degC: a part at one temperature grows alike in every direction, so arcs stay arcs."""
    if section.state == "cold" or section.hot_degC is None or section.hot_fixed_z_mm is None:
        return profile
    try:
        growth = alloy(sheet.material, sheet.cards).thermal_growth_eng(section.hot_degC).value
    except (CardError, RangeError) as problem:
        reason = str(problem).partition(" Do: ")[0]
        raise InputError("hot_degC", section.hot_degC, "degC", f"a temperature the alloy's card reaches ({reason})",
                         "enter the expansion on a card of your own, or give cold sizes") from None  # fmt: skip
    return scaled(profile, 1.0 / (1.0 + growth), section.hot_fixed_z_mm)


def scaled(profile: Profile, factor: float, fixed_z: float) -> Profile:
    """The contour scaled about the point of the axis at `fixed_z` [mm]."""

    def place(point: Point) -> Point:
        return (fixed_z + factor * (point[0] - fixed_z), factor * point[1])

    return Profile(
        tuple(
            Segment(place(s.start), place(s.end), None if s.centre is None else place(s.centre), s.ccw, s.name)
            for s in profile
        ),
        profile.name,
    )


def _mid(profile: Profile, section: RingSection | PlateSection, sheet: SheetWords) -> Profile:
    if section.face == "mid":
        return profile
    half = 0.5 * sheet.thickness_mm
    return offset(profile, -half if section.face in LEFT_FACES else half)
