"""The liner as the engineer describes it: what is wanted, not how it is made.

All lengths mm, cold, at 20 degC. z runs along the engine axis, positive aft; r is the distance from the axis; theta is
right-handed about +z, port 1 at 0. A section is the MID-SURFACE of the sheet as a `Profile` with x = z and y = r; the
faces lie half a thickness to either side. A ring's section runs from its forward edge aft, so its left side is the
outside. `section` is exact: whatever face or state the file gave is already converted.

Every value here was given by the designer: `Liner.source` says so, and whether the file calls itself invented.
All shapes are frozen and hashable, so that a liner or a ring can be the key of a cache.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hoopwright.errors import InputError
from hoopwright.findings import Source
from hoopwright.kernels.profile import Profile

Side = Literal["outer", "inner"]
Route = Literal["straight", "arc"]
Direction = Literal["forward", "aft", "either"]
Face = Literal["inside", "outside"]
State = Literal["restrained", "free"]
JointHold = Literal["welded", "slides-axially", "slides-radially", "resting"]
MeasuredAs = Literal["circumference", "two-point"]


@dataclass(frozen=True, slots=True)
class ControlSize:
    """A diameter that the drawing holds.

    face : the face it belongs to. tolerance_mm : plus or minus, on the diameter. state : part restrained or free when
    it is judged. measured_as : mean diameter from the circumference, or across two points.
    """

    name: str
    z_mm: float
    face: Face
    diameter_mm: float
    tolerance_mm: float
    state: State
    measured_as: MeasuredAs


@dataclass(frozen=True, slots=True)
class Ring:
    """A roll-formed, welded and sized ring.

    side : shell it belongs to. order : place in the shell, 1 forward. material : card of the alloy. metal_degC : in
    service. seam_theta_deg : weld seam. release_direction : end that leads off the segments, as the designer wishes.
    route : blank the designer wishes, None to let the plan choose. prior_strain_log : equivalent plastic strain into
    sizing where the shop gives its own value, None for the chain's map.
    """

    id: str
    side: Side
    order: int
    material: str
    thickness_mm: float
    metal_degC: float
    seam_theta_deg: float
    release_direction: Direction
    section: Profile
    controls: tuple[ControlSize, ...]
    route: Route | None = None
    prior_strain_log: float | None = None


@dataclass(frozen=True, slots=True)
class Port:
    """One port of the end plate in its own frame: section with x = z and y = rho, the distance from the port axis.

    pad_height_mm : the pad stands so far forward of the plate.
    """

    lip_bore_mm: float
    lip_bore_tolerance_mm: float
    pad_height_mm: float
    section: Profile


@dataclass(frozen=True, slots=True)
class EndPlate:
    """The pressed end plate; section between ports, from the inner flange edge over the flat to the outer one.

    Its left side is the forward face on the flat (outside on the outer flange, inside on the inner flange).
    """

    id: str
    material: str
    thickness_mm: float
    metal_degC: float
    flat_from_r_mm: float
    flat_to_r_mm: float
    section: Profile
    controls: tuple[ControlSize, ...]
    port: Port | None = None


@dataclass(frozen=True, slots=True)
class Joint:
    """A lap: the inside face of `outer` over the outside face of `inner`, welded on a circle at z.

    gap_mm : nominal radial gap where the drawing states one. hold : how the two hold each other hot; None is welded.
    weld_width_mm : of the weld where the sheets meet, along the section; None where it is not known.
    """

    id: str
    outer: str
    inner: str
    weld_z_mm: float
    gap_mm: float | None = None
    hold: JointHold | None = None
    weld_width_mm: float | None = None


@dataclass(frozen=True, slots=True)
class HolePattern:
    """Equal holes, equally spaced round a ring at one z, made after sizing."""

    ring: str
    kind: str
    z_mm: float
    diameter_mm: float
    count: int
    first_theta_deg: float


@dataclass(frozen=True, slots=True)
class Nozzle:
    """The fuel nozzles that slide in the washers, and the casing that carries them."""

    barrel_diameter_mm: float
    barrel_tolerance_minus_mm: float
    pitch_radius_cold_mm: float
    casing_material: str
    casing_degC: float
    casing_length_datum_to_mount_mm: float
    casing_mean_degC: float
    casing_thickness_mm: float | None = None
    barrel_material: str | None = None
    barrel_degC: float | None = None
    stem_length_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Washer:
    """The floating washers, one a port."""

    id: str
    count: int
    material: str
    bore_mm: float
    bore_tolerance_plus_mm: float
    outside_diameter_mm: float
    thickness_mm: float
    float_radial_max_mm: float
    flatness_mm: float
    metal_degC: float


@dataclass(frozen=True, slots=True)
class RelaxationReading:
    """One reading of a relaxation test of the spring plate."""

    hours: float
    metal_degC: float
    deflection_mm: float
    loss_share: float


@dataclass(frozen=True, slots=True)
class SpringPlate:
    """The spring plates that press the washers on their pads, one a port; rho from the port axis, theta from radially
    outward."""

    id: str
    count: int
    material: str
    thickness_mm: float
    thickness_tolerance_mm: float
    rim_rho_from_mm: float
    rim_rho_to_mm: float
    fingers: int
    finger_theta_local_deg: tuple[float, ...]
    finger_length_mm: float
    finger_width_mm: float
    preload_deflection_mm: float
    preload_deflection_tolerance_mm: float
    legs_theta_local_deg: tuple[float, ...]
    foot_weld_rho_mm: float
    foot_edge_rho_mm: float
    rim_plane_z_mm: float
    metal_degC: float
    relaxation_share: float
    load_min_hot_N: float
    leg_width_mm: float | None = None
    leg_height_mm: float | None = None
    ageing_shift_mm: float | None = None
    wear_allowance_mm: float | None = None
    service_hours: float | None = None
    rim_dish_mm: float | None = None
    relaxation_tests: tuple[RelaxationReading, ...] = ()


@dataclass(frozen=True, slots=True)
class TurbineNozzle:
    """What the aft ends meet: the groove in which the outer shell slides."""

    material: str
    outer_groove_cold_radial_gap_mm: float
    outer_groove_radius_mm: float
    outer_groove_degC: float
    outer_groove_thickness_mm: float | None = None
    inner_ring_degC: float | None = None


@dataclass(frozen=True, slots=True)
class Tolerances:
    """General tolerances of the drawing. Circumference diameters plus or minus; zones are widths, radial where said."""

    circumference_diameter_mm: float
    circumference_diameter_other_mm: float
    roundness_restrained_radial_mm: float
    roundness_free_state_radial_mm: float
    profile_restrained_mm: float
    edge_axial_position_mm: float
    thickness_min_after_forming_mm: float
    port_position_diameter_mm: float | None = None
    nozzle_position_diameter_mm: float | None = None
    liner_to_casing_concentricity_radial_mm: float | None = None
    pad_flatness_mm: float | None = None
    pad_height_mm: float | None = None


@dataclass(frozen=True, slots=True)
class PathPart:
    """One link of a growth path: length between weld stations, mean metal temperature, part."""

    length_mm: float
    metal_degC: float
    part: str


@dataclass(frozen=True, slots=True)
class TemperatureStation:
    """Metal temperature at one place of a part."""

    part: str
    z_mm: float
    metal_degC: float
    r_mm: float | None = None


@dataclass(frozen=True, slots=True)
class StartUp:
    """What the shop knows of a start; None is left to assumption, and said."""

    ramp_s: float | None = None
    sheet_air_W_per_m2K: float | None = None
    groove_W_per_m2K: float | None = None
    casing_W_per_m2K: float | None = None
    hot_gas_degC: float | None = None


@dataclass(frozen=True, slots=True)
class Thermal:
    """Axial growth paths of both shells, from the aft datum forward; metal temperatures by place and through time."""

    inner_path: tuple[PathPart, ...]
    outer_path: tuple[PathPart, ...]
    datum_part: str | None = None
    datum_z_mm: float | None = None
    stations: tuple[TemperatureStation, ...] = ()
    history_file: str | None = None
    start_up: StartUp | None = None


@dataclass(frozen=True, slots=True)
class Operating:
    """The point at which the liner works."""

    air_flow_kg_per_s: float
    inlet_pressure_kPa: float
    inlet_degC: float
    pressure_drop_kPa: float
    exit_gas_degC: float


@dataclass(frozen=True, slots=True)
class CardChoice:
    """Names of the cards to plan with: house limits, friction, spread, machines.

    folder : the shop's own card folder, beside or below the liner file; "" for shipped cards only.
    """

    limits: str
    friction: str
    spread: str
    roll: str
    expander: str
    press: str
    laser: str
    wire: str
    furnace: str
    folder: str = ""


@dataclass(frozen=True, slots=True)
class Wish:
    """A house limit or friction figure that this liner sets for itself, by its name on the card ("segments")."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Liner:
    """A whole liner at one revision.

    ports, port_pitch_radius_mm, first_port_theta_deg : the port circle; ports is 0 without an end plate.
    invented : the file says that its data are invented. wishes : see `wishes.limits_for`, `wishes.friction_for`.
    """

    id: str
    revision: str
    title: str
    invented: bool
    length_mm: float
    axial_datum: str
    radial_datum: str
    slip_joints: tuple[str, ...]
    ports: int
    port_pitch_radius_mm: float
    first_port_theta_deg: float
    cards: CardChoice
    tolerances: Tolerances
    rings: tuple[Ring, ...]
    wishes: tuple[Wish, ...] = ()
    joints: tuple[Joint, ...] = ()
    hole_patterns: tuple[HolePattern, ...] = ()
    end_plate: EndPlate | None = None
    nozzle: Nozzle | None = None
    washer: Washer | None = None
    spring_plate: SpringPlate | None = None
    turbine_nozzle: TurbineNozzle | None = None
    thermal: Thermal | None = None
    operating: Operating | None = None
    notes: tuple[str, ...] = ()

    def ring(self, ring_id: str) -> Ring:
        """The ring of this number.

        Raises
        ------
        InputError
            No such ring; the message lists what there is.
        """
        for ring in self.rings:
            if ring.id == ring_id:
                return ring
        known = ", ".join(ring.id for ring in self.rings)
        raise InputError("ring", ring_id, "", f"a ring of liner {self.id}: {known}", "take one of these")

    def source(self, what: str) -> Source:
        """Ground of a value of this liner: given by the designer. `what` says which ("HD-402, thickness_mm")."""
        return Source("given", f"liner {self.id} revision {self.revision}: {what}", self.invented)

    def joints_of(self, part_id: str) -> tuple[Joint, ...]:
        """Joints in which a part takes part."""
        return tuple(joint for joint in self.joints if part_id in (joint.outer, joint.inner))

    def holes_of(self, ring_id: str) -> tuple[HolePattern, ...]:
        """Hole patterns of a ring."""
        return tuple(pattern for pattern in self.hole_patterns if pattern.ring == ring_id)
