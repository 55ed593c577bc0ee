"""The workpiece that walks through the shop: a section of stations with the state of the metal in every layer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Seam:
    """The closing weld.

    shrinkage_mm : strip length it consumed. softened_width_mm : width of the zone without cold work. angle_deg : across
    the seam, standing out above 0. mismatch_mm : of the edges, at most. strength_ratio : over parent, None until known.
    """

    theta_deg: float
    shrinkage_mm: float
    softened_width_mm: float
    angle_deg: float = 0.0
    mismatch_mm: float = 0.0
    strength_ratio: float | None = None


@dataclass(frozen=True, slots=True)
class Harmonic:
    """One term of the out-of-roundness: amplitude [mm] of cos(order (theta - phase))."""

    order: int
    amplitude_mm: float
    phase_deg: float


@dataclass(frozen=True, slots=True, eq=False)
class Workpiece:
    """A strip or a ring between two operations.

    part : drawing number of what it becomes. form : "strip" (open) or "hoop" (closed).
    s_mm : place across the flat width, forward edge 0, shape (n,).
    weight_mm : width that belongs to each station, shape (n,).
    z_mm, r_mm : mid-surface; of a hoop z and radius, of a strip z and height above the neutral fibre, shape (n,).
    angle_rad, curvature_per_mm : direction and curvature of the section line, shape (n,).
    thickness_mm : shape (n,).
    layer : place of the layers as share of the thickness from the mid-surface, -0.5 towards the axis, shape (m,).
    plastic_strain : accumulated equivalent plastic strain (natural), shape (n, m).
    back_stress_MPa, stress_hoop_MPa, stress_section_MPa : shape (n, m).
    length_mm : length along the hoop (or strip) of the neutral fibre.
    curl_per_mm : natural curvature of an open strip, 0 when flat.
    annealed : whether the metal has been solution annealed since it was last formed.
    made_by : the operations that made it, first to last.
    """

    part: str
    form: Literal["strip", "hoop"]
    s_mm: Array
    weight_mm: Array
    z_mm: Array
    r_mm: Array
    angle_rad: Array
    curvature_per_mm: Array
    thickness_mm: Array
    layer: Array
    plastic_strain: Array
    back_stress_MPa: Array
    stress_hoop_MPa: Array
    stress_section_MPa: Array
    length_mm: float
    curl_per_mm: float = 0.0
    seam: Seam | None = None
    harmonics: tuple[Harmonic, ...] = ()
    annealed: bool = True
    edge_trim_forward_mm: float = 0.0
    edge_trim_aft_mm: float = 0.0
    made_by: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        n, m = self.s_mm.shape[0], self.layer.shape[0]
        for name in ("weight_mm", "z_mm", "r_mm", "angle_rad", "curvature_per_mm", "thickness_mm"):
            if getattr(self, name).shape != (n,):
                raise InputError(f"{self.part} {name}", getattr(self, name).shape, "", f"of shape ({n},)")
        for name in ("plastic_strain", "back_stress_MPa", "stress_hoop_MPa", "stress_section_MPa"):
            if getattr(self, name).shape != (n, m):
                raise InputError(f"{self.part} {name}", getattr(self, name).shape, "", f"of shape ({n}, {m})")

    def after(self, operation: str, **changes: Any) -> Workpiece:
        """The workpiece changed by an operation, which is written into its history."""
        return replace(self, made_by=(*self.made_by, operation), **changes)

    @property
    def width_mm(self) -> float:
        """Width across the flat strip. [mm]"""
        return float(self.weight_mm.sum())

    @property
    def area_mm2(self) -> float:
        """Area of the section. [mm2]"""
        return float((self.weight_mm * self.thickness_mm).sum())
