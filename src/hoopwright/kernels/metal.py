"""Elastic-plastic sheet under two in-plane normal stresses, along the hoop and along the section: the return map.

Natural (log) strain along material lines that stay perpendicular; stress is Kirchhoff stress, true stress to within the
elastic volume change (0.1 %). N, mm, MPa. A point's state is five numbers, the last axis of every state array:

    [hoop stress, section stress, accumulated plastic strain, hoop back stress, section back stress]

and a metal is the packed pair (`law` of `flow`, `metal` of `Metal.vector`).

Equations, in the sum and difference a = (h + s)/sqrt2, b = (h - s)/sqrt2 of hoop and section, which are the
eigen-directions of both elasticity and yield (Hill's quadratic yield with normal anisotropy r; r = 1 is von Mises):

    E_a = E/(1 - nu), E_b = E/(1 + nu), c_a = 1/(1 + r), c_b = (1 + 2 r)/(1 + r)
    x = stress - back stress;  yield  sqrt(c_a x_a^2 + c_b x_b^2) = Y(p);  plastic increment along k = dp c_k x_k / Y
    Y(p) = s(0) + (1 - share)(s(p) - s(0));  back stress  dX = A x / Y - rate X dp,  A = share ds + modulus dp

integrated backward (Euler), which leaves one scalar equation in dp:

    x_k = (trial_k - X_k/g) / (1 + (c_k E_k dp + A/g)/Y),  g = 1 + rate dp.

With rate = 0 a monotone pull follows the flow curve exactly, whatever the share. The back stress moves along stress
less back stress (Ziegler); for r = 1 that is Prager's rule.

References
----------
R. Hill, The Mathematical Theory of Plasticity, 1950 (yield with anisotropy); J. C. Simo and R. L. Taylor, A return
mapping algorithm for plane stress elastoplasticity, Int. J. Numer. Meth. Eng. 22, 1986; P. J. Armstrong and C. O.
Frederick, A mathematical representation of the multiaxial Bauschinger effect, 1966: all from memory; derived anew and
checked in tests/kernels/test_metal.py and tests/exact/test_metal_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import FlowCurve, Vector, flow_stress, flow_stress_and_slope

HOOP, SECTION, PLASTIC, BACK_HOOP, BACK_SECTION = 0, 1, 2, 3, 4
"""Places in the last axis of a state array."""

STATE_SIZE = 5


@dataclass(frozen=True, slots=True)
class Metal:
    """A sheet metal at one temperature and rate.

    flow : curve of the sum of isotropic and shared kinematic hardening.
    normal_anisotropy : r, width strain over thickness strain in a pull; 1 for an isotropic sheet.
    kinematic_share : share of the curve's hardening that moves the yield surface instead of growing it, 0 to 1.
    back_modulus_MPa, back_rate : modulus and recovery rate of an Armstrong-Frederick back stress on top of the curve
        (saturates at modulus/rate); both 0 where there is none.
    """

    flow: FlowCurve
    youngs_modulus_MPa: float
    poisson: float
    normal_anisotropy: float = 1.0
    kinematic_share: float = 0.0
    back_modulus_MPa: float = 0.0
    back_rate: float = 0.0

    def __post_init__(self) -> None:
        require_positive("Young's modulus", self.youngs_modulus_MPa, "MPa")
        require_range("Poisson's ratio", self.poisson, 0.0, 0.5)
        require_positive("normal anisotropy r", self.normal_anisotropy)
        require_range("kinematic share", self.kinematic_share, 0.0, 1.0)
        for name, value in (("back stress modulus", self.back_modulus_MPa), ("back stress rate", self.back_rate)):
            if require_finite(name, value) < 0.0:
                raise InputError(name, value, "", "0 or more", "enter 0 for no back stress")

    def law(self) -> Vector:
        """Packed flow curve, as compiled kernels take it."""
        return self.flow.vector()

    def vector(self) -> Vector:
        """Packed constants [E, nu, r, share, modulus, rate], shape (6,)."""
        return np.array(
            [
                self.youngs_modulus_MPa,
                self.poisson,
                self.normal_anisotropy,
                self.kinematic_share,
                self.back_modulus_MPa,
                self.back_rate,
            ]
        )

    @property
    def yield_strain(self) -> float:
        """Elastic strain at first yield in a pull, s(0)/E."""
        return self.flow.stress(0.0) / self.youngs_modulus_MPa


@compiled
def yield_radius(law: Vector, metal: Vector, plastic_strain: float) -> float:
    """Radius Y(p) of the yield surface [MPa]: the part of the flow stress that is not back stress."""
    share = metal[3]
    if share == 0.0:
        return flow_stress(law, plastic_strain)
    start = flow_stress(law, 0.0)
    return start + (1.0 - share) * (flow_stress(law, plastic_strain) - start)


@compiled
def uniaxial_update(
    strain_increment: float, stress: float, plastic_strain: float, back: float, law: Vector, metal: Vector
) -> tuple[float, float, float, float]:
    """Pull or push of a fibre free across.

    Returns
    -------
    tuple of 4 floats
        Stress, accumulated plastic strain, back stress, tangent d stress / d strain [MPa].
    """
    modulus, share, back_modulus, rate = metal[0], metal[3], metal[4], metal[5]
    trial = stress + modulus * strain_increment
    if abs(trial - back) <= abs(stress - back):
        # Going back inside the yield surface; no look at the flow curve needed.
        return trial, plastic_strain, back, modulus
    flow_start, slope = flow_stress_and_slope(law, plastic_strain)
    radius = flow_start if share == 0.0 else yield_radius(law, metal, plastic_strain)
    excess = abs(trial - back) - radius
    if excess <= 1e-9 * radius:
        return trial, plastic_strain, back, modulus
    first = radius - (1.0 - share) * flow_start
    low, high = 0.0, (abs(trial) + 2.0 * abs(back)) / modulus
    dp = excess / (modulus + slope + back_modulus)
    sign, dlack, moved, g = 1.0, -modulus, 0.0, 1.0
    for _ in range(60):
        g = 1.0 + rate * dp
        flow, slope = flow_stress_and_slope(law, plastic_strain + dp)
        moved = share * (flow - flow_start) + back_modulus * dp
        reach = trial - back / g
        sign = 1.0 if reach >= 0.0 else -1.0
        lack = sign * reach - (first + (1.0 - share) * flow) - modulus * dp - moved / g
        recover = rate / (g * g)
        gain = (share * slope + back_modulus) / g - moved * recover
        dlack = sign * back * recover - (1.0 - share) * slope - modulus - gain
        if abs(lack) <= 1e-12 * abs(trial):
            break
        if lack > 0.0:
            low = dp
        else:
            high = dp
        dp -= lack / dlack
        if not low < dp < high:
            dp = 0.5 * (low + high)
    new_back = (back + sign * moved) / g
    return trial - sign * modulus * dp, plastic_strain + dp, new_back, modulus * (1.0 + modulus / dlack)


Pair = tuple[float, float]


@compiled
def _plastic_excess(
    dp: float,
    trial: Pair,
    back: Pair,
    plastic_strain: float,
    flow_start: float,
    first: float,
    law: Vector,
    metal: Vector,
    stiffness: Pair,
    weights: Pair,
) -> tuple[float, ...]:
    """Effective stress less Y at a plastic increment, its slope, and what the tangent needs.

    Pairs are in (a, b). Returns (lack, dlack, x_a, x_b, dx_a, dx_b, D_a, D_b, Y, dY, moved, g).
    """
    share, back_modulus, rate = metal[3], metal[4], metal[5]
    g = 1.0 + rate * dp
    flow, slope = flow_stress_and_slope(law, plastic_strain + dp)
    moved = share * (flow - flow_start) + back_modulus * dp
    y = first + (1.0 - share) * flow
    dy = (1.0 - share) * slope
    push = moved / g
    recover = rate / (g * g)
    dpush = (share * slope + back_modulus) / g - moved * recover
    ka, kb = weights[0] * stiffness[0], weights[1] * stiffness[1]
    da, db = 1.0 + (ka * dp + push) / y, 1.0 + (kb * dp + push) / y
    xa, xb = (trial[0] - back[0] / g) / da, (trial[1] - back[1] / g) / db
    dxa = (back[0] * recover - xa * (ka + dpush - (da - 1.0) * dy) / y) / da
    dxb = (back[1] * recover - xb * (kb + dpush - (db - 1.0) * dy) / y) / db
    effective = math.sqrt(weights[0] * xa * xa + weights[1] * xb * xb)
    dlack = (weights[0] * xa * dxa + weights[1] * xb * dxb) / effective - dy
    return effective - y, dlack, xa, xb, dxa, dxb, da, db, y, dy, moved, g


@compiled
def plane_stress_update(
    hoop_increment: float,
    section_increment: float,
    state: tuple[float, float, float, float, float],
    law: Vector,
    metal: Vector,
) -> tuple[float, ...]:
    """One point after strain increments along hoop and section.

    Parameters
    ----------
    hoop_increment, section_increment : float
        Natural strain increments.
    state : tuple of 5 floats
        Hoop stress, section stress, plastic strain, hoop back stress, section back stress.

    Returns
    -------
    tuple of 8 floats
        The five of the new state, then d hoop stress / d hoop strain, the cross tangent, d section stress / d section
        strain [MPa]. Where the back stress recovers the two cross tangents differ a little; their mean is returned.
    """
    root = math.sqrt(0.5)
    r, p = metal[2], state[2]
    stiffness = (metal[0] / (1.0 - metal[1]), metal[0] / (1.0 + metal[1]))
    weights = (1.0 / (1.0 + r), (1.0 + 2.0 * r) / (1.0 + r))
    back = (root * (state[3] + state[4]), root * (state[3] - state[4]))
    old = (root * (state[0] + state[1]) - back[0], root * (state[0] - state[1]) - back[1])
    trial = (
        root * (state[0] + state[1] + (hoop_increment + section_increment) * stiffness[0]),
        root * (state[0] - state[1] + (hoop_increment - section_increment) * stiffness[1]),
    )
    reach = (trial[0] - back[0], trial[1] - back[1])
    square = weights[0] * reach[0] * reach[0] + weights[1] * reach[1] * reach[1]
    elastic = square <= weights[0] * old[0] * old[0] + weights[1] * old[1] * old[1]
    effective, radius = math.sqrt(square), 0.0
    if not elastic:
        radius = yield_radius(law, metal, p)
        elastic = effective - radius <= 1e-9 * radius
    if elastic:
        both, across = 0.5 * (stiffness[0] + stiffness[1]), 0.5 * (stiffness[0] - stiffness[1])
        return root * (trial[0] + trial[1]), root * (trial[0] - trial[1]), p, state[3], state[4], both, across, both
    return _plastic_update(trial, back, p, radius, effective, law, metal, stiffness, weights)


@compiled
def _plastic_update(
    trial: Pair,
    back: Pair,
    p: float,
    radius: float,
    effective: float,
    law: Vector,
    metal: Vector,
    stiffness: Pair,
    weights: Pair,
) -> tuple[float, ...]:
    """The yielding branch of `plane_stress_update`, which see."""
    flow_start, slope = flow_stress_and_slope(law, p)
    first = radius - (1.0 - metal[3]) * flow_start
    stiffest = max(weights[0] * stiffness[0], weights[1] * stiffness[1])
    softest = min(weights[0] * stiffness[0], weights[1] * stiffness[1])
    low, high = 0.0, 2.0 * (effective + abs(back[0]) + abs(back[1])) / softest
    dp = (effective - radius) / (stiffest + slope + metal[4])
    for _ in range(60):
        lack, dlack, xa, xb, dxa, dxb, da, db, y, dy, moved, g = _plastic_excess(
            dp, trial, back, p, flow_start, first, law, metal, stiffness, weights
        )
        if abs(lack) <= 1e-12 * effective:
            break
        if lack > 0.0:
            low = dp
        else:
            high = dp
        dp -= lack / dlack
        if not low < dp < high:
            dp = 0.5 * (low + high)
    root = math.sqrt(0.5)
    (ca, cb), (ea, eb) = weights, stiffness
    m = dp / y
    dm = (1.0 - m * dy) / y
    sa, sb = trial[0] - ea * m * ca * xa, trial[1] - eb * m * cb * xb
    ba, bb = (back[0] + moved * xa / y) / g, (back[1] + moved * xb / y) / g
    dpa, dpb = -ca * xa / (y * da * dlack), -cb * xb / (y * db * dlack)
    ga, gb = dm * xa + m * dxa, dm * xb + m * dxb
    taa = ea * (1.0 - ea * ca * (ga * dpa + m / da))
    tbb = eb * (1.0 - eb * cb * (gb * dpb + m / db))
    tab = -0.5 * ea * eb * (ca * ga * dpb + cb * gb * dpa)
    return (
        root * (sa + sb),
        root * (sa - sb),
        p + dp,
        root * (ba + bb),
        root * (ba - bb),
        0.5 * (taa + tbb) + tab,
        0.5 * (taa - tbb),
        0.5 * (taa + tbb) - tab,
    )
