"""Sheets of both press tools: half section shut, points of every turned part, figures, heat treatment, forces."""

from __future__ import annotations

from hoopwright.kernels.profile import Profile
from hoopwright.papers.blocks import Block, picture, space, stacked
from hoopwright.papers.numbers import written
from hoopwright.papers.press.common import press_table
from hoopwright.papers.press.pictures import flanges_drawing, force_curve, pads_drawing
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import paper_box, scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Letters, entries, section_points, view_letters
from hoopwright.papers.walk_tools import fitted
from hoopwright.plan.plate.plate_tools import PlateTools
from hoopwright.process.press import PressStep
from hoopwright.tools.press_set import PILLAR_DIA, PILLARS
from hoopwright.tools.press_set_pads import HOLDER, PLATE, PadSet

PAD_SIZES = tuple(f"port/{key}" for key in ("pad-tool-height", "plunger-dia", "clearance", "contraction", "bound"))
FLANGE_SIZES = tuple(
    f"flanges/{key}"
    for key in (
        "punch-outer-dia",
        "punch-inner-dia",
        "outer-die-dia",
        "inner-die-dia",
        "clearance",
        "die-radius",
        "contraction",
        "bound",
    )
)


def pad_blocks(tools: PlateTools) -> list[Block]:
    """The tool for pads and lips."""
    pads, plan = tools.pads, tools.plan
    assert pads is not None and plan.port is not None
    letters = view_letters()
    step = plan.port.solved.closed.last.step
    drawn, scale = fitted(lambda s: pads_drawing(pads, step.record.shut, s), INNER_WIDTH, 96.0, 2.0)
    words = (
        f"Ports on R {written(pads.circle.radius_mm, 3)}, {pads.circle.count} of them, port 1 at "
        f"{written(plan.job.liner.first_port_theta_deg, 1)}°. x counts from the sheet's mid-plane, press open; shut, "
        f"the punches stand {written(-pads.punch_way_mm, 3)} further forward and the plungers "
        f"{written(pads.plunger_way_mm, 2)} further aft. Stops {written(pads.stop_height_mm, 2)} high end the stroke. "
        "Air leaves through the open bores of the die."
    )
    sections = (
        ("Cavity of the die block, to its face", pads.cavity(pads.face_z)),
        ("Pad punch", pads.punch_section()),
        ("Plunger", pads.plunger_section()),
        ("Hole of the holder plate", pads.holder_hole(0.5 * pads.thickness_mm)),
    )
    return [
        heading(next(letters), f"{pads.name}, one port, shut, half section, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, "tool"),
        space(3.0),
        *_plates(pads, letters),
        *_figures(tools, letters, PAD_SIZES),
        *_forces(step, ("pad punch", "plunger"), pads.circle.count, letters),
        *_points(sections, letters),
        *_heat(tools, pads.name, letters),
        entries(("made by", "measured", "date")),
    ]


def _plates(pads: PadSet, letters: Letters) -> list[Block]:
    rings = f"R {written(pads.inner_mm, 1)} to R {written(pads.outer_mm, 1)}"
    rows = [
        ("die block", f"{rings}, {written(pads.face_z - pads.bottom_z, 2)} high"),
        ("holder plate", f"{rings}, {written(HOLDER, 1)} high"),
        ("punch plate", f"{rings}, {written(PLATE, 1)} high"),
        (
            "pillars",
            f"{PILLARS} × Ø {written(PILLAR_DIA, 1)} on R {written(pads.pillar_radius_mm, 2)}, "
            f"{written(pads.pillar_length_mm, 1)} long",
        ),
        ("height shut", written(pads.shut_height_mm, 2)),
    ]
    heads = (Column("part", 36.0, "start"), Column("size", 116.0, "start"))
    return [heading(next(letters), "Plates and pillars"), *table(heads, rows, title="plates"), space(3.0)]


def flange_blocks(tools: PlateTools) -> list[Block]:
    """The tool for the flanges."""
    form, plan, letters = tools.flanges, tools.plan, view_letters()
    step = plan.flanges.closed.last.step
    drawn, scale = fitted(lambda _: flanges_drawing(form, step.record.shut), INNER_WIDTH, 110.0, 2.0)
    words = (
        f"x counts from the sheet's mid-plane, press open; shut, punch and pad stand {written(form.way_mm, 2)} further "
        "forward."
    )
    if form.circle is not None:
        words += (
            f" Room for the ports: {form.circle.count} × Ø {written(2.0 * form.lip_room_mm, 1)}, "
            f"{written(form.lip_depth_mm, 1)} deep in the punch, and {form.circle.count} × Ø "
            f"{written(2.0 * form.foot_room_mm, 1)}, {written(form.foot_depth_mm, 1)} deep in the pad, on R "
            f"{written(form.circle.radius_mm, 3)}."
        )
    sections = tuple((name.capitalize(), section) for name, section in form.sections().items())
    return [
        heading(next(letters), f"{form.name}, shut, half section, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, "tool"),
        space(3.0),
        *_figures(tools, letters, FLANGE_SIZES),
        *_forces(step, ("punch", "holder"), 1, letters),
        *_points(sections, letters),
        *_heat(tools, form.name, letters),
        entries(("made by", "measured", "date")),
    ]


def _figures(tools: PlateTools, letters: Letters, keys: tuple[str, ...]) -> list[Block]:
    figures = [tools.plan.figure(key) for key in keys]
    return [heading(next(letters), "Sizes of the tool"), *press_table(figures, "tool sizes")]


def _forces(step: PressStep, driven: tuple[str, ...], count: int, letters: Letters) -> list[Block]:
    curve = force_curve(step.record, driven, "force over stroke", count)
    return [
        heading(next(letters), "Force over stroke, forming only; flattening comes on top"),
        picture(curve, paper_box(curve, 1.0), 1.0),
        space(3.0),
    ]


def _points(sections: tuple[tuple[str, Profile], ...], letters: Letters) -> list[Block]:
    blocks: list[Block] = []
    for name, section in sections:
        blocks += [heading(next(letters), f"{name}: points of the half section"), *section_points(section)]
    return blocks


def _heat(tools: PlateTools, tool: str, letters: Letters) -> list[Block]:
    orders = [order for order in tools.orders if order.tool.startswith(tool)]
    rows = [
        (
            order.tool.removeprefix(tool).strip(),
            str(order.pieces),
            order.steel,
            f"{order.hardness_HRC[0]:g} to {order.hardness_HRC[1]:g}",
            written(order.mass_kg, 1),
        )
        for order in orders
    ]
    heads = (
        Column("part", 40.0, "start"),
        Column("pieces", 18.0),
        Column("steel", 26.0, "start"),
        Column("HRC", 26.0),
        Column("kg, all", 22.0),
    )
    return [
        heading(next(letters), "Heat treatment of the working parts"),
        *table(heads, rows, title="heat treatment"),
        space(1.5),
        *(paragraph(text, INNER_WIDTH) for text in orders[0].steps),
        space(3.0),
    ]
