"""Definition sheet; blank and nest with its coupon map."""

from __future__ import annotations

from hoopwright.papers.blocks import Block, picture, space, stacked
from hoopwright.papers.numbers import plus_minus, written
from hoopwright.papers.pictures.blanks import SectorBlank, blank_drawing
from hoopwright.papers.pictures.nest_map import nest_drawing
from hoopwright.papers.pictures.ring_drawing import control_name, ring_drawing
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import fitting, paper_box, scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Paper, figures_table, view_letters
from hoopwright.papers.tools_from_plan import blank_of
from hoopwright.papers.walk_tools import fitted
from hoopwright.plan.ring_tools import RingTools
from hoopwright.plan.seam.coupon_places import coupon_places

COUPONS = 5
"""Coupons of each kind on a sheet (common practice, no source)."""


def definition(tools: RingTools) -> Paper:
    """What the ring is: section, control sizes, material, tolerances, seam and holes."""
    plan, ring, letters = tools.plan, tools.plan.job.ring, view_letters()
    drawn, scale = fitted(lambda s: ring_drawing(ring, s), INNER_WIDTH, 84.0, 2.0)
    sizes = [
        (
            control_name(c),
            written(c.z_mm, 1),
            "",
            c.face,
            plus_minus(c.diameter_mm, c.tolerance_mm, 2),
            "",
            c.state,
            c.measured_as,
        )
        for c in ring.controls
    ]
    columns = (
        Column("control size", 36.0, "start"),
        Column("z", 16.0),
        Column("", 4.0),
        Column("face", 20.0, "start"),
        Column("diameter", 40.0),
        Column("", 4.0),
        Column("state", 24.0, "start"),
        Column("measured as", 25.0, "start"),
    )
    general = plan.job.liner.tolerances
    facts = [
        ("material", f"UNS {ring.material}" if ring.material[:1] in "NRS" else ring.material),
        ("sheet", f"{written(ring.thickness_mm, 3)} mm"),
        ("roundness, restrained, radial", f"{written(general.roundness_restrained_radial_mm, 2)} mm"),
        ("roundness, free, radial", f"{written(general.roundness_free_state_radial_mm, 2)} mm"),
        ("profile, restrained", f"{written(general.profile_restrained_mm, 2)} mm"),
        ("edges along the axis", f"± {written(general.edge_axial_position_mm, 2)} mm"),
        ("thickness after forming, least", f"{written(general.thickness_min_after_forming_mm, 2)} mm"),
        ("metal in service", f"{written(ring.metal_degC, 0)} °C"),
        ("seam at", f"{written(ring.seam_theta_deg, 1)}°"),
    ]
    holes = [
        (p.kind, written(p.z_mm, 2), written(p.diameter_mm, 2), str(p.count), f"{written(p.first_theta_deg, 1)}°")
        for p in plan.job.liner.holes_of(ring.id)
    ]
    blocks: list[Block] = [
        heading(next(letters), f"Section, {scale_text(scale)}; sizes cold at 20 °C, z from the datum, aft positive"),
        drawn,
        space(3.0),
        heading(next(letters), "Control sizes"),
        *table(columns, sizes, title="control sizes"),
        space(3.0),
        heading(next(letters), "Material and general tolerances"),
        *table((Column("what", 70.0, "start"), Column("value", 50.0)), facts, title="general"),
        space(3.0),
    ]
    if holes:
        heads = (
            Column("holes", 40.0, "start"),
            Column("z", 22.0),
            Column("Ø", 22.0),
            Column("count", 22.0),
            Column("first at", 26.0),
        )
        blocks += [heading(next(letters), "Holes, after sizing"), *table(heads, holes, title="holes")]
    return Paper("definition", ring.id, "Definition sheet", tuple(blocks), ("section",), ())


def blank_and_nest(tools: RingTools) -> Paper:
    """What is cut from the sheet, how it lies on it, and where the coupons come from."""
    plan, letters = tools.plan, view_letters()
    blank = blank_of(plan)
    drawn, scale = fitted(lambda s: blank_drawing(blank, s), INNER_WIDTH, 80.0, 1.0)
    sheet, nest = plan.blank.sheet, plan.blank.nest
    small = fitting(sheet.length_mm, sheet.width_mm, INNER_WIDTH - 12.0, 96.0)
    coupons = coupon_places(sheet, COUPONS, COUPONS)
    lay = nest_drawing(sheet, nest, plan.blank.sector, coupons)
    kind = "sector" if isinstance(blank, SectorBlank) else "strip"
    rows = [
        (one.name, "weld, cut across its middle" if one.kind == "weld" else "tensile, parent sheet", size)
        for one in coupons
        for size in (f"{written(one.length_mm, 0)} × {written(one.width_mm, 0)}",)
    ]
    heads = (Column("coupon", 24.0, "start"), Column("for", 60.0, "start"), Column("size", 40.0))
    note = (
        "Coupons lie along the hoop, weld and parent in turn, in the order of the table from below; their number and "
        "size are common practice, no source. Mark sheet, cast and rolling direction on every piece before it is cut "
        "free."
    )
    blocks: list[Block] = [
        heading(next(letters), f"Blank, {kind}, {scale_text(scale)}"),
        stacked(
            [
                drawn,
                paragraph("Dashed: ends cut after rolling, edges trimmed after sizing.", INNER_WIDTH, 3.0, "italic"),
            ],
            1.0,
            "blank",
        ),
        space(2.0),
        heading(next(letters), f"Nest, {nest.count} on a sheet, {scale_text(small)}; coupons dashed at the far end"),
        picture(lay, paper_box(lay, small), small),
        space(3.0),
        heading(next(letters), "Coupons"),
        *table(heads, rows, title="coupons"),
        space(1.5),
        paragraph(note, INNER_WIDTH, 3.0, "italic"),
        space(2.0),
        heading(next(letters), "Figures"),
        *figures_table(tools, plan.blank.figures, "blank figures"),
    ]
    return Paper("blank-nest", plan.job.ring.id, "Blank and nest", tuple(blocks), ("blank", "sheet"), ("cut",))
