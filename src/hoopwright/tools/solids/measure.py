"""Bodies measured by the library's own integrals and distances. Units mm, mm^2, mm^3."""

from __future__ import annotations

from collections.abc import Callable

from hoopwright.errors import GeometryError
from hoopwright.tools.solids.build import common
from hoopwright.tools.solids.library import Body, attempt, kernel, parts


def solid_count(body: Body) -> int:
    """Number of separate solids in a body."""
    return len(parts(body.shape, "SOLID"))


def is_valid(body: Body) -> bool:
    """Whether the library finds topology and geometry of the body sound."""
    return bool(kernel("BRepCheck").BRepCheck_Analyzer(body.shape).IsValid())


def volume(body: Body) -> float:
    """Volume by the library's own surface integrals. [mm^3]"""
    props = kernel("GProp").GProp_GProps()
    kernel("BRepGProp").BRepGProp.VolumeProperties_s(body.shape, props)
    return float(props.Mass())


def centre(body: Body) -> tuple[float, float, float]:
    """Centre of mass. [mm]"""
    props = kernel("GProp").GProp_GProps()
    kernel("BRepGProp").BRepGProp.VolumeProperties_s(body.shape, props)
    place = props.CentreOfMass()
    return place.X(), place.Y(), place.Z()


def overlap(one: Body, two: Body) -> float:
    """Volume that two bodies share. [mm^3]"""
    shared = common(one, two)
    return volume(shared) if solid_count(shared) else 0.0


def distance(one: Body, two: Body) -> float:
    """Nearest distance between two bodies or surfaces, 0 where they touch or overlap. [mm]"""

    def work() -> float:
        found = kernel("BRepExtrema").BRepExtrema_DistShapeShape(one.shape, two.shape)
        if not found.IsDone():
            raise ValueError("distance")
        return float(found.Value())

    return float(attempt(one.name, f"nearest distance to {two.name}", work, "check both bodies"))


def faces_on(body: Body, picked: Callable[[float, float, float], bool], name: str) -> Body:
    """The faces whose centre of area `picked(x, y, z)` names, as one compound: for distances between faces only."""
    builder, compound = kernel("BRep").BRep_Builder(), kernel("TopoDS").TopoDS_Compound()
    builder.MakeCompound(compound)
    count = 0
    for face in parts(body.shape, "FACE"):
        props = kernel("GProp").GProp_GProps()
        kernel("BRepGProp").BRepGProp.SurfaceProperties_s(face, props)
        place = props.CentreOfMass()
        if picked(place.X(), place.Y(), place.Z()):
            builder.Add(compound, face)
            count += 1
    if not count:
        raise GeometryError(f"{body.name}: {name}", "none", "", "on the body", "check the body")
    return Body(name, compound, body.colour)
