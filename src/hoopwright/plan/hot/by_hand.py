"""The hand formulas of the trade, as they are done in a spreadsheet: printed beside the better answer, never instead.

Mean coefficient taken as if its base were 20 degC; a bare beam; an orifice with Cd 0.65. Common practice, no source.
Units mm, N, MPa, degC, coefficients in 1/K.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoopwright.kernels.gas import AIR_R, ZERO_K
from hoopwright.kernels.spring_finger import beam_stiffness, root_stress

BASE_DEGC = 20.0
DISCHARGE = 0.65


def grown(length_mm: float, mean_per_K: float, degC: float) -> float:
    """Length times mean coefficient times rise from 20 degC. [mm]"""
    return length_mm * mean_per_K * (degC - BASE_DEGC)


def chain(links: Sequence[tuple[float, float, float]]) -> float:
    """Sum of `grown` over (length, mean coefficient, temperature). [mm]"""
    return sum(grown(*link) for link in links)


def sliding_gap(cold_mm: float, outer_grown_mm: float, inner_grown_mm: float) -> float:
    """Radial gap hot. [mm]"""
    return cold_mm + outer_grown_mm - inner_grown_mm


def float_needed(shift_mm: float, position_errors_mm: Sequence[float], offset_cold_mm: float = 0.0) -> float:
    """Shift, less what the nozzles are set outward cold, plus every position error in the same direction. [mm]"""
    return abs(shift_mm - offset_cold_mm) + sum(position_errors_mm)


def leak(bore_mm: float, barrel_mm: float, supply_MPa: float, back_MPa: float, air_degC: float) -> tuple[float, float]:
    """Area of the gap [mm2] and flow of an orifice of it with Cd 0.65 at the density of the supply. [g/s]"""
    area = 0.25 * math.pi * (bore_mm**2 - barrel_mm**2)
    density = supply_MPa * 1e6 / (AIR_R * (air_degC + ZERO_K))
    return area, 1e-3 * DISCHARGE * area * math.sqrt(2.0 * density * (supply_MPa - back_MPa) * 1e6)


def spring(
    fingers: int, young_MPa: float, width_mm: float, thickness_mm: float, length_mm: float, deflection_mm: float
) -> tuple[float, float, float]:
    """Bare beams: stiffness of all fingers [N/mm], load [N], root stress [MPa]."""
    stiff = fingers * beam_stiffness(young_MPa, width_mm, thickness_mm, length_mm)
    return stiff, stiff * deflection_mm, root_stress(young_MPa, thickness_mm, length_mm, deflection_mm)
