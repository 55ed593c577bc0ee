"""How to turn another unit into the one a card is written in. Nothing is converted silently: the fault says how."""

from __future__ import annotations

FACTORS: dict[str, dict[str, float]] = {
    "MPa": {"GPa": 1000.0, "kPa": 0.001, "Pa": 1e-6, "N/mm2": 1.0, "ksi": 6.894757, "psi": 0.006894757},
    "GPa": {"MPa": 0.001, "ksi": 0.006894757, "Msi": 6.894757, "N/mm2": 0.001},
    "mm": {"m": 1000.0, "cm": 10.0, "um": 0.001, "in": 25.4, "inch": 25.4},
    "kN": {"N": 0.001, "tf": 9.80665, "lbf": 0.004448222},
    "pct": {"1": 100.0, "%": 1.0},
    "1": {"pct": 0.01, "%": 0.01},
    "log": {"pct": 0.01, "%": 0.01, "1": 1.0},
    "eng": {"pct": 0.01, "%": 0.01, "1": 1.0},
    "deg": {"rad": 57.29577951},
    "Nm": {"kNm": 1000.0, "Nmm": 0.001},
    "W": {"kW": 1000.0},
    "s": {"ms": 0.001, "min": 60.0},
    "m_per_min": {"m/min": 1.0, "m_per_s": 60.0, "mm_per_s": 0.06, "mm/s": 0.06},
    "kN_per_mm": {"kN/mm": 1.0, "N_per_mm": 0.001, "N/um": 1.0},
    "um_per_mK": {"um/mK": 1.0, "um/m/K": 1.0, "1/K": 1e6, "1e-6/K": 1.0, "1e-6/F": 1.8},
    "W_per_mK": {"W/mK": 1.0, "W/m/K": 1.0},
    "J_per_kgK": {"J/kgK": 1.0, "J/kg/K": 1.0, "kJ_per_kgK": 1000.0},
    "kg_per_m3": {"kg/m3": 1.0, "g_per_cm3": 1000.0, "g/cm3": 1000.0, "lb/in3": 27_679.9},
    "kJ_per_kg": {"kJ/kg": 1.0, "J/g": 1.0, "J_per_kg": 0.001},
}


def how_to_convert(wanted: str, given: str) -> str:
    """What to do about a figure in another unit."""
    factor = FACTORS.get(wanted, {}).get(given)
    if factor == 1.0:
        return f'write unit = "{wanted}"; the number stays'
    if factor is not None:
        return f'multiply the number by {factor:.7g} and write unit = "{wanted}"'
    return f'convert the number and write unit = "{wanted}"'
