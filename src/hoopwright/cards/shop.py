"""What the rest of the program asks cards for: typed views by card name.

`shop_folder` is the shop's own card folder; a card there rules over the one of the same name that is shipped.
Every function raises CardError when card or figure is not there, and FileFaults when a card is faulty.
"""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from hoopwright.cards.friction import Friction
from hoopwright.cards.library import find_card
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Expander, Furnace, Laser, Machines, Press, RollMachine, WireMachine
from hoopwright.cards.spread import Spread
from hoopwright.cards.toolroom import ToolRoom
from hoopwright.cards.views import view

View = TypeVar("View")

MACHINE_KINDS: dict[str, type] = {
    "roll": RollMachine,
    "expander": Expander,
    "press": Press,
    "laser": Laser,
    "wire": WireMachine,
    "furnace": Furnace,
}


def house_limits(card_id: str = "house", shop_folder: Path | None = None) -> HouseLimits:
    """House limits. Shipped: `house` (trade practice) and `demo-house` (the same with the demo's invented settings)."""
    return view(HouseLimits, find_card("limits", card_id, shop_folder))


def spread(card_id: str = "demo-spread", shop_folder: Path | None = None) -> Spread:
    """Standard deviations. Shipped: `demo-spread`, invented; a shop enters its own."""
    return view(Spread, find_card("spread", card_id, shop_folder))


def friction(card_id: str = "greased", shop_folder: Path | None = None) -> Friction:
    """Friction coefficients of one lubrication practice. Shipped: `greased`, `dry`, `demo-friction`."""
    return view(Friction, find_card("lubricant", card_id, shop_folder))


def roll_machine(card_id: str, shop_folder: Path | None = None) -> RollMachine:
    """A roll machine. Shipped: `demo-roll`, invented."""
    return _machine(RollMachine, "roll", card_id, shop_folder)


def expander(card_id: str, shop_folder: Path | None = None) -> Expander:
    """An expander. Shipped: `demo-expander`, invented."""
    return _machine(Expander, "expander", card_id, shop_folder)


def tool_room(card_id: str = "demo-toolroom", shop_folder: Path | None = None) -> ToolRoom:
    """Rules and rates of the tool room. Shipped: `demo-toolroom`, practice of the trade with invented rates."""
    return view(ToolRoom, find_card("toolroom", card_id, shop_folder))


def machines(prefix: str = "demo", shop_folder: Path | None = None) -> Machines:
    """All six machines of one shop, cards `<prefix>-roll`, `<prefix>-expander`, ... (the demo's are invented)."""
    return Machines(
        **{kind: _machine(kept, kind, f"{prefix}-{kind}", shop_folder) for kind, kept in MACHINE_KINDS.items()}
    )


def _machine(kept: type[View], kind: str, card_id: str, shop_folder: Path | None) -> View:
    return view(kept, find_card(kind, card_id, shop_folder))
