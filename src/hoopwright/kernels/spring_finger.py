"""Flat finger springs: a clamped plate strip with a straight contact line. mm, N, MPa.

    k = E w t^3/(4 L^3) (1 + (1/(1-nu^2) - 1) g)     x = L/w     1/g = (1 + 0.852 x + 0.699 x^2)/(1 + 0.731 x)

g is the share of the plate's lateral stiffness a finger of this length feels: 1 for a wide strip, 0 for a bar. It is
fitted to a plate model (error under 0.2 % for x 0.5 to 6, nu 0.29 to 0.32; derived here, tests/reference). The root is
clamped: a finger on a rim is softer, see `spring_rim` and `spring_plate`.
"""

from __future__ import annotations

import math

from hoopwright.errors import require_positive, require_range


def beam_stiffness(young: float, width: float, thickness: float, length: float) -> float:
    """Bare beam E w t^3/(4 L^3). [N/mm]

    >>> round(beam_stiffness(213.7e3, 5.0, 0.4, 10.5), 2)
    14.77
    """
    for name, value, unit in (("Young's modulus", young, "MPa"), ("width", width, "mm"), ("thickness", thickness, "mm"),
                              ("length", length, "mm")):  # fmt: skip
        require_positive(name, value, unit)
    return young * width * thickness**3 / (4.0 * length**3)


def plate_share(slenderness: float) -> float:
    """g of the head of this module, for length over width."""
    x = require_range("length over width", slenderness, 0.5, 6.0)
    return (1.0 + 0.731 * x) / (1.0 + 0.852 * x + 0.699 * x**2)


def finger_stiffness(young: float, poisson: float, width: float, thickness: float, length: float) -> float:
    """Clamped finger with straight line contact. [N/mm]"""
    lateral = 1.0 / (1.0 - require_range("Poisson's ratio", poisson, 0.0, 0.49) ** 2) - 1.0
    return beam_stiffness(young, width, thickness, length) * (1.0 + lateral * plate_share(length / width))


def taper_factor(share: float) -> float:
    """Deflection of a finger that narrows in a straight line to `share` of its root width, over that of a straight one.

    Beam integral; 1 and 1.5 at the ends (a point at the tip bends to a circle).

    >>> [round(taper_factor(b), 5) for b in (1.0, 0.75, 0.5, 0.0)]
    [1.0, 1.06966, 1.15888, 1.5]
    """
    b = require_range("tip width over root width", share, 0.0, 1.0)
    if b == 0.0:
        return 1.5
    if b > 0.999:
        return 1.0 + 0.25 * (1.0 - b)
    return 3.0 / (1.0 - b) ** 3 * (0.5 * (1.0 - b) * (1.0 - 3.0 * b) - b**2 * math.log(b))


def root_stress(young: float, thickness: float, length: float, deflection: float) -> float:
    """Stress at the root of a straight clamped finger bent by `deflection`: 3 E f t/(2 L^2). [MPa]

    >>> root_stress(204e3, 0.5, 12.0, 0.5)
    531.25
    """
    return 1.5 * young * deflection * thickness / length**2


def wave_washer_stress(young: float, deflection: float, thickness: float, waves: int, diameter: float) -> float:
    """Bending stress of a wave washer: 0.3 pi E f t N^2/D^2 (handbook of mechanical design analysis, read). [MPa]"""
    return 0.3 * math.pi * young * deflection * thickness * waves**2 / diameter**2


def large_deflection(ratio: float) -> float:
    """Change of stiffness at deflection over length `ratio`, contact radius fixed, the finger sliding through: share.

    -0.2, -0.8 and -3.0 % at 0.05, 0.1 and 0.2 (our runs of the elastica): a parabola through them.
    """
    return -0.76 * require_range("deflection over length", ratio, 0.0, 0.2) ** 2
