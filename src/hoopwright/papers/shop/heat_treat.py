"""Heat-treat order for roll pair and segment set."""

from __future__ import annotations

from hoopwright.papers.blocks import Block, space
from hoopwright.papers.numbers import written
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Letters, Paper, entries, numbered_steps, view_letters, writing_table
from hoopwright.papers.shop.stock_rows import findings_of
from hoopwright.plan.ring_tools import RingTools
from hoopwright.plan.tool_making import MadeTool


def heat_treat(tools: RingTools) -> Paper:
    """One order for every hardened tool of the ring."""
    letters, ring = view_letters(), tools.plan.job.ring.id
    hardened = [made for made in tools.made if made.order is not None]
    blocks: list[Block] = []
    for made in hardened:
        blocks += _order(made, letters)
    blocks += [
        heading(next(letters), "Record"),
        *writing_table(
            [
                ("piece", 44.0),
                ("HRC 1", 24.0),
                ("HRC 2", 24.0),
                ("HRC 3", 24.0),
                ("chart no.", 30.0),
                ("size change", 26.0),
            ],
            [(made.id if n == 0 else "", "", "", "", "", "") for made in hardened for n in range(2)],
        ),
        entries(("hardener", "furnace", "date")),
    ]
    extra = tuple(f for made in hardened for f in findings_of(made))
    return Paper("heat-treat", f"{ring} tools", "Heat-treat order", tuple(blocks), (), ("anneal",), extra)


def _order(made: MadeTool, letters: Letters) -> list[Block]:
    order = made.order
    assert order is not None
    rows = [
        ("steel", f"UNS {order.steel}"),
        ("pieces", str(order.pieces)),
        ("mass in all", f"{written(order.mass_kg, 1)} kg"),
        ("size", " × ".join(written(x, 0) for x in order.size_mm) + " mm"),
        ("hardness", f"{order.hardness_HRC[0]:g} to {order.hardness_HRC[1]:g} HRC"),
        (
            "size change to expect",
            f"{written(order.growth_pct[0], 2, sign=True)} to {written(order.growth_pct[1], 2, sign=True)} %",
        ),
    ]
    return [
        heading(next(letters), f"{made.id}, {made.kind}"),
        *table((Column("what", 50.0, "start"), Column("order", 70.0, "start")), rows, title="order"),
        space(2.0),
        *numbered_steps(order.steps),
        paragraph(
            "Heats are from the steel card; the furnace's own instruction for this steel rules where it differs.",
            INNER_WIDTH,
            3.0,
            "italic",
        ),
        space(2.0),
    ]
