"""The shape of a liner file, schema `hoopwright-liner-1`: which keys there are, their units and their meaning.

The reference page and the published JSON Schema are made from this module. What the values must still be to make sense
together is checked in `liner_meaning`.
"""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import Field, create_model

from hoopwright.cards.quantities import Quantity
from hoopwright.design.file_types import (
    Angle,
    Celsius,
    Count,
    FaceWord,
    FromOne,
    Name,
    NotNegative,
    Number,
    Positive,
    Share,
    Table,
    Text,
    key,
)
from hoopwright.design.section_schema import PlateSection, RingSection
from hoopwright.design.wishes import wish_quantities

SCHEMA = "hoopwright-liner-1"


class LinerTable(Table):
    """Who the liner is."""

    id: Name = key("drawing number of the liner")
    revision: Name = key("revision of the drawing")
    title: Text = key("what it is, in words")
    invented: bool = key("true when the data describe no real part; every paper then says so")
    length_mm: Positive = key("from the flat of the end plate to the turbine nozzle")
    axial_datum: Text = key("what holds the liner along the axis", "")
    radial_datum: Text = key("what holds the axis", "")
    slip_joints: list[Text] = key("joints that slide when hot", [])
    ports: Count = key("ports of the end plate", 0)
    port_pitch_radius_mm: NotNegative = key("radius of the port circle; needed with ports", 0.0)
    first_port_theta_deg: Angle = key("angle of port 1", 0.0)


class OperatingTable(Table):
    """The point at which the liner works."""

    air_flow_kg_per_s: Positive = key("air")
    inlet_pressure_kPa: Positive = key("pressure at the inlet, absolute")
    inlet_degC: Celsius = key("air at the inlet")
    pressure_drop_kPa: Positive = key("pressure drop over the liner")
    exit_gas_degC: Celsius = key("mean gas temperature at the exit")


class CardsTable(Table):
    """Which cards a plan is made with, by their ids."""

    folder: Text = key("the shop's own card folder, beside or below the liner file; left out: shipped cards only", "")
    limits: Name = key("house limits")
    friction: Name = key("friction (card of kind `lubricant`)")
    spread: Name = key("spreads")
    roll: Name = key("roll machine")
    expander: Name = key("expander")
    press: Name = key("press")
    laser: Name = key("laser")
    wire: Name = key("wire erosion machine")
    furnace: Name = key("furnace")


def _wish(wanted: Quantity) -> tuple[Any, Any]:
    """A key of [process]: same bounds as the figure of that name on its card."""
    low = wanted.low if math.isfinite(wanted.low) else None
    high = wanted.high if math.isfinite(wanted.high) else None
    bounded = Annotated[float, Field(ge=low, le=high, allow_inf_nan=False)]
    return (bounded | None, key(wanted.meaning, None))


_WISHES: Any = {name: _wish(wanted) for name, wanted in wish_quantities().items()}
ProcessTable: Any = create_model("ProcessTable", __base__=Table, **_WISHES)
ProcessTable.__doc__ = "House limits and friction this liner sets for itself; what is left out stands on the cards."


class TolerancesTable(Table):
    """General tolerances of the drawing; a control size carries its own."""

    circumference_diameter_mm: Positive = key("plus or minus, on circumference diameters of lands and lips")
    circumference_diameter_other_mm: Positive = key("plus or minus, on other circumference diameters")
    roundness_restrained_radial_mm: Positive = key("radial zone, part restrained")
    roundness_free_state_radial_mm: Positive = key("radial zone, part resting on its forward edge")
    profile_restrained_mm: Positive = key("profile zone, part restrained")
    edge_axial_position_mm: Positive = key("plus or minus, edges along the axis")
    thickness_min_after_forming_mm: Positive = key("least sheet thickness after forming")
    port_position_diameter_mm: Positive | None = key("position of ports, diameter of the zone", None)
    nozzle_position_diameter_mm: Positive | None = key("position of fuel nozzles, diameter of the zone", None)
    liner_to_casing_concentricity_radial_mm: Positive | None = key("liner axis to casing axis, radial", None)
    pad_flatness_mm: Positive | None = key("flatness of the pads", None)
    pad_height_mm: Positive | None = key("plus or minus, height of the pads", None)


