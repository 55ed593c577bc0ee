"""The end plate between its ports as corners and radii: inner flange, flat, outer flange. mm; x along the axis."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.design.shapes import ControlSize, EndPlate
from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners

LEVEL = 1e-3
MUST = "inner flange along the axis, bend, flat square to it, bend, outer flange along the axis, both turned aft"


@dataclass(frozen=True, slots=True)
class PlateShape:
    """inner_end, outer_end : x of both flange edges above the flat's mid-surface. inner_rho, outer_rho : mid-surface
    radii of the flanges. inner_bend, outer_bend : of the bends. inner_at, outer_at : where the flanges are measured,
    and inner_wanted, outer_wanted : mid-surface radii wanted there.
    """

    thickness: float
    inner_end: float
    outer_end: float
    inner_rho: float
    outer_rho: float
    inner_bend: float
    outer_bend: float
    inner_at: float
    outer_at: float
    inner_wanted: float
    outer_wanted: float
    flat_from: float
    flat_to: float

    def middle(self, inner_rho: float, outer_rho: float, height: float) -> Profile:
        """Mid-surface with other flange radii and both flanges `height` long."""
        return from_corners(
            [(height, inner_rho), (0.0, inner_rho), (0.0, outer_rho), (height, outer_rho)],
            [self.inner_bend, self.outer_bend],
        )

    def developed(self) -> tuple[float, float]:
        """Radii of both edges in the flat by constant length, inner and outer."""
        return (
            self.flat_from - self.inner_bend * QUARTER - (self.inner_end - self.inner_bend),
            self.flat_to + self.outer_bend * QUARTER + (self.outer_end - self.outer_bend),
        )


QUARTER = 1.5707963267948966


def plate_shape(plate: EndPlate) -> PlateShape:
    """Corners and radii of the drawn section.

    Raises
    ------
    GeometryError
        A section that is not two flanges turned aft from a flat; a bend sharper than the sheet on its inside.
    """
    section, t = plate.section, plate.thickness_mm
    if [s.is_arc for s in section.segments] != [False, True, False, True, False]:
        raise _refused(plate, f"{len(section)} segments")
    inner, first, flat, second, outer = section.segments
    if abs(flat.end[0] - flat.start[0]) > LEVEL * flat.length or flat.end[1] < flat.start[1]:
        raise _refused(plate, "flat not square to the axis")
    zero = flat.start[0]
    for flange, end in ((inner, inner.start[0]), (outer, outer.end[0])):
        if abs(flange.end[1] - flange.start[1]) > LEVEL * flange.length or end <= zero:
            raise _refused(plate, "a flange that leans or is turned forward")
    for word, bend in (("inner", first), ("outer", second)):
        if bend.radius < 1.5 * t:
            raise GeometryError(
                f"{plate.id}: mid-surface radius of the {word} bend",
                round(bend.radius, 3),
                "mm",
                f"at least {1.5 * t:g}: one sheet on its inside",
                "draw a larger radius",
            )
    inner_x, outer_x = inner.start[0] - zero, outer.end[0] - zero
    inner_at, inner_r = _control(plate, "inner", inner.start[1], zero, 0.5 * (inner_x + first.radius))
    outer_at, outer_r = _control(plate, "outer", outer.start[1], zero, 0.5 * (outer_x + second.radius))
    return PlateShape(
        t,
        inner_x,
        outer_x,
        inner.start[1],
        outer.start[1],
        first.radius,
        second.radius,
        inner_at,
        outer_at,
        inner_r,
        outer_r,
        flat.start[1],
        flat.end[1],
    )


def _control(plate: EndPlate, side: str, drawn: float, zero: float, at: float) -> tuple[float, float]:
    """Where a flange is measured and the mid-surface radius wanted there: its control size, else the drawn section."""
    for control in plate.controls:
        if abs(0.5 * control.diameter_mm - drawn) < 2.0 * plate.thickness_mm:
            return control.z_mm - zero, middle_radius(control, plate.thickness_mm)
    return at, drawn


def middle_radius(control: ControlSize, thickness: float) -> float:
    """Mid-surface radius of a control size. [mm]"""
    return 0.5 * control.diameter_mm + (-0.5 if control.face == "outside" else 0.5) * thickness


def _refused(plate: EndPlate, value: str) -> GeometryError:
    return GeometryError(f"{plate.id} section", value, "", MUST, "draw it so, or split the part")
