"""A lone corner bent in plane strain: moment, springback, the tool radius for a wanted one. N, mm, MPa, rad.

Sheet that keeps its width, bent to the mid-surface curvature k: strain k y across the sheet, elastic core, and outside
it the flow curve raised to plane strain (total strain, so a pure loading path):

    E' = E/(1 - nu^2),   F = (1 + r)/sqrt(1 + 2 r)      (2/sqrt3 for r = 1)
    stress = F s(p),     strain = stress/E' + p/F       (the plastic strain across is p/F)
    M(k) = 2 integral of stress y dy,    springback of curvature = 12 M/(E' t^3)

The integral is taken over p (stress and strain are explicit in p), by Gauss points between the core and the face.
Thickness and the neutral line stay put: errors grow as (t/rho)^2; inside radius below the thickness is refused.

A *lone* corner: between closed tools the whole section decides, and a trapped or coined corner springs back less.

References
----------
Plane-strain bending as in R. Hill, 1950, and Marciniak, Duncan and Hu, Mechanics of Sheet Metal Forming, 2002 (from
memory); tests/published/bending_formulas. Independent of the layered kernel, which it checks and is checked by.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.arrays import Vector, gauss_rule
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import FlowCurve, flow_stress


@dataclass(frozen=True, slots=True)
class BendSheet:
    """Sheet to be bent. prior_strain : plastic strain it has already. normal_anisotropy : r, 1 for an isotropic one."""

    curve: FlowCurve
    youngs_modulus_MPa: float
    poisson: float
    thickness_mm: float
    normal_anisotropy: float = 1.0
    prior_strain: float = 0.0

    def __post_init__(self) -> None:
        require_positive("elastic modulus", self.youngs_modulus_MPa, "MPa")
        require_range("Poisson's ratio", self.poisson, 0.0, 0.5)
        require_positive("thickness", self.thickness_mm, "mm")
        require_positive("normal anisotropy", self.normal_anisotropy)
        if require_finite("prior strain", self.prior_strain) < 0.0:
            raise InputError("prior strain", self.prior_strain, "", "0 or more", "enter the plastic strain as a size")

    @property
    def plane_modulus_MPa(self) -> float:
        """E' = E/(1 - nu^2)."""
        return self.youngs_modulus_MPa / (1.0 - self.poisson**2)

    @property
    def plane_factor(self) -> float:
        """F: stress across over flow stress, and plastic strain p over that across, in plane strain."""
        return (1.0 + self.normal_anisotropy) / math.sqrt(1.0 + 2.0 * self.normal_anisotropy)

    @property
    def yield_strain(self) -> float:
        """Strain at which the elastic core ends."""
        return self.plane_factor * self.curve.stress(self.prior_strain) / self.plane_modulus_MPa


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner loaded and released, per unit of its length. Radii of the mid-surface; turns of the same arc.

    moment_N : per unit width [N mm/mm]. loaded_turn_rad, released_turn_rad : the arc's length is kept.
    face_strain : of the outer face, loaded.
    """

    loaded_radius_mm: float
    released_radius_mm: float
    loaded_turn_rad: float
    released_turn_rad: float
    moment_N: float
    face_strain: float


@compiled
def plastic_strain_at(law: Vector, prior: float, factor: float, modulus: float, strain: float) -> float:
    """Plastic strain p beyond `prior` under a strain across: F s(prior + p)/E' + p/F = strain; 0 while elastic.

    The left side rises with p, so the root is single. Secant steps in a bracket (Illinois).
    """
    low, high = 0.0, factor * strain
    below = factor * flow_stress(law, prior) / modulus - strain
    above = factor * flow_stress(law, prior + high) / modulus
    if below >= 0.0:
        return 0.0
    for _ in range(200):
        p = (low * above - high * below) / (above - below)
        left = factor * flow_stress(law, prior + p) / modulus + p / factor - strain
        if abs(left) < 1e-15 or high - low < 1e-16:
            return p
        # halving the kept end's value keeps the bracket shrinking from both sides
        if left < 0.0:
            low, below, above = p, left, 0.5 * above
        else:
            high, above, below = p, left, 0.5 * below
    return 0.5 * (low + high)


@compiled
def plastic_moment(
    law: Vector, prior: float, factor: float, modulus: float, face: float, nodes: Vector, weights: Vector
) -> float:
    """Integral of stress * strain d(strain) from the end of the core to the face strain, one side. [MPa]

    With strain = stress/E' + p/F every term becomes a boundary term or an integral over p, so no slope is needed:
    [s^3/3E'^2 + s^2 p/2FE'] + integral of (s^2/2FE' + s p/F^2) dp. Panels end at the points of a tabulated curve;
    Gauss nodes on -1..1 are crowded towards a panel's start (p ~ u^3), so that a vertical start does no harm.
    """
    deepest = plastic_strain_at(law, prior, factor, modulus, face)
    first, last = factor * flow_stress(law, prior), factor * flow_stress(law, prior + deepest)
    total = (last**3 - first**3) / (3.0 * modulus**2) + last**2 * deepest / (2.0 * factor * modulus)
    kinks = int(law[1]) if law[0] == 3.0 else 0
    low = 0.0
    for panel in range(kinks + 1):
        high = deepest if panel == kinks else min(deepest, law[2 + panel] - prior)
        if high <= low:
            continue
        for i in range(nodes.size):
            u = 0.5 * (nodes[i] + 1.0)
            p = low + (high - low) * u**3
            s = factor * flow_stress(law, prior + p)
            inside = s * s / (2.0 * factor * modulus) + s * p / factor**2
            total += 0.5 * weights[i] * (high - low) * 3.0 * u * u * inside
        low = high
    return total


def bending_moment(sheet: BendSheet, curvature: float) -> float:
    """Moment per unit width at a mid-surface curvature [1/mm], odd in it. [N]"""
    k = _curvature(sheet, curvature)
    if k == 0.0:
        return 0.0
    half, size = 0.5 * sheet.thickness_mm, abs(k)
    core = min(half, sheet.yield_strain / size)
    moment = 2.0 * sheet.plane_modulus_MPa * size * core**3 / 3.0
    if core < half:
        law, factor, modulus = sheet.curve.vector(), sheet.plane_factor, sheet.plane_modulus_MPa
        outer = plastic_moment(law, sheet.prior_strain, factor, modulus, size * half, *gauss_rule(24))
        moment += 2.0 * outer / size**2
    return math.copysign(moment, k)


def springback_curvature(sheet: BendSheet, curvature: float) -> float:
    """Curvature lost on release from a loaded curvature [1/mm]: 12 M/(E' t^3), of its sign. [1/mm]"""
    return 12.0 * bending_moment(sheet, curvature) / (sheet.plane_modulus_MPa * sheet.thickness_mm**3)


def corner(sheet: BendSheet, loaded_radius: float, loaded_turn: float) -> Corner:
    """A corner bent to a mid-surface radius [mm] and a turn [rad], and released.

    Raises InputError where the release would open it past flat (an elastic bend does not stay).
    """
    loaded = 1.0 / require_positive("loaded radius", loaded_radius, "mm")
    turn = require_finite("turn", loaded_turn, "rad")
    moment = bending_moment(sheet, loaded)
    left = loaded - springback_curvature(sheet, loaded)
    if left <= 1e-9 * loaded:
        raise InputError(
            "loaded radius",
            loaded_radius,
            "mm",
            "small enough to bend the sheet for good",
            "bend it to a smaller radius",
        )
    return Corner(loaded_radius, 1.0 / left, turn, turn * left / loaded, moment, 0.5 * sheet.thickness_mm * loaded)


def corner_for(sheet: BendSheet, released_radius: float, released_turn: float) -> Corner:
    """The loaded corner that releases to a wanted radius [mm] and turn [rad]: k - springback(k) = wanted, solved.

    Examples
    --------
    >>> from hoopwright.kernels.flow import swift
    >>> sheet = BendSheet(swift(1630.0, 0.020, 0.385), 205000.0, 0.32, 0.8)
    >>> round(corner_for(sheet, 3.0, 0.5).loaded_radius_mm, 3)
    2.882
    """
    wanted = 1.0 / require_positive("released radius", released_radius, "mm")
    turn = require_finite("turn", released_turn, "rad")
    low, high = wanted, 2.0 * wanted + 2.0 * sheet.yield_strain / (0.5 * sheet.thickness_mm)
    tightest = 1.0 / sheet.thickness_mm
    high = min(high, tightest)

    def excess(k: float) -> float:
        return k - springback_curvature(sheet, k) - wanted

    if high <= low or excess(high) < 0.0:
        raise InputError(
            "released radius", released_radius, "mm",
            f"reachable without bending tighter than the thickness ({sheet.thickness_mm:g})",
            "widen the corner",
        )  # fmt: skip
    loaded = _root(excess, low, high)
    return corner(sheet, 1.0 / loaded, turn * loaded / wanted)


def corner_first_order(sheet: BendSheet, released_radius: float, released_turn: float) -> Corner:
    """The same with the springback taken at the wanted curvature instead of the loaded one.

    >>> from hoopwright.kernels.flow import swift
    >>> sheet = BendSheet(swift(1630.0, 0.020, 0.385), 205000.0, 0.32, 0.8)
    >>> [round(corner_first_order(sheet, r, 0.5).loaded_radius_mm, 3) for r in (3.0, 4.0)]
    [2.884, 3.813]
    """
    wanted = 1.0 / require_positive("released radius", released_radius, "mm")
    turn = require_finite("turn", released_turn, "rad")
    loaded = wanted + springback_curvature(sheet, wanted)
    return corner(sheet, 1.0 / loaded, turn * loaded / wanted)


def bending_work(sheet: BendSheet, loaded_radius: float, turn: float) -> float:
    """Work per unit of corner to bend a flat to a radius [mm] and turn [rad]: arc length * integral of M dk. [N]"""
    loaded = 1.0 / require_positive("loaded radius", loaded_radius, "mm")
    nodes, weights = gauss_rule(16)
    curvature = 0.5 * loaded * (nodes + 1.0)
    moments = np.array([bending_moment(sheet, float(k)) for k in curvature])
    return require_positive("turn", turn, "rad") / loaded * 0.5 * loaded * float(weights @ moments)


def _root(excess: Callable[[float], float], low: float, high: float) -> float:
    """Root of a rising function between two places that enclose it (Illinois), to 1e-14 of itself."""
    below, above = excess(low), excess(high)
    place = low
    for _ in range(100):
        place = (low * above - high * below) / (above - below)
        left = excess(place)
        if abs(left) <= 1e-14 * place or high - low <= 1e-15 * high:
            break
        if left < 0.0:
            low, below, above = place, left, 0.5 * above
        else:
            high, above, below = place, left, 0.5 * below
    return place


def _curvature(sheet: BendSheet, curvature: float) -> float:
    k = require_finite("curvature", curvature, "1/mm")
    if not -1.0 < k * sheet.thickness_mm < 1.0:
        raise InputError(
            "curvature", curvature, "1/mm", f"below one over the thickness ({1.0 / sheet.thickness_mm:g})",
            "bend to a radius above the thickness",
        )  # fmt: skip
    return k
