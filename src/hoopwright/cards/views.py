"""A card as a typed view: every figure of the view by attribute."""

from __future__ import annotations

from typing import Any, TypeVar

from hoopwright.cards.card import Card
from hoopwright.cards.quantities import quantities
from hoopwright.errors import CardError

View = TypeVar("View")


def view(kind: type[View], card: Card) -> View:
    """Fill a view class from a card.

    Raises
    ------
    CardError
        A figure that the view needs is not on the card.
    """
    found: dict[str, Any] = {"card_id": card.id}
    missing = []
    for name, wanted in quantities(kind).items():
        if name in card:
            found[name] = card.figure(name)
        elif not wanted.optional:
            missing.append(f"[figure.{name}] in {wanted.unit} ({wanted.meaning})")
    if missing:
        raise CardError(f"Card {card.id} ({card.kind}) lacks {len(missing)} figures. Do: enter {'; '.join(missing)}.")
    return kind(**found)
