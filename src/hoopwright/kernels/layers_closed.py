"""Bending of sheet in closed form: springback of the perfectly plastic and of the power-law section. N, mm, MPa, per
mm width.

With E' the modulus and S the yield stress that fit the case across (plane strain: E/(1 - nu^2) and 2 Y/sqrt3;
uniaxial: E and Y), rho the loaded mid-surface radius:

    x = S rho/(E' t);   k_free/k = 1 - 3 x + 4 x^3   for x < 1/2, else 0 (the strip never yields and springs flat)
    M/Mp = 1 - f^2 - (1/3)(2 S rho/(E' t))^2,  Mp = S t^2/4,  f = T/(S t)
    power law, no elastic core:  M = 2 K'/(n + 2) rho^-n (t/2)^(n+2);   change of curvature = 12 M/(E' t^3)

These are yardsticks; `layers` carries hardening, elastic core and the real state across. Source: S. Kalpakjian and S.
R. Schmid, Manufacturing Processes for Engineering Materials; Hosford and Caddell, Metal Forming; Marciniak, Duncan and
Hu, Mechanics of Sheet Metal Forming, 2002, ch. 6 (all from memory). Checks: tests/published/sheet_bending.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_finite, require_positive, require_range


def plane_strain_modulus(youngs_modulus_MPa: float, poisson: float) -> float:
    """E/(1 - nu^2). [MPa]"""
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    return require_positive("Young's modulus", youngs_modulus_MPa, "MPa") / (1.0 - nu * nu)


def plane_strain_yield(yield_stress_MPa: float) -> float:
    """Yield stress of a section that cannot get narrower: 2/sqrt3 of the uniaxial one, not sqrt3/2. [MPa]"""
    return 2.0 / math.sqrt(3.0) * require_positive("yield stress", yield_stress_MPa, "MPa")


def yield_radius_of_sheet(thickness_mm: float, modulus_MPa: float, yield_stress_MPa: float) -> float:
    """Mid-surface radius at which the faces first yield: E' t/(2 S). [mm]"""
    thickness = require_positive("thickness", thickness_mm, "mm")
    modulus = require_positive("modulus", modulus_MPa, "MPa")
    return modulus * thickness / (2.0 * require_positive("yield stress", yield_stress_MPa, "MPa"))


def yield_moment(thickness_mm: float, yield_stress_MPa: float) -> float:
    """Moment at which the faces first yield, S t^2/6. [N]"""
    thickness = require_positive("thickness", thickness_mm, "mm")
    return require_positive("yield stress", yield_stress_MPa, "MPa") * thickness**2 / 6.0


def plastic_moment(thickness_mm: float, yield_stress_MPa: float) -> float:
    """Moment of the fully plastic section, S t^2/4. [N]"""
    return 1.5 * yield_moment(thickness_mm, yield_stress_MPa)


def springback_ratio(radius_mm: float, thickness_mm: float, modulus_MPa: float, yield_stress_MPa: float) -> float:
    """Free over loaded curvature of a perfectly plastic section bent without tension; 0 where it never yields.

    Examples
    --------
    >>> round(springback_ratio(0.5, 0.0359, 30.0e6, 40.0e3), 3)   # the cubic has no units of its own
    0.944
    """
    radius = require_positive("radius", radius_mm, "mm")
    x = 0.5 * radius / yield_radius_of_sheet(thickness_mm, modulus_MPa, yield_stress_MPa)
    return 0.0 if x >= 0.5 else 1.0 - 3.0 * x + 4.0 * x**3


def tension_moment(
    radius_mm: float, thickness_mm: float, modulus_MPa: float, yield_stress_MPa: float, tension_N_per_mm: float
) -> float:
    """Moment of a perfectly plastic section bent under tension, with the elastic core. [N]

    Raises
    ------
    InputError
        Tension at or beyond S t, or below 0; a section whose elastic core reaches a face, where the form does not hold.
    """
    radius = require_positive("radius", radius_mm, "mm")
    elastic = yield_radius_of_sheet(thickness_mm, modulus_MPa, yield_stress_MPa)
    full = yield_stress_MPa * thickness_mm
    share = require_finite("tension", tension_N_per_mm, "N/mm") / full
    if not 0.0 <= share < 1.0:
        raise InputError("tension", tension_N_per_mm, "N/mm", f"from 0 to below {full:.6g}", "lower the tension")
    core = radius / elastic
    if core > 1.0 - share:
        raise InputError("radius", radius, "mm", f"below {(1.0 - share) * elastic:.6g}", "use the layered kernel")
    return plastic_moment(thickness_mm, yield_stress_MPa) * (1.0 - share**2 - core**2 / 3.0)


def power_law_moment(radius_mm: float, thickness_mm: float, strength_MPa: float, exponent: float) -> float:
    """Moment of a section of stress K' strain^n, no elastic core. [N]

    strength_MPa : K'; for plane strain K (2/sqrt3)^(n+1).
    """
    radius = require_positive("radius", radius_mm, "mm")
    half = 0.5 * require_positive("thickness", thickness_mm, "mm")
    n = require_positive("exponent", exponent)
    return 2.0 * require_positive("strength", strength_MPa, "MPa") / (n + 2.0) * radius**-n * half ** (n + 2.0)


def elastic_unbending(moment_N: float, thickness_mm: float, modulus_MPa: float) -> float:
    """Curvature that goes when a moment is taken off elastically, 12 M/(E' t^3). [1/mm]"""
    moment = require_finite("moment", moment_N, "N")
    thickness = require_positive("thickness", thickness_mm, "mm")
    return 12.0 * moment / (require_positive("modulus", modulus_MPa, "MPa") * thickness**3)
