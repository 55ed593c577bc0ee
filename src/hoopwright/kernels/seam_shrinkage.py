"""Transverse shrinkage of a butt weld and what a shop learns of it. mm, s, W, N, MPa.

Energy law s0 = alpha q/(rho c v t), q absorbed (form of N. O. Okerblom, from memory), times a learned factor kappa of a
group (fixture and alloy). Clamps reduce it only when nearer than about 10 mm and really stiff:

    s = min(kappa s0, sy (2 Lc/E + 2 C))

with Lc the distance of the clamps and C their give per MPa (clamped-bar model of our own, within 12 %). The seam is
then at yield and the hoop springs when unclamped. Posterior of kappa: normal prior N(0.95, 0.25), ring to ring 8 % and
the reading.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hoopwright.errors import InputError, require_finite, require_positive

KAPPA_MEAN: Final = 0.95
KAPPA_SD: Final = 0.25
RING_TO_RING: Final = 0.08
READING_SD: Final = 0.03
"""Two readings of a tape, before and after. [mm]"""
LEAST_CHANGE: Final = 0.01
"""A cut length is not changed by less. [mm]"""


@dataclass(frozen=True, slots=True)
class Learned:
    """Posterior of a quantity. mean, sd; plain : mean of the readings alone, None without readings; count of them."""

    mean: float
    sd: float
    plain: float | None
    count: int


def free_shrinkage(
    absorbed: float, speed: float, thickness: float, expansion: float, heat: float, factor: float = 1.0
) -> float:
    """Shrinkage across a free butt weld [mm].

    absorbed [W], speed [mm/s], thickness [mm], expansion [1/K], heat rho c [J/(mm3 K)].

    >>> round(free_shrinkage(400.0, 25.0, 1.0, 13.1e-6, 8440e-9 * 456.0), 4)
    0.0545
    """
    for name, value, unit in (
        ("absorbed power", absorbed, "W"),
        ("welding speed", speed, "mm/s"),
        ("sheet thickness", thickness, "mm"),
        ("expansion", expansion, "1/K"),
        ("heat capacity", heat, "J/(mm3 K)"),
        ("shrinkage factor", factor, ""),
    ):
        require_positive(name, value, unit)
    return factor * expansion * absorbed / (heat * speed * thickness)


def clamped_shrinkage(free: float, yield_stress: float, young: float, distance: float, give: float) -> float:
    """Shrinkage between clamps [mm]; stresses [MPa], clamp distance [mm], give of one clamp [mm/MPa]."""
    if require_finite("clamp distance", distance, "mm") < 0.0 or require_finite("clamp give", give, "mm/MPa") < 0.0:
        raise InputError("clamp", f"{distance}, {give}", "mm, mm/MPa", "0 or more", "enter distance and give")
    return min(free, yield_stress * (2.0 * distance / young + 2.0 * give))


def posterior(
    prior_mean: float, prior_sd: float, readings: Sequence[float], deviations: Sequence[float],
    scale: Sequence[float] | None = None,
) -> Learned:  # fmt: skip
    """Normal posterior of a factor from readings s_i = factor scale_i + e_i; the unit of the readings [mm] over scale.

    scale : 1 for every reading if left out, and then the factor is the quantity itself.
    """
    require_positive("prior deviation", prior_sd)
    scales = tuple(scale) if scale is not None else (1.0,) * len(readings)
    if not len(readings) == len(deviations) == len(scales):
        raise InputError("readings", len(readings), "", "as many as deviations and scales", "give one of each")
    weight, pull = prior_sd**-2, require_finite("prior mean", prior_mean) * prior_sd**-2
    for value, deviation, s0 in zip(readings, deviations, scales, strict=True):
        e = require_positive("reading deviation", deviation)
        weight += (s0 / e) ** 2
        pull += s0 * require_finite("reading", value) / e**2
    plain = sum(readings) / len(readings) if readings else None
    return Learned(pull / weight, weight**-0.5, plain, len(readings))


def learned_factor(shrinkages: Sequence[float], free: Sequence[float]) -> Learned:
    """Posterior of kappa [1] of one group from shrinkages [mm] and their energy-law values [mm]."""
    deviations = [math.hypot(RING_TO_RING * KAPPA_MEAN * s0, READING_SD) for s0 in free]
    return posterior(KAPPA_MEAN, KAPPA_SD, shrinkages, deviations, free)


def worth_changing(change: float, sd: float) -> bool:
    """Whether a cut length is changed [mm]: by more than one posterior deviation and more than 0.01."""
    return abs(change) > sd and abs(change) > LEAST_CHANGE


def area_rule_shrinkage(mean_width: float, gap: float = 0.0) -> float:
    """0.2 Aw/t + 0.05 gap [mm] (welding handbook, from memory): 1.7 to 4 times too much here, kept as upper guess."""
    return 0.2 * mean_width + 0.05 * gap
