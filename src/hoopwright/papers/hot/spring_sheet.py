"""The spring load sheet: load against deflection cold and hot, limits of the load test, alternatives at their worst
case."""

from __future__ import annotations

import datetime as dt

from hoopwright.errors import InputError
from hoopwright.papers.blocks import Block, picture, space
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.hot.common import figure_table, finding_blocks, sheet_pdf, title_of
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.curves import Axes, Curve, curves
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import paper_box
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.plan.hot.hot_plan import HotPlan


def spring_pdf(plan: HotPlan, date: dt.date) -> bytes:
    """The spring load sheet as PDF. Raises InputError where the liner has no spring plate."""
    spring = plan.job.liner.spring_plate
    if spring is None:
        raise InputError("spring plate", "missing", "", "in the liner file", "enter [spring_plate]")
    title = title_of(plan, spring.id, "spring load sheet", plan.springs.findings, date)
    return sheet_pdf(title, spring_blocks(plan), date)


def spring_blocks(plan: HotPlan) -> list[Block]:
    """Everything on the sheet, in reading order."""
    drawing = spring_picture(plan)
    told = plan.springs.figures
    return [
        heading("A", "Load against deflection"),
        picture(drawing, paper_box(drawing, 1.0), 1.0, 14.0),
        space(3.0),
        heading("B", "Stiffness, load, stress, height"),
        *figure_table([f for f in told if "/spring/" in f.identity], "spring"),
        *_by_hand(plan),
        heading("D", "Load test, every plate"),
        *(paragraph(line, INNER_WIDTH) for line in test_lines(plan)),
        *_record(),
        heading("E", "Other forms that hold at the worst corner"),
        *_alternatives(plan),
        *finding_blocks(plan.springs.findings, "F"),
    ]


def _by_hand(plan: HotPlan) -> list[Block]:
    told = [f for f in plan.springs.figures if "/by-hand/" in f.identity]
    return [heading("C", "Hand formula beside it"), *figure_table(told, "by hand")] if told else []


def test_lines(plan: HotPlan) -> list[str]:
    """How the load test is done."""
    known = {f.identity.rpartition("/")[2]: f for f in plan.springs.figures}
    spring = plan.job.liner.spring_plate
    assert spring is not None
    low, high = known.get("test-low"), known.get("test-high")
    if low is None or high is None:
        return ["No limits: the card lacks a yield."]
    free = known.get("free-height-aged")
    pressed = "all tips" if spring.rim_dish_mm is None else "the rim's inner edge"
    stands = "plate on its feet" if spring.rim_dish_mm is None else "standing on its outer edge"
    lines = [
        f"Press {pressed} {written(spring.preload_deflection_mm, 2)} mm down on a flat, {stands}; accept "
        f"{written(low.value, 1)} to {written(high.value, 1)} N."
        if low.value <= high.value
        else "No load can pass: see the findings.",
        "Age in the fixture, then hold once at 1.1 times the working load, some 55 K over service, for 1 h, "
        "before the test (common practice, read second hand). "
        "Never press cold after ageing.",
    ]
    if free is not None:
        lines.append(
            f"Free height after ageing {written(free.value, 2)} mm under the rim; read it before and "
            "after ageing and enter both."
        )
    return lines


def _record() -> list[Block]:
    columns = tuple(
        Column(head, width)
        for head, width in (
            ("plate", 20.0),
            ("height before", 38.0),
            ("height after", 38.0),
            ("load N", 38.0),
            ("by", 36.0),
        )
    )
    return [*table(columns, [("", "", "", "", "")] * 9, 3.6, title="record"), space(3.0)]


def _alternatives(plan: HotPlan) -> list[Block]:
    if not plan.alternatives:
        return [paragraph("None found within the stress allowed.", INNER_WIDTH), space(2.0)]
    columns = (
        Column("change", 84.0, "start"),
        Column("N/mm", 18.0),
        Column("hot N", 20.0),
        Column("worst N", 22.0),
        Column("worst MPa", 26.0),
    )
    rows = [
        (
            ", ".join(a.changes) or "as drawn",
            written(a.stiffness_N_per_mm, 1),
            written(a.load_hot_N, 1),
            written(a.load_hot_worst_N, 1),
            written(a.stress_worst_MPa, 0),
        )
        for a in plan.alternatives
    ]
    return [*table(columns, rows, title="alternatives"), space(3.0)]


def spring_picture(plan: HotPlan) -> Drawing:
    """Load over deflection, cold and hot after relaxation."""
    spring = plan.job.liner.spring_plate
    assert spring is not None
    cold = Curve("cold", tuple((d, c) for d, c, _ in plan.springs.curve))
    hot = Curve("hot, relaxed", tuple((d, h) for d, _, h in plan.springs.curve), "dashed")
    worst = next(f for f in plan.springs.figures if f.identity.endswith("load-hot-worst"))
    axes = Axes(
        140.0,
        60.0,
        "deflection, mm",
        "load, N",
        ((spring.load_min_hot_N, "least hot load"),),
        (((spring.preload_deflection_mm - spring.preload_deflection_tolerance_mm, worst.value), "worst corner"),),
    )
    return curves(axes, (cold, hot), "load against deflection")
