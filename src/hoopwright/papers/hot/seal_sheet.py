"""The seal sheet: float, overlap, clearance, leak and findings of ports, washers and springs."""

from __future__ import annotations

import datetime as dt

from hoopwright.kernels.gap_flow import ENTRANCE
from hoopwright.papers.blocks import Block, space
from hoopwright.papers.hot.common import figure_table, finding_blocks, sheet_pdf, title_of
from hoopwright.papers.numbers import written
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.plan.hot.hot_plan import HotPlan
from hoopwright.plan.hot.leak import ENTRANCE_BAND
from hoopwright.plan.hot.stacks import mend_words


def seal_pdf(plan: HotPlan, date: dt.date) -> bytes:
    """The seal sheet as PDF."""
    title = title_of(plan, plan.job.liner.id, "seal sheet: float, clearance, leak", plan.seal_findings, date)
    return sheet_pdf(title, seal_blocks(plan), date)


def seal_blocks(plan: HotPlan) -> list[Block]:
    """Everything on the sheet, in reading order."""
    return [
        heading("A", "Float, overlap, clearance"),
        *figure_table(plan.floats.figures, "float"),
        *_stack(plan),
        heading("B", "Leak"),
        paragraph(
            "One model from creeping to choked flow; the hand formula stands beside it.", INNER_WIDTH, 3.0, "italic"
        ),
        *(paragraph(line, INNER_WIDTH) for line in leak_assumptions(plan)),
        *figure_table(plan.leak.figures, "leak"),
        heading("C", "Spring plate, in short"),
        *figure_table(
            [f for f in plan.springs.figures if "/spring/load" in f.identity or "/spring/stiffness" in f.identity],
            "spring",
        ),
        *finding_blocks(plan.seal_findings, "D"),
    ]


def leak_assumptions(plan: HotPlan) -> list[str]:
    """What the leak figures take for granted."""
    operating = plan.job.liner.operating
    if operating is None or not plan.leak.figures:
        return []
    low, high = ENTRANCE_BAND
    return [
        f"Taken for granted: dry air as a perfect gas, at rest at {written(operating.inlet_degC, 0)} °C and "
        f"{written(operating.inlet_pressure_kPa, 0)} kPa, {written(operating.pressure_drop_kPa, 1)} kPa of drop at "
        f"every port; entrance loss {ENTRANCE:g} ({low:g} to {high:g} in the band), smooth land, sharp exit, no "
        "rotation, no cross flow; barrel in the middle of its bore unless said.",
    ]


def _stack(plan: HotPlan) -> list[Block]:
    found: list[Block] = []
    for one in plan.stacks.stacks:
        if one.key != "float":
            continue
        columns = (
            Column("contributor to the float", 70.0, "start"),
            Column("mm", 25.0),
            Column("of the worst case", 35.0),
            Column("of the squares", 35.0),
        )
        rows = [
            (s.name, written(s.worst, 3), f"{100.0 * s.worst_share:.0f} %", f"{100.0 * s.square_share:.0f} %")
            for s in one.result.shares
            if s.worst > 0.0
        ]
        found += [*table(columns, rows, title="contributors"), space(2.0)]
        found += [paragraph(f"{words}: {mend_words(one, done)}", INNER_WIDTH) for words, done in one.mends]
    return found
