"""The shelf of cards a plan is made with: every card is read once and kept for the next plan."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from hoopwright.cards.alloy import Alloy, alloy
from hoopwright.cards.friction import Friction
from hoopwright.cards.library import find_card, list_cards
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Expander, Furnace, Laser, Machines, Press, RollMachine, WireMachine
from hoopwright.cards.seam import USUAL, SeamCard, seam_card_id
from hoopwright.cards.shop import spread
from hoopwright.cards.spread import Spread
from hoopwright.cards.views import view
from hoopwright.design.shapes import CardChoice, Liner
from hoopwright.design.wishes import friction_for, limits_for
from hoopwright.findings import Figure, Source
from hoopwright.kernels.metal import Metal


@dataclass(frozen=True, slots=True)
class SheetMetal:
    """An alloy as a plan needs it: first loading for the kernels, and the figures behind it."""

    alloy: Alloy
    metal: Metal
    young_MPa: Figure
    poisson: Figure
    uniform_strain_log: Figure
    density_kg_per_m3: Figure
    flow_source: Source


@dataclass(frozen=True, slots=True, eq=False)
class Shelf:
    """Cards by name, ours and those of the shop's own folder.

    Every method raises CardError when a card or a figure is not there, and FileFaults when a card is faulty.
    """

    shop_folder: Path | None = None
    _kept: dict[tuple[Any, ...], Any] = field(default_factory=dict)

    def sheet_metal(self, card_id: str) -> SheetMetal:
        """The alloy of a ring. An alloy without a first-loading curve is refused: its card says what to enter."""
        key = ("alloy", card_id)
        if key not in self._kept:
            self._kept[key] = _sheet_metal(alloy(card_id, self.shop_folder))
        found: SheetMetal = self._kept[key]
        return found

    def limits(self, liner: Liner) -> HouseLimits:
        """House limits with the liner's own wishes."""
        key = ("limits", liner.cards.limits, *_wishing(liner))
        if key not in self._kept:
            self._kept[key] = limits_for(liner, self.shop_folder)
        found: HouseLimits = self._kept[key]
        return found

    def friction(self, liner: Liner) -> Friction:
        """Friction with the liner's own wishes."""
        key = ("friction", liner.cards.friction, *_wishing(liner))
        if key not in self._kept:
            self._kept[key] = friction_for(liner, self.shop_folder)
        found: Friction = self._kept[key]
        return found

    def spread(self, card_id: str) -> Spread:
        """How much things scatter."""
        key = ("spread", card_id)
        if key not in self._kept:
            self._kept[key] = spread(card_id, self.shop_folder)
        found: Spread = self._kept[key]
        return found

    def seam(self, material: str, thickness_mm: float) -> SeamCard:
        """The shop's seam card of an alloy and sheet ("N06002-0.80"); else the one of what usually comes."""
        own = seam_card_id(material, thickness_mm)
        key = ("seam", own)
        if key not in self._kept:
            known = self.shop_folder is not None and any(
                c.kind == "seam" and c.id == own for c in list_cards(self.shop_folder)
            )
            self._kept[key] = view(SeamCard, find_card("seam", own if known else USUAL, self.shop_folder))
        found: SeamCard = self._kept[key]
        return found

    def machines(self, choice: CardChoice) -> Machines:
        """The machines of the liner's cards."""
        key = ("machines", choice.roll, choice.expander, choice.press, choice.laser, choice.wire, choice.furnace)
        if key not in self._kept:

            def one(kind: str, name: str, kept: type[Any]) -> Any:
                return view(kept, find_card(kind, name, self.shop_folder))

            self._kept[key] = Machines(
                roll=one("roll", choice.roll, RollMachine),
                expander=one("expander", choice.expander, Expander),
                press=one("press", choice.press, Press),
                laser=one("laser", choice.laser, Laser),
                wire=one("wire", choice.wire, WireMachine),
                furnace=one("furnace", choice.furnace, Furnace),
            )
        found: Machines = self._kept[key]
        return found


def _wishing(liner: Liner) -> tuple[Any, ...]:
    return (liner.id, liner.revision, liner.invented, liner.wishes)


def _sheet_metal(card: Alloy) -> SheetMetal:
    young, poisson = card.young_modulus_MPa(), card.poisson()
    curve = card.flow_curve_first()
    metal = Metal(curve.curve, young.value, poisson.value)
    return SheetMetal(card, metal, young, poisson, card.uniform_strain_log(), card.density_kg_per_m3(), curve.source)
