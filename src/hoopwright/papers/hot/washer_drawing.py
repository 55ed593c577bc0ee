"""Drawing of the floating washer with its lapping notes."""

from __future__ import annotations

import datetime as dt

from hoopwright.design.shapes import Washer
from hoopwright.errors import InputError
from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, picture, space
from hoopwright.papers.drawing.items import (
    DiameterDimension,
    Drawing,
    Hatch,
    Item,
    LinearDimension,
    Path,
    circle,
    polyline,
    rectangle,
)
from hoopwright.papers.hot.common import sheet_pdf, title_of, without_stop
from hoopwright.papers.numbers import written
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.scales import fitting, paper_box, scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.plan.hot.hot_plan import HotPlan

BREAK_MM = 0.1
BREAK_EDGE_MM = (0.4, 0.6)
FINISH_UM = 0.4


def washer_pdf(plan: HotPlan, date: dt.date) -> bytes:
    """The washer drawing as PDF. Raises InputError where the liner has no washer."""
    washer = plan.job.liner.washer
    if washer is None:
        raise InputError("washer", "missing", "", "in the liner file", "enter [washer]")
    title = without_stop(title_of(plan, washer.id, "floating washer, drawing and lapping notes", (), date))
    return sheet_pdf(title, washer_blocks(plan, washer), date)


def washer_drawing(washer: Washer) -> Drawing:
    """Face and section of the washer, mm."""
    half, hole = 0.5 * washer.outside_diameter_mm, 0.5 * washer.bore_mm
    x = half + 16.0
    cut = [rectangle(x, y0, x + washer.thickness_mm, y1) for y0, y1 in ((hole, half), (-half, -hole))]
    items: list[Item] = [
        Path(circle((0.0, 0.0), half), "wide", title="outside"),
        Path(circle((0.0, 0.0), hole), "wide", title="bore"),
        Path((line((-half - 3.0, 0.0), (half + 3.0, 0.0)),), "centre"),
        Path((line((0.0, -half - 3.0), (0.0, half + 3.0)),), "centre"),
        *(Path(c, "wide", None, True, title="section") for c in cut),
        *(Hatch((c,)) for c in cut),
        Path(polyline([(x - 2.0, 0.0), (x + washer.thickness_mm + 2.0, 0.0)]), "centre"),
        DiameterDimension((0.0, 0.0), half, 45.0, 7.0, 1, " \u00b1 0.1"),
        DiameterDimension((0.0, 0.0), hole, 215.0, 24.0, 2, f" +{washer.bore_tolerance_plus_mm:.2f} / 0"),
        LinearDimension((x, half), (x + washer.thickness_mm, half), 7.0, 2, "x"),
    ]
    return Drawing(tuple(items), f"washer {washer.id}", "face and section")


def washer_blocks(plan: HotPlan, washer: Washer) -> list[Block]:
    """Drawing, and how it is lapped and checked."""
    drawing = washer_drawing(washer)
    scale = fitting(washer.outside_diameter_mm + 30.0, washer.outside_diameter_mm + 14.0, 0.8 * INNER_WIDTH, 120.0)
    left = plan.floats.value("clearance-left")
    radius = plan.floats.value("edge-radius")
    notes = [
        f"{washer.count} off, {washer.material}; {written(washer.thickness_mm, 2)} mm finished, both faces lapped.",
        f"Lap one face flat within {written(washer.flatness_mm, 3)} mm, turn, lap the other flat and parallel "
        f"within {written(washer.flatness_mm, 3)} mm. "
        f"Finish Ra {FINISH_UM:g} \u00b5m or better on both faces (common practice, no source).",
        "Lap after every other work; leave 0.03 to 0.05 mm a face for it (common practice, no source). Clean of "
        "compound before heat.",
        f"Break the bore's edges {BREAK_MM:g} mm. Round the outer edges, pad side, R "
        f"{written(max(BREAK_EDGE_MM[0], radius or 0.0), 2)} to "
        f"{written(max(BREAK_EDGE_MM[1], 1.4 * (radius or 0.0)), 2)} mm, so that the washer climbs a step of 0.05 mm.",
        f"Check flatness unclamped on a plate with blue or light; bore by plug {written(washer.bore_mm, 2)} go, "
        f"{written(washer.bore_mm + washer.bore_tolerance_plus_mm, 2)} not go.",
        f"Least clearance left on the barrel with the plate leaning: {written(left, 3)} mm."
        if left is not None
        else "",
        f"At assembly: the washer moves freely through {written(washer.float_radial_max_mm, 2)} mm all round "
        "with the spring plate on.",
    ]
    return [
        heading("A", f"{washer.id}; {scale_text(scale)}, mm, cold"),
        picture(drawing, paper_box(drawing, scale), scale, 10.0),
        space(4.0),
        heading("B", "Lapping and checking"),
        *(paragraph(f"{k}. {note}", INNER_WIDTH) for k, note in enumerate([n for n in notes if n], start=1)),
    ]
