"""The shape of schema `demo-liner-1`, its design side, and the whole file. Lengths mm, angles deg."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hoopwright.design.file_types import (
    Angle,
    Celsius,
    Count,
    FaceWord,
    FromOne,
    Name,
    NotNegative,
    Number,
    Point,
    Positive,
    Share,
    Table,
    Text,
)
from hoopwright.design.upgrades.demo_liner_1_shop import (
    OldAcceptance,
    OldChange,
    OldMachines,
    OldMaterial,
    OldMeasured,
    OldProcess,
    OldSpread,
    OldTool,
    Span,
)


class OldLiner(Table):
    """[liner]; the five keys of the operating point stand together or not at all."""

    id: Name
    revision: Name
    title: Text = ""
    ports: Count = 0
    port_pitch_radius: NotNegative = 0.0
    first_port_theta: Angle = 0.0
    length: Positive
    air_flow_kg_s: Positive | None = None
    inlet_pressure_kPa: Positive | None = None
    inlet_temp_C: Celsius | None = None
    liner_pressure_drop_kPa: Positive | None = None
    exit_gas_temp_C: Celsius | None = None
    axial_datum: Text = ""
    radial_datum: Text = ""
    slip_joints: list[Text] = []


class OldTolerances(Table):
    """[tolerances]."""

    circumference_diameter: Positive
    circumference_diameter_other: Positive
    roundness_restrained: Positive
    roundness_free_state: Positive
    profile_restrained: Positive
    edge_axial_position: Positive
    thickness_min_after_forming: Positive
    port_position_dia: Positive | None = None
    nozzle_position_dia: Positive | None = None
    liner_to_casing_concentricity_radial: Positive | None = None
    pad_flatness: Positive | None = None
    pad_height: Positive | None = None


class OldLine(Table):
    """A straight piece."""

    type: Literal["line"]
    p0: Point
    p1: Point


class OldArc(Table):
    """An arc."""

    type: Literal["arc"]
    p0: Point
    p1: Point
    c: Point
    rad: Positive
    ccw: bool


OldSection = Annotated[list[Annotated[OldLine | OldArc, Field(discriminator="type")]], Field(min_length=1)]


class OldControl(Table):
    """A control size."""

    name: Name
    z: Number
    face: FaceWord
    dia: Positive
    tol: Positive


class OldRing(Table):
    """[[ring]]."""

    id: Name
    side: Literal["outer", "inner"]
    order: FromOne
    material: Name
    thickness: Positive
    temp_C: Celsius
    route: Literal["straight", "arc"] | None = None
    release_direction: Literal["forward", "aft", "either"]
    seam_theta: Angle
    control: list[OldControl] = []
    section: OldSection


class OldPort(Table):
    """[end_plate.port]."""

    lip_bore: Positive
    lip_bore_tol: Positive
    pad_height: NotNegative
    section: OldSection


class OldEndPlate(Table):
    """[end_plate]."""

    id: Name
    material: Name
    thickness: Positive
    temp_C: Celsius
    flat_from_r: Positive
    flat_to_r: Positive
    control: list[OldControl] = []
    section: OldSection
    port: OldPort | None = None


class OldJoint(Table):
    """[[joint]]."""

    id: Name
    outer: Name
    inner: Name
    weld_z: Number


class OldHoles(Table):
    """[[hole_pattern]]."""

    ring: Name
    kind: Name
    z: Number
    dia: Positive
    count: FromOne
    first_theta: Angle


class OldNozzle(Table):
    """[nozzle]."""

    barrel_dia: Positive
    barrel_tol_minus: NotNegative
    pitch_radius_cold: Positive
    casing_temp_C: Celsius
    casing_length_datum_to_mount: Positive
    casing_mean_temp_C: Celsius


class OldWasher(Table):
    """[washer]."""

    id: Name
    count: FromOne
    material: Name
    bore: Positive
    bore_tol_plus: NotNegative
    od: Positive
    thickness: Positive
    float_radial_max: Positive
    flatness: Positive
    temp_C: Celsius


class OldSpringPlate(Table):
    """[spring_plate]."""

    id: Name
    count: FromOne
    material: Name
    thickness: Positive
    thickness_tol: NotNegative
    rim_rho: Span
    fingers: FromOne
    finger_theta_local: list[Angle]
    finger_length: Positive
    finger_width: Positive
    preload_deflection: Positive
    preload_deflection_tol: NotNegative
    legs_theta_local: list[Angle]
    foot_weld_rho: Positive
    foot_edge_rho: Positive
    rim_plane_z: Number
    temp_C: Celsius
    relaxation_fraction: Share
    load_min_hot_N: Positive


class OldTurbineNozzle(Table):
    """[turbine_nozzle]."""

    outer_groove_cold_radial_gap: Positive
    outer_groove_radius: Positive
    outer_groove_temp_C: Celsius


class OldLink(Table):
    """A link of a growth path."""

    length: Positive
    temp_C: Celsius
    part: Name


class OldThermal(Table):
    """[thermal]; in the file a link is [length, temperature, part]."""

    inner_path: list[OldLink]
    outer_path: list[OldLink]


class OldFile(Table):
    """A whole file of schema `demo-liner-1`."""

    schema_: Literal["demo-liner-1"] = Field(alias="schema")
    liner: OldLiner
    materials: dict[Name, OldMaterial] = {}
    process: OldProcess = OldProcess()
    machine: OldMachines = OldMachines()
    spread: OldSpread | None = None
    tolerances: OldTolerances
    ring: Annotated[list[OldRing], Field(min_length=1)]
    end_plate: OldEndPlate | None = None
    joint: list[OldJoint] = []
    hole_pattern: list[OldHoles] = []
    nozzle: OldNozzle | None = None
    washer: OldWasher | None = None
    spring_plate: OldSpringPlate | None = None
    turbine_nozzle: OldTurbineNozzle | None = None
    thermal: OldThermal | None = None
    tool: list[OldTool] = []
    measured: OldMeasured | None = None
    acceptance: OldAcceptance = OldAcceptance()
    change: dict[Name, OldChange] = {}
