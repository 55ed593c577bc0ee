"""The closing seam of one alloy and sheet as a shop's fixture makes it: shrinkage, angle, softened width, strength."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.quantities import optional_quantity, quantity
from hoopwright.findings import Figure

USUAL = "usual"
"""Name of the shipped card: what a laser seam usually leaves, until the shop has its own."""


@dataclass(frozen=True, slots=True)
class SeamCard:
    """Figures of the seam; each is a `Figure` with its source. What is None is not known yet."""

    card_id: str
    angle_deg: Figure = quantity("deg", "angle across the seam; above 0 the hoop stands out there", -20.0, 20.0)
    softened_width_mm: Figure = quantity("mm", "width of the zone that loses its cold work", 0.05, 20.0)
    angle_sd_deg: Figure | None = optional_quantity("deg", "scatter of that angle", 0.0, 20.0)
    softened_width_sd_mm: Figure | None = optional_quantity("mm", "scatter of that width", 0.0, 10.0)
    shrinkage_mm: Figure | None = optional_quantity("mm", "strip length the seam consumes; else the house's", 0.0, 2.0)
    shrinkage_sd_mm: Figure | None = optional_quantity("mm", "scatter of it; else the spread card's", 0.0, 1.0)
    strength_ratio: Figure | None = optional_quantity("1", "strength over parent of the same sheet", 0.2, 1.5)
    mismatch_mm: Figure | None = optional_quantity("mm", "edge mismatch met with; else what the house allows", 0.0, 2.0)


def seam_card_id(material: str, thickness_mm: float) -> str:
    """Name under which a shop keeps its seam card of an alloy and sheet.

    >>> seam_card_id("N06002", 0.8)
    'N06002-0.80'
    """
    return f"{material}-{thickness_mm:.2f}"
