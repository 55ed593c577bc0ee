"""Corner formulas of the shop and of textbooks, each with its limits: shown beside `corner_bend`. N, mm, MPa, rad.

References
----------
Springback cubic and outer-fibre strain: Kalpakjian and Schmid, Manufacturing Processes for Engineering Materials (from
memory). Power-law form: Hosford and Caddell, Metal Forming (from memory). Bending under tension: Marciniak, Duncan and
Hu, Mechanics of Sheet Metal Forming, 2002 (from memory). Neutral radius: R. Hill, 1950 (from memory).
tests/published/bending_formulas.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.flow import FlowCurve


@dataclass(frozen=True, slots=True)
class HandCorner:
    """Tool radius and turn by the hand formula. stress_MPa : flow stress it used; curvature_change_per_mm : added."""

    tool_radius_mm: float
    tool_turn_rad: float
    stress_MPa: float
    curvature_change_per_mm: float


def hand_corner(
    curve: FlowCurve, youngs_modulus: float, poisson: float, thickness: float, radius: float, turn: float
) -> HandCorner:
    """Corner tightened by dk = 3 s (1 - nu^2)/(E t), s the flow stress at the strain t/(4 rho); turn in the same ratio.

    Leaves out the plane-strain factor and takes the stress half way to the face: its springback is about a fifth low.

    Examples
    --------
    >>> import math
    >>> from hoopwright.kernels.flow import swift
    >>> hand = hand_corner(swift(1630.0, 0.020, 0.385), 205000.0, 0.32, 0.8, 3.0, math.radians(28.5))
    >>> round(hand.tool_radius_mm, 3), round(math.degrees(hand.tool_turn_rad), 2)
    (2.909, 29.39)
    """
    rho, t = require_positive("radius", radius, "mm"), require_positive("thickness", thickness, "mm")
    stress = curve.stress(t / (4.0 * rho))
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    change = 3.0 * stress * (1.0 - nu * nu) / (require_positive("elastic modulus", youngs_modulus, "MPa") * t)
    tool = 1.0 / (1.0 / rho + change)
    return HandCorner(tool, require_finite("turn", turn, "rad") * rho / tool, stress, change)


def springback_ratio(loaded_radius: float, thickness: float, stress: float, modulus: float) -> float:
    """Ri/Rf of a perfectly plastic bend: 4x^3 - 3x + 1, x = R s/(E t).

    loaded_radius R [mm], stress s and modulus E [MPa] of the state meant (uniaxial, or plane strain S and E').

    Raises InputError for x above 0.5: the bend is elastic there and the cubic would go on to nonsense.
    """
    r, t = require_positive("loaded radius", loaded_radius, "mm"), require_positive("thickness", thickness, "mm")
    s, e = require_positive("stress", stress, "MPa"), require_positive("modulus", modulus, "MPa")
    x = r * s / (e * t)
    if x > 0.5:
        raise InputError(
            "loaded radius", loaded_radius, "mm", f"at most {0.5 * e * t / s:.6g}, where first yield begins",
            "bend to a smaller radius: a wider one springs back flat",
        )  # fmt: skip
    return max(0.0, 4.0 * x**3 - 3.0 * x + 1.0)


def power_law_moment(strength: float, exponent: float, curvature: float, thickness: float) -> float:
    """Moment per unit width of s = K' e^n without elastic core: 2 K'/(n + 2) k^n (t/2)^(n + 2). [N]"""
    k, t = require_positive("curvature", curvature, "1/mm"), require_positive("thickness", thickness, "mm")
    n = require_range("exponent", exponent, 0.0, 1.0)
    return 2.0 * require_positive("strength", strength, "MPa") / (n + 2.0) * k**n * (0.5 * t) ** (n + 2.0)


def tension_moment_share(
    tension_share: float, loaded_radius: float, thickness: float, stress: float, modulus: float
) -> float:
    """Moment over the full plastic moment of a perfectly plastic section also pulled by f times its yield tension.

    1 - f^2 - (2 s rho/(E' t))^2 / 3, the last by the elastic core (which must lie inside the section).
    """
    f = require_range("tension share", tension_share, 0.0, 1.0)
    core = 2.0 * require_positive("stress", stress, "MPa") * require_positive("loaded radius", loaded_radius, "mm")
    core /= require_positive("modulus", modulus, "MPa") * require_positive("thickness", thickness, "mm")
    if core > 1.0 - f:
        raise InputError(
            "tension share", tension_share, "", f"at most {1.0 - core:.4g}: else the elastic core reaches the face",
            "bend to a smaller radius or pull less",
        )  # fmt: skip
    return 1.0 - f * f - core * core / 3.0


def face_strain(inside_radius: float, thickness: float) -> float:
    """Engineering strain of the outer face over the middle fibre: 1/(2 Ri/t + 1)."""
    if require_finite("inside radius", inside_radius, "mm") < 0.0:
        raise InputError("inside radius", inside_radius, "mm", "0 or more", "enter the inside radius")
    return 1.0 / (2.0 * inside_radius / require_positive("thickness", thickness, "mm") + 1.0)


def least_inside_radius(area_reduction: float, thickness: float) -> float:
    """Least inside radius by a tensile test's reduction of area q (a share): t (0.5/q - 1), 0 from q = 0.5 up. [mm]"""
    q = require_range("reduction of area", area_reduction, 1e-6, 1.0)
    return require_positive("thickness", thickness, "mm") * max(0.0, 0.5 / q - 1.0)


def inside_radius_for_strain(strain: float, thickness: float) -> float:
    """Inside radius at which the outer face strains by `strain` (engineering): t (1/e - 1)/2. [mm]"""
    e = require_range("face strain", strain, 1e-9, 1.0)
    return 0.5 * require_positive("thickness", thickness, "mm") * (1.0 / e - 1.0)


def neutral_radius(inside_radius: float, thickness: float) -> float:
    """Radius of the fibre without stress in rigid plastic pure bending: sqrt(Ri Ro). [mm]"""
    inside, t = require_positive("inside radius", inside_radius, "mm"), require_positive("thickness", thickness, "mm")
    return math.sqrt(inside * (inside + t))
