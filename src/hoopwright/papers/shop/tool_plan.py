"""Sheet of a whole liner's tools: quantities, cost, lead-time plan with its critical path, and the pin's drawing."""

from __future__ import annotations

import datetime as dt

from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, space
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, rectangle
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.hot.common import sheets
from hoopwright.papers.numbers import written
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.sheet_frame import INNER_WIDTH, Title
from hoopwright.papers.shop.kit import caution_blocks, view_letters
from hoopwright.papers.shop.small_tools import pin_blocks
from hoopwright.papers.walk_sheet import INVENTED
from hoopwright.plan.liner_tools import LinerTools
from hoopwright.tools.schedule import ONE_AT_A_TIME, ToolPlan

BAR_MM, NAME_MM = 3.6, 40.0


def tool_plan_pages(tools: LinerTools, date: dt.date) -> tuple[Drawing, ...]:
    """Pages of the sheet; none where no ring has tools."""
    if tools.schedule is None or tools.pin is None:
        return ()
    liner = tools.plan.liner
    title = Title(
        f"{liner.id} tools",
        "Tool plan of the liner",
        f"{liner.id} {liner.revision}",
        liner.revision,
        tools.plan.mark,
        date.isoformat(),
        (INVENTED,) if liner.invented else (),
    )
    return sheets(title, _blocks(tools, tools.schedule, date))


def tool_plan_pdf(tools: LinerTools, date: dt.date) -> bytes:
    """The sheet as PDF."""
    return pdf(tool_plan_pages(tools, date), f"{tools.plan.liner.id}: tool plan", date)


def _blocks(tools: LinerTools, plan: ToolPlan, date: dt.date) -> list[Block]:
    letters = view_letters()
    found = plan.schedule
    last = plan.day_of(found.length, date)
    proof = "no shorter plan exists" if found.proven else f"no plan is shorter than {written(found.bound, 1)} h"
    words = (
        f"{len(tools.made)} tools, {written(tools.hours, 0)} hours of work, {written(tools.cost, 0)} in the shop's "
        "unit. With one lathe, one grinder, one "
        f"wire machine and one furnace, and what waits there, the last is ready after {written(found.length, 1)} h "
        f"of work, {last.isoformat()}; {proof}. Every tool is a furnace charge of its own here: tools of one steel "
        "and heat put in together shorten the plan."
    )
    columns = (
        Column("tool", 44.0, "start"),
        Column("what", 36.0, "start"),
        Column("pieces", 16.0),
        Column("hours", 18.0),
        Column("cost", 18.0),
        Column("ready after", 22.0),
        Column("day", 18.0),
    )
    rows = [
        (
            m.id,
            m.kind,
            str(m.pieces),
            written(m.cost.hours, 1),
            written(m.cost.total, 0),
            f"{written(plan.ready_h(m.id), 1)} h",
            plan.day_of(plan.ready_h(m.id), date).strftime("%m-%d"),
        )
        for m in tools.made
    ]
    critical = [r for r in plan.rows if r.critical]
    critical.sort(key=lambda r: r.start_h)
    heads = (
        Column("tool", 44.0, "start"),
        Column("operation", 44.0, "start"),
        Column("at", 24.0, "start"),
        Column("from", 24.0),
        Column("to", 24.0),
    )
    path = [
        (r.tool, r.work.title, r.work.machine, f"{written(r.start_h, 1)} h", f"{written(r.end_h, 1)} h")
        for r in critical
    ]
    return [
        paragraph(words, INNER_WIDTH, 3.6, "sentences", 2.0),
        heading(next(letters), "Machines, hour by hour; black is the critical path"),
        *_bars(plan),
        space(3.0),
        heading(next(letters), "Critical path"),
        *table(heads, path, title="critical path"),
        space(3.0),
        heading(next(letters), "Tools"),
        *table(columns, rows, title="tools"),
        space(3.0),
        *(pin_blocks(tools.pin, letters) if tools.pin is not None else []),
        *caution_blocks(("grind",)),
    ]


def _bars(plan: ToolPlan) -> list[Block]:
    """One bar a machine, work as boxes."""
    width = INNER_WIDTH - NAME_MM
    per_h = width / plan.schedule.length
    blocks: list[Block] = []
    for machine in ONE_AT_A_TIME:
        items: list[Item] = [Text((0.0, -BAR_MM), machine, 2.95)]
        for row in plan.rows:
            if row.work.machine == machine and row.end_h > row.start_h:
                a, b = NAME_MM + per_h * row.start_h, NAME_MM + per_h * row.end_h
                items.append(
                    Path(
                        rectangle(a, -BAR_MM, b, 0.0),
                        "fine",
                        "ink" if row.critical else "sheet",
                        True,
                        title=f"{row.tool} {row.work.title}",
                    )
                )
        items.append(Path((line((NAME_MM, -BAR_MM - 0.6), (INNER_WIDTH, -BAR_MM - 0.6)),), "hair"))
        blocks.append(Block(BAR_MM + 2.2, tuple(items), machine, True))
    step = _step(plan.schedule.length)
    ticks: list[Item] = []
    at = 0.0
    while at <= plan.schedule.length + 1e-9:
        x = NAME_MM + per_h * at
        ticks.append(Path((line((x, 0.0), (x, -1.4)),), "fine"))
        ticks.append(
            Text(
                (x, -5.0),
                f"{written(at, 0)} h",
                2.95,
                anchor="middle" if 0.0 < at < 0.95 * plan.schedule.length else "start" if at == 0.0 else "end",
            )
        )
        at += step
    return [*blocks, Block(6.5, tuple(ticks), "hours")]


def _step(length: float) -> float:
    return next((s for s in (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0) if length / s <= 9.0), 1000.0)
