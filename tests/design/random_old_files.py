"""Random sound files of schema `demo-liner-1`: any of its tables, numbers of any digits, words of any letters.

Every number is drawn with many digits, so that a number found again in the new files is that number and no other.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

from random_rings import random_ring

from hoopwright.design.toml_text import toml_text

LISTS = ("ring", "joint", "hole_pattern", "tool")
FREE = "a b:c;d/é\u2009µ \\ \"quoted\" 'single' # no comment"


def random_old_file(seed: int) -> dict[str, Any]:
    """The data of a file."""
    dice = random.Random(seed)
    draw = Draw(dice)
    rings = [_ring(draw, seed, number) for number in range(1, dice.randint(3, 5))]
    data: dict[str, Any] = {"schema": "demo-liner-1", "liner": _liner(draw, dice.random() < 0.5)}
    parts: dict[str, Callable[[], Any]] = {
        "materials": lambda: _materials(draw, [ring["material"] for ring in rings]),
        "process": lambda: _process(draw),
        "machine": lambda: _machines(draw),
        "spread": lambda: {name: draw(0.001, 5.0) for name in draw.some(SPREADS)},
        "end_plate": lambda: _end_plate(draw),
        "joint": lambda: [
            {"id": f"J{n}", "outer": rings[0]["id"], "inner": rings[-1]["id"], "weld_z": draw(-5, 90)} for n in (1, 2)
        ],
        "hole_pattern": lambda: [
            {
                "ring": draw.one(rings)["id"], "kind": draw.one(["film", "dilution", "x.y-z"]), "z": draw(0, 90),
                "dia": draw(0.5, 9), "count": dice.randint(1, 99), "first_theta": draw(-360, 360),
            }
            for _ in range(3)
        ],
        "nozzle": lambda: {
            "barrel_dia": draw(5, 30), "barrel_tol_minus": draw(0, 0.1), "pitch_radius_cold": draw(30, 200),
            "casing_temp_C": draw(100, 600), "casing_length_datum_to_mount": draw(50, 300),
            "casing_mean_temp_C": draw(100, 600),
        },
        "turbine_nozzle": lambda: {
            "outer_groove_cold_radial_gap": draw(0.1, 2), "outer_groove_radius": draw(30, 200),
            "outer_groove_temp_C": draw(100, 800),
        },
        "thermal": lambda: {
            side: [[draw(5, 90), draw(100, 900), draw.one(rings)["id"]] for _ in range(dice.randint(0, 3))]
            for side in ("inner_path", "outer_path")
        },
        "tool": lambda: [
            {
                "id": f"T-{n}", "kind": draw.one(["roll pair", FREE]), "for": draw.one(["all rings", rings[0]["id"]]),
                "revision": draw.one(["A", "0"]), "hits": dice.randint(0, 99), "note": draw.one(["", FREE]),
                "state": draw.one(["proven", "trial", "superseded", "in design", "at the grinder", FREE]),
            }
            for n in range(dice.randint(1, 6))
        ],
        "measured": lambda: _measured(draw, rings),
        "acceptance": lambda: {name: draw(0.5, 0.99) for name in draw.some(ACCEPTANCE)},
        "change": lambda: _changes(draw, rings),
    }  # fmt: skip
    data["tolerances"] = {name: draw(0.01, 0.4) for name in (*TOLERANCES, *draw.some(MORE_TOLERANCES))}
    data["ring"] = rings
    for name, make in parts.items():
        if dice.random() < 0.7 or (name == "materials" and any(ring["material"] == "MY-ALLOY" for ring in rings)):
            data[name] = make()
    return data


def old_text(data: dict[str, Any]) -> str:
    """The data as a file."""
    return toml_text(data, (), LISTS)


class Draw:
    """Numbers with fifteen digits, in a range."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice

    def __call__(self, low: float, high: float) -> float:
        return self.dice.uniform(low, high)

    def one(self, choice: list[Any]) -> Any:
        """One of a list."""
        return self.dice.choice(choice)

    def some(self, names: tuple[str, ...]) -> tuple[str, ...]:
        """Some of the names, in their order."""
        return tuple(name for name in names if self.dice.random() < 0.7)


