"""What a figure on a card may be called: its name, unit and bounds.

A typed view of a card (machine, spread, house limits) is a frozen dataclass whose fields say all of this once, with
`quantity(...)`; the reader checks cards against it and docs/cards.md is tested against it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields
from typing import Any


@dataclass(frozen=True, slots=True)
class Quantity:
    """Unit, meaning and bounds (both allowed) of one figure; `optional` when a card may leave it out."""

    unit: str
    meaning: str
    low: float = -math.inf
    high: float = math.inf
    optional: bool = False

    @property
    def must(self) -> str:
        """The bounds in words."""
        low, high = math.isfinite(self.low), math.isfinite(self.high)
        if low and high:
            return f"from {self.low:g} to {self.high:g}"
        if low:
            return f"{self.low:g} or more"
        return f"at most {self.high:g}" if high else "a finite number"


def quantity(unit: str, meaning: str, low: float = 0.0, high: float = math.inf) -> Any:
    """Dataclass field for a figure that every card of this kind must carry."""
    return field(metadata={"quantity": Quantity(unit, meaning, low, high)})


def optional_quantity(unit: str, meaning: str, low: float = 0.0, high: float = math.inf) -> Any:
    """Dataclass field for a figure that a card may leave out; it is None then."""
    return field(default=None, metadata={"quantity": Quantity(unit, meaning, low, high, optional=True)})


def quantities(view: type) -> dict[str, Quantity]:
    """The figures of a typed view by name, in the order of the class."""
    return {f.name: f.metadata["quantity"] for f in fields(view) if "quantity" in f.metadata}
