"""A drawing as DXF (R2018, millimetres): chains as LWPOLYLINE with bulges on named layers, real DIMENSION entities.

Geometry is written true to size whatever the paper scale; lettering, arrows and dashes are sized for reading at that
scale. The dimension style is our own: length factor 1, decimal point, no rounding but to its decimals. Time stamps and
identity numbers are fixed, so that the same input gives the same bytes.
"""

from __future__ import annotations

import io
import math
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from ezdxf import units
from ezdxf._options import options
from ezdxf.filemanagement import new as new_document

from hoopwright.errors import require_positive
from hoopwright.kernels.profile import Point
from hoopwright.papers.drawing.dxf_entities import add_item
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.drawing.pens import pen
from hoopwright.papers.drawing.strokes import Stroke, box_of, flat

DIMENSION_STYLE: Final = "HOOPWRIGHT"
TEXT_STYLE: Final = "HOOPWRIGHT"
_WRITING = threading.Lock()


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer: its name, what lies on it, and the pen it is drawn with."""

    name: str
    about: str
    pen: str = "wide"


ANNOTATION: Final = (
    Layer("DIMENSION", "dimensions and leaders", "narrow"),
    Layer("TEXT", "names, sizes in words, notes", "narrow"),
    Layer("HATCH", "section lining, as lines", "hatch"),
    Layer("CENTRE", "axes and centre lines", "centre"),
)
"""Layers that every drawing has beside its own."""


def dxf(drawing: Drawing, layers: Sequence[Layer], scale: float = 1.0) -> bytes:
    """The drawing as the bytes of a DXF file.

    Parameters
    ----------
    layers : the drawing's own layers; `ANNOTATION` is added.
    scale : paper scale the lettering is sized for (0.2 for 1 : 5). [mm/mm]

    Raises
    ------
    InputError
        An item stands on a layer that is not among them.
    """
    require_positive("scale", scale)
    with _WRITING:
        # ezdxf keeps this choice for the whole process: it is set for the time of one file only
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            return _bytes(_document(drawing, (*layers, *ANNOTATION), scale))
        finally:
            options.write_fixed_meta_data_for_testing = before


def _bytes(document: Any) -> bytes:
    # the library adds the classes of what is in use in the order of a set; added before, they keep this one
    for name in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)
    text = io.StringIO()
    document.write(text)
    encoded: bytes = text.getvalue().encode("utf-8")
    return encoded


def _document(drawing: Drawing, layers: Sequence[Layer], scale: float) -> Any:
    document = new_document("R2018", setup=False, units=units.MM)
    document.header["$MEASUREMENT"] = 1
    document.header["$LUNITS"] = 2
    document.header["$AUNITS"] = 0
    document.styles.add(TEXT_STYLE, font="txt")
    names = {layer.name for layer in layers}
    for layer in layers:
        kind = pen(layer.pen)
        pattern = _linetype(document, layer.pen, kind.dashes_mm, scale)
        weight = _lineweight(kind.width_mm)
        made = document.layers.add(layer.name, color=7, linetype=pattern, lineweight=weight)
        made.description = layer.about
    _dimension_style(document, scale)
    space = document.modelspace()
    for item in drawing.items:
        add_item(space, item, scale, names)
    x0, y0, x1, y1 = _extent(drawing)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (x0, y0, 0.0), (x1, y1, 0.0)
    space.reset_extents((x0, y0, 0.0), (x1, y1, 0.0))
    document.set_modelspace_vport(height=1.2 * max(y1 - y0, 0.75 * (x1 - x0), 1.0), center=_middle(x0, y0, x1, y1))
    return document


def _middle(x0: float, y0: float, x1: float, y1: float) -> Point:
    return (0.5 * (x0 + x1), 0.5 * (y0 + y1))


def _extent(drawing: Drawing) -> tuple[float, float, float, float]:
    """Extent of the geometry, lettering left out. [mm]"""
    strokes = [p for p in flat(expand(drawing)) if isinstance(p, Stroke)]
    return box_of(strokes)


def _lineweight(width_mm: float) -> int:
    """Nearest of the widths a DXF file may say [0.01 mm]."""
    allowed = (13, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120)
    return min(allowed, key=lambda w: abs(w - 100.0 * width_mm))


def _linetype(document: Any, name: str, dashes_mm: tuple[float, ...], scale: float) -> str:
    """Name of the line type of a pen, made on first use; dashes are marks and gaps in turn."""
    if not dashes_mm:
        return "CONTINUOUS"
    title = f"HW_{name.upper()}"
    if title not in document.linetypes:
        pattern = [(d if k % 2 == 0 else -d) / scale for k, d in enumerate(dashes_mm)]
        document.linetypes.add(title, [math.fsum(map(abs, pattern)), *pattern], description=name)
    return title


def _dimension_style(document: Any, scale: float) -> None:
    style = document.dimstyles.add(DIMENSION_STYLE)
    settings = {
        "dimlfac": 1.0,
        "dimscale": 1.0,
        "dimdsep": 46,
        "dimdec": 2,
        "dimzin": 0,
        "dimazin": 0,
        "dimlunit": 2,
        "dimtxt": 2.5 / scale,
        "dimasz": 2.5 / scale,
        "dimexe": 1.4 / scale,
        "dimexo": 0.6 / scale,
        "dimgap": 0.8 / scale,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimtxsty": TEXT_STYLE,
    }
    for key, value in settings.items():
        style.set_dxf_attrib(key, value)
