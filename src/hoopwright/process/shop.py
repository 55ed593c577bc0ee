"""The card an operation is run with: the metal as the kernels take it, and the shop's limits, machines and friction."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.friction import Friction
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Machines
from hoopwright.findings import Figure, Source
from hoopwright.kernels.metal import Metal

WALK = Source("derived", "forward walk")


@dataclass(frozen=True, slots=True)
class ShopCard:
    """What every operation is judged by.

    metal : first loading. young_MPa, uniform_strain_log : of the same metal, with their sources. ground : what anything
    worked out by the walk stands on, the weakest of metal, sheet and house limits.
    """

    metal: Metal
    young_MPa: Figure
    uniform_strain_log: Figure
    limits: HouseLimits
    machines: Machines
    friction: Friction
    ground: Source = WALK
