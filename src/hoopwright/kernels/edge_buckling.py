"""Waves in a compressed strip or flange, and thin hoops under outside pressure. N, mm, MPa.

A long flat strip of width b and thickness t, pressed along its length, waves at

    stress = k pi^2 E / (12 (1 - nu^2)) (t/b)^2,   strain = the same without E

k depends on how the two long edges are held and, where one is free, on the half-wave length. k is computed here by
Ritz's method on the exact energy with Legendre polynomials; one edge supported and one free has the long-strip limit
6 (1 - nu)/pi^2 (codes print 0.43).

References
----------
S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability (strip, ring); G. Gerard and H. Becker, NACA TN 3781
(strip); M. Levy 1884 (ring): all from memory; tests/published/strip_buckling.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.polynomial import Polynomial
from scipy.linalg import eigh
from scipy.optimize import minimize_scalar

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.arrays import gauss_rule

Edge = Literal["clamped", "supported", "free"]

EDGES: tuple[Edge, ...] = ("clamped", "supported", "free")

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


def buckling_coefficient(first: Edge, second: Edge, half_wave_over_width: float, poisson: float) -> float:
    """k for one half-wave length, edges held as said (Ritz, 12 polynomials: six digits from half waves of 0.3 b on)."""
    for edge in (first, second):
        if edge not in EDGES:
            raise InputError("edge", edge, "", "clamped, supported or free", "name how the edge is held")
    if first == second == "free":
        raise InputError("edges", "both free", "", "held on at least one side", "use a column formula for a free strip")
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    mu = math.pi / require_positive("half wave over width", half_wave_over_width)
    nodes, weights = gauss_rule(40)
    y, w = 0.5 * (nodes + 1.0), 0.5 * weights
    held = {"clamped": 2, "supported": 1, "free": 0}
    start = Polynomial([0.0, 1.0]) ** held[first] * Polynomial([1.0, -1.0]) ** held[second]
    f, slope, bend = [], [], []
    for degree in range(12):
        shape = start * Polynomial(np.polynomial.legendre.leg2poly([0.0] * degree + [1.0]))(Polynomial([-1.0, 2.0]))
        f.append(shape(y))
        slope.append(shape.deriv()(y))
        bend.append(shape.deriv(2)(y))
    shapes, slopes, bends = (np.array(rows) for rows in (f, slope, bend))
    cross = (bends * w) @ shapes.T
    stiffness = (
        (bends * w) @ bends.T
        - nu * mu**2 * (cross + cross.T)
        + mu**4 * (shapes * w) @ shapes.T
        + 2.0 * (1.0 - nu) * mu**2 * (slopes * w) @ slopes.T
    )
    load = math.pi**2 * mu**2 * (shapes * w) @ shapes.T
    return float(eigh(stiffness, load, eigvals_only=True, subset_by_index=[0, 0])[0])


def least_buckling_coefficient(first: Edge, second: Edge, poisson: float) -> tuple[float, float]:
    """Least k of a long strip and its half-wave length over the width (infinite for supported and free)."""
    if {first, second} == {"supported", "free"}:
        return free_edge_coefficient(poisson), math.inf
    low, high = (0.4, 4.0) if "free" in (first, second) else (0.4, 2.0)
    best = minimize_scalar(
        lambda wave: buckling_coefficient(first, second, wave, poisson), bounds=(low, high), options={"xatol": 1e-6}
    )
    return float(best.fun), float(best.x)


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
