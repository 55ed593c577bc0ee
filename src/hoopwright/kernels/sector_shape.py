"""A flat annular sector with parallel allowances at its two ends: sizes, area, outline. mm, rad.

The apex is the origin and the sector lies symmetrically about +y: points (rho sin th, rho cos th). The net sector ends
on the rays at half the angle; an allowance e moves each end parallel to its ray, so that the cut corners stand at
th = angle/2 + asin(e/rho).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import Vector
from hoopwright.kernels.cone_development import BlankFit

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Sector:
    """outer_mm, inner_mm : slant radii as cut. angle_rad : net, between the rays. end_allowance_mm : at each end.

    Raises InputError when the ends meet behind the apex.
    """

    outer_mm: float
    inner_mm: float
    angle_rad: float
    end_allowance_mm: float = 0.0

    def __post_init__(self) -> None:
        outer = require_positive("outer slant radius", self.outer_mm, "mm")
        inner = require_positive("inner slant radius", self.inner_mm, "mm")
        require_positive("sector angle", self.angle_rad, "rad")
        allowance = require_finite("end allowance", self.end_allowance_mm, "mm")
        if inner >= outer:
            raise InputError("inner slant radius", inner, "mm", f"below the outer ({outer:g})", "check the two radii")
        if not 0.0 <= allowance < inner:
            raise InputError("end allowance", allowance, "mm", f"from 0 to below {inner:g}", "shorten the allowance")
        if self.corner_rad(inner) >= math.pi:
            raise InputError(
                "sector angle", self.angle_rad, "rad", "small enough that the ends stay apart", "split the blank in two"
            )

    def corner_rad(self, radius: float) -> float:
        """Polar angle of an end at a slant radius, from the symmetry axis."""
        return 0.5 * self.angle_rad + math.asin(self.end_allowance_mm / radius)

    @property
    def outer_chord_mm(self) -> float:
        """Distance between the outer corners."""
        return 2.0 * self.outer_mm * math.sin(self.corner_rad(self.outer_mm))

    @property
    def inner_chord_mm(self) -> float:
        """Distance between the inner corners."""
        return 2.0 * self.inner_mm * math.sin(self.corner_rad(self.inner_mm))

    @property
    def width_mm(self) -> float:
        """Side of the enclosing rectangle across the symmetry axis."""
        return 2.0 * self.outer_mm if self.corner_rad(self.outer_mm) > 0.5 * math.pi else self.outer_chord_mm

    @property
    def lowest_mm(self) -> float:
        """Least y of the sector: of the inner corners, or of the outer ones where the ends point backward."""
        inner = self.inner_mm * math.cos(self.corner_rad(self.inner_mm))
        return min(inner, self.outer_mm * math.cos(min(self.corner_rad(self.outer_mm), math.pi)))

    @property
    def height_mm(self) -> float:
        """Side of the enclosing rectangle along the symmetry axis."""
        return self.outer_mm - self.lowest_mm

    @property
    def area_mm2(self) -> float:
        """Area, allowances included: integral of 2 rho th(rho) d rho."""
        e = self.end_allowance_mm

        def ends(rho: float) -> float:
            return 0.5 * (rho * rho * math.asin(e / rho) + e * math.sqrt(rho * rho - e * e))

        net = 0.5 * self.angle_rad * (self.outer_mm**2 - self.inner_mm**2)
        return net + 2.0 * (ends(self.outer_mm) - ends(self.inner_mm))

    def mass_kg(self, thickness: float, density: float) -> float:
        """Mass of the blank; thickness [mm], density [kg/m3]."""
        volume = self.area_mm2 * require_positive("thickness", thickness, "mm")
        return volume * require_positive("density", density, "kg/m3") * 1e-9


def sector_of(fit: BlankFit, edge_trim: float, end_allowance: float) -> Sector:
    """The sector as cut: `edge_trim` added at both edges, `end_allowance` (end trim, half the shrinkage) at both ends.

    Raises InputError for a straight strip.
    """
    if fit.straight:
        raise InputError("slope", 0.0, "", "other than 0", "cut a straight strip")
    if require_finite("edge trim", edge_trim, "mm") < 0.0:
        raise InputError("edge trim", edge_trim, "mm", "0 or more", "enter 0 or a value above it")
    first, last = fit.slant_radii_mm
    return Sector(max(first, last) + edge_trim, min(first, last) - edge_trim, fit.sector_rad, end_allowance)


def outline(sector: Sector, grow: float = 0.0, tolerance: float = 0.05) -> Points:
    """Polygon that contains the sector grown by `grow` on every side, and is nowhere more than `tolerance` larger [mm].

    Corners are mitred. Outer arc by tangents, inner arc by chords. Shape (n, 2), the outer arc first.
    """
    outer, inner = sector.outer_mm + grow, sector.inner_mm - grow
    allowance = sector.end_allowance_mm + grow
    if inner <= allowance:
        raise InputError("inner slant radius", sector.inner_mm, "mm", f"above {grow + allowance:g}", "use a strip")
    half = 0.5 * sector.angle_rad
    top = _arc(outer, half + math.asin(allowance / outer), tolerance, outside=True)
    bottom = _arc(inner, half + math.asin(allowance / inner), tolerance, outside=False)
    return np.vstack([top, bottom[::-1]])


def _arc(radius: float, half: float, tolerance: float, outside: bool) -> Points:
    step = 2.0 * math.acos(radius / (radius + tolerance))
    count = max(2, math.ceil(2.0 * half / step))
    theta: Vector = np.linspace(-half, half, count + 1)
    reach = radius / math.cos(half / count) if outside else radius
    return np.column_stack([reach * np.sin(theta), reach * np.cos(theta)])
