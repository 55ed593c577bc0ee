"""Waves of a long strip pressed along its length, for any hold of its two long edges. mm, MPa.

Lengths are taken over the strip's width, so that the coefficients have no unit.

The deflection f(y) sin(pi x/l) has, per half wave, the bending energy

    integral of f''^2 - 2 nu m^2 f f'' + m^4 f^2 + 2 (1 - nu) m^2 f'^2 dy,   m = pi/l

against the load's k pi^2 m^2 integral of f^2 dy (width 1). k is the least ratio, by Ritz's method with Legendre
polynomials that meet the edges' geometric conditions; the others follow from the energy.

References
----------
S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability (from memory). Checked against the characteristic equations
in tests/exact/test_edge_buckling_exact.py and printed coefficients in tests/published/strip_buckling.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.polynomial import Polynomial
from numpy.polynomial.legendre import leg2poly
from scipy.linalg import eigh
from scipy.optimize import minimize_scalar

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.arrays import gauss_rule
from hoopwright.kernels.edge_buckling import free_edge_coefficient

Edge = Literal["clamped", "supported", "free"]

EDGES: tuple[Edge, ...] = ("clamped", "supported", "free")


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
        shape = start * Polynomial(leg2poly([0.0] * degree + [1.0]))(Polynomial([-1.0, 2.0]))
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
