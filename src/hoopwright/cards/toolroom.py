"""How the shop makes its tools: stock, tolerances, clearances, cuts, regrinds, rates, waiting times; all on one
card.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.quantities import quantity
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class ToolRoom:
    """Rules and rates of the tool room by name; each is a `Figure` with its source."""

    card_id: str

    # metal left on, metal needed
    rough_stock_side_mm: Figure = quantity("mm", "stock a side after roughing")
    finish_stock_side_mm: Figure = quantity("mm", "stock a side after finish-turning, before hardening")
    regrind_total_mm: Figure = quantity("mm", "metal a profile may lose to regrinds before it is a new tool")
    regrind_each_mm: Figure = quantity("mm", "metal one regrind takes off", 1e-4)
    wall_min_mm: Figure = quantity("mm", "least hardened wall between two surfaces")
    web_min_mm: Figure = quantity("mm", "least width of a segment at its bore, between two slots")

    # tolerances and finish
    roll_profile_mm: Figure = quantity("mm", "profile of a roll, plus or minus", 1e-4)
    segment_profile_mm: Figure = quantity("mm", "profile of a segment set as assembled, plus or minus", 1e-4)
    spacer_tolerance_mm: Figure = quantity("mm", "thickness of a slot spacer, plus or minus", 1e-4)
    roll_finish_um: Figure = quantity("um", "roughness Ra of a roll along the rolling direction", 1e-3)
    segment_finish_um: Figure = quantity("um", "roughness Ra of a segment profile", 1e-3)
    roll_hardness_low_HRC: Figure = quantity("HRC", "hardness of rolls, least", 20.0, 70.0)
    roll_hardness_high_HRC: Figure = quantity("HRC", "hardness of rolls, most", 20.0, 70.0)
    segment_hardness_low_HRC: Figure = quantity("HRC", "hardness of segments, least", 20.0, 70.0)
    segment_hardness_high_HRC: Figure = quantity("HRC", "hardness of segments, most", 20.0, 70.0)

    # clearances
    guide_clearance_mm: Figure = quantity("mm", "strip edge to side guide, each side")
    side_clearance_mm: Figure = quantity("mm", "guide collar to the end of the other roll")
    slide_clearance_mm: Figure = quantity("mm", "segment tongue to base slot, each side")
    plug_fit_mm: Figure = quantity("mm", "trim plug below the ring, on radius")
    pin_stress_max_MPa: Figure = quantity("MPa", "pull stress in the core of the pin's stud", 1.0)

    # wire cutting
    wire_gap_mm: Figure = quantity("mm", "spark gap of a skim cut, one side")
    skim_cuts: Figure = quantity("1", "skim cuts of a slot face", 0.0, 5.0)
    skim_stock_mm: Figure = quantity("mm", "left by the rough cut for the skims, one side")
    affected_rough_um: Figure = quantity("um", "depth a rough cut affects")
    affected_skim_um: Figure = quantity("um", "depth a first skim affects")
    affected_second_um: Figure = quantity("um", "depth a second skim affects")
    start_hole_mm: Figure = quantity("mm", "start hole diameter", 0.1)

    # rates and waiting
    turn_cm3_per_h: Figure = quantity("cm3_per_h", "metal a lathe takes off, with handling", 1e-3)
    grind_cm2_per_h: Figure = quantity("cm2_per_h", "profile ground to size, with dressing and gauging", 1e-3)
    wire_cm2_per_h: Figure = quantity("cm2_per_h", "face cut by wire, one pass", 1e-3)
    mill_h: Figure = quantity("h", "milling, drilling and marking of one tool")
    setup_h: Figure = quantity("h", "setting up one operation")
    heat_treat_h: Figure = quantity("h", "harden and temper twice, door to door")
    inspect_h: Figure = quantity("h", "trace and record one tool")
    day_h: Figure = quantity("h", "hours a machine works in a day", 0.1, 24.0)
    rate_per_h: Figure = quantity("per_h", "cost of one hour, in the shop's own unit")
    steel_per_kg: Figure = quantity("per_kg", "cost of tool steel, in the shop's own unit")
    lathe_wait_h: Figure = quantity("h", "work already waiting at the lathe")
    grinder_wait_h: Figure = quantity("h", "work already waiting at the grinder")
    wire_wait_h: Figure = quantity("h", "work already waiting at the wire machine")
    furnace_wait_h: Figure = quantity("h", "work already waiting at the furnace")
