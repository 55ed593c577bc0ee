"""A port of the drawing as corners and radii: lip, pad, flank, flat. mm; x along the axis, aft positive; y = rho."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Point, Profile, Segment
from hoopwright.kernels.profile_build import from_corners

LEVEL_RAD = 1e-3
MUST = "lip along the axis, bend, pad square to it, bend, flank, bend, flat square to it"


@dataclass(frozen=True, slots=True)
class PortShape:
    """A port with its lip turned aft and its pad standing forward.

    lip_end_x, lip_rho : end and mid-surface radius of the lip. pad_x : of the pad's mid-surface, below 0. lip_bend,
    pad_bend, foot_bend : mid-surface radii. pad_corner, foot_corner : where pad, flank and flat would meet without
    bends.
    """

    thickness: float
    lip_end_x: float
    lip_rho: float
    pad_x: float
    lip_bend: float
    pad_bend: float
    foot_bend: float
    pad_corner: float
    foot_corner: float

    @property
    def pad_height(self) -> float:
        """How far the pad stands forward."""
        return -self.pad_x

    @property
    def flank_slope(self) -> float:
        """d rho/d x of the flank."""
        return (self.foot_corner - self.pad_corner) / self.pad_height

    def pad_corner_at(self, height: float) -> float:
        """Where pad and flank would meet at another pad height: the flank stays where it is."""
        return self.foot_corner - self.flank_slope * height

    def middle(self, height: float, lip_rho: float, reach: float) -> Profile:
        """Mid-surface with another pad height and lip radius, from the lip's end out to `reach`."""
        lip = self.lip_end_x + self.pad_height - height
        return from_corners(
            [
                (lip, lip_rho),
                (-height, lip_rho),
                (-height, self.pad_corner_at(height)),
                (0.0, self.foot_corner),
                (0.0, reach),
            ],
            [self.lip_bend, self.pad_bend, self.foot_bend],
        )

    @property
    def flat_from(self) -> float:
        """Radius on the pad where the lip's bend ends."""
        return self.lip_rho + self.lip_bend

    @property
    def pad_to(self) -> float:
        """Radius on the pad where its outer bend begins."""
        return self.pad_corner - self._tangent(self.pad_bend)

    @property
    def foot_from(self) -> float:
        """Radius on the flat where the foot's bend ends."""
        return self.foot_corner + self._tangent(self.foot_bend)

    @property
    def lip_straight(self) -> float:
        """Length of the lip's straight part."""
        return self.lip_end_x - self.pad_x - self.lip_bend

    @property
    def pad_area_mm2(self) -> float:
        """Flat of the pad."""
        return math.pi * (self.pad_to**2 - self.flat_from**2)

    def lip(self) -> Profile:
        """Mid-line of the lip from the flat to its edge."""
        return from_corners(
            [(self.pad_x, self.flat_from + 1.0), (self.pad_x, self.lip_rho), (self.lip_end_x, self.lip_rho)],
            [self.lip_bend],
        )

    def _tangent(self, radius: float) -> float:
        return radius * math.tan(0.5 * math.atan2(self.pad_height, self.foot_corner - self.pad_corner))


def port_shape(section: Profile, thickness: float, part: str) -> PortShape:
    """Corners and radii of a port's drawn section.

    Raises
    ------
    GeometryError
        A section that is not lip, bend, pad, bend, flank, bend, flat; a bend sharper than the sheet on its inside.
    """
    segments = section.segments
    kinds = [s.is_arc for s in segments]
    if kinds != [False, True, False, True, False, True, False]:
        raise _refused(part, f"{len(segments)} segments", "draw it so, or press it by hand tools")
    lip, pad, flank, flat = (segments[k] for k in (0, 2, 4, 6))
    if abs(lip.end[1] - lip.start[1]) > LEVEL_RAD * lip.length or lip.end[0] > lip.start[0]:
        raise _refused(part, "lip not along the axis or not turned aft", "draw the lip parallel to the port's axis")
    for word, level in (("pad", pad), ("flat", flat)):
        if abs(level.end[0] - level.start[0]) > LEVEL_RAD * level.length or level.end[1] < level.start[1]:
            raise _refused(part, f"{word} not square to the axis", "draw it level, from the lip outward")
    shift = flat.start[0]
    radii = [segments[k].radius for k in (1, 3, 5)]
    for word, radius in zip(("lip", "pad", "foot"), radii, strict=True):
        if radius < 1.5 * thickness:
            raise GeometryError(
                f"{part} port: mid-surface radius of the {word}'s bend",
                round(radius, 3),
                "mm",
                f"at least {1.5 * thickness:g}: one sheet on its inside",
                "draw a larger radius",
            )
    corner, foot = _meet(pad, flank), _meet(flank, flat)
    if not pad.start[0] < shift:
        raise _refused(part, "pad not forward of the flat", "draw the pad towards -z")
    return PortShape(
        thickness,
        lip.start[0] - shift,
        lip.start[1],
        pad.start[0] - shift,
        radii[0],
        radii[1],
        radii[2],
        corner[1],
        foot[1],
    )


def _refused(part: str, value: str, remedy: str) -> GeometryError:
    return GeometryError(f"{part} port section", value, "", MUST, remedy)


def _meet(one: Segment, two: Segment) -> Point:
    """Where two straights would meet."""
    (x1, y1), (x2, y2) = one.start, one.end
    (x3, y3), (x4, y4) = two.start, two.end
    det = (x1 - x2) * (y3 - y4) - (y1 - y2) * (x3 - x4)
    a, b = x1 * y2 - y1 * x2, x3 * y4 - y3 * x4
    return ((a * (x3 - x4) - (x1 - x2) * b) / det, (a * (y3 - y4) - (y1 - y2) * b) / det)