class ControlTable(Table):
    """A diameter that the drawing holds. Control sizes are always cold, at 20 degC."""

    name: Name = key("name of the size")
    z_mm: Number = key("where it is measured")
    face: FaceWord = key("face it belongs to")
    diameter_mm: Positive = key("diameter")
    tolerance_mm: Positive = key("plus or minus")
    state: Literal["restrained", "free"] = key("whether the part is restrained or free when it is judged")
    measured_as: Literal["circumference", "two-point"] = key(
        "mean diameter from the circumference, or across two points"
    )


Controls = Annotated[list[ControlTable], Field(max_length=100)]


class RingTable(Table):
    """A ring, rolled from strip or blank, welded and sized."""

    id: Name = key("drawing number")
    side: Literal["outer", "inner"] = key("shell it belongs to")
    order: FromOne = key("place in its shell, 1 forward")
    material: Name = key("id of the alloy card")
    thickness_mm: Positive = key("sheet thickness")
    metal_degC: Celsius = key("mean metal temperature in service")
    seam_theta_deg: Angle = key("angle of the weld seam")
    release_direction: Literal["forward", "aft", "either"] = key("end that leads when it is lifted off the segments")
    route: Literal["straight", "arc"] | None = key("blank wished for; left out: the plan chooses", None)
    prior_strain_log: Share | None = key(
        "equivalent plastic strain into sizing, where the shop gives its own; left out: reckoned station by station",
        None,
    )
    control: Controls = key("diameters the drawing holds")
    section: RingSection = key("line of the sheet, forward edge to aft edge or the other way")


class PortTable(Table):
    """The ports of the end plate, in a frame of their own: z, and rho from the port axis."""

    lip_bore_mm: Positive = key("bore of the lip")
    lip_bore_tolerance_mm: Positive = key("plus or minus")
    pad_height_mm: NotNegative = key("height of the pad forward of the plate")
    section: PlateSection = key("lip edge outward to the flat of the plate; points are [z, rho]")


class EndPlateTable(Table):
    """The pressed end plate."""

    id: Name = key("drawing number")
    material: Name = key("id of the alloy card")
    thickness_mm: Positive = key("sheet thickness")
    metal_degC: Celsius = key("mean metal temperature in service")
    flat_from_r_mm: Positive = key("radius at which the flat begins")
    flat_to_r_mm: Positive = key("radius at which the flat ends")
    control: Controls = key("diameters the drawing holds")
    section: PlateSection = key("between ports, inner flange edge to outer flange edge or the other way")
    port: PortTable | None = key("the ports", None)


JointHold = Literal["welded", "slides-axially", "slides-radially", "resting"]


class JointTable(Table):
    """A lap: outer part over inner part, welded on a circle."""

    id: Name = key("name of the joint")
    outer: Name = key("part whose inside face meets")
    inner: Name = key("part whose outside face meets")
    weld_z_mm: Number = key("where the weld lies")
    gap_mm: Number | None = key("nominal radial gap, where the drawing states one; below 0 is a press", None)
    hold: JointHold | None = key("how the two hold each other when hot; `welded` if left out", None)
    weld_width_mm: Positive | None = key("width of the weld where the two sheets meet, once it is measured", None)


class HolePatternTable(Table):
    """Equal holes round a ring, made after sizing."""

    ring: Name = key("ring they are in")
    kind: Name = key("what they are for (`film`, `dilution`, `igniter`, ...)")
    z_mm: Number = key("where the row lies")
    diameter_mm: Positive = key("diameter of a hole")
    count: FromOne = key("holes in the row, equally spaced")
    first_theta_deg: Angle = key("angle of the first hole")


