"""Waves in a compressed strip or flange, and thin hoops under outside pressure. N, mm, MPa.

A long flat strip of width b and thickness t, pressed along its length, waves at

    stress = k pi^2 E / (12 (1 - nu^2)) (t/b)^2,   strain = the same without E

k depends on how the two long edges are held (`plate_waves` computes it); one edge supported and one free has the
long-strip limit 6 (1 - nu)/pi^2 (codes print 0.43).

References
----------
S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability (strip, ring); G. Gerard and H. Becker, NACA TN 3781
(strip); M. Levy 1884 (ring): all from memory; tests/published/strip_buckling.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_positive, require_range

CODE_FREE_EDGE = 0.43
"""k of a strip with one edge supported and one free, as structural codes round it."""


def free_edge_coefficient(poisson: float, half_wave_over_width: float = math.inf) -> float:
    """k of one edge supported, one free: 6 (1 - nu)/pi^2 + (b/half wave)^2.

    >>> round(free_edge_coefficient(0.3), 4)
    0.4255
    """
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    wave = half_wave_over_width
    if not wave > 0.0:
        raise InputError("half wave over width", wave, "", "above 0", "enter the ratio of half-wave length to width")
    return 6.0 * (1.0 - nu) / math.pi**2 + 1.0 / (wave * wave)


def wave_strain(thickness: float, width: float, poisson: float, coefficient: float = CODE_FREE_EDGE) -> float:
    """Compressive strain at which a strip of this width waves: k pi^2/(12 (1 - nu^2)) (t/b)^2.

    >>> round(wave_strain(0.8, 21.24, 0.32), 5)
    0.00056
    """
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    share = require_positive("thickness", thickness, "mm") / require_positive("width", width, "mm")
    k = require_positive("buckling coefficient", coefficient)
    return k * math.pi**2 / (12.0 * (1.0 - nu * nu)) * share * share


def wave_stress(thickness: float, width: float, youngs_modulus: float, poisson: float, coefficient: float) -> float:
    """Stress at which an elastic strip waves. [MPa]"""
    return require_positive("elastic modulus", youngs_modulus, "MPa") * wave_strain(
        thickness, width, poisson, coefficient
    )


def reduced_modulus(youngs_modulus: float, tangent_modulus: float) -> float:
    """Modulus of a section bending while it flows: 4 E P/(sqrt E + sqrt P)^2. [MPa]"""
    e = require_positive("elastic modulus", youngs_modulus, "MPa")
    p = require_positive("tangent modulus", tangent_modulus, "MPa")
    return 4.0 * e * p / (math.sqrt(e) + math.sqrt(p)) ** 2


def flange_wrinkle_stress(thickness: float, flange: float, modulus: float) -> float:
    """Hoop stress at which a flange drawn in without a holder wrinkles: 0.46 E0 (t/b)^2. [MPa]

    Trend only: quoted from memory of Geckeler 1928 and Senior 1956, unconfirmed; E0 by `reduced_modulus`.
    """
    share = require_positive("thickness", thickness, "mm") / require_positive("flange", flange, "mm")
    return 0.46 * require_positive("modulus", modulus, "MPa") * share * share


def flange_wrinkle_count(mean_radius: float, flange: float) -> float:
    """Number of waves of such a flange: about 1.65 a/b. Trend only, as `flange_wrinkle_stress`."""
    return 1.65 * require_positive("mean radius", mean_radius, "mm") / require_positive("flange", flange, "mm")


def hoop_collapse_pressure(second_moment: float, radius: float, youngs_modulus: float, width: float) -> float:
    """Outside pressure at which a free hoop collapses to an oval: 3 E I/(R^3 b), I about the hoop's axis line. [MPa]"""
    inertia = require_positive("second moment", second_moment, "mm4")
    r, b = require_positive("radius", radius, "mm"), require_positive("width", width, "mm")
    return 3.0 * require_positive("elastic modulus", youngs_modulus, "MPa") * inertia / (r**3 * b)


def cylinder_collapse_pressure(thickness: float, radius: float, youngs_modulus: float, poisson: float) -> float:
    """The same for a long cylinder: E/(4 (1 - nu^2)) (t/R)^3. [MPa]"""
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    share = require_positive("thickness", thickness, "mm") / require_positive("radius", radius, "mm")
    return require_positive("elastic modulus", youngs_modulus, "MPa") / (4.0 * (1.0 - nu * nu)) * share**3
