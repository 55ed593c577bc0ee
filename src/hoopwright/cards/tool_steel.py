"""A tool steel as its card gives it: heat treatment, size change, density."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from pathlib import Path

from hoopwright.cards.card import Card
from hoopwright.cards.library import find_card
from hoopwright.errors import CardError, RangeError
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class ToolSteel:
    """What making a tool of this steel needs; each figure with its source."""

    card_id: str
    title: str
    density_kg_per_m3: Figure
    preheat_degC: Figure | None
    austenitise_degC: Figure
    soak_min: Figure | None
    size_change_pct: Figure
    size_change_low_pct: float
    size_change_high_pct: float
    card: Card

    def temper_degC(self, hardness_HRC: float) -> float:
        """Tempering temperature for a hardness: between the rows of the card's table, or its one temperature.

        Raises
        ------
        RangeError
            A hardness the table does not reach.
        """
        if "temper" not in self.card.tables:
            return self.card.figure("temper_degC").value
        rows = sorted((float(h), float(t)) for t, h in self.card.table("temper").rows)
        low, high = rows[0][0], rows[-1][0]
        if not low <= hardness_HRC <= high:
            raise RangeError(
                f"{self.card_id}: hardness {hardness_HRC:g} HRC is outside the temper table, {low:g} to {high:g}. "
                "Do: ask for a hardness inside it, or enter more rows on the card."
            )
        for (h0, t0), (h1, t1) in itertools.pairwise(rows):
            if h0 <= hardness_HRC <= h1:
                return t0 + (hardness_HRC - h0) * (t1 - t0) / (h1 - h0) if h1 > h0 else t0
        return rows[0][1]


def tool_steel(card_id: str, shop_folder: Path | None = None) -> ToolSteel:
    """The card of a tool steel. Shipped: `T30402`, `T20813`.

    Raises
    ------
    CardError
        No such card, or it lacks density, austenitising temperature, size change or any word on tempering.
    """
    card = find_card("tool_steel", card_id, shop_folder)
    missing = [n for n in ("density_kg_per_m3", "austenitise_degC", "size_change_pct") if n not in card]
    if "temper" not in card.tables and "temper_degC" not in card:
        missing.append("table.temper or temper_degC")
    if missing:
        raise CardError(f"Card {card_id} (tool_steel) lacks {', '.join(missing)}. Do: enter it on a card of your own.")
    change, entry = card.figure("size_change_pct"), card.entry("size_change_pct")
    return ToolSteel(
        card.id,
        card.title,
        card.figure("density_kg_per_m3"),
        card.figure("preheat_degC") if "preheat_degC" in card else None,
        card.figure("austenitise_degC"),
        card.figure("soak_min") if "soak_min" in card else None,
        change,
        change.value if entry.low is None else entry.low,
        change.value if entry.high is None else entry.high,
        card,
    )