class NozzleTable(Table):
    """Fuel nozzles and the casing that carries them."""

    barrel_diameter_mm: Positive = key("barrel diameter, largest")
    barrel_tolerance_minus_mm: NotNegative = key("how much smaller it may be")
    pitch_radius_cold_mm: Positive = key("radius of the nozzle circle, cold")
    casing_material: Name = key("id of the casing's alloy card")
    casing_degC: Celsius = key("casing at the nozzles")
    casing_length_datum_to_mount_mm: Positive = key("axial length from the liner's datum to the nozzle mount")
    casing_mean_degC: Celsius = key("mean of the casing over that length")
    casing_thickness_mm: Positive | None = key("wall of the casing, for the start; asked for where left out", None)
    barrel_material: Name | None = key("id of the barrel's alloy card; the casing's where left out", None)
    barrel_degC: Celsius | None = key("barrel in the washer; the casing's where left out", None)
    stem_length_mm: NotNegative | None = key("radial length of stem between casing and barrel axis that grows", None)


class WasherTable(Table):
    """Floating washers, one a port."""

    id: Name = key("drawing number")
    count: FromOne = key("how many")
    material: Name = key("id of the alloy card")
    bore_mm: Positive = key("bore, smallest")
    bore_tolerance_plus_mm: NotNegative = key("how much larger it may be")
    outside_diameter_mm: Positive = key("outside diameter")
    thickness_mm: Positive = key("thickness")
    float_radial_max_mm: Positive = key("radial float, largest")
    flatness_mm: Positive = key("flatness")
    metal_degC: Celsius = key("mean metal temperature in service")


class RelaxationTestTable(Table):
    """One reading of a relaxation test of the spring plate."""

    hours: Positive = key("time under load [h]")
    metal_degC: Celsius = key("temperature of the test")
    deflection_mm: Positive = key("deflection the tips were held at")
    loss_share: Share = key("share of the load lost")


class SpringPlateTable(Table):
    """Spring plates that press the washers on their pads, one a port; rho from the port axis."""

    id: Name = key("drawing number")
    count: FromOne = key("how many")
    material: Name = key("id of the alloy card")
    thickness_mm: Positive = key("thickness")
    thickness_tolerance_mm: NotNegative = key("plus or minus")
    rim_rho_from_mm: Positive = key("inner radius of the rim")
    rim_rho_to_mm: Positive = key("outer radius of the rim")
    fingers: FromOne = key("how many fingers")
    finger_theta_local_deg: list[Angle] = key("their angles from the radial direction outward")
    finger_length_mm: Positive = key("from the rim to the tip contact")
    finger_width_mm: Positive = key("width of a finger")
    preload_deflection_mm: Positive = key("deflection of the tips at assembly")
    preload_deflection_tolerance_mm: NotNegative = key("plus or minus")
    legs_theta_local_deg: list[Angle] = key("angles of the legs from the radial direction outward")
    foot_weld_rho_mm: Positive = key("radius of the foot welds")
    foot_edge_rho_mm: Positive = key("radius of the foot edges")
    rim_plane_z_mm: Number = key("plane of the rim")
    metal_degC: Celsius = key("mean metal temperature in service")
    relaxation_share: Share = key("share of the load lost by relaxation")
    load_min_hot_N: Positive = key("least load on a washer, hot")
    leg_width_mm: Positive | None = key("width of a leg where it joins the rim; asked for where left out", None)
    leg_height_mm: NotNegative | None = key("free height of a leg over its foot; asked for where left out", None)
    ageing_shift_mm: Number | None = key("change of free height in ageing, measured; below 0 when lower", None)
    wear_allowance_mm: NotNegative | None = key("height that pad, washer and tips may wear", None)
    service_hours: Positive | None = key("hours hot at which the load must stand [h]", None)
    rim_dish_mm: Positive | None = key(
        "free height of a dished rim that stands on its outer edge all round and is the spring, in place of fingers",
        None,
    )
    relaxation_test: Annotated[list[RelaxationTestTable], Field(max_length=200)] = key("relaxation tests", [])


