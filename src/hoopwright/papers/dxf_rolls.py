"""DXF of the two rolls of a pair, for the lathe and the grinder. Millimetres, true to size, one file a roll.

Layers: CONTOUR (closed half section: contour, ends, axis at y = 0), CENTRE (axis), and those of every drawing.
"""

from __future__ import annotations

from typing import Final

from hoopwright.papers.drawing.dxf import Layer, dxf
from hoopwright.papers.dxf_blank import SHEET_MM
from hoopwright.papers.pictures.roll_contours import roll_drawing
from hoopwright.papers.scales import fitting
from hoopwright.tools.rolls import RollPair

ROLL_LAYERS: Final = (Layer("CONTOUR", "half section of the roll, closed to its axis", "wide"),)


def roll_pair_dxf(pair: RollPair, name: str) -> dict[str, bytes]:
    """Both rolls as DXF, by "inner" and "outer"; `name` is lettered on them."""
    files: dict[str, bytes] = {}
    for side, contour in (("inner", pair.inner), ("outer", pair.outer)):
        x0, _, x1, y1 = contour.bounds
        scale = fitting(x1 - x0, y1, *SHEET_MM)
        files[side] = dxf(roll_drawing(contour, f"{name}, {side} roll"), ROLL_LAYERS, scale)
    return files
