"""Segment set as turned and cut: one closed section, parallel slots, a tongue for the base. Units mm.

The tool stands with its base down: u is the height above the base, the ring leaves upward over the leading end. A ring
that leads with its forward edge therefore stands upside down on the tool. Bands hold the segments in a groove of the
shoulder, below the ring, and in one of the neck, above it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import GeometryError, InputError, require_positive
from hoopwright.kernels.profile import Point, Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.segment_retract import End
from hoopwright.kernels.slotted_volume import slotted_volume
from hoopwright.tools.turned import closed, mirrored_x, radius_at

SHOULDER, UNDERCUT_WIDTH = 10.0, 1.2
LEVEL, NECK = 0.5, 10.4
DROP = 1.0
"""Undercut and neck stand this much below what the edge radius needs, so that the radius runs out into free metal."""

BAND_WIDTH, BAND_DEPTH = 4.4, 4.2
TONGUE_WIDTH, TONGUE_DEPTH, TONGUE_IN = 12.0, 8.0, 4.0
TONGUE_BELOW_RIM = 12.0
BASE_WEB = 6.2


@dataclass(frozen=True, slots=True)
class Tongue:
    """Key under a segment that slides in a radial slot of the base: width, depth, and its ends from the axis."""

    width_mm: float
    depth_mm: float
    from_mm: float
    to_mm: float

    @property
    def volume_mm3(self) -> float:
        """Exact."""
        return self.width_mm * self.depth_mm * (self.to_mm - self.from_mm)


@dataclass(frozen=True, slots=True)
class SetForm:
    """A segment set in the loaded position.

    profile : what meets the ring, in the tool's frame. section : closed half section. base_z_mm : z of the ring at u
    = 0;
    upward : +1 where u runs with z, -1 where the ring stands upside down. bore_mm : radius of the taper bore at the
    base.
    """

    name: str
    count: int
    slot_mm: float
    travel_mm: float
    edge_radius_mm: float
    half_angle_rad: float
    bore_mm: float
    profile: Profile
    section: Profile
    tongue: Tongue
    base_z_mm: float
    upward: int

    @property
    def height_mm(self) -> float:
        """Height above the base."""
        return self.section.bounds[2]

    @property
    def bore_top_mm(self) -> float:
        """Radius of the taper bore at the top."""
        return self.bore_mm + self.height_mm * math.tan(self.half_angle_rad)

    @property
    def pitch_rad(self) -> float:
        """Angle from segment to segment."""
        return 2.0 * math.pi / self.count

    @property
    def segment_volume_mm3(self) -> float:
        """One segment before its edges are rounded. Exact."""
        return slotted_volume(self.section, self.count, self.slot_mm) / self.count + self.tongue.volume_mm3

    @property
    def blank_volume_mm3(self) -> float:
        """The turned blank before it is cut, tongues not counted. Exact."""
        return region(self.section).revolved_volume

    @property
    def web_mm(self) -> float:
        """Width of a segment at its bore, between two slots."""
        return 2.0 * self.bore_mm * math.sin(math.pi / self.count) - self.slot_mm

    @property
    def wall_mm(self) -> float:
        """Least metal between the taper bore and anything turned outside it."""
        tan = math.tan(self.half_angle_rad)
        outside = [
            s for s in self.section.segments if min(s.start[1], s.end[1]) > self.bore_mm + s.start[0] * tan + 1e-6
        ]
        places = [s.point_at(k * s.length / 4.0) for s in outside for k in range(5)]
        return min(r - self.bore_mm - u * tan for u, r in places)

    @property
    def ahead_mm(self) -> float:
        """Length of the level piece between undercut and profile."""
        return next((abs(s.end[0] - s.start[0]) for s in self.section.segments if s.end == self.profile.start), 0.0)

    def gap_mm(self, retracted_mm: float) -> float:
        """Distance between neighbours with the set pulled in."""
        return self.slot_mm - 2.0 * retracted_mm * math.sin(math.pi / self.count)

    def height_of(self, z_mm: float) -> float:
        """Height on the tool of a place on the ring."""
        return self.upward * (z_mm - self.base_z_mm)

    def rounding_volume_mm3(self) -> float:
        """What rounding takes off both edges of one segment, reckoned in planes square to the axis (not exact)."""
        half, edge = 0.5 * self.slot_mm, self.edge_radius_mm
        u = np.linspace(self.profile.start[0], self.profile.end[0], 201)
        areas = np.array([corner_area(radius_at(self.profile, float(x)), half, edge) for x in u])
        level = areas[0] * self.ahead_mm + areas[-1] * LEVEL
        return 2.0 * (float(np.trapezoid(areas, u)) + float(level))


def corner_area(radius: float, half_slot: float, edge: float) -> float:
    """Area that an edge radius takes off the corner between a circle about the axis and a slot face. [mm^2]"""
    if edge == 0.0:
        return 0.0
    level = half_slot + edge
    x = math.sqrt((radius - edge) ** 2 - level * level)
    corner = (math.sqrt(radius * radius - half_slot * half_slot), half_slot)
    share = radius / (radius - edge)
    below, above = (x, half_slot), (x * share, level * share)
    chord = 0.5 * abs((below[0] - corner[0]) * (above[1] - corner[1]) - (above[0] - corner[0]) * (below[1] - corner[1]))
    rim = math.atan2(above[1], above[0]) - math.asin(half_slot / radius)
    ball = 0.5 * math.pi + math.atan2(level, x)
    return chord + 0.5 * radius * radius * (rim - math.sin(rim)) - 0.5 * edge * edge * (ball - math.sin(ball))


def set_form(
    name: str,
    profile: Profile,
    leading: End,
    count: int,
    slot_mm: float,
    travel_mm: float,
    edge_radius_mm: float,
    half_angle_rad: float,
    bore_mm: float,
    thickness_mm: float,
) -> SetForm:
    """The set of a ring from the profile that meets it.

    Parameters
    ----------
    profile : Profile
        Surface in the loaded position, x = z, y = radius.
    leading : the end the ring leaves over. bore_mm : radius of the taper bore at the base.

    Raises
    ------
    GeometryError
        The taper bore comes out through the profile.
    """
    require_positive("bore", bore_mm, "mm")
    upright = profile if leading == "plus" else mirrored_x(profile)
    undercut = UNDERCUT_WIDTH + thickness_mm
    lift = SHOULDER + undercut - upright.start[0]
    on_tool = upright.moved(lift, 0.0)
    section = _section(on_tool, half_angle_rad, bore_mm, thickness_mm, undercut, edge_radius_mm + DROP)
    edge = profile.start[0] if leading == "plus" else profile.end[0]
    upward = 1 if leading == "plus" else -1
    base_z = edge - upward * (SHOULDER + undercut)
    tongue = _tongue(section, count, slot_mm, bore_mm)
    return SetForm(
        name,
        count,
        slot_mm,
        travel_mm,
        edge_radius_mm,
        half_angle_rad,
        bore_mm,
        on_tool,
        section,
        tongue,
        base_z,
        upward,
    )


def _section(
    profile: Profile, half_angle: float, bore: float, thickness: float, undercut: float, drop: float
) -> Profile:
    (u0, r0), (u1, r1) = profile.start, profile.end
    shoulder = r0 + thickness + 1.5
    low = 0.5 * (SHOULDER - BAND_WIDTH)
    before: list[Point] = [
        (0.0, bore),
        (0.0, shoulder),
        (low, shoulder),
        (low, shoulder - BAND_DEPTH),
        (low + BAND_WIDTH, shoulder - BAND_DEPTH),
        (low + BAND_WIDTH, shoulder),
        (SHOULDER, shoulder),
        (SHOULDER, r0 - drop),
        (u0 - undercut + UNDERCUT_WIDTH, r0 - drop),
        (u0 - undercut + UNDERCUT_WIDTH, r0),
    ]
    top, neck = u1 + LEVEL + NECK, r1 - drop
    groove = u1 + LEVEL + 0.5 * (NECK - BAND_WIDTH)
    after: list[Point] = [
        (u1 + LEVEL, r1),
        (u1 + LEVEL, neck),
        (groove, neck),
        (groove, neck - BAND_DEPTH),
        (groove + BAND_WIDTH, neck - BAND_DEPTH),
        (groove + BAND_WIDTH, neck),
        (top, neck),
        (top, bore + top * math.tan(half_angle)),
    ]
    for u, r in (*before[1:], *after[:-1]):
        if r <= bore + u * math.tan(half_angle):
            raise GeometryError(
                "bore of the segments",
                round(bore + u * math.tan(half_angle), 2),
                "mm",
                f"below the radius {r:.2f} outside it",
                "take a smaller pin",
            )
    return closed("segment set", before, profile, after)


def _tongue(section: Profile, count: int, slot: float, bore: float) -> Tongue:
    """As wide as the segment allows where it begins."""
    start = bore + TONGUE_IN
    rim = max(s.start[1] for s in section.segments if s.start[0] < 1e-9)
    room = 2.0 * start * math.sin(math.pi / count) - slot - 2.0
    # between the slots of the base, a millimetre outside the bore, metal must stand as well
    web = 2.0 * (bore + 1.0) * math.sin(math.pi / count) - BASE_WEB
    width = min(TONGUE_WIDTH, math.floor(min(room, web)))
    if width < 4.0:
        raise InputError(
            "tongue under a segment", round(room, 2), "mm", "4 or wider", "use fewer segments or a bigger bore"
        )
    return Tongue(width, TONGUE_DEPTH, start, rim - TONGUE_BELOW_RIM)