SPREADS = (
    "sheet_thickness", "flow_stress_pct", "modulus_pct", "weld_shrink", "weld_zone_strength_pct", "cut_length",
    "segment_radius", "pin_stop", "roll_gap", "girth_tape",
)  # fmt: skip
TOLERANCES = (
    "circumference_diameter", "circumference_diameter_other", "roundness_restrained", "roundness_free_state",
    "profile_restrained", "edge_axial_position", "thickness_min_after_forming",
)  # fmt: skip
MORE_TOLERANCES = (
    "port_position_dia", "nozzle_position_dia", "liner_to_casing_concentricity_radial", "pad_flatness", "pad_height",
)  # fmt: skip
ACCEPTANCE = (
    "weld_uts_min_fraction_parent", "weld_mean_uts_min_fraction_parent", "springback_stress_window",
    "lobe_share_of_roundness",
)  # fmt: skip
OPERATING = ("air_flow_kg_s", "inlet_pressure_kPa", "inlet_temp_C", "liner_pressure_drop_kPa", "exit_gas_temp_C")


def _liner(draw: Draw, operating: bool) -> dict[str, Any]:
    liner: dict[str, Any] = {"id": f"L-{draw.dice.randint(1, 999)}", "revision": "B2", "length": draw(50, 300)}
    if operating:
        liner |= {name: draw(1, 900) for name in OPERATING}
    if draw.dice.random() < 0.5:
        liner |= {"title": FREE, "axial_datum": "x", "radial_datum": FREE, "slip_joints": [FREE, "two"]}
    return liner


def _section(seed: int) -> tuple[list[dict[str, Any]], Any]:
    ring = random_ring(seed)

    def printed(point: tuple[float, float]) -> list[float]:
        return [round(point[0], 4), round(point[1], 4)]

    chain: list[dict[str, Any]] = []
    for s in ring.section:
        ends = {"p0": printed(s.start), "p1": printed(s.end)}
        if s.centre is None:
            chain.append({"type": "line"} | ends)
        else:
            chain.append({"type": "arc"} | ends | {"c": printed(s.centre), "rad": round(s.radius, 4), "ccw": s.ccw})
    return chain, ring


def _ring(draw: Draw, seed: int, number: int) -> dict[str, Any]:
    chain, ring = _section(1000 * seed + number)
    old = {
        "id": f"R.{number}_x", "side": ring.side, "order": number, "material": draw.one([ring.material, "MY-ALLOY"]),
        "thickness": ring.thickness_mm, "temp_C": draw(400, 800), "release_direction": ring.release_direction,
        "seam_theta": draw(-360, 360), "section": chain,
        "control": [
            {"name": c.name, "z": c.z_mm, "face": c.face, "dia": c.diameter_mm, "tol": draw(0.05, 0.2)}
            for c in ring.controls
        ],
    }  # fmt: skip
    if draw.dice.random() < 0.5:
        old["route"] = draw.one(["straight", "arc"])
    return old


def _materials(draw: Draw, used: list[str]) -> dict[str, Any]:
    materials: dict[str, Any] = {name: _alloy(draw) for name in sorted({*used, "MY-ALLOY", "N07750"})}
    if draw.dice.random() < 0.7:
        materials["casing"] = {"uns": "S32100", "cte_mean": draw(10, 20)}
    if draw.dice.random() < 0.7:
        materials["turbine_nozzle"] = {"cte_mean": draw(10, 20)}
    return materials


