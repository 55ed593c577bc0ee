"""Disc (coned) springs by the table formula. mm, N, MPa.

    F = 4E/(1-nu^2) t^4/(K1 De^2) (s/t) ((h0/t - s/t)(h0/t - s/2t) + 1)

Formula of DIN 2093 / EN 16984 (second hand and from memory). It carries 1/(1-nu^2) though the edges are free: our shell
runs with knife edges give 0.91 to 0.93 of it, nearly the whole of that factor. Checked in tests/published/disc_springs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_positive, require_range


@dataclass(frozen=True, slots=True)
class DiscSpring:
    """outer, inner : diameters. thickness, height : sheet, and cone height h0 unloaded. [mm]"""

    outer: float
    inner: float
    thickness: float
    height: float

    def __post_init__(self) -> None:
        for name in ("outer", "inner", "thickness", "height"):
            require_positive(f"disc {name}", getattr(self, name), "mm")
        if self.inner >= self.outer:
            raise InputError("disc inner diameter", self.inner, "mm", f"under {self.outer:g}", "exchange the two")

    @property
    def factors(self) -> tuple[float, float, float]:
        """K1, K2, K3 of the formulae."""
        d = self.outer / self.inner
        log = math.log(d)
        k1 = ((d - 1.0) / d) ** 2 / ((d + 1.0) / (d - 1.0) - 2.0 / log) / math.pi
        return k1, 6.0 / math.pi * ((d - 1.0) / log - 1.0) / log, 3.0 / math.pi * (d - 1.0) / log


def disc_force(disc: DiscSpring, young: float, poisson: float, deflection: float) -> float:
    """Force at a deflection from 0 to flat. [N]"""
    s = require_range("deflection", deflection, 0.0, disc.height, "mm")
    t, h = disc.thickness, disc.height
    stiff = 4.0 * young / (1.0 - poisson**2) * t**4 / (disc.factors[0] * disc.outer**2)
    return stiff * (s / t) * ((h / t - s / t) * (h / t - 0.5 * s / t) + 1.0)


def disc_stresses(disc: DiscSpring, young: float, poisson: float, deflection: float) -> dict[str, float]:
    """Stresses OM, I, II, III, IV of the tables, tension positive. [MPa]"""
    s = require_range("deflection", deflection, 0.0, disc.height, "mm")
    t, h = disc.thickness, disc.height
    k1, k2, k3 = disc.factors
    ratio = disc.outer / disc.inner
    base = 4.0 * young / (1.0 - poisson**2) * t**2 / (k1 * disc.outer**2) * (s / t)
    cone = h / t - 0.5 * s / t
    return {
        "OM": -base * 3.0 / math.pi,
        "I": -base * (k2 * cone + k3),
        "II": base * (-k2 * cone + k3),
        "III": base * ((2.0 * k3 - k2) * cone + k3) / ratio,
        "IV": base * ((2.0 * k3 - k2) * cone - k3) / ratio,
    }
