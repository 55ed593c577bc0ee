"""Names, units and bounds of what may stand on an alloy, tool steel or gauge card."""

from __future__ import annotations

from hoopwright.cards.quantities import Quantity

Q = Quantity

_PHYSICAL: dict[str, Quantity] = {
    "density_kg_per_m3": Q("kg_per_m3", "density", 500.0, 25_000.0),
    "solidus_degC": Q("degC", "melting begins", 100.0, 4000.0),
    "liquidus_degC": Q("degC", "melting ends", 100.0, 4000.0),
    "latent_heat_kJ_per_kg": Q("kJ_per_kg", "latent heat of fusion", 1.0, 1000.0),
    "liquid_conductivity_W_per_mK": Q("W_per_mK", "conductivity of the melt", 0.1, 1000.0),
    "liquid_specific_heat_J_per_kgK": Q("J_per_kgK", "specific heat of the melt", 10.0, 5000.0),
    "poisson": Q("1", "Poisson's ratio", 0.0, 0.5),
    "young_modulus_GPa": Q("GPa", "Young's modulus", 1.0, 1000.0),
    "conductivity_W_per_mK": Q("W_per_mK", "thermal conductivity", 0.1, 1000.0),
    "specific_heat_J_per_kgK": Q("J_per_kgK", "specific heat", 10.0, 5000.0),
    "mean_expansion_um_per_mK": Q("um_per_mK", "mean expansion over the range at `at`", 0.0, 100.0),
}

_STRENGTH: dict[str, Quantity] = {
    "yield_strength_MPa": Q("MPa", "0.2 % proof stress as formed from", 1.0, 5000.0),
    "tensile_strength_MPa": Q("MPa", "tensile strength as formed from", 1.0, 5000.0),
    "elongation_pct": Q("pct", "elongation after fracture as formed from", 0.0, 500.0),
    "uniform_elongation_pct": Q("pct", "plastic elongation at largest force, Ag (engineering)", 0.0, 500.0),
    "yield_strength_min_MPa": Q("MPa", "specified least proof stress", 1.0, 5000.0),
    "tensile_strength_min_MPa": Q("MPa", "specified least tensile strength", 1.0, 5000.0),
    "yield_strength_max_MPa": Q("MPa", "specified greatest proof stress", 1.0, 5000.0),
    "tensile_strength_max_MPa": Q("MPa", "specified greatest tensile strength", 1.0, 5000.0),
    "elongation_min_pct": Q("pct", "specified least elongation", 0.0, 500.0),
    "yield_strength_aged_MPa": Q("MPa", "0.2 % proof stress, aged", 1.0, 5000.0),
    "tensile_strength_aged_MPa": Q("MPa", "tensile strength, aged", 1.0, 5000.0),
    "elongation_aged_pct": Q("pct", "elongation after fracture, aged", 0.0, 500.0),
    "yield_strength_aged_min_MPa": Q("MPa", "specified least proof stress, aged", 1.0, 5000.0),
    "tensile_strength_aged_min_MPa": Q("MPa", "specified least tensile strength, aged", 1.0, 5000.0),
    "elongation_aged_min_pct": Q("pct", "specified least elongation, aged", 0.0, 500.0),
}

_FORMING: dict[str, Quantity] = {
    "r_value_0": Q("1", "plastic strain ratio along the rolling direction (ISO 10113)", 0.01, 20.0),
    "r_value_45": Q("1", "plastic strain ratio at 45 deg (ISO 10113)", 0.01, 20.0),
    "r_value_90": Q("1", "plastic strain ratio across the rolling direction (ISO 10113)", 0.01, 20.0),
    "hardening_exponent_n": Q("1", "tensile strain hardening exponent (ISO 10275)", 0.0, 2.0),
}

_HEAT: dict[str, Quantity] = {
    "solution_anneal_degC": Q("degC", "solution anneal", 100.0, 2000.0),
    "solution_anneal_h": Q("h", "time of the solution anneal", 0.0, 100.0),
    "stress_relief_degC": Q("degC", "stress relief", 100.0, 2000.0),
    "stress_relief_h": Q("h", "time of the stress relief", 0.0, 100.0),
    "age_degC": Q("degC", "age, first hold", 100.0, 2000.0),
    "age_h": Q("h", "age, first hold", 0.0, 500.0),
    "age_second_degC": Q("degC", "age, second hold", 100.0, 2000.0),
    "age_second_h": Q("h", "age, second hold", 0.0, 500.0),
    "age_cooling_K_per_h": Q("K_per_h", "age, cooling between the holds", 0.0, 10_000.0),
    "service_limit_degC": Q("degC", "highest service temperature", -200.0, 2000.0),
}

ALLOY_FIGURES = _PHYSICAL | _STRENGTH | _FORMING | _HEAT

