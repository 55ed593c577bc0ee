"""What a liner sets for itself rules over the house card: limits and friction with the wishes of the liner put in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from hoopwright.cards.friction import Friction
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.quantities import Quantity, quantities
from hoopwright.cards.shop import friction, house_limits
from hoopwright.design.shapes import Liner
from hoopwright.findings import Figure

View = TypeVar("View", HouseLimits, Friction)


def wish_quantities() -> dict[str, Quantity]:
    """Everything a liner may set for itself, by name: house limits, then friction figures."""
    return quantities(HouseLimits) | quantities(Friction)


def limits_for(liner: Liner, shop_folder: Path | None = None) -> HouseLimits:
    """The house limits of the liner's card, with its own wishes in their place.

    Raises
    ------
    CardError
        No such card, or a figure is not on it.
    """
    return _wished(liner, house_limits(liner.cards.limits, shop_folder))


def friction_for(liner: Liner, shop_folder: Path | None = None) -> Friction:
    """The friction figures of the liner's card, with its own wishes in their place. Raises as `limits_for`."""
    return _wished(liner, friction(liner.cards.friction, shop_folder))


def _wished(liner: Liner, card: View) -> View:
    known = quantities(type(card))
    changed: dict[str, Any] = {
        wish.name: Figure(
            identity=f"{liner.id}/wish/{wish.name}",
            name=known[wish.name].meaning,
            value=wish.value,
            unit=wish.unit,
            source=liner.source(f"process, {wish.name}"),
        )
        for wish in liner.wishes
        if wish.name in known
    }
    return replace(card, **changed)
