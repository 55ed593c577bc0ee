"""What uneven edge strain does to a strip: camber, twist; and when a contour survives being curled free. mm, rad.

    camber        curvature = de/W (difference of edge strains over width);  sagitta de L^2/(8 W)
    twist         when both edges are longer than the middle by de > (3.75 / (2(1 + nu))) (t/a)^2, a = half width;
                  beyond it the rate is at most sqrt(2 de)/a (helicoid)
    free curl     a flange c at the curvature 1/R is bent by sigma t c^2/(2R) against its plastic moment
                  (2/sqrt3) sigma t^2/4: it is lost for R < sqrt3 c^2/t, and stays untouched (first yield, two thirds of
                  that moment) for R > 1.5 sqrt3 c^2/t

References
----------
Derived here; the curl rule agrees with runs of a section kernel (lip 21.2, t 0.8: the rule gives 977; kept at 1000,
depth lost by a few per cent at 600, by half and more below 150).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import require_finite, require_positive, require_range


def camber_curvature(edge_strain_difference: float, width: float) -> float:
    """Curvature in the plane of the strip, of the sign of the strain difference. [1/mm]"""
    return require_finite("edge strain difference", edge_strain_difference) / require_positive("width", width, "mm")


def camber_sagitta(edge_strain_difference: float, width: float, length: float) -> float:
    """Rise of the bow over a strip of `length` [mm]: de L^2/(8 W). [mm]"""
    span = require_positive("length", length, "mm")
    return camber_curvature(edge_strain_difference, width) * span * span / 8.0


def twist_threshold(half_width: float, thickness: float, poisson: float) -> float:
    """Edge strain over the middle above which a flat strip twists."""
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    share = require_positive("thickness", thickness, "mm") / require_positive("half width", half_width, "mm")
    return 3.75 / (2.0 * (1.0 + nu)) * share * share


def twist_rate_limit(edge_strain: float, half_width: float) -> float:
    """Largest twist an edge strain over the middle can keep up: sqrt(2 de)/a; 0 where de is not positive. [rad/mm]"""
    strain = require_finite("edge strain", edge_strain)
    return math.sqrt(2.0 * max(strain, 0.0)) / require_positive("half width", half_width, "mm")


@dataclass(frozen=True, slots=True)
class FreeCurl:
    """Curl radii that decide whether a flange keeps its place in a curl without tools on it.

    lost_below_mm : a smaller radius bends the flange over. untouched_above_mm : a larger one leaves it elastic.
    """

    lost_below_mm: float
    untouched_above_mm: float


def free_curl(flange: float, thickness: float) -> FreeCurl:
    """Both radii for a flange of length c beyond its corner [mm].

    >>> round(free_curl(21.24, 0.8).lost_below_mm)
    977
    """
    c, t = require_positive("flange", flange, "mm"), require_positive("thickness", thickness, "mm")
    lost = math.sqrt(3.0) * c * c / t
    return FreeCurl(lost, 1.5 * lost)
