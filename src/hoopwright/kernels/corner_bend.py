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
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.arrays import Vector, gauss_rule
from hoopwright.kernels.flow import TABULATED, FlowCurve, flow_stress


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


def bending_moment(sheet: BendSheet, curvature: float) -> float:
    """Moment per unit width at a mid-surface curvature [1/mm], odd in it. [N]"""
    k = _curvature(sheet, curvature)
    if k == 0.0:
        return 0.0
    half, size = 0.5 * sheet.thickness_mm, abs(k)
    core = min(half, sheet.yield_strain / size)
    moment = 2.0 * sheet.plane_modulus_MPa * size * core**3 / 3.0
    if core < half:
        moment += 2.0 * _plastic_moment(sheet, size * half) / size**2
    return math.copysign(moment, k)


def _plastic_moment(sheet: BendSheet, face: float) -> float:
    """Integral of stress * strain d(strain) from the end of the core to the face, one side. [MPa]

    With strain = stress/E' + p/F every term becomes a boundary term or an integral over p, so no slope is needed:
    [s^3/3E'^2 + s^2 p/2FE'] + integral of (s^2/2FE' + s p/F^2) dp.
    """
    law, factor, modulus = sheet.curve.vector(), sheet.plane_factor, sheet.plane_modulus_MPa

    def stress(p: float) -> float:
        return factor * float(flow_stress(law, sheet.prior_strain + p))

    def boundary(p: float) -> float:
        s = stress(p)
        return s**3 / (3.0 * modulus**2) + s * s * p / (2.0 * factor * modulus)

    deepest = _plastic_strain(sheet, face)
    nodes, weights = gauss_rule(24)
    u = 0.5 * (nodes + 1.0)
    total = boundary(deepest) - boundary(0.0)
    for low, high in _panels(law, sheet.prior_strain, deepest):
        # crowding the points towards the core keeps power laws with a vertical start exact
        p = low + (high - low) * u**3
        s = np.array([stress(float(value)) for value in p])
        inside = s * s / (2.0 * factor * modulus) + s * p / factor**2
        total += 0.5 * (high - low) * float(weights @ (inside * 3.0 * u * u))
    return total


def _panels(law: Vector, prior: float, deepest: float) -> list[tuple[float, float]]:
    """Stretches of plastic strain over which the curve is smooth."""
    kinks = law[2 : 2 + int(law[1])] - prior if law[0] == TABULATED else np.empty(0)
    ends = [0.0, *(float(k) for k in kinks if 0.0 < k < deepest), deepest]
    return list(pairwise(ends))


def _plastic_strain(sheet: BendSheet, strain: float) -> float:
    """Plastic strain under a strain across beyond first yield: F s(p)/E' + p/F = strain, by bisection and Newton."""
    law, factor, modulus = sheet.curve.vector(), sheet.plane_factor, sheet.plane_modulus_MPa

    def excess(p: float) -> float:
        return factor * float(flow_stress(law, sheet.prior_strain + p)) / modulus + p / factor - strain

    return float(brentq(excess, 0.0, factor * strain, xtol=1e-15))


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
    loaded = float(brentq(excess, low, high, xtol=1e-14))
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


def _curvature(sheet: BendSheet, curvature: float) -> float:
    k = require_finite("curvature", curvature, "1/mm")
    if not -1.0 < k * sheet.thickness_mm < 1.0:
        raise InputError(
            "curvature", curvature, "1/mm", f"below one over the thickness ({1.0 / sheet.thickness_mm:g})",
            "bend to a radius above the thickness",
        )  # fmt: skip
    return k
