"""The shape of schema `demo-liner-1`, its shop side: materials, settings, machines, tools, readings, changes.

Keys that carry a name inside them (a control size, a reference temperature) are brought to one form by
`demo_liner_1_keys` before this shape is asked.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hoopwright.design.file_types import (
    Celsius,
    Count,
    FaceWord,
    FromOne,
    Name,
    NotNegative,
    Number,
    Positive,
    Said,
    Share,
    Table,
    Text,
)

Free = Annotated[float, Field(allow_inf_nan=False)]
Span = Annotated[list[NotNegative], Field(min_length=2, max_length=2)]
Rows = Annotated[list[Annotated[list[Free], Field(min_length=2, max_length=2)]], Field(min_length=1)]


class OldSwift(Table):
    """Constants of Swift's law."""

    K_MPa: Positive
    eps0: Positive
    n: Positive


class OldMaterial(Table):
    """[materials.X]."""

    form: Text = ""
    spec: Text = ""
    uns: Text = ""
    density_kg_m3: Positive | None = None
    E_GPa: Positive | None = None
    poisson: Share | None = None
    yield_MPa: Positive | None = None
    uts_MPa: Positive | None = None
    uts_min_MPa: Positive | None = None
    yield_aged_MPa: Positive | None = None
    elongation_pct: Positive | None = None
    cte_mean: Positive | None = None
    cte_mean_from: Rows | None = None
    cte_reference_C: Celsius | None = None
    E_GPa_by_temp: Rows | None = None
    swift: OldSwift | None = None
    swift_source: Text = ""
    source: Text = ""


class OldEdgeStrain(Table):
    """Edge strain allowed, by how the edge was cut."""

    laser_as_cut: Positive | None = None
    laser_deburred_reamed: Positive | None = None
    machined: Positive | None = None


class OldProcess(Table):
    """[process]."""

    min_hoop_stretch: NotNegative | None = None
    prior_plastic_strain: NotNegative | None = None
    weld_shrink_mm: NotNegative | None = None
    end_trim_mm: NotNegative | None = None
    edge_trim_mm: NotNegative | None = None
    width_step_mm: Positive | None = None
    length_step_mm: Positive | None = None
    straight_strip_differential_max: NotNegative | None = None
    straight_strip_differential_caution: NotNegative | None = None
    min_inside_bend_radius_t: NotNegative | None = None
    roll_pitch_radius_mm: Positive | None = None
    roll_slip_max: NotNegative | None = None
    segments: FromOne | None = None
    pin_half_angle_deg: Positive | None = None
    mu_pin: NotNegative | None = None
    mu_base: NotNegative | None = None
    load_clearance_mm: NotNegative | None = None
    slot_clearance_mm: NotNegative | None = None
    lap_gap_max_fraction_t: NotNegative | None = None
    lap_gap_min_mm: Number | None = None
    butt_mismatch_max_fraction_t: NotNegative | None = None
    seam_to_port_min_deg: NotNegative | None = None
    seam_neighbour_min_deg: NotNegative | None = None
    seam_any_min_deg: NotNegative | None = None
    seam_to_igniter_min_deg: NotNegative | None = None
    seam_to_hole_edge_min_mm: NotNegative | None = None
    edge_strain_allow: OldEdgeStrain = OldEdgeStrain()


class OldAcceptance(Table):
    """[acceptance]."""

    weld_uts_min_fraction_parent: NotNegative | None = None
    weld_mean_uts_min_fraction_parent: NotNegative | None = None
    springback_stress_window: NotNegative | None = None
    lobe_share_of_roundness: NotNegative | None = None


class OldRoll(Table):
    """[machine.roll]."""

    centre_distance_min: Positive | None = None
    centre_distance_max: Positive | None = None
    shaft_dia: Positive | None = None
    shaft_span: Positive | None = None
    torque_max_Nm: Positive | None = None
    load_max_kN: Positive | None = None
    frame_stiffness_kN_per_mm: Positive | None = None
    speed_m_per_min: Span | None = None
    exit_roll_radius: Positive | None = None
    curl_radius_min: Positive | None = None
    cant_max_deg: NotNegative | None = None


class OldExpander(Table):
    """[machine.expander]."""

    pull_max_kN: Positive | None = None
    stroke_max: Positive | None = None
    retract_kN: NotNegative | None = None
    stop_step: Positive | None = None


class OldPress(Table):
    """[machine.press]."""

    force_max_kN: Positive | None = None
    daylight: Positive | None = None
    holder_force_max_kN: Positive | None = None


