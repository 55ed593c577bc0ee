"""Strength of the sheet as formed from, at room temperature: the figure where the card has it, else the table's row."""

from __future__ import annotations

import math

from hoopwright.cards.card import Card
from hoopwright.cards.tables import Reading
from hoopwright.errors import CardError
from hoopwright.findings import Source

ROOM_DEGC = 20.0

UNIFORM_SHARE = 0.95
"""Uniform over total elongation where only the total is known: 44 of 46.5 % on the N06002 card, no other ground."""


def cold_strength(card: Card, name: str) -> Reading:
    """`yield_strength_MPa`, `tensile_strength_MPa` or `elongation_pct` at room temperature. Raises CardError."""
    if name in card:
        entry = card.entry(name)
        return Reading(entry.value, entry.source, str(entry.at))
    table = card.tables.get("tensile_sheet")
    if table is not None and name in table.columns and table.covers(ROOM_DEGC):
        return table.read(name, ROOM_DEGC)
    raise CardError(
        f"Card {card.id} ({card.kind}) has no {name} at room temperature as formed from. Do: enter [figure.{name}] or "
        f"a room temperature row of [table.tensile_sheet] on a card of your own, or make one from your tensile tests."
    )


def uniform_strain(card: Card) -> Reading:
    """Uniform plastic strain, natural; estimated from the elongation after fracture where the card lacks it.

    Raises
    ------
    CardError
        Neither uniform elongation nor elongation is on the card.
    """
    if "uniform_elongation_pct" in card:
        entry = card.entry("uniform_elongation_pct")
        return Reading(math.log1p(entry.value / 100.0), entry.source, entry.note)
    total = cold_strength(card, "elongation_pct")
    note = f"estimated as {UNIFORM_SHARE:g} of the elongation after fracture, {total.value:g} %"
    source = Source(
        "memory" if total.source.basis == "memory" else "practice",
        f"{note} (ratio of the N06002 card, no source for this alloy); elongation: {total.source.where}",
        total.source.invented,
    )
    return Reading(math.log1p(UNIFORM_SHARE * total.value / 100.0), source, note)
