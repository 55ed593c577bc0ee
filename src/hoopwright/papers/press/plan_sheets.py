"""Pressing plan, blank drawing and try-out record of an end plate."""

from __future__ import annotations

from hoopwright.findings import Figure
from hoopwright.papers.blocks import Block, beside, space, stacked
from hoopwright.papers.numbers import figure_text, written
from hoopwright.papers.press.common import of_chapters, press_table
from hoopwright.papers.press.pictures import blank_drawing, hole_places
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Letters, big_figures, entries, numbered_steps, view_letters, writing_table
from hoopwright.papers.walk_tools import fitted
from hoopwright.plan.plate.plate_plan import HOLDER_STEP_PCT, PlatePlan
from hoopwright.process.press import PressStep

FORMED = (
    *(f"flanges/{key}" for key in ("outer-dia", "inner-dia", "outer-lean", "inner-lean", "flat")),
    *(f"port/{key}" for key in ("pad-height", "lip-bore", "lip-end", "pad-flatness", "lip-lean")),
    *(f"port/{key}" for key in ("lip-edge-thickness", "lip-edge-strain", "web", "to-flange", "pitch-shift")),
)
"""What comes off the tools, as the plan names it."""
PLACES = 8
"""Places round the plate at which draw-in is measured."""


def plan_blocks(plan: PlatePlan) -> list[Block]:
    """Order of work, what it is set to, and every figure of blank and plate."""
    letters = view_letters()
    blank, port = plan.figure, plan.port
    big = [
        ("blank outside", f"Ø {figure_text(blank('blank/outside-dia'))}"),
        ("blank inside", f"Ø {figure_text(blank('blank/inside-dia'))}"),
    ]
    if port is not None:
        big += [
            ("pre-holes", f"{plan.job.liner.ports} × Ø {figure_text(blank('port/pre-hole-dia'))}"),
            ("on radius", figure_text(blank("port/pre-hole-pitch-radius"))),
        ]
    blocks: list[Block] = [
        big_figures(big),
        heading(next(letters), "Order of work"),
        *numbered_steps(order_of_work(plan)),
        heading(next(letters), "Blank and holes; the hand rules stand beside the press runs"),
        *press_table([*of_chapters(plan, ("blank",)), *_holes(plan)], "blank"),
        heading(next(letters), "Plate as it comes off, let go"),
        *press_table(_formed(plan), "formed"),
        *_press(plan, letters),
        _grounds(),
    ]
    return blocks


def _press(plan: PlatePlan, letters: Letters) -> list[Block]:
    rows = [("press-flanges", "Press: both flanges"), ("trim", "Trim"), ("plate", "What stays in the plate")]
    if plan.port is not None:
        rows.insert(0, ("press-pads", f"Press: {plan.job.liner.ports} pads and lips"))
    blocks: list[Block] = []
    for chapter, words in rows:
        blocks += [heading(next(letters), words), *press_table(of_chapters(plan, (chapter,)), chapter)]
    return blocks


def _grounds() -> Block:
    words = (
        "Sizes come from repeated runs of the section kernel, in which springback is taken out of the tool faces until "
        "the part let go is the drawing. A port is a body of revolution out to half way to the next; the ± beside its "
        "sizes is half the difference between an edge there that is held and one that draws in. The flanges are run "
        "without ports. Flattening and cutting forces are closed forms."
    )
    return stacked([paragraph(words, INNER_WIDTH, 3.0, "italic"), space(2.0)], 0.0, "grounds")


def _holes(plan: PlatePlan) -> list[Figure]:
    return [f for f in of_chapters(plan, ("port",)) if "pre-hole" in f.identity]


def _formed(plan: PlatePlan) -> list[Figure]:
    return [f for f in of_chapters(plan, ("flanges", "port")) if f.identity.partition("/")[2] in FORMED]


def order_of_work(plan: PlatePlan) -> list[str]:
    """One sentence or two a step."""
    lines = []
    for step in plan.walk:
        said = f"{step.title}; {step.subtitle}."
        if isinstance(step, PressStep):
            tonnage = next(f for f in step.figures if f.identity.endswith("/tonnage"))
            holder = next((f for f in step.figures if f.identity.endswith("/holder-force")), None)
            kind = "D" if "pads" in step.figures[0].identity else "F"
            said = f"{step.title}, tool {plan.job.plate.id}-{kind}: press {figure_text(tonnage)} with margin"
            if holder is not None:
                said += f", holder {figure_text(holder)} as first setting"
            flat = next((f for f in step.figures if f.identity.endswith("/flatten-force")), None)
            said += f"; flatten at the end of the stroke with {figure_text(flat)}." if flat is not None else "."
        lines.append(said)
    return lines


