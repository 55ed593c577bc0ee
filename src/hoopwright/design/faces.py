"""The faces of a sheet about its mid-surface: exact offsets by half the thickness. Lengths mm."""

from __future__ import annotations

from typing import Literal

from hoopwright.design.shapes import EndPlate, Face, Ring
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.kernels.profile_offset import offset

PlateFace = Literal["forward", "aft"]


def face_line(ring: Ring, face: Face) -> Profile:
    """Line of one face of a ring, from its forward edge aft.

    Raises
    ------
    GeometryError
        An inside radius of the bend would vanish.
    """
    half = 0.5 * ring.thickness_mm
    return offset(ring.section, half if face == "outside" else -half)


def plate_face_line(plate: EndPlate, face: PlateFace) -> Profile:
    """Line of one face of the end plate, from the inner flange edge to the outer one. Raises as `face_line`."""
    half = 0.5 * plate.thickness_mm
    return offset(plate.section, half if face == "forward" else -half)


def outline(section: Profile, thickness_mm: float) -> Profile:
    """Closed outline of a sheet: left face, end edge, right face back, start edge. Raises as `face_line`."""
    left, right = offset(section, 0.5 * thickness_mm), offset(section, -0.5 * thickness_mm).reversed()
    end, start = line(left.end, right.start, "end edge"), line(right.end, left.start, "start edge")
    return Profile((*left.segments, end, *right.segments, start), section.name)


def mid_radius_at(ring: Ring, z_mm: float) -> float | None:
    """Radius of the mid-surface at z [mm]; None where the ring does not stand, the largest where it stands twice."""
    levels = levels_at(ring.section, z_mm)
    return max(levels) if levels else None


def mid_radius_range(ring: Ring) -> tuple[float, float]:
    """Smallest and largest radius of the mid-surface. [mm]"""
    _, low, _, high = ring.section.bounds
    return low, high
