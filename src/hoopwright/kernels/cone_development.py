"""Flat sector whose closed cone lies nearest to a contour, in hoop strain. mm, rad; strains natural.

A blank that is straight across, closed, has the radius l(s) = a + b s at the developed distance s. Brought to r(s) it
stretches by ln(r/l). The spread of that strain, ln(max r/l) - ln(min r/l), does not change when l is scaled; the best
line is the one with the least spread, and its scale is set by the least stretch wished.

Exact solution. At the optimum the largest (or the least) ratio is taken at two places with the other extreme between
them, so the line is a multiple of the chord through these two; that chord is a side of the convex hull of the points
(s, r). All sides of the hull are tried. (The same alternation as in Remez's exchange; no iteration is needed.)

The closed cone l = a + b s develops flat into a sector of angle 2 pi |b| with the slant radii l/|b|.

References
----------
Derived here; compared with a scan over all slopes in tests/exact/test_cone_development_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import (
    GeometryError,
    InputError,
    NotConverged,
    require_finite,
    require_positive,
    require_range,
)
from hoopwright.kernels.arrays import Vector, positive_vector, rising_vector, same_length
from hoopwright.kernels.hull_sides import hull_sides


@dataclass(frozen=True, slots=True)
class BlankFit:
    """Radius of the closed blank l = base + slope s (s from the first station), and what it asks of the stretch.

    least_strain_log, largest_strain_log : extremes of ln(r/l). developed_mm : length across.
    straight : whether the slope is 0, a strip.
    """

    base_mm: float
    slope: float
    developed_mm: float
    least_strain_log: float
    largest_strain_log: float

    @property
    def straight(self) -> bool:
        """Whether it is a strip, not a sector."""
        return self.slope == 0.0

    @property
    def spread_log(self) -> float:
        """Largest less least hoop strain."""
        return self.largest_strain_log - self.least_strain_log

    @property
    def end_radii_mm(self) -> tuple[float, float]:
        """Radii of the closed blank at the first and the last station."""
        return self.base_mm, self.base_mm + self.slope * self.developed_mm

    @property
    def slant_radii_mm(self) -> tuple[float, float]:
        """Radii of the flat sector at the first and the last station; infinite for a strip."""
        if self.straight:
            return math.inf, math.inf
        first, last = self.end_radii_mm
        return first / abs(self.slope), last / abs(self.slope)

    @property
    def sector_rad(self) -> float:
        """Angle of the flat sector: 2 pi |b|."""
        return 2.0 * math.pi * abs(self.slope)

    def radius(self, s: ArrayLike) -> Vector:
        """Radius of the closed blank at developed distances, shape (n,). [mm]"""
        return self.base_mm + self.slope * np.asarray(s, dtype=np.float64)


def fit_blank(s: ArrayLike, r: ArrayLike, least_stretch: float) -> BlankFit:
    """The blank with the least spread of hoop strain.

    Parameters
    ----------
    s, r : arrays, shape (n,)
        Developed distance, rising, and mid-surface radius [mm]. Straight between stations, so that the stations of
        arcs decide the accuracy: every 0.05 mm gives slant radii to 0.01 mm.
    least_stretch : float
        Engineering hoop strain at the place that is stretched least.

    Examples
    --------
    A cone needs no spread at all:

    >>> fit = fit_blank([0.0, 30.0, 60.0], [100.0, 109.0, 118.0], 0.0)
    >>> round(fit.base_mm, 9), round(fit.slope, 9), round(fit.spread_log, 9)
    (100.0, 0.3, 0.0)
    """
    place, radius = _section(s, r)
    best: tuple[float, float] | None = None
    least = math.inf
    for i, j in hull_sides(place, radius):
        slope = (radius[j] - radius[i]) / (place[j] - place[i])
        line = radius[i] + slope * (place - place[i])
        if line.min() <= 0.0:
            continue
        ratio = radius / line
        spread = math.log(float(ratio.max()) / float(ratio.min()))
        if spread < least - 1e-15:
            least, best = spread, (float(line[0]), float(slope))
    if best is None:
        raise GeometryError("section", "steep", "", "one that a cone comes near to", "check the section's radii")
    return _scaled(place, radius, best[0], best[1], least_stretch)


def blank_on_slope(s: ArrayLike, r: ArrayLike, slope_over_base: float, least_stretch: float) -> BlankFit:
    """The blank with a given ratio b/a [1/mm], scaled to the least stretch; 0 is the straight strip."""
    place, radius = _section(s, r)
    ratio = require_finite("slope over base", slope_over_base, "1/mm")
    if 1.0 + ratio * float(place[-1] - place[0]) <= 0.0:
        raise InputError("slope over base", ratio, "1/mm", "such that the blank keeps a radius", "flatten the cone")
    return _scaled(place, radius, 1.0, ratio, least_stretch)


def fit_blank_with_narrowing(s: ArrayLike, r: ArrayLike, least_stretch: float, share: float = 0.5) -> BlankFit:
    """The same for metal that narrows across by `share` of its hoop strain while it is stretched (half: isotropic).

    The blank is then longer across than the part: ds_blank = exp(share * ln(r/l)) ds. Strain and length are brought
    into agreement by repeating the fit (each turn gains two digits).
    """
    place, radius = _section(s, r)
    narrowing = require_range("narrowing share", share, 0.0, 1.0)
    across = place
    for _ in range(40):
        fit = fit_blank(across, radius, least_stretch)
        growth = np.exp(narrowing * np.log(radius / fit.radius(across - across[0])))
        steps = 0.5 * (growth[1:] + growth[:-1]) * np.diff(place)
        after = place[0] + np.concatenate([[0.0], np.cumsum(steps)])
        if float(np.abs(after - across).max()) < 1e-9:
            return fit
        across = after
    raise NotConverged("the blank's length across did not settle", fit, "check the section for steep walls")


def _section(s: ArrayLike, r: ArrayLike) -> tuple[Vector, Vector]:
    place = rising_vector("developed distance", s, "mm")
    radius = positive_vector("radius", r, "mm", 2)
    same_length("radius", radius, "developed distance", place)
    return place, radius


def _scaled(place: Vector, radius: Vector, base: float, slope: float, least_stretch: float) -> BlankFit:
    stretch = require_positive("1 + least stretch", 1.0 + require_finite("least stretch", least_stretch))
    ratio = radius / (base + slope * (place - place[0]))
    scale = float(ratio.min()) / stretch
    high = math.log(float(ratio.max()) / scale)
    return BlankFit(scale * base, scale * slope, float(place[-1] - place[0]), math.log(stretch), high)
