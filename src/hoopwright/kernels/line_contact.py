"""Two cylinders pressed along a line, and the contacts of a hoop on its segments that come down to it. N, mm, MPa.

    1/Re = 1/R1 + 1/R2 (a hollow radius is negative),   E* = E/(2 (1 - nu^2)) for two bodies of one metal
    p0 = sqrt(q E* / (pi Re)),   half width = sqrt(4 q Re / (pi E*)),   q = force per length

References
----------
K. L. Johnson, Contact Mechanics, 1985, line contact of cylinders (from memory); checked by integrating the pressure
back to the load and by the fit of the surfaces in tests/exact/test_line_contact_exact.py. First yield below the surface
of a line contact at p0 near 1.7 times the yield stress (from memory of the same book).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive, require_range


@dataclass(frozen=True, slots=True)
class LineContact:
    """Peak pressure and half width of a line contact, and the load, effective radius and modulus they belong to."""

    load_N_per_mm: float
    effective_radius_mm: float
    contact_modulus_MPa: float
    peak_pressure_MPa: float
    half_width_mm: float


def contact_modulus(youngs_modulus: float, poisson: float) -> float:
    """E* of two bodies of the same metal: E / (2 (1 - nu^2)). [MPa]"""
    modulus = require_positive("elastic modulus", youngs_modulus, "MPa")
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    return modulus / (2.0 * (1.0 - nu * nu))


def contact_modulus_of_two(first: tuple[float, float], second: tuple[float, float]) -> float:
    """E* of two metals, each (E, nu): 1/E* = (1 - nu1^2)/E1 + (1 - nu2^2)/E2. [MPa]"""
    total = 0.0
    for modulus, poisson in (first, second):
        nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
        total += (1.0 - nu * nu) / require_positive("elastic modulus", modulus, "MPa")
    return 1.0 / total


def effective_radius(first: float, second: float = math.inf) -> float:
    """Re of two radii, a hollow one negative, a plane infinite. [mm]

    Raises InputError where the hollow is not wider than the cylinder in it: then two edges bear, not one line.
    """
    inverse = 0.0
    for name, radius in (("first radius", first), ("second radius", second)):
        if math.isnan(radius) or radius == 0.0:
            raise InputError(name, radius, "mm", "a number other than 0", "enter the radius")
        inverse += 1.0 / radius
    if inverse <= 0.0:
        raise InputError(
            "radii", (first, second), "mm", "such that the hollow is wider than what lies in it", "widen the hollow"
        )
    return 1.0 / inverse


def line_contact(load: float, radius: float, modulus: float) -> LineContact:
    """Pressure of a load per length [N/mm] on an effective radius [mm] with the contact modulus E* [MPa].

    Examples
    --------
    A pin of radius 60 in a bore of 60.5 under 271 N/mm:

    >>> contact = line_contact(271.0, effective_radius(60.0, -60.5), contact_modulus(205000.0, 0.3))
    >>> round(contact.peak_pressure_MPa, 1), round(contact.half_width_mm, 1)
    (36.6, 4.7)
    """
    q = require_positive("load per length", load, "N/mm")
    re = require_positive("effective radius", radius, "mm")
    e = require_positive("contact modulus", modulus, "MPa")
    return LineContact(q, re, e, math.sqrt(q * e / (math.pi * re)), math.sqrt(4.0 * q * re / (math.pi * e)))


def taper_contact(
    normal_force: float, taper_length: float, pin_radius: float, bore_radius: float, modulus: float
) -> LineContact:
    """A conical pin in a segment's bore: they fit at one place only, elsewhere they bear along a line.

    normal_force [N] on the taper_length [mm]; radii [mm] where the contact is judged; modulus E* [MPa].
    """
    pin = require_positive("pin radius", pin_radius, "mm")
    bore = require_positive("bore radius", bore_radius, "mm")
    if bore <= pin:
        raise InputError(
            "bore radius", bore, "mm", f"above the pin's ({pin:g}): else two edges bear", "grind the bore wider"
        )
    load = require_positive("force", normal_force, "N") / require_positive("taper length", taper_length, "mm")
    return line_contact(load, effective_radius(pin, -bore), modulus)


def flat_facet_pressure(normal_force: float, width: float, length: float) -> float:
    """Mean pressure on a flat taper facet: Q/(b L). [MPa]"""
    area = require_positive("facet width", width, "mm") * require_positive("facet length", length, "mm")
    return require_positive("force", normal_force, "N") / area


def hoop_pressure(tension_per_width: float, radius: float) -> float:
    """Pressure between hoop and segment: T'/R, T' = tension per width [N/mm]. [MPa]"""
    return require_positive("tension per width", tension_per_width, "N/mm") / require_positive("radius", radius, "mm")


def edge_load(tension_per_width: float, radius: float, gap: float) -> float:
    """Line load on a segment's edge, which carries half the chord over the gap: T' g/(2R). [N/mm]"""
    width_tension = require_positive("tension per width", tension_per_width, "N/mm")
    return width_tension * require_positive("gap", gap, "mm") / (2.0 * require_positive("radius", radius, "mm"))


def marks(contact: LineContact, yield_stress: float, factor: float = 1.7) -> bool:
    """Whether the contact passes `factor` times the yield stress [MPa], where it begins to leave a mark."""
    limit = require_positive("factor", factor) * require_positive("yield stress", yield_stress, "MPa")
    return contact.peak_pressure_MPa > limit


def solid_compression(pressure: float, radius: float, youngs_modulus: float, poisson: float) -> float:
    """Radial give of a solid round tool under outside pressure: p R (1 - nu)/E. [mm]"""
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.5)
    p = require_finite("pressure", pressure, "MPa")
    r = require_positive("radius", radius, "mm")
    return p * r * (1.0 - nu) / require_positive("elastic modulus", youngs_modulus, "MPa")