class OldLaser(Table):
    """[machine.laser]."""

    power_W: Span | None = None
    speed_m_per_min: Span | None = None
    spot_dia_mm: Span | None = None
    power_scatter_pct: NotNegative | None = None
    speed_scatter_pct: NotNegative | None = None
    focus_scatter_mm: NotNegative | None = None


class OldWire(Table):
    """[machine.wire]."""

    wire_dia: Positive | None = None
    kerf: Positive | None = None
    taper_max_deg: NotNegative | None = None
    height_max: Positive | None = None


class OldFurnace(Table):
    """[machine.furnace]."""

    temp_max_C: Celsius | None = None
    chamber: Annotated[list[Positive], Field(min_length=3, max_length=3)] | None = None


class OldMachines(Table):
    """[machine]."""

    roll: OldRoll | None = None
    expander: OldExpander | None = None
    press: OldPress | None = None
    laser: OldLaser | None = None
    wire: OldWire | None = None
    furnace: OldFurnace | None = None


class OldSpread(Table):
    """[spread]."""

    sheet_thickness: NotNegative | None = None
    flow_stress_pct: NotNegative | None = None
    hardening_n: NotNegative | None = None
    modulus_pct: NotNegative | None = None
    friction_mu: NotNegative | None = None
    weld_shrink: NotNegative | None = None
    weld_zone_strength_pct: NotNegative | None = None
    cut_length: NotNegative | None = None
    segment_radius: NotNegative | None = None
    pin_stop: NotNegative | None = None
    roll_gap: NotNegative | None = None
    girth_tape: NotNegative | None = None


class OldTool(Table):
    """[[tool]]."""

    id: Name
    kind: Said
    serves: Said = Field(alias="for")
    revision: Name
    state: Said
    hits: Count
    note: Text = ""


class OldFit(Table):
    """A joint in [measured.fits]."""

    inner_face_of_outer_part: Positive
    outer_face_of_inner_part: Positive


class OldSize(Table):
    """An entry of `other` in [measured.fits]."""

    part: Name
    feature: Name
    dia: Positive


class OldSizing(Table):
    """[measured.sizing_X]; `control`, `free`, `loaded` and `thickness` come from keys that name the control size."""

    ring: Name
    serial: Name
    segment_set: Name
    hit: FromOne
    control: Name
    free: Positive
    loaded: Positive
    thickness: Positive


class OldRoundness(Table):
    """[measured.roundness_X]."""

    ring: Name
    serial: Name
    segment_set: Name
    station_z: Number
    face: FaceWord
    support: Said
    theta_zero: Said
    step_deg: Positive
    deviation: list[Number]


class OldCoupon(Table):
    """A coupon of a weld lot."""

    id: Name
    uts: Positive
    mismatch: NotNegative
    underfill: NotNegative
    fracture: Said


class OldLotRing(Table):
    """A ring of a weld lot."""

    serial: Name
    mismatch_fwd: NotNegative
    mismatch_mid: NotNegative
    mismatch_aft: NotNegative
    length_cut: Positive
    circumference_after_weld: Positive


class OldWeldLot(Table):
    """[measured.weld_lot_X]."""

    sheet_cast: Name
    parent_uts: Annotated[list[Positive], Field(min_length=1)]
    coupons: list[OldCoupon]
    rings_in_lot: list[OldLotRing] = []


class OldPortLips(Table):
    """[measured.port_lips_X]."""

    serial: Name
    pre_hole_edge: Literal["laser_as_cut", "laser_deburred_reamed", "machined"]
    split_ports: list[FromOne]
    lip_edge_thickness: Annotated[list[Positive], Field(min_length=1)]


class OldMeasured(Table):
    """[measured], its tables gathered by kind."""

    invented: bool = False
    fits: dict[Name, OldFit] = {}
    other: list[OldSize] = []
    sizing: dict[Name, OldSizing] = {}
    roundness: dict[Name, OldRoundness] = {}
    weld_lot: dict[Name, OldWeldLot] = {}
    port_lips: dict[Name, OldPortLips] = {}


class OldDurations(Table):
    """Working days."""

    inspect_before: NotNegative | None = None
    segment_regrind: NotNegative | None = None
    roll_regrind: NotNegative | None = None
    inspect_after: NotNegative | None = None
    restretch: NotNegative | None = None
    partial_fai: NotNegative | None = None
    new_segment_set: NotNegative | None = None


class OldChange(Table):
    """[change.X]; `new` holds the keys that end in `_new`."""

    ring: Name
    text: Said
    new: Annotated[dict[Name, Positive], Field(min_length=1)]
    finished_parts: list[Name] = []
    start_date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None
    durations_days: OldDurations = OldDurations()
    grinder_order: list[Name] = []
