"""What a seam hands to the ring and to the hoop kernel: shrinkage, angle, softened width, strength, mismatch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.seam_angle import kink_harmonic

if TYPE_CHECKING:
    from hoopwright.kernels.hoop.inputs import InitialShape, Weld

ORDERS = (2, 3, 4, 5, 6, 7, 8)
"""Harmonics of the kink that are carried; those above hold 16 % of its peak, all of it close to the seam."""


@dataclass(frozen=True, slots=True)
class SeamNumbers:
    """What the ring's plan and the hoop kernel take of a seam.

    angle_rad : above 0 the hoop stands out at the seam, below 0 it is dented there. zone_mm : softened width.
    strength_ratio : joint over parent of the same sheet, None until coupons say. mismatch_mm : planned at most.
    """

    shrinkage_mm: float
    shrinkage_sd_mm: float
    angle_rad: float
    zone_mm: float
    mismatch_mm: float
    strength_ratio: float | None = None

    def __post_init__(self) -> None:
        for name, value in (
            ("shrinkage", self.shrinkage_mm),
            ("scatter of the shrinkage", self.shrinkage_sd_mm),
            ("softened width", self.zone_mm),
            ("mismatch", self.mismatch_mm),
        ):
            if require_finite(f"{name} of the seam", value, "mm") < 0.0:
                raise InputError(f"{name} of the seam", value, "mm", "0 or more", "enter what was measured")
        require_finite("angle across the seam", self.angle_rad, "rad")
        if self.strength_ratio is not None:
            require_positive("strength ratio of the seam", self.strength_ratio)

    def harmonics_mm(self, radius_mm: float, orders: Sequence[int] = ORDERS) -> dict[int, float]:
        """Radial harmonics of the closed hoop, crests at the seam."""
        return {n: kink_harmonic(n, self.angle_rad, radius_mm) for n in orders}


def hoop_shape(seam: SeamNumbers, radius_mm: float, seam_rad: float = 0.0) -> InitialShape:
    """The closed hoop before sizing as the hoop kernel takes it: crests of the kink (or hollows) at the seam.

    Parameters
    ----------
    radius_mm : float
        Of a true circle of the same girth, on the hoop kernel's axis.
    seam_rad : float
        Where the seam stands.
    """
    # the hoop kernel is heavy to load, and a plan does without it
    from hoopwright.kernels.hoop.inputs import Harmonic, InitialShape

    waves = tuple(Harmonic(n, a, seam_rad) for n, a in seam.harmonics_mm(radius_mm).items())
    return InitialShape(radius_mm, waves)


def hoop_weld(seam: SeamNumbers, metal: Metal, seam_rad: float = 0.0) -> Weld:
    """The softened zone as the hoop kernel takes it: annealed metal, first loading, of the zone's width.

    Raises
    ------
    InputError
        No softened width.
    """
    from hoopwright.kernels.hoop.inputs import Weld

    return Weld(require_positive("softened width of the seam", seam.zone_mm, "mm"), seam_rad, metal)
