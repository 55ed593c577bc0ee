"""Items of a drawing as DXF entities: polylines, lines, lettering, dimensions. Geometry in mm, true to size."""

from __future__ import annotations

import math
from typing import Any

from ezdxf.enums import TextEntityAlignment as Align

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point
from hoopwright.papers.drawing.expand_dimension import ABOVE_MM, ARROW_MM, dimension_text, readable
from hoopwright.papers.drawing.hatching import hatch_lines
from hoopwright.papers.drawing.items import (
    AngleDimension,
    Chain,
    DiameterDimension,
    Dot,
    Group,
    Hatch,
    Item,
    Leader,
    LinearDimension,
    Mark,
    Path,
    Placed,
    RadiusDimension,
    Text,
    circle,
)
from hoopwright.papers.drawing.lettering import CAPITAL, text_width
from hoopwright.papers.numbers import written

STYLE = "HOOPWRIGHT"
Dimension = LinearDimension | RadiusDimension | DiameterDimension | AngleDimension


def _layer(named: str, usual: str, known: set[str]) -> dict[str, str]:
    name = named or usual
    if name not in known:
        raise InputError("layer", name or "none", "", "one of " + ", ".join(sorted(known)), "name the layer")
    return {"layer": name}


def add_item(space: Any, item: Item, scale: float, known: set[str]) -> None:
    """Add one item to the model space."""
    if isinstance(item, Group):
        for inner in item.items:
            add_item(space, inner, scale, known)
    elif isinstance(item, Path):
        add_chain(space, item.segments, item.closed, _layer(item.layer, "", known))
    elif isinstance(item, Hatch):
        for line in hatch_lines(item.loops, item.angle_deg, item.spacing_mm / scale):
            space.add_line(line.start, line.end, dxfattribs=_layer(item.layer, "HATCH", known))
    elif isinstance(item, Text):
        place = (item.at[0] + item.shift[0] / scale, item.at[1] + item.shift[1] / scale)
        _lettering(space, item.text, place, item, scale, _layer(item.layer, "TEXT", known))
    elif isinstance(item, Dot):
        add_chain(space, circle(item.at, item.radius_mm / scale), True, _layer(item.layer, "DIMENSION", known))
    elif isinstance(item, Leader):
        _leader(space, item, scale, _layer(item.layer, "DIMENSION", known))
    elif isinstance(item, Mark | Placed):
        raise InputError("item", type(item).__name__, "", "something a machine reads", "leave it out of the DXF")
    else:
        add_dimension(space, item, scale, _layer(item.layer, "DIMENSION", known))


def add_chain(space: Any, chain: Chain, closed: bool, attributes: dict[str, Any]) -> None:
    """A chain as one LWPOLYLINE; bulge = tan(sweep / 4), positive counter-clockwise."""
    points = [(*s.start, math.tan(0.25 * s.sweep)) for s in chain]
    gap = math.dist(chain[-1].end, chain[0].start)
    if closed and gap > 1e-6:
        raise InputError("chain", round(gap, 6), "mm", "closed: its end must be its start", "close the chain")
    if not closed:
        points.append((*chain[-1].end, 0.0))
    space.add_lwpolyline(points, format="xyb", close=closed, dxfattribs=attributes)


