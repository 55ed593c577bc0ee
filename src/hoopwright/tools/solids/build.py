"""Bodies made: turned, extruded, cut, joined, moved, rounded. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from hoopwright.errors import require_positive
from hoopwright.kernels.profile import Point, Profile, Segment
from hoopwright.tools.solids.library import Body, attempt, kernel, parts


def _edge(segment: Segment, place: Callable[[Point], Any]) -> Any:
    make = kernel("BRepBuilderAPI").BRepBuilderAPI_MakeEdge
    if segment.centre is None:
        return make(place(segment.start), place(segment.end)).Edge()
    middle = segment.point_at(0.5 * segment.length)
    arc = kernel("GC").GC_MakeArcOfCircle(place(segment.start), place(middle), place(segment.end)).Value()
    return make(arc).Edge()


def _wire(profile: Profile, place: Callable[[Point], Any]) -> Any:
    wire = kernel("BRepBuilderAPI").BRepBuilderAPI_MakeWire()
    for segment in profile:
        wire.Add(_edge(segment, place))
    return wire.Wire()


def _axis() -> Any:
    gp = kernel("gp")
    return gp.gp_Ax1(gp.gp_Pnt(0.0, 0.0, 0.0), gp.gp_Dir(0.0, 0.0, 1.0))


def _half_plane(start: float) -> Callable[[Point], Any]:
    point, cosine, sine = kernel("gp").gp_Pnt, math.cos(start), math.sin(start)
    return lambda p: point(p[1] * cosine, p[1] * sine, p[0])


def revolved(name: str, section: Profile, turn_rad: float = 2.0 * math.pi, start_rad: float = 0.0) -> Body:
    """A closed section (x along the axis, y radius) turned about the axis from `start_rad` by `turn_rad`."""

    def work() -> Any:
        face = kernel("BRepBuilderAPI").BRepBuilderAPI_MakeFace(_wire(section, _half_plane(start_rad))).Face()
        return kernel("BRepPrimAPI").BRepPrimAPI_MakeRevol(face, _axis(), turn_rad).Shape()

    return Body(
        name, attempt(name, "turn the section", work, "check that the section does not cross itself or the axis")
    )


def surface(name: str, contour: Profile, turn_rad: float, start_rad: float = 0.0) -> Body:
    """The surface an open contour sweeps: for distances between faces only."""

    def work() -> Any:
        wire = _wire(contour, _half_plane(start_rad))
        return kernel("BRepPrimAPI").BRepPrimAPI_MakeRevol(wire, _axis(), turn_rad).Shape()

    return Body(name, attempt(name, "turn the contour", work, "check the contour"))


def extruded(name: str, outline: Profile, z0: float, z1: float) -> Body:
    """A closed outline in the xy plane, from z0 to z1."""

    def work() -> Any:
        gp = kernel("gp")
        wire = _wire(outline, lambda p: gp.gp_Pnt(p[0], p[1], z0))
        face = kernel("BRepBuilderAPI").BRepBuilderAPI_MakeFace(wire).Face()
        return kernel("BRepPrimAPI").BRepPrimAPI_MakePrism(face, gp.gp_Vec(0.0, 0.0, z1 - z0)).Shape()

    return Body(name, attempt(name, "extrude the outline", work, "check that the outline does not cross itself"))


def box(name: str, low: tuple[float, float, float], high: tuple[float, float, float]) -> Body:
    """A box between two corners."""
    pnt = kernel("gp").gp_Pnt
    for axis, a, b in zip("xyz", low, high, strict=True):
        require_positive(f"{name}: size along {axis}", b - a, "mm")
    return Body(name, kernel("BRepPrimAPI").BRepPrimAPI_MakeBox(pnt(*low), pnt(*high)).Shape())


def _combined(kind: str, words: str, body: Body, others: Iterable[Body], remedy: str) -> Body:
    shape = body.shape
    for other in others:

        def work(one: Any = shape, two: Any = other.shape) -> Any:
            made = getattr(kernel("BRepAlgoAPI"), f"BRepAlgoAPI_{kind}")(one, two)
            if not made.IsDone():
                raise ValueError(kind)
            return made.Shape()

        shape = attempt(body.name, f"{words} {other.name}", work, remedy)
    return Body(body.name, shape, body.colour)


def cut(body: Body, *tools: Body) -> Body:
    """The body less the tools."""
    return _combined("Cut", "cut by", body, tools, "move the cut clear of edges it only grazes")


def joined(body: Body, *others: Body) -> Body:
    """The bodies as one."""
    return _combined("Fuse", "join with", body, others, "let the parts overlap by a clear amount")


def common(body: Body, other: Body) -> Body:
    """What two bodies share."""
    return _combined("Common", "overlap with", body, (other,), "check both bodies")


def _moved(body: Body, move: Any) -> Body:
    shape = kernel("BRepBuilderAPI").BRepBuilderAPI_Transform(body.shape, move, True).Shape()
    place = np.array([[move.Value(row, column) for column in range(1, 5)] for row in range(1, 4)])
    if body.place is not None:
        before = body.place
        place = np.column_stack([place[:, :3] @ before[:, :3], place[:, :3] @ before[:, 3] + place[:, 3]])
    return Body(body.name, shape, body.colour, body.root or body, place)


def moved(body: Body, dx: float, dy: float, dz: float) -> Body:
    """The body shifted. [mm]"""
    move = kernel("gp").gp_Trsf()
    move.SetTranslation(kernel("gp").gp_Vec(dx, dy, dz))
    return _moved(body, move)


def turned(body: Body, angle_rad: float, axis: str = "z", about: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> Body:
    """The body turned about a coordinate axis through a point, right-handed. [rad]"""
    gp = kernel("gp")
    way = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}[axis]
    move = gp.gp_Trsf()
    move.SetRotation(gp.gp_Ax1(gp.gp_Pnt(*about), gp.gp_Dir(*way)), angle_rad)
    return _moved(body, move)


def rounded(body: Body, radius: float, picked: Callable[[float, float, float], bool]) -> Body:
    """The body with a rolling-ball radius on every edge whose middle `picked(x, y, z)` names. [mm]

    Raises
    ------
    GeometryError
        No edge is picked, or the library cannot roll the ball along them.
    """

    def work() -> Any:
        made = kernel("BRepFilletAPI").BRepFilletAPI_MakeFillet(body.shape)
        count = 0
        for edge in parts(body.shape, "EDGE"):
            curve = kernel("BRepAdaptor").BRepAdaptor_Curve(edge)
            middle = curve.Value(0.5 * (curve.FirstParameter() + curve.LastParameter()))
            if picked(middle.X(), middle.Y(), middle.Z()):
                made.Add(radius, edge)
                count += 1
        if not count:
            raise ValueError("no edge")
        made.Build()
        if not made.IsDone():
            raise ValueError("fillet")
        return made.Shape()

    shape = attempt(
        body.name, f"round edges to R {radius:g}", work, "use a smaller edge radius, or widen the corners beside it"
    )
    return Body(body.name, shape, body.colour)


def below(body: Body, z: float) -> Body:
    """The part of a body under a height."""
    big = 1e4
    return common(body, box("below", (-big, -big, -big), (big, big, z)))
