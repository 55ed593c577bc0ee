"""Stock of a tool through its stages, and its life, as blocks and words."""

from __future__ import annotations

from hoopwright.findings import Finding
from hoopwright.papers.blocks import Block, space
from hoopwright.papers.numbers import from_to, written
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.plan.tool_making import MadeTool


def stock_blocks(made: MadeTool, letter: str) -> list[Block]:
    """Bar to buy, and every held radius through roughing, hardening and grinding."""
    stock = made.stock
    if stock is None:
        return []
    columns = (
        Column("radius of", 46.0, "start"),
        Column("roughed", 22.0),
        Column("turned", 24.0),
        Column("hardened", 40.0),
        Column("ground", 24.0),
    )
    rows = [
        (
            s.name,
            written(s.roughed_mm, 1),
            written(s.turned_mm, 2),
            from_to(s.hardened_low_mm, s.hardened_high_mm, 3),
            written(s.ground_mm, 3),
        )
        for s in stock.stages
    ]
    bar = (
        f"Bar Ø {written(stock.bar_diameter_mm, 0)} × {written(stock.bar_length_mm, 0)}, "
        f"{written(stock.bar_mass_kg, 1)} kg each, "
        f"{made.pieces} wanted."
        if made.pieces > 1
        else f"Bar or forged ring Ø {written(stock.bar_diameter_mm, 0)} × {written(stock.bar_length_mm, 0)}, "
        f"{written(stock.bar_mass_kg, 1)} kg."
    )
    note = "Hardened: where the size change of the steel card may leave it. Grind from both sides of the profile alike."
    return [
        heading(letter, f"Stock, {made.id}: before and after hardening"),
        *table(columns, rows, title="stock"),
        space(1.5),
        paragraph(f"{bar} {note}", INNER_WIDTH, 3.0, "italic"),
        space(3.0),
    ]


def life_words(made: MadeTool) -> str:
    """Regrinds left in a sentence."""
    life = made.life
    if life is None:
        return ""
    return (
        f"Regrinds left: {life.regrinds_left} of {written(life.each_mm, 2)}, {written(life.left_mm, 2)} in all, "
        f"limited by {life.limited_by}."
    )


def findings_of(made: MadeTool) -> tuple[Finding, ...]:
    """What stock and hardening have against a tool."""
    return (*(made.stock.findings if made.stock else ()), *(made.order.findings if made.order else ()))
