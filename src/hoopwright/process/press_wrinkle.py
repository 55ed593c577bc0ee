"""Wrinkles of a flange that is pressed together along its hoop: where the sheet would bend out of its plane.

An estimate by bifurcation. The strip of sheet from the edge to where faces hold it from both sides, or to where hoop
compression ends, is taken as long and straight, one side supported, one free. It waves at

    k pi^2 E_r/(12 (1 - nu^2)) (t/b)^2,  E_r the reduced modulus of a section that flows.

That leaves out the curvature of the ring and the help of a face on one side, so it is on the safe side; a wall that has
been turned up is a cylinder and is not judged by it. N, mm, MPa; strains log [1].
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.edge_buckling import free_edge_coefficient, reduced_modulus, wave_stress
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.section import Section
from hoopwright.process.proof_piece import HOOP

FLAT_RAD = math.radians(60.0)
"""Slope against the flat up to which a flange is judged as one: a steep cone is stiffened by its curvature."""
WIDTHS_T = 3.0
"""A strip narrower than so many thicknesses does not wave (common practice, no source)."""
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Wrinkle:
    """The worst strip found. share : hoop stress over the stress at which it waves, 0 where nothing is pressed
    together.

    width_mm : of the strip. stress_MPa : mean hoop compression in it. critical_MPa : at which it waves. edge : "inner"
    or "outer".
    """

    share: float
    width_mm: float
    stress_MPa: float
    critical_MPa: float
    edge: str


NONE = Wrinkle(0.0, 0.0, 0.0, math.inf, "outer")


def strip_at(section: Section, enclosed: Flags, metal: Metal, edge: str) -> Wrinkle:
    """The strip at one edge of one state. enclosed (n,) : nodes between two faces with no room to wave."""
    order = slice(None) if edge == "inner" else slice(None, None, -1)
    middle = 0.5 * (section.angle_rad[1:] + section.angle_rad[:-1])
    # a flat plate is travelled along the radius, at pi/2
    level = np.abs(np.cos(middle)) < math.sin(FLAT_RAD)
    held = (enclosed[1:] | enclosed[:-1])[order]
    pressed = section.layers[:, :, HOOP].mean(axis=1) < 0.0
    free = level[order] & pressed[order] & ~held
    stop = int(np.argmin(free)) if not free.all() else free.size
    if stop == 0:
        return NONE
    length = section.lengths_mm()[order][:stop]
    width, thickness = float(length.sum()), float(section.thickness_mm[order][:stop].mean())
    if width < WIDTHS_T * thickness:
        return NONE
    hoop = section.layers[order, :, HOOP][:stop].mean(axis=1)
    stress = -float(np.average(hoop, weights=length))
    if stress <= 0.0:
        return NONE
    plastic = float(np.average(section.plastic_strain[order][:stop].mean(axis=1), weights=length))
    young, nu = metal.youngs_modulus_MPa, metal.poisson
    modulus = reduced_modulus(young, metal.flow.slope(plastic)) if plastic > 0.0 else young
    critical = wave_stress(thickness, width, modulus, nu, free_edge_coefficient(nu))
    return Wrinkle(stress / critical, width, stress, critical, edge)


def worst_wrinkle(states: tuple[Section, ...], enclosed: Flags, metal: Metal) -> Wrinkle:
    """The worst strip of all states, at either edge."""
    found = [
        strip_at(state, flags, metal, edge)
        for state, flags in zip(states, enclosed, strict=True)
        for edge in ("inner", "outer")
    ]
    return max(found, key=lambda w: w.share)
