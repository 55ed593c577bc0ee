"""DXF of what machines read of the tools: wire path, whole rolls, segment blank, trim plug, weld bars, taper pin.
mm, true to size.

Layers are named in each drawing's own list; ROUGH and SKIM are the wire's centre lines, not the faces.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from hoopwright.kernels.profile import Point, Profile, line
from hoopwright.papers.drawing.dxf import Layer, dxf
from hoopwright.papers.drawing.items import Drawing, Item, LinearDimension, Path, Text
from hoopwright.papers.dxf_blank import SHEET_MM
from hoopwright.papers.scales import fitting
from hoopwright.papers.shop.rolling import roll_callouts
from hoopwright.papers.shop.segment_sheets import wire_drawing
from hoopwright.papers.shop.small_tools import weld_drawing
from hoopwright.plan.ring_tools import RingTools
from hoopwright.tools.taper_pin import PinForm

WIRE_LAYERS: Final = (
    Layer("BLANK", "blank from above", "wide"),
    Layer("ROUGH", "wire centre, rough cut", "narrow"),
    Layer("SKIM", "wire centre, skims", "narrow"),
    Layer("HOLE", "start holes", "narrow"),
)
TURNED_LAYERS: Final = (Layer("CONTOUR", "closed half section, axis at y = 0", "wide"),)
WELD_LAYERS: Final = (Layer("BACKING", "backing bar", "wide"), Layer("CLAMP", "clamp bar", "wide"))


def tool_dxfs(tools: RingTools) -> dict[str, bytes]:
    """Files by name, for one ring."""
    ring, form = tools.plan.job.ring.id, tools.parts.form
    reach = 2.2 * form.section.bounds[3]
    scale = fitting(reach, reach, *SHEET_MM)
    files = {f"{form.name}-wire.dxf": dxf(wire_drawing(tools.wire, scale), WIRE_LAYERS, scale)}
    for word, roll in (("inner", tools.rolls.inner), ("outer", tools.rolls.outer)):
        places = [callout.tip for callout in roll_callouts(roll)]
        files[f"{ring}-R-{word}-whole.dxf"] = turned_dxf(roll.name, roll.section, places)
    files[f"{form.name}-blank.dxf"] = turned_dxf(form.name, form.section)
    files[f"{tools.plug.name}.dxf"] = turned_dxf(tools.plug.name, tools.plug.section)
    files[f"{tools.plug.name}-arbor.dxf"] = turned_dxf(f"{tools.plug.name} arbor", tools.plug.arbor_section)
    files[f"{tools.weld.name}.dxf"] = dxf(_seam_plane(tools), WELD_LAYERS)
    return files


def _seam_plane(tools: RingTools) -> Drawing:
    return weld_drawing(tools.weld)


def turned_dxf(name: str, section: Profile, places: Sequence[Point] = ()) -> bytes:
    """A half section for the lathe: contour to its bore, length, and the radius at each place, dimensioned from the
    axis.

    places : points of the contour; its outermost point where none is named.
    """
    x0, y0, x1, y1 = section.bounds
    outermost = max((s.point_at(0.5 * s.length) for s in section.segments), key=lambda p: p[1])
    items: list[Item] = [
        Path(section.segments, "wide", None, True, "CONTOUR", name),
        Path((line((x0 - 5.0, 0.0), (x1 + 5.0, 0.0)),), "centre", layer="CENTRE"),
        LinearDimension((x0, y0), (x1, y0), -8.0, 3, "x"),
        *(LinearDimension((x, 0.0), (x, r), 0.0, 3, "y", prefix="R ") for x, r in places or (outermost,)),
        Text((x0, y1), name, 3.9, "figures-bold", shift=(0.0, 3.0)),
    ]
    drawing = Drawing(tuple(items), name, f"half section of {name}, axis at y = 0")
    return dxf(drawing, TURNED_LAYERS, fitting(x1 - x0, y1, *SHEET_MM))


def pin_dxf(pin: PinForm) -> bytes:
    """The pin for the lathe."""
    return turned_dxf(pin.name, pin.section, ((-pin.stroke_mm, pin.small_end_mm), (0.0, pin.bore_mm)))
