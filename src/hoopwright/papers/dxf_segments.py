"""DXF of a segment profile, for the grinder. Millimetres, true to size, loaded position with the slots open.

Layers: PROFILE (closed half section: profile, ends, axis at y = 0), CENTRE (axis), and those of every drawing.
"""

from __future__ import annotations

from typing import Final

from hoopwright.papers.drawing.dxf import Layer, dxf
from hoopwright.papers.dxf_blank import SHEET_MM
from hoopwright.papers.pictures.segments import SegmentView, segment_dxf_drawing
from hoopwright.papers.scales import fitting

SEGMENT_LAYERS: Final = (Layer("PROFILE", "half section of the set, closed to its axis", "wide"),)


def segment_dxf(view: SegmentView) -> bytes:
    """The segment profile as DXF."""
    x0, _, x1, y1 = view.profile.bounds
    return dxf(segment_dxf_drawing(view), SEGMENT_LAYERS, fitting(x1 - x0, y1, *SHEET_MM))
