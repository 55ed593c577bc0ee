"""Strain along a segment's arc under full slip, closed form. N, mm, MPa, rad.

From a gap to a segment's middle the tension falls by exp(-mu pi/N); tension goes as stress exp(-strain):

    T(phi) = T_gap exp(-mu phi),  phi from the gap, 0 to pi/N;   stress(eps) exp(-eps) = T(phi)/A0
    the arc holds as much metal as a mean stretch would give it:  mean over phi of exp(-eps) = exp(-mean strain)

Limits: full slip along the whole arc, narrow gaps, uniaxial fibre, strain above yield everywhere and below necking at
the gap. Friction changes thickness by half the difference of strain and the mean diameter by less than 0.0006 mm. The
hoop kernel agrees within 0.0001. Source: rope friction (from memory), derived;
tests/reference/test_segmented_chain_closed.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import gauss_rule
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.metal import Metal, uniaxial_update


@dataclass(frozen=True, slots=True)
class ArcStrain:
    """Hoop strain of a hoop on segments with friction: at a segment's middle and at a gap; tension ratio of the two."""

    middle_log: float
    gap_log: float
    tension_ratio: float


@compiled
def hoop_tension(strain: float, prior: float, law: Vector, metal: Vector) -> tuple[float, float]:
    """Tension per mm2 of the section before stretching, stress exp(-strain), and its slope against strain. [MPa]"""
    stress, _, _, tangent = uniaxial_update(strain, 0.0, prior, 0.0, law, metal)
    shrink = math.exp(-strain)
    return stress * shrink, (tangent - stress) * shrink


@compiled
def necking(prior: float, law: Vector, metal: Vector) -> float:
    """Total strain of largest tension, by bisection on its slope."""
    low, high = 0.0, 8.0
    for _ in range(60):
        mid = 0.5 * (low + high)
        if hoop_tension(mid, prior, law, metal)[1] > 0.0:
            low = mid
        else:
            high = mid
    return 0.5 * (low + high)


@compiled
def rising_strain(tension: float, neck: float, prior: float, law: Vector, metal: Vector) -> float:
    """Strain before necking at which the tension is as given (0 to the largest)."""
    low, high = 0.0, neck
    strain = min(2.0 * tension / metal[0], 0.5 * neck)
    for _ in range(100):
        here, slope = hoop_tension(strain, prior, law, metal)
        miss = here - tension
        if abs(miss) <= 1e-13 * metal[0] * 1e-3:
            break
        if miss < 0.0:
            low = strain
        else:
            high = strain
        strain = strain - miss / slope if slope > 0.0 else 0.5 * (low + high)
        if not low < strain < high:
            strain = 0.5 * (low + high)
    return strain


@compiled
def gap_strain(
    mean: float, shares: Vector, weights: Vector, neck: float, prior: float, law: Vector, metal: Vector
) -> float:
    """Strain at a gap whose arc, at tensions `shares` of the gap's, keeps the metal of a mean stretch; -1: it necks."""
    limit, wanted = hoop_tension(neck, prior, law, metal)[0], math.exp(-mean)
    low, high, mid = 0.0, limit, limit
    for turn in range(100):
        held, fall = 0.0, 0.0
        for i in range(shares.size):
            strain = rising_strain(mid * shares[i], neck, prior, law, metal)
            slope = hoop_tension(strain, prior, law, metal)[1]
            part = weights[i] * math.exp(-strain)
            held += part
            fall += part * shares[i] / slope if slope > 0.0 else 1e300
        if held > wanted:
            if turn == 0:
                return -1.0
            low = mid
        else:
            high = mid
        # Newton's step, kept inside the bracket: tension rises with strain, and the metal held falls with both.
        was, mid = mid, mid + (held - wanted) / fall
        if not low < mid < high:
            mid = 0.5 * (low + high)
        if abs(mid - was) <= 1e-14 * limit:
            break
    return rising_strain(mid, neck, prior, law, metal)


def necking_strain(metal: Metal, prior_plastic_strain: float = 0.0) -> float:
    """Total strain at which the tension of a hoop under hoop force is largest: tangent = stress."""
    return necking(_prior(prior_plastic_strain), metal.law(), metal.vector())


def strain_at_tension_share(metal: Metal, strain_log: float, share: float, prior_plastic_strain: float = 0.0) -> float:
    """Strain where the tension is `share` of the tension at `strain_log`, on the rising branch before necking.

    Raises
    ------
    InputError
        Strain or share not above 0; a tension the hoop cannot carry (it necks below it).
    """
    law, constants, prior = metal.law(), metal.vector(), _prior(prior_plastic_strain)
    require_positive("share of tension", share)
    target = share * hoop_tension(require_positive("strain", strain_log), prior, law, constants)[0]
    neck = necking(prior, law, constants)
    if target > hoop_tension(neck, prior, law, constants)[0]:
        raise InputError("share of tension", share, "", "one the hoop can carry before it necks", "stretch less")
    return rising_strain(target, neck, prior, law, constants)


def arc_strain(
    metal: Metal, segments: int, friction: float, mean_strain_log: float, prior_plastic_strain: float = 0.0
) -> ArcStrain:
    """Strain at a segment's middle and at a gap for a mean stretch.

    Parameters
    ----------
    segments : int
        2 or more. friction : coefficient between hoop and segment, 0 or more.

    Raises
    ------
    InputError
        Values out of range; a gap that would neck.
    """
    if isinstance(segments, bool) or not isinstance(segments, int) or segments < 2:
        raise InputError("segments", segments, "", "a whole number, 2 or more", "enter the count of segments")
    if require_finite("friction", friction) < 0.0:
        raise InputError("friction", friction, "", "0 or more", "enter the coefficient")
    mean = require_positive("mean strain", mean_strain_log)
    law, constants, prior = metal.law(), metal.vector(), _prior(prior_plastic_strain)
    half = math.pi / segments
    nodes, weights = gauss_rule(8)
    shares = np.exp(-friction * half * 0.5 * (1.0 + nodes))
    neck = necking(prior, law, constants)
    gap = gap_strain(mean, shares, 0.5 * weights, neck, prior, law, constants)
    if gap < 0.0:
        raise InputError("mean strain", mean, "", "below that at which the gap necks", "stretch less, or lubricate")
    ratio = math.exp(-friction * half)
    middle = rising_strain(ratio * hoop_tension(gap, prior, law, constants)[0], neck, prior, law, constants)
    return ArcStrain(middle, gap, ratio)


def power_law_strain_ratio(exponent: float, segments: int, friction: float) -> float:
    """Middle over gap strain of an ideal power law at small strain: exp(-mu pi/(N n)). A first look only."""
    return math.exp(-friction * math.pi / (segments * require_positive("exponent", exponent)))


def _prior(value: float) -> float:
    if require_finite("prior plastic strain", value) < 0.0:
        raise InputError("prior plastic strain", value, "", "0 or more", "enter the accumulated strain")
    return float(value)
