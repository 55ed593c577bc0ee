"""A section from a DXF: the lines, arcs and polylines of one layer, rejoined into one chain whatever their order.

A drawing that is not marked as millimetres is asked about, never guessed. Units of the results mm.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from hoopwright.design.opening import read_bytes
from hoopwright.errors import Fault, FileFaults, InputError
from hoopwright.kernels.profile import Point, Segment, arc, line

MM, INCH, UNITLESS = 4, 1, 0
_UNIT_NAMES = {0: "none", 1: "inches", 2: "feet", 4: "millimetres", 5: "centimetres", 6: "metres"}
_TOUCH_MM = 0.001


@dataclass(frozen=True, slots=True)
class LayerChain:
    """The chain of one layer. marked_as : the unit the drawing is marked with, in words."""

    segments: tuple[Segment, ...]
    marked_as: str


def chain_from_dxf(path: Path, layer: str, unit: Literal["mm", "inch"] | None, origin: Point) -> LayerChain:
    """The one chain that the entities of a layer make.

    Parameters
    ----------
    unit : what the designer says the drawing's unit is; None where nothing was said.
    origin : where the origin of the drawing lies, (z, r). [mm]

    Raises
    ------
    FileFaults
        The file is not there or no DXF.
    InputError
        Unit to be said, layer not there or empty, an entity of another kind, or no single open chain.
    """
    document = _document(path)
    marked = int(document.header.get("$INSUNITS", UNITLESS))
    words = _UNIT_NAMES.get(marked, f"code {marked}")
    if unit is None and marked != MM:
        raise InputError(
            "dxf_unit",
            "missing",
            "",
            f'"mm" or "inch": the drawing is marked as {words if marked else "having no unit"}',
            "measure a known size in the drawing, then write dxf_unit",
        )
    if unit == "inch" and marked == MM:
        raise InputError("dxf_unit", '"inch"', "", "mm, as the drawing is marked", "correct dxf_unit or the drawing")
    entities = [entity for entity in document.modelspace() if entity.dxf.layer == layer]
    if not entities:
        layers = sorted({entity.dxf.layer for entity in document.modelspace()})
        raise InputError(
            "dxf_layer",
            f'"{layer}"',
            "",
            f"a layer with lines on it: {', '.join(layers) or 'none'}",
            "take one of these",
        )
    factor = 25.4 if unit == "inch" else 1.0
    pieces = [_placed(piece, factor, origin) for entity in entities for piece in _pieces(entity)]
    return LayerChain(tuple(rejoined(pieces)), words)


def rejoined(pieces: list[Segment]) -> list[Segment]:
    """Pieces in any order and direction as one chain, starting at the loose end with the smaller first coordinate.

    Raises
    ------
    InputError
        Three pieces meet in a point, the pieces make several chains, or a closed one.
    """
    pieces = _without_doubles([piece for piece in pieces if piece.length > 1e-9])
    loose = [end for piece in pieces for end in (piece.start, piece.end) if _degree(pieces, end) == 1]
    crowded = next((e for p in pieces for e in (p.start, p.end) if _degree(pieces, e) > 2), None)
    if crowded is not None:
        raise _no_chain(f"three ends at [{crowded[0]:g}, {crowded[1]:g}]", "remove the line that does not belong")
    if not loose:
        raise _no_chain("a closed line", "draw one line of the sheet (mid-surface or one face), open at its edges")
    if len(loose) > 2:
        places = "; ".join(f"[{x:g}, {y:g}]" for x, y in loose[:6])
        raise _no_chain(f"{len(loose)} loose ends at {places}", "close the gaps, or remove lines of other things")
    return _walked(pieces, min(loose))


def _walked(pieces: list[Segment], place: Point) -> list[Segment]:
    left, chain = list(pieces), list[Segment]()
    while left:
        number = next((k for k, p in enumerate(left) if _near(p.start, place) or _near(p.end, place)), None)
        if number is None:
            raise _no_chain(f"{len(left)} pieces apart from the rest", "remove what does not belong to the section")
        piece = left.pop(number)
        chain.append(piece if _near(piece.start, place) else piece.reversed())
        place = chain[-1].end
    return chain


def _near(one: Point, two: Point) -> bool:
    return math.dist(one, two) <= _TOUCH_MM


def _degree(pieces: list[Segment], end: Point) -> int:
    return sum(_near(end, piece.start) + _near(end, piece.end) for piece in pieces)


def _without_doubles(pieces: list[Segment]) -> list[Segment]:
    """Pieces drawn twice over each other count once."""
    kept: list[Segment] = []
    for piece in pieces:
        middle = piece.point_at(0.5 * piece.length)
        if not any(
            _near(middle, other.point_at(0.5 * other.length))
            and (_near(piece.start, other.start) or _near(piece.start, other.end))
            and (_near(piece.end, other.start) or _near(piece.end, other.end))
            for other in kept
        ):
            kept.append(piece)
    return kept


def _no_chain(value: str, remedy: str) -> InputError:
    return InputError("dxf_layer", value, "", "one open chain of lines and arcs", remedy)


def _placed(piece: Segment, factor: float, origin: Point) -> Segment:
    def place(point: Point) -> Point:
        return (origin[0] + factor * point[0], origin[1] + factor * point[1])

    if piece.centre is None:
        return line(place(piece.start), place(piece.end))
    return arc(place(piece.start), place(piece.end), place(piece.centre), piece.ccw)


def _document(path: Path) -> Any:
    from ezdxf import recover
    from ezdxf.lldxf.const import DXFError

    content = read_bytes(path)
    try:
        document, auditor = recover.read(io.BytesIO(content))
    except (OSError, DXFError, ValueError, LookupError) as problem:
        reason = str(problem) or type(problem).__name__
        fault = Fault("file", f"not readable as DXF ({reason[:80]})", "", "a DXF file", "export it again, as DXF")
        raise FileFaults(str(path), [fault]) from None
    if auditor.has_errors:
        first = auditor.errors[0].message[:80]
        raise FileFaults(str(path), [Fault("file", f"damaged ({first})", "", "a sound DXF file", "export it again")])
    return document


def _pieces(entity: Any) -> Iterator[Segment]:
    """Lines and arcs of one entity, in the units of the drawing."""
    kind = entity.dxftype()
    if kind in ("ARC", "LWPOLYLINE") and tuple(entity.dxf.extrusion) != (0.0, 0.0, 1.0):
        raise InputError(
            "dxf_layer", f"a mirrored {kind}", "", "drawn in the plane", "flatten the drawing, export again"
        )
    if kind == "LINE":
        yield line(_flat(entity.dxf.start), _flat(entity.dxf.end))
    elif kind == "ARC":
        centre = _flat(entity.dxf.center)
        start, end = _flat(entity.start_point), _flat(entity.end_point)
        yield arc(start, end, centre, True)
    elif kind == "LWPOLYLINE" or (kind == "POLYLINE" and entity.is_2d_polyline):
        for part in entity.virtual_entities():
            yield from _pieces(part)
    else:
        remedy = "explode it into lines and arcs, or move it to another layer"
        raise InputError("dxf_layer", f"holding a {kind}", "", "a layer of lines, arcs and polylines only", remedy)


def _flat(vector: Any) -> Point:
    return (float(vector.x), float(vector.y))
