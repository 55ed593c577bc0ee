"""Line source through a thin sheet and point source on a thick plate: the two limits, never to be fitted with.

Line source (D. Rosenthal 1946; normalised width after D. T. Swift-Hook and A. E. F. Gick 1973, from memory): absorbed
X = P/(k t dT) gives Y = v w/a. Point source: (P / 2 pi k R) exp(-v (x + R)/2a), x ahead of the beam. The line source
gives the mean of face and root width of a fully penetrated weld with a deep column, and nothing else; the point source
has no root. Units: mm, s, W, K.
"""

from __future__ import annotations

import math

from scipy.optimize import brentq
from scipy.special import k0e, k1e

from hoopwright.errors import require_positive
from hoopwright.kernels.heat_metal import Secant

SLOW_LOAD = 0.9
"""Below this X the slow limit is exact to 1e-4 and the isotherm too small to solve for."""


def line_source_chord(load: float) -> float:
    """Y = v w/a of the widest chord [-] at X = P/(k t dT) [-].

    >>> round(line_source_chord(10.0), 5)
    4.21531
    """
    x = require_positive("power over k t dT", load)
    if x < SLOW_LOAD:
        return math.exp(1.502 - 2.0 * math.pi / x)
    wanted = math.log(2.0 * math.pi / x)

    def miss(log_rho: float) -> float:
        rho = math.exp(log_rho)
        ratio = k0e(rho) / k1e(rho)
        return math.log(k0e(rho)) + rho * (ratio - 1.0) - wanted

    rho = math.exp(brentq(miss, math.log(1e-6), math.log(4.0 * x * x + 10.0), xtol=1e-13))
    ratio = k0e(rho) / k1e(rho)
    return 4.0 * rho * math.sqrt(1.0 - ratio * ratio)


def line_source_width(absorbed: float, speed: float, thickness: float, metal: Secant) -> float:
    """Width of an isotherm [mm] of a line source; absorbed power [W], speed [mm/s], thickness [mm]."""
    require_positive("speed", speed, "mm/s")
    require_positive("thickness", thickness, "mm")
    load = require_positive("absorbed power", absorbed, "W") / (metal.conductivity * thickness * metal.rise)
    return metal.diffusivity / speed * line_source_chord(load)


def point_source_width(absorbed: float, speed: float, metal: Secant) -> float:
    """Width of an isotherm on the face of a thick plate [mm]; absorbed power [W], speed [mm/s]."""
    q = require_positive("absorbed power", absorbed, "W") / (2.0 * math.pi * metal.conductivity * metal.rise)
    length = 2.0 * metal.diffusivity / require_positive("speed", speed, "mm/s")

    def ahead(radius: float) -> float:
        return length * math.log(q / radius) - radius

    def widest(radius: float) -> float:
        return radius + ahead(radius) * (1.0 + length / radius)

    front = brentq(lambda r: ahead(r) - r, 1e-12 * q, q, xtol=1e-15)
    radius = brentq(widest, front, q, xtol=1e-14)
    return 2.0 * math.sqrt(radius * radius - ahead(radius) ** 2)


def thin_plate_peak(
    energy_per_length: float, thickness: float, heat: float, melt_rise: float, distance: float
) -> float:
    """Peak temperature rise [K] at a distance [mm] from the fusion line of a thin plate.

    1/(Tp - T0) = sqrt(2 pi e) rho c t Y/H + 1/(Tm - T0); H absorbed energy per length [J/mm], rho c [J/(mm3 K)].
    """
    h = require_positive("energy per length", energy_per_length, "J/mm")
    factor = math.sqrt(2.0 * math.pi * math.e)
    return 1.0 / (factor * heat * thickness * distance / h + 1.0 / require_positive("melt rise", melt_rise, "K"))


def thin_plate_distance(
    energy_per_length: float, thickness: float, heat: float, melt_rise: float, peak_rise: float
) -> float:
    """Distance from the fusion line [mm] at which the peak rise [K] is reached: `thin_plate_peak` turned round."""
    factor = math.sqrt(2.0 * math.pi * math.e)
    return (1.0 / peak_rise - 1.0 / melt_rise) * energy_per_length / (factor * heat * thickness)


def thin_plate_cooling_rate(
    energy_per_length: float, thickness: float, metal_k: float, heat: float, rise: float
) -> float:
    """Cooling rate on the centre line of a thin plate [K/s]: 2 pi k rho c (t/H)^2 (T - T0)^3."""
    return 2.0 * math.pi * metal_k * heat * (thickness / energy_per_length) ** 2 * rise**3


def thick_plate_cooling_rate(energy_per_length: float, metal_k: float, rise: float) -> float:
    """Cooling rate on the centre line of a thick plate [K/s]: 2 pi k (T - T0)^2/H."""
    return 2.0 * math.pi * metal_k * rise**2 / energy_per_length


def relative_thickness(energy_per_length: float, thickness: float, heat: float, rise: float) -> float:
    """t sqrt(rho c (T - T0)/H) [-]: thin below 0.6, thick above 0.9."""
    return thickness * math.sqrt(heat * rise / energy_per_length)


def thin_plate_cooling_time(
    energy_per_length: float, thickness: float, metal_k: float, heat: float, hot_rise: float, cool_rise: float
) -> float:
    """Time between two rises [K] on the centre line of a thin plate [s]; 4 % short when fully penetrated."""
    return (energy_per_length / thickness) ** 2 / (4.0 * math.pi * metal_k * heat) * (cool_rise**-2 - hot_rise**-2)
