"""What every geometric check needs: the parts of a liner as sheets, cylinders about a place, and the tolerances. mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.design.shapes import EndPlate, Liner, Ring
from hoopwright.kernels.profile import Profile, Segment
from hoopwright.kernels.profile_crossing import crossings, levels_at, nearest_on

# Coordinates of a file are printed to 0.0001 mm and sizes to 0.01 mm: a difference up to this is rounding.
ROUNDING_MM = 0.002


@dataclass(frozen=True, slots=True)
class Sheet:
    """A ring or the end plate as a sheet about its mid-surface. key : its place in the liner file."""

    id: str
    key: str
    section: Profile
    thickness_mm: float


def sheets_of(liner: Liner) -> tuple[Sheet, ...]:
    """Rings, then the end plate."""
    sheets = [sheet_of(ring) for ring in liner.rings]
    return (*sheets, sheet_of(liner.end_plate)) if liner.end_plate is not None else tuple(sheets)


def sheet_of(part: Ring | EndPlate) -> Sheet:
    """A part as a sheet."""
    return Sheet(part.id, f"{part.id}/section", part.section, part.thickness_mm)


def levels(section: Profile, z: float) -> list[float]:
    """Radii at which a section stands over z; at one of its ends within rounding, the end's own. [mm]"""
    near = [s for s in section if s.is_arc or min(s.start[0], s.end[0]) <= z <= max(s.start[0], s.end[0])]
    found = [r for segment in near for r in levels_at(Profile((segment,)), z)]
    kept = [r for n, r in enumerate(found) if not n or abs(r - found[n - 1]) > 1e-9]
    return kept or [r for at, r in (section.start, section.end) if abs(at - z) <= ROUNDING_MM]


def radius_span(
    section: Profile, z_low: float, z_high: float, near_r: float, reach: float
) -> tuple[float, float] | None:
    """Least and greatest radius of the part of a section between two z that stays within `reach` of a radius.

    None where the section does not stand over the whole of the window there.
    """
    pieces = [piece for segment in section for piece in _clipped(segment, z_low, z_high)]
    near = [p for p in pieces if abs(_middle(p) - near_r) <= reach]
    if not near or max(_high_z(p) for p in near) < z_high - 1e-6 or min(_low_z(p) for p in near) > z_low + 1e-6:
        return None
    bounds = [Profile((piece,)).bounds for piece in near]
    return min(b[1] for b in bounds), max(b[3] for b in bounds)


def _clipped(segment: Segment, z_low: float, z_high: float) -> list[Segment]:
    """Parts of a segment inside the window."""
    _, r_low, _, r_high = Profile((segment,)).bounds
    cuts = {0.0, segment.length}
    for z in (z_low, z_high):
        upright = Segment((z, r_low - 1.0), (z, r_high + 1.0))
        cuts |= {_along(segment, point) for point in crossings(upright, segment)}
    places = sorted(cuts)
    parts = [_part(segment, a, b) for a, b in pairwise(places) if b - a > 1e-9]
    return [part for part in parts if z_low - 1e-9 <= part.point_at(0.5 * part.length)[0] <= z_high + 1e-9]


def _along(segment: Segment, point: tuple[float, float]) -> float:
    return nearest_on(segment, point)[1]


def _part(segment: Segment, begin: float, end: float) -> Segment:
    return Segment(segment.point_at(begin), segment.point_at(end), segment.centre, segment.ccw, segment.name)


def _middle(piece: Segment) -> float:
    return piece.point_at(0.5 * piece.length)[1]


def _high_z(piece: Segment) -> float:
    return max(piece.start[0], piece.end[0])


def _low_z(piece: Segment) -> float:
    return min(piece.start[0], piece.end[0])


def turn_apart_deg(one: float, two: float) -> float:
    """Smaller angle between two directions. [deg]"""
    return abs((one - two + 180.0) % 360.0 - 180.0)


def arc_length(theta_deg: float, radius: float) -> float:
    """Length of an arc of this angle. [mm]"""
    return math.radians(theta_deg) * radius
