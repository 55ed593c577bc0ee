"""Flow curves: true stress [MPa] against accumulated plastic (natural) strain.

Each law packs into a float64 vector, which is what compiled kernels take:
    Swift      [0, K, e0, n]         s = K (e0 + p)^n
    Voce       [1, s0, Q, b]         s = s0 + Q (1 - exp(-b p))
    Ludwik     [2, s0, K, n]         s = s0 + K p^n
    tabulated  [3, m, p_1..p_m, s_1..s_m]   straight between points; past the last point its last slope goes on
Prior plastic strain is added to p by the caller.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.compiled import compiled

Vector = NDArray[np.float64]

SWIFT, VOCE, LUDWIK, TABULATED = 0.0, 1.0, 2.0, 3.0


@compiled
def flow_stress(law: Vector, plastic_strain: float) -> float:
    """Flow stress [MPa] of a packed law at an accumulated plastic strain (not below zero)."""
    kind = law[0]
    if kind == 0.0:
        return law[1] * (law[2] + plastic_strain) ** law[3]
    if kind == 1.0:
        return law[1] + law[2] * (1.0 - math.exp(-law[3] * plastic_strain))
    if kind == 2.0:
        return law[1] + law[2] * max(plastic_strain, 0.0) ** law[3]
    count = int(law[1])
    i = 0
    while i < count - 2 and plastic_strain > law[3 + i]:
        i += 1
    p0, p1 = law[2 + i], law[3 + i]
    s0, s1 = law[2 + count + i], law[3 + count + i]
    return s0 + (s1 - s0) * (plastic_strain - p0) / (p1 - p0)


@compiled
def flow_slope(law: Vector, plastic_strain: float) -> float:
    """Slope d stress / d plastic strain [MPa] of a packed law.

    Ludwik's slope at zero strain is infinite for n below 1; it is evaluated no lower than 1e-8.
    """
    kind = law[0]
    if kind == 0.0:
        return law[1] * law[3] * (law[2] + plastic_strain) ** (law[3] - 1.0)
    if kind == 1.0:
        return law[2] * law[3] * math.exp(-law[3] * plastic_strain)
    if kind == 2.0:
        return law[2] * law[3] * max(plastic_strain, 1e-8) ** (law[3] - 1.0)
    count = int(law[1])
    i = 0
    while i < count - 2 and plastic_strain > law[3 + i]:
        i += 1
    return (law[3 + count + i] - law[2 + count + i]) / (law[3 + i] - law[2 + i])


@compiled
def flow_stress_and_slope(law: Vector, plastic_strain: float) -> tuple[float, float]:
    """Flow stress and its slope together [MPa], for loops in which the power is what takes the time."""
    kind = law[0]
    if kind == 0.0:
        base = law[2] + plastic_strain
        stress = law[1] * base ** law[3]
        return stress, law[3] * stress / base
    if kind == 1.0:
        left = law[2] * math.exp(-law[3] * plastic_strain)
        return law[1] + law[2] - left, law[3] * left
    return flow_stress(law, plastic_strain), flow_slope(law, plastic_strain)


@dataclass(frozen=True, slots=True)
class FlowCurve:
    """A packed law with its range of use.

    law : packed vector as tuple. strain_max : largest plastic strain the curve was made for.
    """

    law: tuple[float, ...]
    strain_max: float = 1.0

    def vector(self) -> Vector:
        """The packed law as the array that compiled kernels take, shape (4,) or (2 + 2 m,)."""
        return np.array(self.law, dtype=np.float64)

    def stress(self, plastic_strain: float) -> float:
        """Flow stress. [MPa]"""
        return float(flow_stress(self.vector(), plastic_strain))

    def slope(self, plastic_strain: float) -> float:
        """Slope of the flow stress. [MPa]"""
        return float(flow_slope(self.vector(), plastic_strain))


def swift(strength_MPa: float, offset_strain: float, exponent: float, strain_max: float = 1.0) -> FlowCurve:
    """Swift's law s = K (e0 + p)^n.

    Examples
    --------
    >>> round(swift(1000.0, 0.01, 0.5).stress(0.24), 6)
    500.0
    """
    require_positive("strength", strength_MPa, "MPa")
    require_positive("offset strain", offset_strain)
    require_positive("exponent", exponent)
    return FlowCurve((SWIFT, strength_MPa, offset_strain, exponent), strain_max)


def voce(initial_MPa: float, rise_MPa: float, rate: float, strain_max: float = 1.0) -> FlowCurve:
    """Voce's law s = s0 + Q (1 - exp(-b p))."""
    require_positive("initial stress", initial_MPa, "MPa")
    require_finite("rise", rise_MPa, "MPa")
    require_positive("rate", rate)
    return FlowCurve((VOCE, initial_MPa, rise_MPa, rate), strain_max)


def ludwik(initial_MPa: float, strength_MPa: float, exponent: float, strain_max: float = 1.0) -> FlowCurve:
    """Ludwik's law s = s0 + K p^n; s0 = 0 is the plain power law."""
    if require_finite("initial stress", initial_MPa, "MPa") < 0.0:
        raise InputError("initial stress", initial_MPa, "MPa", "0 or more", "enter the stress at first yield")
    require_positive("strength", strength_MPa, "MPa")
    require_positive("exponent", exponent)
    return FlowCurve((LUDWIK, initial_MPa, strength_MPa, exponent), strain_max)


def tabulated(plastic_strain: Vector, stress_MPa: Vector) -> FlowCurve:
    """Points of plastic strain (rising, first 0 or more) and stress, shapes (m,) and (m,), m at least 2."""
    p = np.asarray(plastic_strain, dtype=np.float64)
    s = np.asarray(stress_MPa, dtype=np.float64)
    if p.ndim != 1 or p.shape != s.shape or p.size < 2:
        raise InputError(
            "flow curve", f"{p.shape} strains, {s.shape} stresses", "", "two equal lists of at least 2", ""
        )
    if not np.all(np.isfinite(p)) or not np.all(np.isfinite(s)) or np.any(np.diff(p) <= 0.0) or p[0] < 0.0:
        raise InputError("plastic strain", p.tolist(), "", "finite, 0 or more, strictly rising", "sort the points")
    if np.any(s <= 0.0):
        raise InputError("stress", float(s.min()), "MPa", "above 0", "remove the point")
    return FlowCurve((TABULATED, float(p.size), *p.tolist(), *s.tolist()), float(p[-1]))


def instability_strain(curve: FlowCurve) -> float:
    """Plastic strain at which a bar in tension necks: slope = stress (Considère), by bisection.

    Examples
    --------
    Swift necks at n - e0:

    >>> round(instability_strain(swift(1630.0, 0.020, 0.385)), 6)
    0.365
    """
    law = curve.vector()
    low, high = 0.0, 1.0
    if flow_slope(law, low) <= flow_stress(law, low):
        return 0.0
    while flow_slope(law, high) > flow_stress(law, high):
        high *= 2.0
        if high > 64.0:
            raise InputError("flow curve", curve.law, "", "one that necks", "check its points")
    for _ in range(80):
        mid = 0.5 * (low + high)
        if flow_slope(law, mid) > flow_stress(law, mid):
            low = mid
        else:
            high = mid
    return 0.5 * (low + high)


def tensile_strength(curve: FlowCurve) -> float:
    """Engineering tensile strength [MPa]: flow stress at instability over the stretch there (elastic part left out).

    Examples
    --------
    >>> round(tensile_strength(swift(1630.0, 0.020, 0.385)), 1)
    783.6
    """
    strain = instability_strain(curve)
    return curve.stress(strain) * math.exp(-strain)