TOOL_STEEL_FIGURES = _PHYSICAL | {
    "yield_strength_MPa": Q("MPa", "0.2 % proof stress, hardened and tempered", 1.0, 5000.0),
    "tensile_strength_MPa": Q("MPa", "tensile strength, hardened and tempered", 1.0, 5000.0),
    "preheat_degC": Q("degC", "preheat before hardening", 100.0, 2000.0),
    "austenitise_degC": Q("degC", "hardening temperature", 100.0, 2000.0),
    "soak_min": Q("min", "soak at hardening temperature", 0.0, 1000.0),
    "temper_degC": Q("degC", "temper", 50.0, 1000.0),
    "size_change_pct": Q("pct", "size change on hardening and temper; the usual range stands beside it", -5.0, 5.0),
    "size_change_high_temper_pct": Q("pct", "size change when tempered at 500 to 525 degC", -5.0, 5.0),
    "size_change_direction_pct": Q("pct", "difference of size change along and across", 0.0, 5.0),
    "grind_allowance_pct": Q("pct", "stock left for size change, beside grinding stock", 0.0, 5.0),
}

GAUGE_FIGURES: dict[str, Quantity] = {
    "reference_temperature_degC": Q("degC", "temperature at which sizes are stated", -50.0, 100.0),
    "gauge_steel_um_per_mK": Q("um_per_mK", "expansion, gauge block steel", 0.0, 100.0),
    "tungsten_carbide_um_per_mK": Q("um_per_mK", "expansion, tungsten carbide", 0.0, 100.0),
    "zirconia_um_per_mK": Q("um_per_mK", "expansion, zirconia blocks", 0.0, 100.0),
    "granite_um_per_mK": Q("um_per_mK", "expansion, granite", 0.0, 100.0),
    "fused_silica_um_per_mK": Q("um_per_mK", "expansion, fused silica", 0.0, 100.0),
    "aluminium_6061_um_per_mK": Q("um_per_mK", "expansion, aluminium 6061", 0.0, 100.0),
}

_T = Q("degC", "temperature", -273.15, 4000.0)
_TENSILE = {name: _STRENGTH[name] for name in ("yield_strength_MPa", "tensile_strength_MPa", "elongation_pct")}
_REDUCTION = Q("pct", "thickness reduction by cold rolling", 0.0, 99.0)


def _against_temperature(*names: str) -> dict[str, Quantity]:
    return {"temperature_degC": _T} | {name: _PHYSICAL[name] for name in names}


ALLOY_TABLES: dict[str, dict[str, Quantity]] = {
    "young_modulus": _against_temperature("young_modulus_GPa"),
    "poisson": _against_temperature("poisson"),
    "mean_expansion": _against_temperature("mean_expansion_um_per_mK"),
    "instantaneous_expansion": {
        "temperature_degC": _T,
        "expansion_um_per_mK": Q("um_per_mK", "local expansion", 0.0, 100.0),
    },
    "conductivity": _against_temperature("conductivity_W_per_mK"),
    "conductivity_aged": _against_temperature("conductivity_W_per_mK"),
    "specific_heat": _against_temperature("specific_heat_J_per_kgK"),
    "tensile_sheet": {"temperature_degC": _T} | _TENSILE,
    "tensile_plate": {"temperature_degC": _T} | _TENSILE,
    "tensile_aged_plate": {"temperature_degC": _T} | _TENSILE,
    "creep_aged_sheet": {
        "temperature_degC": _T,
        "stress_1pct_1000h_MPa": Q("MPa", "stress for 1 % creep in 1000 h", 0.0, 5000.0),
        "stress_rupture_1000h_MPa": Q("MPa", "stress for rupture in 1000 h", 0.0, 5000.0),
    },
    "cold_work": {"reduction_pct": _REDUCTION}
    | _TENSILE
    | {
        "welded_yield_strength_MPa": Q("MPa", "proof stress across a weld made after the reduction", 1.0, 5000.0),
        "welded_tensile_strength_MPa": Q("MPa", "tensile strength across that weld", 1.0, 5000.0),
    },
    "anneal_after_cold_work": {
        "reduction_pct": _REDUCTION,
        "yield_after_1066_degC_MPa": Q("MPa", "proof stress after an anneal at 1066 degC", 1.0, 5000.0),
        "yield_after_1121_degC_MPa": Q("MPa", "proof stress after an anneal at 1121 degC", 1.0, 5000.0),
        "yield_after_1177_degC_MPa": Q("MPa", "proof stress after an anneal at 1177 degC", 1.0, 5000.0),
        "elongation_after_1177_degC_pct": Q("pct", "elongation after an anneal at 1177 degC", 0.0, 500.0),
    },
}

TOOL_STEEL_TABLES: dict[str, dict[str, Quantity]] = {
    "young_modulus": ALLOY_TABLES["young_modulus"],
    "young_modulus_similar_grade": ALLOY_TABLES["young_modulus"],
    "mean_expansion": ALLOY_TABLES["mean_expansion"],
    "conductivity": ALLOY_TABLES["conductivity"],
    "temper": {"temperature_degC": _T, "hardness_HRC": Q("HRC", "hardness", 0.0, 75.0)},
}

LAW_CONSTANTS: dict[str, tuple[str, ...]] = {
    "swift": ("K_MPa", "e0_log", "n"),
    "voce": ("s0_MPa", "Q_MPa", "b"),
    "ludwik": ("s0_MPa", "K_MPa", "n"),
    "tabulated": (),
}
