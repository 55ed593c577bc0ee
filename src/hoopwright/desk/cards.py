"""The shelf of cards: what there is, one card whole, and a card from the shop's own tensile tests."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.cards.coupons.draft import draft_card, write_draft
from hoopwright.cards.coupons.specimen import Specimen
from hoopwright.cards.coupons.text import Titles
from hoopwright.cards.library import Listed, find_card, list_cards
from hoopwright.errors import CardError
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class CardShown:
    """One card: its head, every figure on it, and its notes."""

    kind: str
    id: str
    title: str
    path: str
    figures: tuple[Figure, ...]
    tables: tuple[str, ...]
    notes: tuple[str, ...]


def cards(shop_folder: Path | None = None) -> tuple[Listed, ...]:
    """Every card there is, the shop's own marked; a shop's card hides ours of the same name."""
    return tuple(list_cards(shop_folder))


def card(name: str, shop_folder: Path | None = None) -> CardShown:
    """One card by its id, or by "kind/id" where the id alone stands on cards of two kinds.

    Raises
    ------
    CardError
        No such card; the message lists what there is.
    """
    kind, _, card_id = name.rpartition("/")
    found = [c for c in list_cards(shop_folder) if c.id == card_id and kind in ("", c.kind)]
    if not found:
        known = ", ".join(sorted(f"{c.kind}/{c.id}" for c in list_cards(shop_folder)))
        raise CardError(f"There is no card {name}; there is: {known}. Do: take one of these.")
    if len({c.kind for c in found}) > 1:
        raise CardError(
            f"{name} is a card of several kinds. Do: write " + " or ".join(f"{c.kind}/{c.id}" for c in found)
        )
    whole = find_card(found[0].kind, card_id, shop_folder)
    return CardShown(
        whole.kind,
        whole.id,
        whole.title,
        whole.path,
        tuple(whole.figure(key) for key in whole.figures),
        tuple(whole.tables),
        tuple(f"{note.about}: {note.text}" for note in whole.notes),
    )


def card_from_tests(
    specimens: Sequence[Specimen], titles: Titles, folder: Path, overwrite: bool = False
) -> tuple[Path, str, float]:
    """Write a card from tensile tests into the shop's folder; its path, the law chosen, its rms misfit [MPa]."""
    draft = draft_card(specimens, titles)
    path = write_draft(draft, folder, overwrite)
    return path, draft.chosen.fit.law, draft.chosen.fit.rms_MPa


__all__ = ["CardShown", "Specimen", "Titles", "card", "card_from_tests", "cards"]