def blank_blocks(plan: PlatePlan) -> list[Block]:
    """The blank, drawn, with its hole table."""
    letters = view_letters()
    drawn, scale = fitted(lambda s: blank_drawing(plan, s), INNER_WIDTH, 130.0, 1.0)
    facts = [
        ("sheet", f"{written(plan.job.plate.thickness_mm, 3)} mm, UNS {plan.job.plate.material}"),
        ("edges", "burr to the forward side; inner edge and pre-holes as the order of work has them"),
    ]
    blocks: list[Block] = [
        heading(next(letters), f"Blank, {scale_text(scale)}, seen from the forward side"),
        drawn,
        space(3.0),
        *table((Column("what", 30.0, "start"), Column("value", 120.0, "start")), facts, title="blank"),
        space(3.0),
    ]
    if plan.port is not None:
        rows = [
            (str(k), f"{written(a, 3)}°", written(x, 3), written(y, 3))
            for k, (a, x, y) in enumerate(hole_places(plan), start=1)
        ]
        heads = (Column("pre-hole", 24.0, "start"), Column("angle", 30.0), Column("x", 30.0), Column("y", 30.0))
        blocks += [heading(next(letters), "Pre-holes"), *table(heads, rows, title="pre-holes"), space(3.0)]
    return blocks


def try_out_blocks(plan: PlatePlan) -> list[Block]:
    """What is read and written at the try-out of both tools."""
    letters = view_letters()
    steps = [
        "Etch circles on three blanks at pre-holes, pad blends and edges; grease as the friction card has it.",
        f"Press the first at the first holder setting; raise it by {HOLDER_STEP_PCT} % a plate inside the window.",
        f"Measure the draw-in at {PLACES} places, thickness of every lip's edge, pad height and flatness.",
        "Read the circles; a lip or blend above the limit stops the try-out.",
    ]
    blocks: list[Block] = [heading(next(letters), "Work"), *numbered_steps(steps)]
    windows = [
        ("flanges", plan.figure("press-flanges/holder-low"), plan.figure("press-flanges/holder-high")),
    ]
    if plan.port is not None:
        windows.insert(0, ("pads", plan.figure("press-pads/holder-low"), plan.figure("press-pads/holder-high")))
    rows = [
        (word, figure_text(plan.figure(f"press-{word}/holder-force")), figure_text(low), figure_text(high), high.note)
        for word, low, high in windows
    ]
    heads = (
        Column("holder of", 24.0, "start"),
        Column("first, kN", 22.0),
        Column("stays down", 24.0),
        Column("highest", 22.0),
        Column("ended by", 78.0, "start"),
    )
    blocks += [heading(next(letters), "Window of the holder force"), *table(heads, rows, title="window"), space(3.0)]
    wide = (INNER_WIDTH - 38.0) / PLACES
    places = [(f"{45 * k}°", wide) for k in range(PLACES)]
    draw_in = abs(plan.figure("press-flanges/outer-edge-draw-in").value)
    blocks += [
        heading(next(letters), f"Draw-in of the outer edge, {written(draw_in, 2)} reckoned"),
        *writing_table([("plate", 14.0), ("holder, kN", 24.0), *places], [(str(k), *[""] * 9) for k in (1, 2, 3)]),
    ]
    if plan.port is not None:
        ports = plan.job.liner.ports
        each = (INNER_WIDTH - 32.0) / ports
        edge, height = plan.figure("port/lip-edge-thickness"), plan.figure("port/pad-height")
        for words, unit in (
            (f"Thickness of the lip's edge, {figure_text(edge)} reckoned", "edge"),
            (f"Pad height, {figure_text(height)} reckoned", "height"),
        ):
            heads2 = [
                ("plate", 14.0),
                (unit, 18.0),
                *((f"port {k}" if ports < 8 else str(k), each) for k in range(1, ports + 1)),
            ]
            blocks += [
                heading(next(letters), words),
                *writing_table(heads2, [(str(k), *[""] * (ports + 1)) for k in (1, 2, 3)]),
            ]
    blocks.append(beside([(0.0, entries(("press", "grease", "operator", "decision", "checked", "date")))], "signed"))
    return blocks