def _alloy(draw: Draw) -> dict[str, Any]:
    table = [[20.0, draw(190, 220)], [draw(200, 400), draw(170, 190)], [draw(500, 900), draw(100, 170)]]
    full: dict[str, Any] = {
        "form": FREE, "spec": FREE, "density_kg_m3": draw(7000, 9000), "E_GPa": draw(150, 230),
        "poisson": draw(0.2, 0.4),
        "yield_MPa": draw(200, 500), "uts_MPa": draw(600, 1000), "uts_min_MPa": draw(500, 600),
        "elongation_pct": draw(20, 60), "yield_aged_MPa": draw(500, 900), "source": FREE,
        f"cte_mean_from_{draw.one([20, 21, 25.5])}C": [[100.0, draw(10, 14)], [draw(200, 900), draw(14, 18)]],
        "E_GPa_by_temp": table, "swift": {"K_MPa": draw(900, 2000), "eps0": draw(0.001, 0.03), "n": draw(0.2, 0.5)},
        "swift_source": FREE,
    }  # fmt: skip
    kept = {name: value for name, value in full.items() if draw.dice.random() < 0.8}
    if "swift" not in kept:
        kept.pop("swift_source", None)
    return kept


def _process(draw: Draw) -> dict[str, Any]:
    full: dict[str, Any] = {
        "min_hoop_stretch": draw(0.01, 0.05), "prior_plastic_strain": draw(0.01, 0.1), "weld_shrink_mm": draw(0, 0.3),
        "end_trim_mm": draw(5, 40), "edge_trim_mm": draw(1, 5), "width_step_mm": draw(0.1, 1),
        "length_step_mm": draw(0.1, 2), "straight_strip_differential_max": draw(0.01, 0.05),
        "straight_strip_differential_caution": draw(0.05, 0.1), "min_inside_bend_radius_t": draw(1, 4),
        "roll_pitch_radius_mm": draw(30, 90), "roll_slip_max": draw(0.01, 0.1), "segments": draw.dice.randint(4, 24),
        "pin_half_angle_deg": draw(4, 12), "mu_pin": draw(0.02, 0.3), "mu_base": draw(0.02, 0.3),
        "load_clearance_mm": draw(0.1, 2), "slot_clearance_mm": draw(0.1, 1), "lap_gap_max_fraction_t": draw(0.05, 0.2),
        "lap_gap_min_mm": draw(-0.1, 0.0), "butt_mismatch_max_fraction_t": draw(0.05, 0.2),
        "seam_to_port_min_deg": draw(5, 30), "seam_neighbour_min_deg": draw(30, 90), "seam_any_min_deg": draw(10, 40),
        "seam_to_igniter_min_deg": draw(10, 40), "seam_to_hole_edge_min_mm": draw(1, 5),
        "edge_strain_allow": {"laser_as_cut": draw(0.1, 0.2), "machined": draw(0.2, 0.5)},
    }  # fmt: skip
    return {name: value for name, value in full.items() if draw.dice.random() < 0.8}


def _machines(draw: Draw) -> dict[str, Any]:
    full: dict[str, Any] = {
        "roll": {
            "centre_distance_min": draw(50, 90), "centre_distance_max": draw(100, 200), "shaft_dia": draw(20, 60),
            "shaft_span": draw(100, 300), "torque_max_Nm": draw(100, 2000), "load_max_kN": draw(20, 90),
            "frame_stiffness_kN_per_mm": draw(20, 90), "speed_m_per_min": [draw(0.5, 1), draw(2, 9)],
            "exit_roll_radius": draw(20, 60), "curl_radius_min": draw(20, 60), "cant_max_deg": draw(1, 20),
        },
        "expander": {"pull_max_kN": draw(20, 200), "stroke_max": draw(50, 200), "retract_kN": draw(5, 50),
                     "stop_step": 0.05},
        "press": {"force_max_kN": draw(100, 2000), "daylight": draw(100, 500), "holder_force_max_kN": draw(50, 500)},
        "laser": {"power_W": [200, draw(900, 2000)], "speed_m_per_min": [draw(0.1, 0.6), draw(2, 9)],
                  "spot_dia_mm": [draw(0.1, 0.2), draw(0.3, 0.9)], "power_scatter_pct": draw(0.5, 3)},
        "wire": {"wire_dia": draw(0.1, 0.3), "kerf": draw(0.2, 0.5), "taper_max_deg": draw(1, 30),
                 "height_max": draw(50, 400)},
        "furnace": {"temp_max_C": draw(900, 1300), "chamber": [draw(200, 500), draw(200, 500), draw(200, 500)]},
    }  # fmt: skip
    return {name: value for name, value in full.items() if draw.dice.random() < 0.7}


