"""Annealed zone of a weld in series with hardened strip. N, mm, MPa, natural strains.

A zone of width wz on a gauge G carries the same load as the strip beside it:

    wz ez(s) + (G - wz) ep(s) = 0.002 G    gives the proof stress s of a joint,

ez, ep plastic strains of zone and parent at stress s. It is a number of the gauge length: proof stresses of coupons of
different gauges are never to be compared. A seam narrow against the strip cannot contract along itself: constraint c
from 1 to 2/sqrt 3. With Swift's law s = c K (e0 + (1 - f) pre + p)^n in the zone, f the share annealed. Strength to the
end of necking takes a first-loading law; yields after rolling take the law fitted to them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from scipy.optimize import brentq

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.flow import FlowCurve, instability_strain, swift
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.sizing_weld import scaled, weld_necking_limit, weld_strain

HELD: Final = 2.0 / math.sqrt(3.0)
PROOF: Final = 0.002
ZONE_HOT_DEGC: Final = (870.0, 980.0)
"""Peak temperatures between which strip is taken to lose its cold work (assumed; replace by a hardness traverse)."""


@dataclass(frozen=True, slots=True)
class Swift:
    """K [MPa], e0 and n of Swift's law."""

    strength: float
    offset: float
    exponent: float

    def curve(self, constraint: float = 1.0) -> FlowCurve:
        """As a flow curve, every stress times the constraint."""
        return swift(constraint * self.strength, self.offset, self.exponent)

    def plastic_strain(self, stress: float, prior: float = 0.0, constraint: float = 1.0) -> float:
        """Plastic strain at a stress [MPa], from `prior` on; 0 below yield."""
        gross = (stress / (constraint * self.strength)) ** (1.0 / self.exponent) - self.offset - prior
        return max(gross, 0.0)


def rolled_strain(reduction: float) -> float:
    """Natural plastic strain of a cold reduction in thickness [1]: 2/sqrt 3 ln(1/(1 - r)).

    >>> round(rolled_strain(0.15), 4)
    0.1877
    """
    return HELD * math.log(1.0 / (1.0 - require_range("reduction", reduction, 0.0, 0.95)))


def joint_proof(zone: float, gauge: float, prior: float, parent: Swift, constraint: float = 1.0) -> float:
    """0.2 % proof stress [MPa] of a joint over a gauge length; zone and gauge [mm], prior strain of the strip.

    Raises
    ------
    InputError
        A zone wider than the gauge.
    """
    require_positive("gauge length", gauge, "mm")
    require_range("softened width", zone, 0.0, gauge, "mm")

    def miss(stress: float) -> float:
        soft = parent.plastic_strain(stress, 0.0, constraint)
        hard = parent.plastic_strain(stress, prior)
        return zone * soft + (gauge - zone) * hard - PROOF * gauge

    low = parent.strength * parent.offset**parent.exponent
    high = parent.strength * (parent.offset + prior + 0.3) ** parent.exponent * constraint
    return float(brentq(miss, 0.5 * low, high, xtol=1e-9))


def zone_from_proof(
    proof: float,
    gauge: float,
    prior: float,
    parent: Swift,
    constraint: float = 1.0,
    gauge_of_parent: float | None = None,
) -> float:
    """Softened width [mm] that a measured proof stress [MPa] implies.

    Raises
    ------
    InputError
        Gauge lengths that differ; a proof stress that no width gives.
    """
    if gauge_of_parent is not None and gauge_of_parent != gauge:
        must = f"{gauge:g}, the gauge length of the joint"
        raise InputError("gauge length of the parent", gauge_of_parent, "mm", must, "test both over one gauge length")
    least, most = joint_proof(gauge, gauge, prior, parent, constraint), joint_proof(0.0, gauge, prior, parent)
    if not least <= proof <= most:
        must = f"from {least:.0f} to {most:.0f}"
        raise InputError("proof stress of the joint", proof, "MPa", must, "check gauge length and prior strain")
    return float(brentq(lambda w: joint_proof(w, gauge, prior, parent, constraint) - proof, 0.0, gauge))


def strength_ratio(prior: float, stretch: float, parent: Swift, constraint: float = 1.0) -> float:
    """Flow stress of seam over strip when both take `stretch` [1]; for a hoop kernel that takes a ratio only."""
    return constraint * ((parent.offset + stretch) / (parent.offset + prior + stretch)) ** parent.exponent


def seam_strain(metal: Metal, prior: float, stretch: float, constraint: float = 1.0) -> float:
    """Strain of the annealed seam when the parent takes `stretch`; infinite where the seam necks. Strains [1]."""
    if stretch >= weld_necking_limit(metal, constraint, prior, 0.0):
        return math.inf
    return weld_strain(metal, stretch, constraint, prior, 0.0)


def neck_limit(metal: Metal, prior: float, constraint: float = 1.0) -> float:
    """Strain of the parent at which the seam necks [1]; 0 where it necks before the parent yields."""
    zone = scaled(metal.flow, constraint)
    strain = instability_strain(zone)
    if zone.stress(strain) * math.exp(-strain) <= metal.flow.stress(prior):
        return 0.0
    return weld_necking_limit(metal, constraint, prior, 0.0)
