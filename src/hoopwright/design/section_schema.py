"""How a section may be written in the liner file: lines and arcs, corners with fillets, or a chain from a DXF."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hoopwright.design.file_types import Celsius, NotNegative, Number, Point, Positive, Said, Table, key

RINGS_FACES = ("mid", "inside", "outside")
PLATE_FACES = ("mid", "forward", "aft")


class LineShape(Table):
    """A straight piece of a chain."""

    type: Literal["line"] = key("`line`")
    p0_mm: Point = key("start, [z, r]; of a port [z, rho]")
    p1_mm: Point = key("end, [z, r]")


class ArcShape(Table):
    """An arc of a chain."""

    type: Literal["arc"] = key("`arc`")
    p0_mm: Point = key("start, [z, r]")
    p1_mm: Point = key("end, [z, r]")
    c_mm: Point = key("centre, [z, r]")
    rad_mm: Positive = key("radius; both ends must lie on it")
    ccw: bool = key("true when the way from p0 to p1 turns left, z to the right and r upward")


Element = Annotated[LineShape | ArcShape, Field(discriminator="type")]


class CornerShape(Table):
    """A corner of a section; the fillet is tangent to both its straights."""

    at_mm: Point = key("corner point, [z, r]")
    fillet_mm: NotNegative | None = key("fillet radius of the line that is described; not for the two ends", None)


class SectionLines(Table):
    """A line of the sheet. Exactly one of `chain`, `corners` and `dxf`."""

    state: Literal["cold", "hot"] = key("`cold`: sizes at 20 degC; `hot`: sizes at `hot_degC`, brought to 20 degC")
    hot_degC: Celsius | None = key('metal temperature at which the sizes stand; with `state = "hot"` only', None)
    hot_fixed_z_mm: Number | None = key("z of the point that stands still in the growth; with hot only", None)
    chain: Annotated[list[Element], Field(min_length=1, max_length=500)] | None = key(
        "lines and arcs, each starting where the one before ends", None
    )
    corners: Annotated[list[CornerShape], Field(min_length=2, max_length=500)] | None = key(
        "corner points with fillets", None
    )
    dxf: Said | None = key("DXF file, beside or below the liner file", None)
    dxf_layer: Said | None = key("layer of the section's lines, arcs and polylines, and of nothing else", None)
    dxf_unit: Literal["mm", "inch"] | None = key(
        "unit of the drawing; must be said when the DXF is not itself marked as millimetres", None
    )
    dxf_origin_mm: Point | None = key("where the origin of the drawing lies, [z, r]; left out: at [0, 0]", None)


class RingSection(SectionLines):
    """The section of a ring."""

    face: Literal["mid", "inside", "outside"] = key("which line is described: mid-surface or a face of the sheet")


class PlateSection(SectionLines):
    """The section of the end plate, or of a port in its own frame."""

    face: Literal["mid", "forward", "aft"] = key("which line is described: mid-surface or a face of the sheet")