def _end_plate(draw: Draw) -> dict[str, Any]:
    return {
        "id": "EP", "material": "N06002", "thickness": draw(0.5, 1.2), "temp_C": draw(300, 800),
        "flat_from_r": 67.0, "flat_to_r": 115.0,
        "control": [{"name": "od", "z": draw(5, 11), "face": "outside", "dia": draw(238, 240), "tol": draw(0.05, 0.2)}],
        "section": [
            {"type": "line", "p0": [12.0, 63.0], "p1": [4.0, 63.0]},
            {"type": "arc", "p0": [4.0, 63.0], "p1": [0.0, 67.0], "c": [4.0, 67.0], "rad": 4.0, "ccw": False},
            {"type": "line", "p0": [0.0, 67.0], "p1": [0.0, 115.0]},
            {"type": "arc", "p0": [0.0, 115.0], "p1": [4.0, 119.0], "c": [4.0, 115.0], "rad": 4.0, "ccw": False},
            {"type": "line", "p0": [4.0, 119.0], "p1": [12.0, 119.0]},
        ],
    }  # fmt: skip


def _measured(draw: Draw, rings: list[dict[str, Any]]) -> dict[str, Any]:
    size = draw.one(["lip_od", "land_id", "aft"])
    full: dict[str, Any] = {
        "sizing_1": {"ring": rings[0]["id"], "serial": "s-1", "segment_set": "T-1", "hit": 2,
                     f"{size}_free": draw(50, 300), f"{size}_loaded_from_stop": draw(50, 300),
                     "thickness_lip": draw(0.5, 1.2)},
        "roundness_a": {"ring": rings[-1]["id"], "serial": "s-2", "segment_set": "T-2", "station_z": draw(0, 90),
                        "face": "inside", "support": FREE, "theta_zero": FREE, "step_deg": 30.0,
                        "deviation": [draw(-0.5, 0.5) for _ in range(12)]},
        "fits": {"J1": {"inner_face_of_outer_part": draw(50, 300), "outer_face_of_inner_part": draw(50, 300)},
                 "other": [{"part": rings[0]["id"], "feature": "aft", "dia": draw(50, 300)}]},
        "weld_lot_W1": {"sheet_cast": "C1", "parent_uts": [draw(700, 900) for _ in range(3)],
                        "coupons": [{"id": "c1", "uts": draw(700, 900), "mismatch": draw(0, 0.1),
                                     "underfill": draw(0, 0.1), "fracture": FREE}],
                        "rings_in_lot": [{"serial": "s-3", "mismatch_fwd": draw(0, 0.1), "mismatch_mid": draw(0, 0.1),
                                          "mismatch_aft": draw(0, 0.1), "length_cut": draw(300, 900),
                                          "circumference_after_weld": draw(300, 900)}]},
        "port_lips_1": {"serial": "s-4", "pre_hole_edge": "machined", "split_ports": [2],
                        "lip_edge_thickness": [draw(0.5, 1), draw(0.5, 1)]},
    }  # fmt: skip
    kept = {name: value for name, value in full.items() if draw.dice.random() < 0.7}
    return {"invented": draw.dice.random() < 0.5} | kept


def _changes(draw: Draw, rings: list[dict[str, Any]]) -> dict[str, Any]:
    change = {"ring": rings[0]["id"], "text": FREE, f"{draw.one(['lip_mid_radius', 'land'])}_new": draw(50, 200)}
    more: dict[str, Any] = {
        "finished_parts": ["p-1"], "start_date": "2031-03-03", "grinder_order": ["T-1", "T-2"],
        "durations_days": {"restretch": draw(1, 9), "new_segment_set": draw(1, 30)},
    }  # fmt: skip
    return {"C": change | {name: value for name, value in more.items() if draw.dice.random() < 0.7}}
