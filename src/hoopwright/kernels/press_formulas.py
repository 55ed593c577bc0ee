"""Closed forms of press work: drawing, flanging, shearing, ironing, coining. N, mm, MPa; strains log [1].

They stand beside the section kernel as a first look and as a second opinion; each is only as good as its author's
assumptions, which the function names.

References
----------
M. P. Groover, Fundamentals of Modern Manufacturing (drawing, blanking); A. Ghosh and A. K. Mallik, Manufacturing
Science (stress build-up, fracture); S. Kalpakjian and S. R. Schmid, Manufacturing Processes for Engineering Materials
(punching); W. F. Hosford and R. M. Caddell, Metal Forming (ironing); Z. Marciniak, J. L. Duncan and S. J. Hu,
Mechanics of Sheet Metal Forming, 2002 (edge of a flanged hole): how each figure was read stands in
tests/published/press_work.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_finite, require_positive, require_range


def draw_force(
    punch_diameter: float, blank_diameter: float, thickness: float, tensile: float, spare: float = 0.7
) -> float:
    """Largest force of a plain round draw: pi Dp t TS (Db/Dp - 0.7). [N]

    tensile : tensile strength [MPa]. spare : the constant of the rule [1].
    """
    dp, db = require_positive("punch diameter", punch_diameter, "mm"), require_finite("blank diameter", blank_diameter)
    if db / dp <= require_finite("spare", spare):
        raise InputError("blank diameter", blank_diameter, "mm", f"above {spare:g} of the punch", "enter the blank")
    t, ts = require_positive("thickness", thickness, "mm"), require_positive("tensile strength", tensile, "MPa")
    return math.pi * dp * t * ts * (db / dp - spare)


def holder_force(
    punch_diameter: float, blank_diameter: float, thickness: float, die_radius: float, yield_stress: float
) -> float:
    """Blank-holder force of a plain round draw: 0.015 Y pi (Db^2 - (Dp + 2.2 t + 2 Rd)^2).

    That is a pressure of 6 % of the yield stress on the ring that is held. [N]
    """
    held = require_positive("punch diameter", punch_diameter, "mm")
    held += 2.2 * require_positive("thickness", thickness, "mm") + 2.0 * require_positive(
        "die radius", die_radius, "mm"
    )
    db = require_positive("blank diameter", blank_diameter, "mm")
    if db <= held:
        raise InputError("blank diameter", blank_diameter, "mm", f"above {held:g}, where the holder begins", "widen it")
    return 0.015 * require_positive("yield stress", yield_stress, "MPa") * math.pi * (db * db - held * held)


def wall_stress(
    blank_radius: float,
    wall_radius: float,
    thickness: float,
    shear_yield: float,
    friction: float,
    holder_factor: float = 0.05,
) -> float:
    """Stress in the wall of a cup by building it up: holder friction, drawing inward, the bend's friction. [MPa]

    sigma = (mu Fh/(pi rj t) + 2 k ln(rj/rd)) exp(mu pi/2), Fh = factor pi rj^2 k; k the yield stress in shear.
    """
    rj, rd = require_positive("blank radius", blank_radius, "mm"), require_positive("wall radius", wall_radius, "mm")
    if rj <= rd:
        raise InputError("blank radius", blank_radius, "mm", f"above the wall's {wall_radius:g}", "enter the blank")
    k, mu = require_positive("shear yield", shear_yield, "MPa"), require_range("friction", friction, 0.0, 1.0)
    hold = require_range("holder factor", holder_factor, 0.0, 1.0) * rj * k * mu
    drawn = hold / require_positive("thickness", thickness, "mm") + 2.0 * k * math.log(rj / rd)
    return drawn * math.exp(0.5 * math.pi * mu)


def blank_diameter(cup_diameter: float, cup_height: float) -> float:
    """Blank of a sharp-cornered cup at constant area: sqrt(d^2 + 4 d h). [mm]"""
    d, h = require_positive("cup diameter", cup_diameter, "mm"), require_positive("cup height", cup_height, "mm")
    return math.sqrt(d * d + 4.0 * d * h)


def edge_strain(diameter: float, hole_diameter: float) -> float:
    """Hoop strain of the edge of a flanged hole, ln(d/d0) [1]."""
    d, d0 = require_positive("diameter", diameter, "mm"), require_positive("hole diameter", hole_diameter, "mm")
    return math.log(d / d0)


def edge_thickness(thickness: float, diameter: float, hole_diameter: float) -> float:
    """Thickness of that edge, which is in uniaxial tension: t0 sqrt(d0/d). [mm]"""
    return require_positive("thickness", thickness, "mm") * math.exp(-0.5 * edge_strain(diameter, hole_diameter))


def shear_force(cut_length: float, thickness: float, shear_strength: float) -> float:
    """Force to shear along a line at once: L t tau. [N]"""
    length, t = require_positive("cut length", cut_length, "mm"), require_positive("thickness", thickness, "mm")
    return length * t * require_positive("shear strength", shear_strength, "MPa")


def punch_force(cut_length: float, thickness: float, tensile: float) -> float:
    """The same from the tensile strength: 0.7 t L TS. [N]"""
    return 0.7 * shear_force(cut_length, thickness, tensile)


def relieved_force(force: float, penetration: float, shear: float) -> float:
    """Force of a punch ground with shear s, the metal parting at penetration p: F p/(p + s). [N]"""
    p, s = require_positive("penetration", penetration, "mm"), require_finite("shear", shear, "mm")
    if s < 0.0:
        raise InputError("shear", shear, "mm", "0 or more", "enter the height of the punch's slope")
    return require_positive("force", force, "N") * p / (p + s)


def clearance_by_allowance(thickness: float, allowance: float) -> float:
    """Clearance a side between cutting punch and die: allowance times thickness. [mm]"""
    return require_range("allowance", allowance, 0.0, 0.5) * require_positive("thickness", thickness, "mm")


def clearance_by_fracture(thickness: float, fracture_strain: float) -> float:
    """Clearance a side from the fracture strain e [1]: t/(1.36 exp e) (2 exp e - 1)/(2.3 exp e - 1). [mm]"""
    g = math.exp(require_positive("fracture strain", fracture_strain))
    return require_positive("thickness", thickness, "mm") / (1.36 * g) * (2.0 * g - 1.0) / (2.3 * g - 1.0)


def clearance_by_root(thickness: float, shear_strength: float) -> float:
    """Clearance on the diameter, 0.0064 t sqrt(tau). [mm]"""
    root = math.sqrt(require_positive("shear strength", shear_strength, "MPa"))
    return 0.0064 * require_positive("thickness", thickness, "mm") * root


def ironing_stress(before: float, after: float, yield_stress: float) -> float:
    """Ideal stress in an ironed wall, (2/sqrt3) Y ln(t0/t1). [MPa]

    Raises InputError where it would pass the plane-strain yield of the exit: a reduction above 1 - 1/e.
    """
    t0, t1 = require_positive("thickness before", before, "mm"), require_positive("thickness after", after, "mm")
    if t1 > t0:
        raise InputError("thickness after", after, "mm", f"at most {before:g}", "ironing makes a wall thinner")
    strain = math.log(t0 / t1)
    if strain > 1.0:
        raise InputError("thickness after", after, "mm", f"at least {before / math.e:.4g}", "iron in two steps")
    return 2.0 / math.sqrt(3.0) * require_positive("yield stress", yield_stress, "MPa") * strain


def coining_force(area: float, pressure: float) -> float:
    """Force to flatten an area at a pressure. [N] (The pressure is common practice, no source.)"""
    return require_positive("area", area, "mm2") * require_positive("pressure", pressure, "MPa")
