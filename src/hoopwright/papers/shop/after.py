"""Trim and hole sheet; inspection sheet; route card; tool labels."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, beside, placed, space
from hoopwright.papers.drawing.items import Item, Path, Text, rectangle
from hoopwright.papers.drawing.lettering import printable
from hoopwright.papers.numbers import NO_BREAK, written
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Paper, entries, figures_table, view_letters, writing_table
from hoopwright.plan.ring_tools import RingTools
from hoopwright.plan.tool_making import MadeTool


def trim_and_holes(tools: RingTools) -> Paper:
    """Where edges are cut and holes drilled, from the contour and from the seam."""
    plan, letters = tools.plan, view_letters()
    blocks: list[Block] = [
        heading(next(letters), f"Edges, from the {plan.trim.feature}"),
        paragraph(
            f"Ring on plug {tools.plug.name}, stop down; measured from z {written(plan.trim.feature_z_mm, 3)}.",
            INNER_WIDTH,
        ),
        *figures_table(tools, plan.trim.figures, "edges", False),
    ]
    if plan.holes.rows:
        columns = (
            Column("hole", 40.0, "start"), Column("no.", 14.0), Column("Ø", 20.0), Column("z", 20.0),
            Column("from seam", 28.0), Column("on the liner", 28.0),
        )  # fmt: skip
        rows = [
            (
                r.pattern,
                str(r.number),
                written(r.diameter_mm, 2),
                written(r.z_mm, 2),
                f"{written(r.from_seam_deg, 2)}°",
                f"{written(r.theta_deg, 2)}°",
            )
            for r in plan.holes.rows
        ]
        blocks += [
            heading(next(letters), "Holes, after sizing, in the order of drilling"),
            *table(columns, rows, title="holes"),
            space(3.0),
        ]
        blocks += [
            heading(next(letters), "Areas and clearances"),
            *figures_table(tools, plan.holes.figures, "areas", False),
        ]
    else:
        blocks.append(paragraph("No holes in this ring.", INNER_WIDTH))
    blocks.append(entries(("programme", "machine, date", "name")))
    return Paper(
        "trim-holes", plan.job.ring.id, "Trim and hole sheet", tuple(blocks), ("trim", "holes"), ("trim", "drill")
    )


def inspection(tools: RingTools) -> Paper:
    """Every characteristic with its balloon, how it is measured, and where it is written."""
    plan, letters = tools.plan, view_letters()
    rows = plan.characteristics.rows
    blocks: list[Block] = [heading(next(letters), "What is measured, in this order")]
    for row in rows:
        words = f"{row.name}: {row.wanted}."
        readings = f"at least {row.readings} readings" if row.readings > 1 else ""
        how = "; ".join(part for part in (row.method, row.support, readings) if part)
        how = f"{how}. Held by: {row.held_by}.".replace(" °C", f"{NO_BREAK}°C")
        body = paragraph(words, INNER_WIDTH - 10.0, 3.2, "figures-bold", 0.2)
        why = paragraph(how, INNER_WIDTH - 10.0, 2.95, "figures", 1.0)
        mark = Block(4.0, (Text((4.0, -3.6), str(row.number), 3.2, "figures-bold", "end"),))
        blocks.append(beside([(0.0, mark), (10.0, _under(body, why))], f"characteristic {row.number}"))
    heads = [("no.", 12.0), ("wanted", 62.0), *((f"serial {k}", 24.5) for k in range(1, 5))]
    blocks += [
        space(2.0), heading(next(letters), "Readings"),
        *writing_table(heads, [(str(r.number), r.wanted[:40], "", "", "", "") for r in rows]),
        entries(("gauges", "temperature", "name, date")),
    ]  # fmt: skip
    return Paper("inspection", plan.job.ring.id, "Inspection sheet", tuple(blocks), ("budget",), ("inspect",))


def _under(one: Block, two: Block) -> Block:
    return Block(one.height_mm + two.height_mm, (placed(one, 0.0, 0.0), placed(two, 0.0, -one.height_mm)))


def route_card(tools: RingTools) -> Paper:
    """How every tool of the ring is made: operations, hours, who did it."""
    letters = view_letters()
    blocks: list[Block] = []
    for made in tools.made:
        head = (
            f"{made.id}, {made.kind}: {written(made.cost.hours, 1)} h, {written(made.cost.total, 0)} in the shop's unit"
        )
        rows = [(str(w.number), w.machine, w.text[:74], written(w.hours, 1), "") for w in made.works]
        blocks += [heading(next(letters), head), *_route_rows(rows)]
    note = "Hours and cost from the tool room card; rates there are invented where they say so."
    return Paper(
        "route-card",
        f"{tools.plan.job.ring.id} tools",
        "Route card",
        (*blocks, paragraph(note, INNER_WIDTH, 3.0, "italic")),
        (),
        ("grind",),
    )


def _route_rows(rows: Sequence[Sequence[str]]) -> list[Block]:
    columns = (
        Column("op.", 12.0, "start"),
        Column("at", 20.0, "start"),
        Column("work", 108.0, "start"),
        Column("h", 12.0),
        Column("done", 20.0),
    )
    return [*table(columns, rows, title="route"), space(3.0)]


def tool_labels(tools: RingTools) -> Paper:
    """A label for every tool, to be fixed to it or its box."""
    made = [label(tools, tool) for tool in tools.made]
    rows: list[Block] = []
    for k in range(0, len(made), 2):
        rows += [beside([(0.0 if n == 0 else 88.0, b) for n, b in enumerate(made[k : k + 2])], "labels"), space(4.0)]
    return Paper("tool-labels", f"{tools.plan.job.ring.id} tools", "Tool labels", tuple(rows), (), ("size",))


def label(tools: RingTools, made: MadeTool) -> Block:
    """One label, 84 by 46 mm."""
    job, form = tools.plan.job, tools.parts.form
    lines = [
        made.kind,
        f"for ring {job.ring.id}, {job.liner.id} revision {job.liner.revision}",
        f"inputs {tools.plan.mark}",
    ]
    if made.id == form.name:
        lines.append(f"{form.count} segments, travel {written(form.travel_mm, 1)}, slot {written(form.slot_mm, 2)}")
        lines.append(f"full stop {written(tools.plan.settings.stops[-1].stop_mm, 2)}")
    if made.life is not None:
        lines.append(f"regrinds left {made.life.regrinds_left}")
    items: list[Item] = [
        Path(rectangle(0.25, -45.75, 83.75, -0.25), "wide", None, True),
        Path((line((0.0, -13.0), (84.0, -13.0)),), "narrow"),
    ]
    number, face = printable(made.id, "sentences")[0]
    items.append(Text((3.0, -9.6), number, 8.0 if len(made.id) < 14 else 5.5, face))
    for k, text in enumerate(lines):
        words, face = printable(text, "figures")[0]
        items.append(Text((3.0, -18.0 - 5.0 * k), words, 3.2, face))
    return Block(46.0, tuple(items), f"label {made.id}")
