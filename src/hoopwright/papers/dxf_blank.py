"""DXF of a blank, for the cutter. Millimetres, true to size.

Layers: CUT (closed outline, the only thing to cut), TRIM (where ends and edges are cut later), GRAIN (the sheet's
rolling direction), and those of every drawing (DIMENSION, TEXT, HATCH, CENTRE).
"""

from __future__ import annotations

from typing import Final

from hoopwright.papers.drawing.dxf import Layer, dxf
from hoopwright.papers.pictures.blanks import Blank, StripBlank, blank_drawing
from hoopwright.papers.scales import fitting

BLANK_LAYERS: Final = (
    Layer("CUT", "outline to cut, closed", "wide"),
    Layer("TRIM", "cut later: ends after rolling, edges after sizing", "dashed"),
    Layer("GRAIN", "rolling direction of the sheet", "narrow"),
)
SHEET_MM: Final = (380.0, 260.0)
"""Size of the paper the lettering of a DXF is made for."""


def blank_scale(blank: Blank) -> float:
    """Paper scale at which the blank's lettering is easy to read."""
    if isinstance(blank, StripBlank):
        return fitting(blank.rough_length_mm, blank.width_mm, *SHEET_MM)
    return fitting(blank.sector.width_mm, blank.sector.outer_mm, *SHEET_MM)


def blank_dxf(blank: Blank) -> bytes:
    """The blank as DXF."""
    scale = blank_scale(blank)
    return dxf(blank_drawing(blank, scale, whole=True), BLANK_LAYERS, scale)
