"""How much things scatter in a shop: one standard deviation each, from the spread card."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.quantities import optional_quantity, quantity
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations; each is a `Figure` (`spread.sheet_thickness_mm.value`)."""

    card_id: str
    sheet_thickness_mm: Figure = quantity("mm", "sheet thickness")
    flow_stress_pct: Figure = quantity("pct", "flow stress between casts", 0.0, 100.0)
    flow_stress_within_cast_pct: Figure = quantity("pct", "flow stress within a cast", 0.0, 100.0)
    hardening_n: Figure = quantity("1", "hardening exponent", 0.0, 1.0)
    modulus_pct: Figure = quantity("pct", "Young's modulus", 0.0, 100.0)
    friction_mu: Figure = quantity("1", "friction coefficient", 0.0, 1.0)
    weld_shrink_mm: Figure = quantity("mm", "shrink of one butt weld")
    weld_zone_strength_pct: Figure = quantity("pct", "strength of the weld zone", 0.0, 100.0)
    cut_length_mm: Figure = quantity("mm", "cut length of a strip")
    segment_radius_mm: Figure = quantity("mm", "ground radius of a segment set")
    pin_stop_mm: Figure = quantity("mm", "where the pin stops")
    roll_gap_mm: Figure = quantity("mm", "roll gap")
    girth_tape_mm: Figure = quantity("mm", "girth tape, on the diameter")
    segment_error_mm: Figure | None = optional_quantity("mm", "radius of one segment against its set")
    hoop_two_lobes_mm: Figure | None = optional_quantity("mm", "two lobes of a welded hoop, either way of lying")
    hoop_three_lobes_mm: Figure | None = optional_quantity("mm", "three lobes of a welded hoop, either way of lying")
