"""Machines as their cards give them: one frozen view per kind, each figure with its source."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.quantities import optional_quantity, quantity
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class RollMachine:
    """Two driven contoured rolls, then an exit roll that curls the strip."""

    card_id: str
    centre_distance_min_mm: Figure = quantity("mm", "roll centres, closest", 1.0)
    centre_distance_max_mm: Figure = quantity("mm", "roll centres, widest", 1.0)
    shaft_dia_mm: Figure = quantity("mm", "roll shaft diameter", 1.0)
    shaft_span_mm: Figure = quantity("mm", "roll shaft span between bearings", 1.0)
    torque_max_Nm: Figure = quantity("Nm", "drive torque, both shafts together", 0.0)
    load_max_kN: Figure = quantity("kN", "roll separating load, largest", 0.0)
    frame_stiffness_kN_per_mm: Figure = quantity("kN_per_mm", "frame stiffness at the rolls", 1e-3)
    speed_min_m_per_min: Figure = quantity("m_per_min", "strip speed, slowest", 0.0)
    speed_max_m_per_min: Figure = quantity("m_per_min", "strip speed, fastest", 0.0)
    exit_roll_radius_mm: Figure = quantity("mm", "exit roll radius", 1.0)
    curl_radius_min_mm: Figure = quantity("mm", "tightest radius the exit roll can curl", 0.0)
    cant_max_deg: Figure = quantity("deg", "largest cant of the roll shafts", 0.0, 90.0)
    shaft_modulus_GPa: Figure = quantity("GPa", "Young's modulus of the shafts", 1.0)
    strip_width_max_mm: Figure | None = optional_quantity("mm", "widest strip between the frames", 1.0)
    second_closing: Figure | None = optional_quantity("1", "1 if the rolls can close again with the curl", 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Expander:
    """Segments on a base, driven outward by a taper pin."""

    card_id: str
    pull_max_kN: Figure = quantity("kN", "pin pull, largest", 0.0)
    stroke_max_mm: Figure = quantity("mm", "pin stroke, largest", 0.0)
    retract_kN: Figure = quantity("kN", "force that withdraws the pin", 0.0)
    stop_step_mm: Figure = quantity("mm", "step of the pin stop", 1e-4)


@dataclass(frozen=True, slots=True)
class Press:
    """Press with a blank holder."""

    card_id: str
    force_max_kN: Figure = quantity("kN", "press force, largest", 0.0)
    daylight_mm: Figure = quantity("mm", "daylight", 0.0)
    holder_force_max_kN: Figure = quantity("kN", "blank-holder force, largest", 0.0)


@dataclass(frozen=True, slots=True)
class Laser:
    """Welding laser; the scatter figures are one standard deviation."""

    card_id: str
    power_min_W: Figure = quantity("W", "beam power, lowest", 0.0)
    power_max_W: Figure = quantity("W", "beam power, highest", 0.0)
    speed_min_m_per_min: Figure = quantity("m_per_min", "travel speed, slowest", 0.0)
    speed_max_m_per_min: Figure = quantity("m_per_min", "travel speed, fastest", 0.0)
    spot_dia_min_mm: Figure = quantity("mm", "spot diameter, smallest", 0.0)
    spot_dia_max_mm: Figure = quantity("mm", "spot diameter, largest", 0.0)
    power_scatter_pct: Figure = quantity("pct", "scatter of the power", 0.0, 100.0)
    speed_scatter_pct: Figure = quantity("pct", "scatter of the speed", 0.0, 100.0)
    focus_scatter_mm: Figure = quantity("mm", "scatter of the focus height", 0.0)


@dataclass(frozen=True, slots=True)
class WireMachine:
    """Wire erosion machine."""

    card_id: str
    wire_dia_mm: Figure = quantity("mm", "wire diameter", 1e-3)
    kerf_mm: Figure = quantity("mm", "width of a rough cut", 1e-3)
    taper_max_deg: Figure = quantity("deg", "largest taper", 0.0, 90.0)
    height_max_mm: Figure = quantity("mm", "tallest work", 0.0)


@dataclass(frozen=True, slots=True)
class Furnace:
    """Furnace for parts and tools."""

    card_id: str
    temp_max_degC: Figure = quantity("degC", "highest temperature", 0.0)
    chamber_width_mm: Figure = quantity("mm", "chamber width", 0.0)
    chamber_height_mm: Figure = quantity("mm", "chamber height", 0.0)
    chamber_depth_mm: Figure = quantity("mm", "chamber depth", 0.0)


@dataclass(frozen=True, slots=True)
class Machines:
    """The machines a plan is made for."""

    roll: RollMachine
    expander: Expander
    press: Press
    laser: Laser
    wire: WireMachine
    furnace: Furnace
