"""What cannot be, seen from two inputs together; each refusal names the value and a remedy. mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoopwright.errors import InputError
from hoopwright.kernels.hoop.inputs import Hit, HoopSection, InitialShape, SegmentTool, Weld


def refuse_hoop(section: HoopSection, shape: InitialShape, weld: Weld | None) -> None:
    """Refuse fibres beyond the centre, and a weld whose state does not fit the fibres."""
    deepest = shape.radius_mm + min(section.offsets_mm)
    if deepest <= 0.2 * shape.radius_mm or section.axis_height_mm >= 0.8 * shape.radius_mm:
        raise InputError(
            "radius of the hoop", shape.radius_mm, "mm", "much larger than the depth of the section",
            "check radius and fibre offsets",
        )  # fmt: skip
    fibres = len(section.offsets_mm)
    if weld is not None and weld.state is not None and len(weld.state.stress_MPa) != fibres:
        raise InputError(
            "state of the weld", f"a list of {len(weld.state.stress_MPa)}", "",
            f"a list of {fibres}, one for each fibre",
            "give the state of every fibre",
        )  # fmt: skip


def refuse_weld(weld: Weld, tool: SegmentTool, shape: InitialShape) -> None:
    """Refuse a weld that is wider than a segment, or wider than the law of one zone makes sense for."""
    segment = 2.0 * tool.turned_radius_mm * math.sin(math.pi / tool.count) - tool.slot_mm
    if weld.width_mm >= segment:
        raise InputError(
            "weld width", weld.width_mm, "mm", f"less than the width of a segment, {segment:.3f} mm here",
            "enter the width of the zone across the seam, along the hoop",
        )  # fmt: skip
    if weld.width_mm >= 0.25 * 2.0 * math.pi * shape.radius_mm:
        raise InputError(
            "weld width", weld.width_mm, "mm", "less than a quarter of the girth", "enter the zone's width"
        )


def nominal_stretch(section: HoopSection, shape: InitialShape, hit: Hit) -> float:
    """Log strain of a hoop that closes round the segment middles at the end of a hit, thinning left out."""
    return math.log((hit.position_mm + section.axis_height_mm) / shape.radius_mm)


def refuse_hits(section: HoopSection, shape: InitialShape, tool: SegmentTool, hits: Sequence[Hit]) -> None:
    """Refuse no hit, a first hit that does not stretch, a hit beyond the flow curve, segments pulled together too
    far."""
    if not hits:
        raise InputError("hits", "an empty list", "", "at least one hit", "add a hit")
    first = nominal_stretch(section, shape, hits[0])
    if first <= 0.0:
        raise InputError(
            "hits[0].position", hits[0].position_mm, "mm",
            f"above {shape.radius_mm - section.axis_height_mm:.3f}, or the stretch is negative ({100.0 * first:.3f} %)",
            "a hoop can be stretched but not shrunk: start from a smaller hoop or go to a larger radius",
        )  # fmt: skip
    pitch = math.sin(math.pi / tool.count)
    for i, hit in enumerate(hits):
        stretch = nominal_stretch(section, shape, hit)
        if stretch > section.metal.flow.strain_max:
            raise InputError(
                f"hits[{i}].position", hit.position_mm, "mm",
                f"within the flow curve, made for strains up to {section.metal.flow.strain_max:g} (here {stretch:.3f})",
                "go to a smaller radius or enter a flow curve that reaches further",
            )  # fmt: skip
        gap = tool.slot_mm + 2.0 * (hit.position_mm - tool.turned_radius_mm) * pitch
        if gap <= 0.0:
            raise InputError(
                f"hits[{i}].position", hit.position_mm, "mm",
                f"above {tool.turned_radius_mm - 0.5 * tool.slot_mm / pitch:.3f}, where the slots close",
                "widen the slots or turn the segments to a smaller radius",
            )  # fmt: skip
