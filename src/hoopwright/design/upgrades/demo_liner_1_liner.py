"""From schema `demo-liner-1` to the data of a liner file: every number as it stands, units put into the keys."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hoopwright.design.liner_schema import SCHEMA
from hoopwright.design.upgrades.demo_liner_1_schema import OldControl, OldEndPlate, OldFile, OldRing, OldSpringPlate
from hoopwright.design.wishes import wish_quantities

OPERATING = {
    "air_flow_kg_s": "air_flow_kg_per_s",
    "inlet_pressure_kPa": "inlet_pressure_kPa",
    "inlet_temp_C": "inlet_degC",
    "liner_pressure_drop_kPa": "pressure_drop_kPa",
    "exit_gas_temp_C": "exit_gas_degC",
}
PROCESS = {
    "min_hoop_stretch": ("stretch_min_eng", "stretch_plan_eng"),
    "straight_strip_differential_max": ("straight_strip_comfort_log",),
    "straight_strip_differential_caution": ("straight_strip_caution_log",),
    "min_inside_bend_radius_t": ("bend_radius_inside_min_t",),
    "lap_gap_max_fraction_t": ("lap_gap_max_t",),
    "butt_mismatch_max_fraction_t": ("butt_mismatch_max_t",),
}
EDGES = {
    "laser_as_cut": "edge_strain_laser_as_cut_log",
    "laser_deburred_reamed": "edge_strain_deburred_reamed_log",
    "machined": "edge_strain_machined_log",
}
ACCEPTANCE = {
    "weld_uts_min_fraction_parent": "weld_strength_each_min",
    "weld_mean_uts_min_fraction_parent": "weld_strength_mean_min",
    "springback_stress_window": "springback_stress_window",
    "lobe_share_of_roundness": "lobe_share",
}
TOLERANCES = {
    "roundness_restrained": "roundness_restrained_radial_mm",
    "roundness_free_state": "roundness_free_state_radial_mm",
    "port_position_dia": "port_position_diameter_mm",
    "nozzle_position_dia": "nozzle_position_diameter_mm",
}


def liner_data(old: OldFile, cards: dict[str, str], invented: bool) -> dict[str, Any]:
    """Data of a liner file.

    Parameters
    ----------
    cards : what each entry of [cards] is, and "casing" and "turbine_nozzle" for the materials of these two.
    """
    data: dict[str, Any] = {
        "schema": SCHEMA,
        "liner": _head(old, invented),
        "operating": {new: getattr(old.liner, key) for key, new in OPERATING.items()},
        "cards": {name: card for name, card in cards.items() if name not in ("casing", "turbine_nozzle")},
        "process": dict(_wishes(old)),
        "tolerances": {TOLERANCES.get(name, f"{name}_mm"): value for name, value in old.tolerances},
        "ring": [_ring(ring) for ring in old.ring],
        "end_plate": _end_plate(old.end_plate),
        "joint": [{"id": j.id, "outer": j.outer, "inner": j.inner, "weld_z_mm": j.weld_z} for j in old.joint],
        "hole_pattern": [
            {
                "ring": h.ring, "kind": h.kind, "z_mm": h.z, "diameter_mm": h.dia, "count": h.count,
                "first_theta_deg": h.first_theta,
            }
            for h in old.hole_pattern
        ],
        **_seals(old, cards),
        "thermal": _thermal(old),
    }  # fmt: skip
    return {key: item for key, value in data.items() if (item := _without_none(value)) not in (None, {})}


def _without_none(value: Any) -> Any:
    if isinstance(value, dict):
        kept = {key: _without_none(item) for key, item in value.items()}
        return {key: item for key, item in kept.items() if item is not None and item != {}}
    return [_without_none(item) for item in value] if isinstance(value, list) else value


def _head(old: OldFile, invented: bool) -> dict[str, Any]:
    liner = old.liner
    return {
        "id": liner.id,
        "revision": liner.revision,
        "title": liner.title,
        "invented": invented,
        "length_mm": liner.length,
        "axial_datum": liner.axial_datum,
        "radial_datum": liner.radial_datum,
        "slip_joints": list(liner.slip_joints),
        "ports": liner.ports,
        "port_pitch_radius_mm": liner.port_pitch_radius,
        "first_port_theta_deg": liner.first_port_theta,
    }


def _wishes(old: OldFile) -> Iterator[tuple[str, float]]:
    """Settings under the names of the house limits, in their order; `prior_plastic_strain` is not one of them."""
    given: dict[str, float] = {}
    for key in type(old.process).model_fields:
        value = getattr(old.process, key)
        if key not in ("edge_strain_allow", "prior_plastic_strain") and value is not None:
            given |= {name: float(value) for name in PROCESS.get(key, (key,))}
    for table, names in ((old.process.edge_strain_allow, EDGES), (old.acceptance, ACCEPTANCE)):
        for key, name in names.items():
            if getattr(table, key) is not None:
                given[name] = getattr(table, key)
    for name in wish_quantities():
        if name in given:
            yield name, given[name]


def _ring(ring: OldRing) -> dict[str, Any]:
    return {
        "id": ring.id,
        "side": ring.side,
        "order": ring.order,
        "material": ring.material,
        "thickness_mm": ring.thickness,
        "metal_degC": ring.temp_C,
        "seam_theta_deg": ring.seam_theta,
        "release_direction": ring.release_direction,
        "route": ring.route,
        "control": [_control(size) for size in ring.control],
        "section": _section(ring.section),
    }


def _control(size: OldControl) -> dict[str, Any]:
    return {
        "name": size.name,
        "z_mm": size.z,
        "face": size.face,
        "diameter_mm": size.dia,
        "tolerance_mm": size.tol,
        "state": "restrained",
        "measured_as": "circumference",
    }


def _section(elements: list[Any]) -> dict[str, Any]:
    chain = [
        {"p0_mm" if k == "p0" else "p1_mm" if k == "p1" else {"c": "c_mm", "rad": "rad_mm"}.get(k, k): v
         for k, v in element.model_dump().items()}
        for element in elements
    ]  # fmt: skip
    return {"face": "mid", "state": "cold", "chain": chain}


def _end_plate(plate: OldEndPlate | None) -> dict[str, Any] | None:
    if plate is None:
        return None
    port = plate.port
    return {
        "id": plate.id,
        "material": plate.material,
        "thickness_mm": plate.thickness,
        "metal_degC": plate.temp_C,
        "flat_from_r_mm": plate.flat_from_r,
        "flat_to_r_mm": plate.flat_to_r,
        "control": [_control(size) for size in plate.control],
        "section": _section(plate.section),
        "port": None
        if port is None
        else {
            "lip_bore_mm": port.lip_bore,
            "lip_bore_tolerance_mm": port.lip_bore_tol,
            "pad_height_mm": port.pad_height,
            "section": _section(port.section),
        },
    }


def _seals(old: OldFile, cards: dict[str, str]) -> dict[str, Any]:
    nozzle, washer, groove = old.nozzle, old.washer, old.turbine_nozzle
    return {
        "nozzle": None
        if nozzle is None
        else {
            "barrel_diameter_mm": nozzle.barrel_dia,
            "barrel_tolerance_minus_mm": nozzle.barrel_tol_minus,
            "pitch_radius_cold_mm": nozzle.pitch_radius_cold,
            "casing_material": cards["casing"],
            "casing_degC": nozzle.casing_temp_C,
            "casing_length_datum_to_mount_mm": nozzle.casing_length_datum_to_mount,
            "casing_mean_degC": nozzle.casing_mean_temp_C,
        },
        "washer": None
        if washer is None
        else {
            "id": washer.id,
            "count": washer.count,
            "material": washer.material,
            "bore_mm": washer.bore,
            "bore_tolerance_plus_mm": washer.bore_tol_plus,
            "outside_diameter_mm": washer.od,
            "thickness_mm": washer.thickness,
            "float_radial_max_mm": washer.float_radial_max,
            "flatness_mm": washer.flatness,
            "metal_degC": washer.temp_C,
        },
        "spring_plate": None if old.spring_plate is None else _spring(old.spring_plate),
        "turbine_nozzle": None
        if groove is None
        else {
            "material": cards["turbine_nozzle"],
            "outer_groove_cold_radial_gap_mm": groove.outer_groove_cold_radial_gap,
            "outer_groove_radius_mm": groove.outer_groove_radius,
            "outer_groove_degC": groove.outer_groove_temp_C,
        },
    }


def _spring(spring: OldSpringPlate) -> dict[str, Any]:
    return {
        "id": spring.id,
        "count": spring.count,
        "material": spring.material,
        "thickness_mm": spring.thickness,
        "thickness_tolerance_mm": spring.thickness_tol,
        "rim_rho_from_mm": spring.rim_rho[0],
        "rim_rho_to_mm": spring.rim_rho[1],
        "fingers": spring.fingers,
        "finger_theta_local_deg": list(spring.finger_theta_local),
        "finger_length_mm": spring.finger_length,
        "finger_width_mm": spring.finger_width,
        "preload_deflection_mm": spring.preload_deflection,
        "preload_deflection_tolerance_mm": spring.preload_deflection_tol,
        "legs_theta_local_deg": list(spring.legs_theta_local),
        "foot_weld_rho_mm": spring.foot_weld_rho,
        "foot_edge_rho_mm": spring.foot_edge_rho,
        "rim_plane_z_mm": spring.rim_plane_z,
        "metal_degC": spring.temp_C,
        "relaxation_share": spring.relaxation_fraction,
        "load_min_hot_N": spring.load_min_hot_N,
    }


def _thermal(old: OldFile) -> dict[str, Any] | None:
    if old.thermal is None:
        return None
    return {
        side: [{"length_mm": q.length, "metal_degC": q.temp_C, "part": q.part} for q in getattr(old.thermal, side)]
        for side in ("inner_path", "outer_path")
    }
