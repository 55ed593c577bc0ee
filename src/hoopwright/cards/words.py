"""The vocabulary of each kind of card: which figures and tables it may carry, and which it must."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from hoopwright.cards import alloy_words, friction, limits, machines, seam, spread, toolroom
from hoopwright.cards.quantities import Quantity, quantities


@dataclass(frozen=True, slots=True)
class Words:
    """Figures and tables of one kind of card; `complete` when every figure not optional must be there."""

    figures: Mapping[str, Quantity]
    tables: Mapping[str, Mapping[str, Quantity]] = field(default_factory=lambda: MappingProxyType({}))
    flows: bool = False
    complete: bool = False


def _of_view(view: type) -> Words:
    return Words(quantities(view), complete=True)


WORDS: Mapping[str, Words] = MappingProxyType(
    {
        "alloy": Words(alloy_words.ALLOY_FIGURES, alloy_words.ALLOY_TABLES, flows=True),
        "tool_steel": Words(alloy_words.TOOL_STEEL_FIGURES, alloy_words.TOOL_STEEL_TABLES),
        "gauge": Words(alloy_words.GAUGE_FIGURES),
        "lubricant": _of_view(friction.Friction),
        "roll": _of_view(machines.RollMachine),
        "expander": _of_view(machines.Expander),
        "press": _of_view(machines.Press),
        "laser": _of_view(machines.Laser),
        "wire": _of_view(machines.WireMachine),
        "furnace": _of_view(machines.Furnace),
        "spread": _of_view(spread.Spread),
        "limits": _of_view(limits.HouseLimits),
        "toolroom": _of_view(toolroom.ToolRoom),
        "seam": _of_view(seam.SeamCard),
    }
)

KINDS = tuple(WORDS)
