"""A coned disc or dished rim pressed towards flat between knife edges, on the section kernel. mm, N, MPa.

Force against deflection with the section bending and turning as a shell, the metal yielding where it does, and the set
that stays. The table formula of disc springs (`spring_disc`) turns the section rigidly and carries 1/(1 - nu^2), which
free edges do not have. Checked in tests/published/disc_springs and tests/published/shell_caps_and_discs.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import require_range
from hoopwright.kernels.flow import swift
from hoopwright.kernels.section import Lead, Metal, Result, Schedule, Step, Support, mesh_line, run
from hoopwright.kernels.spring_disc import DiscSpring

Vector = NDArray[np.float64]

ELEMENTS, INCREMENTS = 24, 16


@dataclass(frozen=True, slots=True, eq=False)
class PressedDisc:
    """deflection, force : the way down, nil first, shape (n,). [mm, N] stress : greatest von Mises at the end. [MPa]
    plastic : greatest plastic strain at the end. set : height lost once it is let go. [mm]"""

    deflection: Vector
    force: Vector
    stress: float
    plastic: float
    set: float

    def at(self, deflection: float) -> float:
        """Force at a deflection on the way down, straight between increments; nil below nil. [N]"""
        return float(np.interp(max(0.0, deflection), self.deflection, self.force))


def elastic_metal(young: float, poisson: float) -> Metal:
    """A metal that does not yield."""
    return Metal(swift(1e4 * young, 1.0, 0.2), young, poisson)


def _back(down: Result, stand: tuple[Support, ...], metal: Metal, travel: float) -> float:
    """How far the inner edge comes back until nothing presses it: led back, for a deep disc would snap if let go."""
    lead = Lead(Support(0, "x", travel), loads=((0, "x", -1.0),))
    up = run(down.section, Schedule((Step("let go", supports=stand, lead=lead, increments=2 * INCREMENTS),)), metal)
    load, way = up.history.load, travel * up.history.progress
    under = np.flatnonzero(load <= 0.0)
    if under.size == 0:
        return travel
    k = int(under[0])
    before, at = (float(down.history.load[-1]), 0.0) if k == 0 else (float(load[k - 1]), float(way[k - 1]))
    return at + (float(way[k]) - at) * before / (before - float(load[k]))


def pressed_disc(disc: DiscSpring, metal: Metal, travel: float, elements: int = ELEMENTS) -> PressedDisc:
    """Stand the disc on its outer edge, press its inner edge down by `travel`, let go.

    Raises
    ------
    InputError
        A travel that is not above 0 or goes past flat by more than its height.
    NotConverged
        See `hoopwright.kernels.section.run`.
    """
    require_range("travel", travel, 1e-6, 2.0 * disc.height, "mm")
    section = mesh_line((disc.height, 0.5 * disc.inner), (0.0, 0.5 * disc.outer), disc.thickness, elements)
    lead = Lead(Support(0, "x", -travel), loads=((0, "x", -1.0),))
    stand = (Support(-1, "x"),)
    press = Step("press", supports=stand, lead=lead, increments=INCREMENTS)
    down = run(section, Schedule((press,)), metal)
    force = np.concatenate(([0.0], down.history.load))
    deflection = np.concatenate(([0.0], travel * down.history.progress))
    s, t = down.section.layers[:, :, 0], down.section.layers[:, :, 1]
    plastic = float(down.section.plastic_strain.max())
    lost = 0.0
    if plastic > 0.0:
        lost = travel - _back(down, stand, metal, travel)
    return PressedDisc(deflection, force, float(np.sqrt(s**2 - s * t + t**2).max()), plastic, lost)
