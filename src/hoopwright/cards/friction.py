"""Lubricants: friction coefficients by pair, from a card of kind `lubricant`."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.quantities import quantity
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class Friction:
    """Friction coefficients of one lubrication practice."""

    card_id: str
    mu_pin: Figure = quantity("1", "taper pin on segments", 0.0, 1.0)
    mu_base: Figure = quantity("1", "segments on base", 0.0, 1.0)
    mu_segment_ring: Figure = quantity("1", "ring on segments", 0.0, 1.0)
    mu_roll: Figure = quantity("1", "strip on rolls", 0.0, 1.0)
    mu_press: Figure = quantity("1", "sheet on press tool", 0.0, 1.0)
