"""What a drawing is made of. Places are in mm of the thing drawn, y up; sizes, shifts and offsets in mm on paper.

So one drawing serves at any scale: geometry grows, lettering does not. Items are frozen; `expand` turns them into
strokes and words, `dxf` into entities.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, TypeAlias

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Level
from hoopwright.kernels.profile import Point, Segment, arc, line
from hoopwright.papers.drawing.pens import LEAST_TEXT_MM, Face

Chain: TypeAlias = tuple[Segment, ...]
Anchor = Literal["start", "middle", "end"]
Direction = Literal["aligned", "x", "y"]


@dataclass(frozen=True, slots=True)
class Path:
    """A chain of lines and arcs, stroked with a pen, filled with a colour role, or both; `closed` joins end to start.

    title : words for a reader who cannot see it. layer : its layer in a DXF file.
    """

    segments: Chain
    pen: str | None = "wide"
    fill: str | None = None
    closed: bool = False
    layer: str = ""
    title: str = ""

    def __post_init__(self) -> None:
        if not self.segments:
            raise InputError("path", "empty", "", "at least one segment", "add a line or an arc")


@dataclass(frozen=True, slots=True)
class Hatch:
    """Section lining of a closed region: real lines, clipped. Loops inside a loop are left free."""

    loops: tuple[Chain, ...]
    angle_deg: float = 45.0
    spacing_mm: float = 1.6
    pen: str = "hatch"
    layer: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering. shift [mm on paper] moves it from its place; turn_deg is counter-clockwise.

    size_mm : font size; capitals are about 0.67 of it. knockout : the sheet's colour behind it.
    """

    at: Point
    text: str
    size_mm: float = LEAST_TEXT_MM
    face: Face = "figures"
    anchor: Anchor = "start"
    shift: Point = (0.0, 0.0)
    turn_deg: float = 0.0
    colour: str = "ink"
    knockout: bool = False
    layer: str = ""

    def __post_init__(self) -> None:
        require_positive("text size", self.size_mm, "mm")


@dataclass(frozen=True, slots=True)
class LinearDimension:
    """Distance from p1 to p2, along the line between them or along x or y.

    offset_mm : of the dimension line from p1, on paper, positive to the left of the measuring direction (p1 to p2 for
    "aligned", +x for "x", +y for "y"). value_mm : number to print where the picture is not to measure; None prints
    what the geometry says. prefix, suffix : about the number. tolerance : printed behind it.
    """

    p1: Point
    p2: Point
    offset_mm: float
    digits: int = 2
    direction: Direction = "aligned"
    prefix: str = ""
    suffix: str = ""
    value_mm: float | None = None
    size_mm: float = LEAST_TEXT_MM
    layer: str = ""

    @property
    def measured_mm(self) -> float:
        """What the geometry says. [mm]"""
        dx, dy = self.p2[0] - self.p1[0], self.p2[1] - self.p1[1]
        return abs(dx) if self.direction == "x" else abs(dy) if self.direction == "y" else math.hypot(dx, dy)


@dataclass(frozen=True, slots=True)
class RadiusDimension:
    """Radius of an arc: a line along `angle_deg` from the centre side, arrow on the arc, figure beyond.

    reach_mm : from the arc to the figure, on paper; positive outward, negative inward.
    """

    centre: Point
    radius_mm: float
    angle_deg: float
    reach_mm: float = 6.0
    digits: int = 2
    suffix: str = ""
    size_mm: float = LEAST_TEXT_MM
    layer: str = ""


@dataclass(frozen=True, slots=True)
class DiameterDimension:
    """Diameter of a circle, drawn through its centre at `angle_deg`, figure outside at the far end."""

    centre: Point
    radius_mm: float
    angle_deg: float = 45.0
    reach_mm: float = 6.0
    digits: int = 2
    suffix: str = ""
    size_mm: float = LEAST_TEXT_MM
    layer: str = ""


@dataclass(frozen=True, slots=True)
class AngleDimension:
    """Angle about a centre from `start_deg` counter-clockwise to `end_deg`; `radius_mm` of the thing drawn."""

    centre: Point
    start_deg: float
    end_deg: float
    radius_mm: float
    digits: int = 1
    suffix: str = ""
    size_mm: float = LEAST_TEXT_MM
    layer: str = ""

    @property
    def measured_deg(self) -> float:
        """What the geometry says, above 0 and at most 360. [deg]"""
        turn = (self.end_deg - self.start_deg) % 360.0
        return turn if turn > 0.0 else 360.0


@dataclass(frozen=True, slots=True)
class Leader:
    """A line from `tip` to a shelf with words on it; `elbow` [mm on paper] is the shelf's near end, seen from the tip.

    lines : the first is printed on the shelf, the others under it. end : arrow on an edge, dot on a face.
    """

    tip: Point
    elbow: Point
    lines: tuple[str, ...]
    end: Literal["arrow", "dot"] = "dot"
    size_mm: float = LEAST_TEXT_MM
    face: Face = "figures"
    layer: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """Number of a finding: single ring a note, double ring a caution, filled octagon a stop."""

    at: Point
    number: int
    level: Level
    shift: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Dot:
    """A filled dot of `radius_mm` on paper."""

    at: Point
    radius_mm: float = 0.6
    colour: str = "ink"
    layer: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together; `title` names them for a reader who cannot see them, `href` makes them a link."""

    items: tuple[Item, ...]
    title: str = ""
    href: str = ""


@dataclass(frozen=True, slots=True)
class Placed:
    """A drawing set into another at `at` (where its own origin comes to lie) and at its own scale."""

    drawing: Drawing
    at: Point
    scale: float


Item: TypeAlias = (
    Path
    | Hatch
    | Text
    | LinearDimension
    | RadiusDimension
    | DiameterDimension
    | AngleDimension
    | Leader
    | Mark
    | Dot
    | Group
    | Placed
)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing: its items, and what it shows in words (`title`, `description`)."""

    items: tuple[Item, ...]
    title: str
    description: str = ""

    def _repr_svg_(self) -> str:
        """What a notebook shows: the drawing at its own scale."""
        # the writer knows the items: at the top of this file the import would go round in a circle
        from hoopwright.papers.drawing.svg import svg

        return svg(self)


def polyline(points: tuple[Point, ...] | list[Point], closed: bool = False) -> Chain:
    """Straight segments through the points; doubled points are left out."""
    kept = [points[0]]
    kept += [b for a, b in pairwise(points) if math.dist(a, b) > 1e-9]
    if closed and math.dist(kept[0], kept[-1]) > 1e-9:
        kept.append(kept[0])
    return tuple(line(a, b) for a, b in pairwise(kept))


def circle(centre: Point, radius_mm: float) -> Chain:
    """A full circle, as two arcs, counter-clockwise."""
    require_positive("circle radius", radius_mm, "mm")
    right, left = (centre[0] + radius_mm, centre[1]), (centre[0] - radius_mm, centre[1])
    return (arc(right, left, centre, True), arc(left, right, centre, True))


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Chain:
    """A closed rectangle between two corners."""
    return polyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], closed=True)


def bow(centre: Point, radius_mm: float, start_deg: float, end_deg: float) -> Segment:
    """An arc about a centre, counter-clockwise when `end_deg` is the greater angle."""
    a, b = math.radians(start_deg), math.radians(end_deg)

    def on(t: float) -> Point:
        return (centre[0] + radius_mm * math.cos(t), centre[1] + radius_mm * math.sin(t))

    return arc(on(a), on(b), centre, end_deg > start_deg)
