"""House limits: the rules a shop sets for itself. Every one is a figure on a card, so a shop changes it without code.

Strains end in `_log` (natural) or `_eng`; `_t` counts sheet thicknesses; a bare share or ratio has no unit.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.quantities import quantity
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class HouseLimits:
    """The house limits by name; each is a `Figure` with its source (`limits.roll_slip_max.value`)."""

    card_id: str

    # strain budget and heat treatment
    strain_budget_share: Figure = quantity("1", "share of the uniform strain a plan may use", 0.05, 1.0)
    critical_strain_low_log: Figure = quantity("log", "strain below which an anneal leaves the grain alone", 0.0, 0.2)
    critical_strain_high_log: Figure = quantity("log", "strain below which an anneal risks coarse grain", 0.0, 0.5)
    critical_strain_clear_log: Figure = quantity("log", "strain the whole section must pass before an anneal", 0.0, 0.5)
    service_cold_strain_max_log: Figure = quantity("log", "outer-fibre strain tolerable without re-treatment", 0.0, 1.0)

    # blank and strip
    straight_strip_comfort_log: Figure = quantity("log", "radius range ln(r_max/r_min) easy from a strip", 0.0, 0.5)
    straight_strip_caution_log: Figure = quantity("log", "radius range above which an arc blank is cut", 0.0, 0.5)
    end_trim_mm: Figure = quantity("mm", "strip removed at each end after rolling")
    edge_trim_mm: Figure = quantity("mm", "strip removed at each edge after sizing")
    width_step_mm: Figure = quantity("mm", "step to which a strip width is rounded up", 1e-3)
    length_step_mm: Figure = quantity("mm", "step to which a rough length is rounded up", 1e-3)
    cut_gap_mm: Figure = quantity("mm", "gap between pieces on a sheet")
    sheet_border_mm: Figure = quantity("mm", "border of a sheet that stays uncut")
    sheet_width_mm: Figure = quantity("mm", "width of the stock sheet", 1.0)
    sheet_length_mm: Figure = quantity("mm", "length of the stock sheet along the rolling direction", 1.0)
    setup_pieces: Figure = quantity("1", "set-up pieces for each ring", 0.0, 100.0)
    spare_share: Figure = quantity("1", "spare pieces as a share of the parts ordered", 0.0, 5.0)

    # rolling
    bend_radius_inside_min_t: Figure = quantity("t", "smallest inside bend radius planned", 0.0, 20.0)
    bend_radius_inside_stop_t: Figure = quantity("t", "inside bend radius below which a bend is refused", 0.0, 20.0)
    roll_pitch_radius_mm: Figure = quantity("mm", "pitch radius of a roll unless the ring asks for another", 5.0)
    roll_slip_max: Figure = quantity("1", "face-to-face slip, hardened and polished rolls", 0.0, 1.0)
    roll_slip_coated_max: Figure = quantity("1", "face-to-face slip, coated rolls and strong lubricant", 0.0, 1.0)
    roll_depth_per_pass_min_t: Figure = quantity("t", "least new depth worth a pass", 0.0, 20.0)
    roll_depth_per_pass_max_t: Figure = quantity("t", "most new depth in one pass", 0.0, 20.0)
    roll_passes_max: Figure = quantity("1", "most passes planned for one contour", 1.0, 50.0)
    roll_gap_over_sheet_mm: Figure = quantity("mm", "running gap on flats above the thickest sheet")
    roll_parallel_mm: Figure = quantity("mm", "gap difference left to right")
    edge_wave_caution_yield: Figure = quantity("1", "edge strain over yield strain that gives some wave", 0.0, 50.0)
    edge_wave_stop_yield: Figure = quantity("1", "edge strain over yield strain that a plan refuses", 0.0, 50.0)
    corner_thinning_caution: Figure = quantity("1", "corner thinning that asks for a look", 0.0, 1.0)
    corner_thinning_stop: Figure = quantity("1", "corner thinning that a plan refuses", 0.0, 1.0)

    # closing weld
    weld_shrink_mm: Figure = quantity("mm", "strip length consumed by one butt weld, first estimate")
    butt_gap_max_mm: Figure = quantity("mm", "gap of a butt joint before welding")
    butt_mismatch_max_t: Figure = quantity("t", "edge mismatch of a butt joint", 0.0, 1.0)
    lap_gap_max_t: Figure = quantity("t", "radial gap under a lap weld", 0.0, 1.0)
    lap_gap_min_mm: Figure = quantity("mm", "radial gap under a lap weld; below 0 is a press", -1.0, 1.0)
    underfill_max_t: Figure = quantity("t", "underfill or undercut", 0.0, 1.0)
    underfill_max_mm: Figure = quantity("mm", "underfill or undercut, if less")
    weld_strength_each_min: Figure = quantity("1", "joint strength of each coupon over parent strength", 0.0, 2.0)
    weld_strength_mean_min: Figure = quantity("1", "mean joint strength of a lot over parent strength", 0.0, 2.0)
    seam_strain_share_max: Figure = quantity("1", "share of the uniform strain the seam may take in sizing", 0.0, 1.0)
    seam_prior_strain_caution_log: Figure = quantity("log", "strip strain above which the seam is the soft spot", 0, 1)

    # sizing
    stretch_round_eng: Figure = quantity("eng", "hoop stretch below which a ring does not round", 0.0, 0.2)
    stretch_min_eng: Figure = quantity("eng", "least stretch planned at the smallest mid-surface radius", 0.0, 0.2)
    stretch_plan_eng: Figure = quantity("eng", "stretch planned at the smallest mid-surface radius", 0.0, 0.2)
    stretch_seam_eng: Figure = quantity("eng", "hoop stretch above which strain seeks the seam", 0.0, 0.5)
    stretch_per_hit_max_eng: Figure = quantity("eng", "stretch in one hit before the ring is indexed", 0.0, 0.2)
    hits_max: Figure = quantity("1", "most sizing hits planned", 1.0, 20.0)
    first_hit_low_mm: Figure = quantity("mm", "diameter by which the first hit of a first ring stays low")
    hold_s: Figure = quantity("s", "hold at full size")
    segments: Figure = quantity("1", "segments of a set unless lobes ask for more", 3.0, 64.0)
    segments_max: Figure = quantity("1", "most segments the shop will build", 3.0, 64.0)
    pin_half_angle_deg: Figure = quantity("deg", "half angle of the taper pin", 0.5, 30.0)
    release_margin_min_deg: Figure = quantity(
        "deg", "half angle above friction angle for a pin that lets go", 0.0, 20.0
    )
    load_clearance_mm: Figure = quantity("mm", "radial clearance for loading and unloading")
    slot_clearance_mm: Figure = quantity("mm", "slot width above what collapse needs")
    travel_step_mm: Figure = quantity("mm", "step to which segment travel is rounded up", 1e-3)
    slot_step_mm: Figure = quantity("mm", "step to which a slot width is rounded up", 1e-3)
    segment_edge_radius_mm: Figure = quantity("mm", "edge radius of a segment at its slots")
    lobe_share: Figure = quantity("1", "share of the roundness zone a tool choice may use", 0.0, 1.0)
    springback_stress_window: Figure = quantity("1", "implied over predicted flow stress, allowed difference", 0.0, 1.0)

    # cut edges that are stretched
    edge_strain_laser_as_cut_log: Figure = quantity("log", "edge strain allowed, laser as cut", 0.0, 2.0)
    edge_strain_deburred_reamed_log: Figure = quantity("log", "edge strain allowed, deburred or reamed", 0.0, 2.0)
    edge_strain_machined_log: Figure = quantity("log", "edge strain allowed, machined", 0.0, 2.0)

    # seams, holes and laps against each other
    seam_to_port_min_deg: Figure = quantity("deg", "seam to port", 0.0, 180.0)
    seam_neighbour_min_deg: Figure = quantity("deg", "seam to the seam of a neighbour ring", 0.0, 180.0)
    seam_any_min_deg: Figure = quantity("deg", "seam to any other seam of the same shell", 0.0, 180.0)
    seam_to_igniter_min_deg: Figure = quantity("deg", "seam to igniter", 0.0, 180.0)
    seam_to_hole_edge_min_mm: Figure = quantity("mm", "seam to the edge of a hole")
    lap_land_min_mm: Figure = quantity("mm", "lap land length")
    edge_to_weld_min_mm: Figure = quantity("mm", "edge to weld line")

    # pressing
    die_clearance_min_t: Figure = quantity("t", "punch to die clearance, least", 0.0, 5.0)
    die_clearance_max_t: Figure = quantity("t", "punch to die clearance, most", 0.0, 5.0)
    die_radius_min_t: Figure = quantity("t", "die radius of a first form, least", 0.0, 50.0)
    die_radius_max_t: Figure = quantity("t", "die radius of a first form, most", 0.0, 50.0)
    flange_radius_min_t: Figure = quantity("t", "flange radius, least", 0.0, 50.0)
    holder_pressure_MPa: Figure = quantity("MPa", "blank-holder pressure, first setting")
    restrike_pressure_MPa: Figure = quantity("MPa", "flattening pressure on pads")
    press_thinning_plan: Figure = quantity("1", "thinning a pressing is planned for", 0.0, 1.0)
    press_thinning_stop: Figure = quantity("1", "thinning a pressing never passes", 0.0, 1.0)

    # seals
    spring_stress_share_max: Figure = quantity("1", "spring stress over yield at the worst stack", 0.0, 1.0)
    washer_overlap_min_mm: Figure = quantity("mm", "washer overlap left at full float")

    # reading a ring
    readings_per_lobe: Figure = quantity("1", "readings a turn for each segment, plus one", 1.0, 100.0)
    readings_min: Figure = quantity("1", "readings a turn, least", 3.0, 3600.0)