class TurbineNozzleTable(Table):
    """What the aft ends of the shells meet."""

    material: Name = key("id of its alloy card")
    outer_groove_cold_radial_gap_mm: Positive = key("radial gap of the outer shell in its groove, cold")
    outer_groove_radius_mm: Positive = key("radius of the groove")
    outer_groove_degC: Celsius = key("metal temperature at the groove")
    outer_groove_thickness_mm: Positive | None = key("wall of the groove ring; asked for where left out", None)
    inner_ring_degC: Celsius | None = key("ring the datum end is welded to; asked for where left out", None)


class PathPartTable(Table):
    """A link of a growth path."""

    length_mm: Positive = key("length between weld stations")
    metal_degC: Celsius = key("mean metal temperature over it")
    part: Name = key("part it runs through")


class TemperatureStationTable(Table):
    """Metal temperature at one place of a part; between places it runs straight along the section."""

    part: Name = key("ring or end plate")
    z_mm: Number = key("where, along the axis")
    r_mm: Positive | None = key("where, from the axis; needed where the part stands at one z more than once", None)
    metal_degC: Celsius = key("metal temperature there")


class StartUpTable(Table):
    """Film coefficients and times of a start, where the shop has its own; what is left out is assumed and said."""

    ramp_s: Positive | None = key("time in which gas and air come to their level", None)
    sheet_air_W_per_m2K: Positive | None = key("film on the air side of the sheet", None)
    groove_W_per_m2K: Positive | None = key("film on the air side of the groove ring", None)
    casing_W_per_m2K: Positive | None = key("film on the air side of the casing", None)
    hot_gas_degC: Celsius | None = key(
        "gas that the hot side of the metal sees; hotter than the mean at the exit", None
    )


class ThermalTable(Table):
    """Axial growth paths of both shells, from the aft datum forward; metal temperatures by place and through time."""

    inner_path: list[PathPartTable] = key("inner shell")
    outer_path: list[PathPartTable] = key("outer shell")
    datum_part: Name | None = key("part whose place holds the liner axially; first of `inner_path` if left out", None)
    datum_z_mm: Number | None = key("where on that part; `liner.length_mm` if left out", None)
    station: Annotated[list[TemperatureStationTable], Field(max_length=2000)] = key("metal temperature by place", [])
    history_file: Text | None = key("metal temperatures through time (CSV), beside or below the liner file", None)
    start_up: StartUpTable | None = key("film coefficients of a start", None)


class LinerFile(Table):
    """A whole liner file."""

    schema_: Literal["hoopwright-liner-1"] = Field(alias="schema", description="`hoopwright-liner-1`")
    liner: LinerTable = key("who the liner is")
    operating: OperatingTable | None = key("the point at which it works", None)
    cards: CardsTable = key("the cards to plan with")
    process: ProcessTable = key("what this liner sets for itself", ProcessTable())
    tolerances: TolerancesTable = key("general tolerances")
    ring: Annotated[list[RingTable], Field(min_length=1, max_length=200)] = key("the rings")
    end_plate: EndPlateTable | None = key("the end plate", None)
    joint: Annotated[list[JointTable], Field(max_length=200)] = key("the laps", [])
    hole_pattern: Annotated[list[HolePatternTable], Field(max_length=1000)] = key("the holes", [])
    nozzle: NozzleTable | None = key("fuel nozzles and casing", None)
    washer: WasherTable | None = key("floating washers", None)
    spring_plate: SpringPlateTable | None = key("spring plates", None)
    turbine_nozzle: TurbineNozzleTable | None = key("turbine nozzle", None)
    thermal: ThermalTable | None = key("growth paths", None)
