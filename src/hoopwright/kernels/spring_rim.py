"""First look at a finger on a flat rim held at legs: the finger clamped, in series with half arcs of the rim as curved
bars that bend and twist. mm, N, MPa, rad.

Load F at the distance d from the middle of the rim's circle, rim radius R, angle phi from the finger's axis to the edge
of the leg, unknown moment X at the finger from symmetry:

    M = -F/2 d sin phi + X cos phi        T = F/2 (R - d cos phi) - X sin phi
    EI = E b t^3/12        GJ = G b t^3/3 (1 - 0.63 t/b)        1/k = 1/k_finger + 1/k_rim

Holds for rim width b at most 0.2 of the half arc and b/w from 0.7 to about 1 (within 3 % of the plate model for legs of
4 to 16 mm); outside, `spring_plate` decides. Curved bars after Timoshenko, from memory; derived here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.spring_finger import finger_stiffness


@dataclass(frozen=True, slots=True)
class RimSpring:
    """finger, rim, whole : stiffness of the clamped finger, of the rim alone, and of both in series. [N/mm]
    in_range : whether the closed form is known to hold here. stress : greatest equivalent stress of the rim at 1 N on
    the finger, bending 6 M/(b t^2) and twist 3 T/(b t^2) (1 + 0.6 t/b). [MPa/N]"""

    finger: float
    rim: float
    whole: float
    in_range: bool
    stress: float


def finger_on_rim(
    young: float, poisson: float, thickness: float, finger_width: float, finger_length: float, rim_inner: float,
    rim_outer: float, half_arc: float,
) -> RimSpring:  # fmt: skip
    """One finger pointing inward from the rim, legs on both sides.

    Parameters
    ----------
    half_arc : angle from the finger's axis to the near edge of the leg. [rad]

    Raises
    ------
    InputError
        Sizes not above 0, a rim turned inside out, an arc outside 0 to pi.
    """
    if rim_outer <= rim_inner:
        raise InputError("rim outer radius", rim_outer, "mm", f"above the inner one, {rim_inner:g}", "exchange the two")
    arc = require_range("half arc", half_arc, 0.01, np.pi, "rad")
    band = rim_outer - rim_inner
    radius = 0.5 * (rim_inner + rim_outer)
    load_at = require_positive("radius of the contact", rim_inner - finger_length, "mm")
    bends = young * band * thickness**3 / 12.0
    twists = young / (2.0 * (1.0 + poisson)) * band * thickness**3 / 3.0 * (1.0 - 0.63 * thickness / band)
    phi = (np.arange(400) + 0.5) * arc / 400
    step = radius * arc / 400
    m0, t0 = -0.5 * load_at * np.sin(phi), 0.5 * (radius - load_at * np.cos(phi))
    m1, t1 = np.cos(phi), -np.sin(phi)
    unknown = -np.sum(m0 * m1 / bends + t0 * t1 / twists) / np.sum(m1**2 / bends + t1**2 / twists)
    moment, torque = m0 + unknown * m1, t0 + unknown * t1
    give = 2.0 * step * float(np.sum(moment**2 / bends + torque**2 / twists))
    surface = 6.0 * moment / (band * thickness**2)
    shear = 3.0 * torque / (band * thickness**2) * (1.0 + 0.6 * thickness / band)
    stress = float(np.sqrt(surface**2 + 3.0 * shear**2).max())
    finger = finger_stiffness(young, poisson, finger_width, thickness, finger_length)
    holds = band <= 0.2 * radius * arc and 0.7 <= band / finger_width <= 1.05
    return RimSpring(finger, 1.0 / give, 1.0 / (1.0 / finger + give), holds, stress)