def _lettering(
    space: Any, text: str, place: Point, item: Text | Leader, scale: float, attributes: dict[str, Any]
) -> None:
    anchor, turn = (item.anchor, item.turn_deg) if isinstance(item, Text) else ("start", 0.0)
    made = space.add_text(
        text, height=CAPITAL * item.size_mm / scale, rotation=turn, dxfattribs={**attributes, "style": STYLE}
    )
    made.set_placement(place, align={"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[anchor])


def _leader(space: Any, item: Leader, scale: float, attributes: dict[str, Any]) -> None:
    elbow = (item.tip[0] + item.elbow[0] / scale, item.tip[1] + item.elbow[1] / scale)
    side = 1.0 if item.elbow[0] >= 0.0 else -1.0
    size = (max(text_width(t, item.size_mm, item.face) for t in item.lines) + 1.2) / scale
    shelf = (elbow[0] + side * size, elbow[1])
    space.add_lwpolyline([item.tip, elbow, shelf], dxfattribs=attributes)
    left = min(elbow[0], shelf[0]) + 0.6 / scale
    for number, text in enumerate(item.lines):
        down = 0.8 if number == 0 else -0.5 - number * 1.25 * item.size_mm + 0.35 * item.size_mm
        _lettering(space, text, (left, elbow[1] + down / scale), item, scale, {**attributes, "layer": "TEXT"})


def add_dimension(space: Any, item: Dimension, scale: float, attributes: dict[str, Any]) -> None:
    """A real DIMENSION entity whose text is the measured number."""
    override = {"dimdec": item.digits, "dimadec": item.digits, "dimtxt": 0.85 * item.size_mm / scale}
    common: dict[str, Any] = {"dimstyle": STYLE, "override": override, "dxfattribs": attributes}
    if isinstance(item, LinearDimension):
        made = _linear(space, item, scale, common)
    elif isinstance(item, RadiusDimension):
        reach = item.radius_mm + item.reach_mm / scale
        spoke = math.radians(item.angle_deg)
        place = (item.centre[0] + reach * math.cos(spoke), item.centre[1] + reach * math.sin(spoke))
        made = space.add_radius_dim(
            center=item.centre, radius=item.radius_mm, angle=item.angle_deg, location=place,
            text=f"<>{item.suffix}", **common,
        )  # fmt: skip
    elif isinstance(item, DiameterDimension):
        made = space.add_diameter_dim(
            center=item.centre, radius=item.radius_mm, angle=item.angle_deg, text=f"<>{item.suffix}", **common
        )
    else:
        made = space.add_angular_dim_cra(
            center=item.centre, radius=item.radius_mm, start_angle=item.start_deg,
            end_angle=item.start_deg + item.measured_deg, distance=0.0, text=f"<>{item.suffix}", **common,
        )  # fmt: skip
    made.render()
    # other programs show this number where they draw the dimension anew
    made.dimension.dxf.actual_measurement = _measured(item)


def _measured(item: Dimension) -> float:
    """What a dimension measures; an angle in radians, as the format has it."""
    if isinstance(item, LinearDimension):
        return item.measured_mm
    if isinstance(item, AngleDimension):
        return math.radians(item.measured_deg)
    return item.radius_mm if isinstance(item, RadiusDimension) else 2.0 * item.radius_mm


def _linear(space: Any, item: LinearDimension, scale: float, common: dict[str, Any]) -> Any:
    level = {"x": 0.0, "y": 0.5 * math.pi}.get(
        item.direction, math.atan2(item.p2[1] - item.p1[1], item.p2[0] - item.p1[0])
    )
    normal = level + 0.5 * math.pi
    offset = item.offset_mm / scale
    base = (item.p1[0] + offset * math.cos(normal), item.p1[1] + offset * math.sin(normal))
    if item.value_mm is not None and written(item.value_mm, item.digits) != written(item.measured_mm, item.digits):
        raise InputError(
            f"dimension {dimension_text(item)}", item.measured_mm, "mm", "true to size in a DXF", "draw it true to size"
        )
    made = space.add_linear_dim(
        base=base, p1=item.p1, p2=item.p2, angle=math.degrees(level), text=f"{item.prefix}<>{item.suffix}", **common
    )
    size = text_width(dimension_text(item), item.size_mm, "figures")
    if item.measured_mm * scale < size + 2.0 * ARROW_MM + 0.8:
        made.set_location(_beside(item, base, level, size, scale))
    return made


def _beside(item: LinearDimension, base: Point, level: float, size: float, scale: float) -> Point:
    """Middle of the figure of a short dimension: past its second end, above the line."""
    along = (item.p2[0] - item.p1[0]) * math.cos(level) + (item.p2[1] - item.p1[1]) * math.sin(level)
    ahead = along + math.copysign((ARROW_MM + 2.0 + 0.5 * size) / scale, along)
    lift = (ABOVE_MM + 0.5 * CAPITAL * item.size_mm) / scale
    x, y = base[0] + ahead * math.cos(level), base[1] + ahead * math.sin(level)
    turn = readable(level) + 0.5 * math.pi
    return (x + lift * math.cos(turn), y + lift * math.sin(turn))
