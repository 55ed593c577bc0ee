"""Elastic energy held while a stretched hoop sits on its segments: what is let go when something gives way. N, mm; J.

hoop: half of tension times elastic elongation; a bar under a pull P with stiffness k: P^2 / 2k.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive


@dataclass(frozen=True, slots=True)
class StoredEnergy:
    """Shares of the energy. [J]"""

    hoop_J: float
    pin_J: float
    frame_J: float

    @property
    def total_J(self) -> float:
        """Sum of the shares."""
        return math.fsum((self.hoop_J, self.pin_J, self.frame_J))


def hoop_energy(tension: float, springback_radius: float) -> float:
    """Energy in a hoop of section tension T [N] that springs back by u on radius [mm]: T (2 pi u)/2. [J]"""
    u = require_positive("springback on radius", springback_radius, "mm")
    return require_positive("hoop tension", tension, "N") * math.pi * u * 1e-3


def spring_energy(force: float, stiffness: float) -> float:
    """Energy in a linear spring: F^2/2k, F [N], k [N/mm]. [J]"""
    if require_finite("force", force, "N") < 0.0:
        raise InputError("force", force, "N", "0 or more", "enter the size of the force")
    return 0.5 * force**2 / require_positive("stiffness", stiffness, "N/mm") * 1e-3


def bar_stiffness(area: float, length: float, youngs_modulus: float) -> float:
    """Stiffness of a bar: E A / l. [N/mm]"""
    modulus = require_positive("elastic modulus", youngs_modulus, "MPa")
    return modulus * require_positive("area", area, "mm2") / require_positive("length", length, "mm")


def stored_energy(
    tension: float, springback_radius: float, pull: float, pin_stiffness: float, frame_stiffness: float
) -> StoredEnergy:
    """Energy in hoop, pin and frame; tension [N], springback [mm], pull [N], stiffnesses [N/mm]."""
    return StoredEnergy(
        hoop_energy(tension, springback_radius),
        spring_energy(pull, pin_stiffness),
        spring_energy(pull, frame_stiffness),
    )
