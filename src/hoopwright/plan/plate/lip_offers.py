"""What mends a lip whose edge splits: another edge or another hole. Hand rules, as a shop reckons them. mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.lip_development import hole_by_length, hole_by_volume
from hoopwright.kernels.press_formulas import edge_strain, edge_thickness
from hoopwright.kernels.profile import Profile
from hoopwright.plan.plate.port_shape import PortShape


@dataclass(frozen=True, slots=True)
class LipByRule:
    """One hand rule. hole_radius : before. strain_log : of the edge. edge_thickness : by plain pull."""

    hole_radius: float
    strain_log: float
    edge_thickness: float

    @property
    def expansion_pct(self) -> float:
        """Expansion of the hole to the lip's mid-surface, engineering, percent."""
        return 100.0 * math.expm1(self.strain_log)


def by_length(shape: PortShape) -> LipByRule:
    """Constant length of the lip."""
    return _rule(shape, hole_by_length(shape.flat_from, shape.lip().length - 1.0))


def by_volume(shape: PortShape) -> LipByRule:
    """Constant volume with the thinning of a plain pull: the two hand rules made to agree."""
    return _rule(shape, hole_by_volume(Profile(shape.lip().segments[1:])))


def _rule(shape: PortShape, hole: float) -> LipByRule:
    return LipByRule(hole, edge_strain(shape.lip_rho, hole), edge_thickness(shape.thickness, shape.lip_rho, hole))


def shorter_lip(shape: PortShape, strain_log: float) -> tuple[float, float]:
    """Hole radius that keeps the edge at a strain by constant length, and the straight of the lip it leaves. [mm]

    >>> from hoopwright.plan.plate.port_shape import PortShape
    >>> shape = PortShape(1.0, 1.0, 11.0, -2.0, 2.0, 3.0, 3.0, 19.5, 22.5)
    >>> hole, straight = shorter_lip(shape, 0.18)
    >>> round(2 * hole, 3), round(straight, 2)
    (18.376, 0.67)
    """
    hole = shape.lip_rho * math.exp(-strain_log)
    return hole, shape.flat_from - hole - 0.5 * math.pi * shape.lip_bend
