"""Fit-up sheet: what to set and read before the seam is welded, and the mismatch along the contour."""

from __future__ import annotations

from hoopwright.papers.blocks import Block, picture, space
from hoopwright.papers.hot.common import figure_table, finding_blocks
from hoopwright.papers.pictures.curves import Axes, Curve, curves
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.scales import paper_box
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.weld.common import WeldTitle, form, weld_pdf, words
from hoopwright.plan.seam.end_geometry import NINE_IN_TEN
from hoopwright.plan.seam.fit_up_plan import FitUpSheet

PLACES = ("forward", "quarter", "middle", "three quarters", "aft")


def fit_up_pdf(about: WeldTitle, sheet: FitUpSheet) -> bytes:
    """The sheet as PDF."""
    columns = (("place along the contour", 52.0), ("mismatch, mm", 40.0), ("gap, mm", 40.0), ("flush outside", 40.0))
    blocks: list[Block] = [
        heading("A", "Before the clamps close"),
        *words(sheet.words),
        heading("B", f"Read and write down; mismatch {sheet.allowed_mm:.2f} mm at most"),
        *form(columns, [(place, "", "", "") for place in PLACES], "readings"),
        heading("C", "Mismatch along the contour"),
        *_picture(sheet),
        *figure_table(sheet.figures, "fit-up"),
        *finding_blocks(sheet.findings, "D"),
    ]
    return weld_pdf(about, "weld fit-up sheet", sheet.findings, blocks)


def _picture(sheet: FitUpSheet) -> list[Block]:
    scatter, ends = sheet.scatter, sheet.ends
    high = tuple((s, NINE_IN_TEN * sd) for s, sd in zip(scatter.place_mm, scatter.sd_mm, strict=True))
    shown = [Curve("", high, "dashed"), Curve("", tuple((s, -v) for s, v in high), "dashed")]
    if ends is not None:
        shown.append(Curve("", tuple(zip(ends.place_mm, ends.mismatch_mm, strict=True)), "wide"))
    levels = ((sheet.allowed_mm, "allowed"), (-sheet.allowed_mm, ""))
    drawing = curves(
        Axes(130.0, 48.0, "along the contour from the forward edge, mm", "second end over first, mm", levels),
        shown,
        "Mismatch of both strip ends",
    )
    told = "Dashed: what 9 of 10 strips stay between, from the metal alone."
    said = f"Full line: both ends as measured. {told}" if ends is not None else told
    return [
        picture(drawing, paper_box(drawing, 1.0), 1.0, 12.0),
        space(1.0),
        paragraph(said, INNER_WIDTH, 3.0, "italic"),
        space(2.0),
    ]
