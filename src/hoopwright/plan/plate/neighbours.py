"""What ports do to each other: the error of taking one as a body of revolution, the shift of the pitch circle, the web.

A port between equal neighbours can draw no metal across the line half way to them; towards the flanges it can. The two
ends between which the truth lies are a field whose edge is held and one whose edge draws in freely; their difference is
the error of the body of revolution. The row of ports pulls itself together along the pitch circle; the bands of flat
inside and outside it resist as hoops. With N ports the circle shrinks by N u/pi when every field draws in by u, and

    N_0 (1 - u/u_free) w = t sum_k b_k sigma(N u/(pi r_k)),

N_0 the pull of a held field's edge, w the width over which ports pull, b_k and r_k width and middle of the bands, sigma
the metal's stress at that strain. N, mm, MPa; strains log [1].
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from hoopwright.kernels.metal import Metal
from hoopwright.kernels.section import Section
from hoopwright.plan.plate.port_press import PortFormed
from hoopwright.plan.plate.port_shape import PortShape

TOUCHED_LOG = 0.002
"""Plastic strain at the field's edge from which neighbours are said to reach each other."""


@dataclass(frozen=True, slots=True)
class Neighbours:
    """pad_height_error, lip_end_error, bore_error : half the difference between held and drawn-in field, on the size.

    edge_strain_error_log : the same of the lip's edge. draw_in : u. shift : of the pitch circle, inward. shift_most :
    if the bands did not resist. web : flat between the feet of two neighbours. to_flange : flat from foot to flange
    bend, the lesser side. reach_log : plastic strain at the edge of a held field. pull_N_per_mm : N_0.
    """

    pad_height_error: float
    lip_end_error: float
    bore_error: float
    edge_strain_error_log: float
    draw_in: float
    shift: float
    shift_most: float
    web: float
    to_flange: float
    reach_log: float
    pull_N_per_mm: float


def edge_pull(section: Section) -> float:
    """Force per length of the section's last element along the section. [N/mm]"""
    weights = section.weight_mm3[-1] / section.weight_mm3[-1].sum()
    return float(weights @ section.layers[-1, :, 0]) * float(section.thickness_mm[-1])


def stress_at(metal: Metal, strain: float) -> float:
    """Stress of a plain pull or push at a strain, elastic first. [MPa]"""
    elastic = metal.youngs_modulus_MPa * strain
    if elastic <= metal.flow.stress(0.0):
        return elastic
    low, high = 0.0, strain
    for _ in range(60):
        plastic = 0.5 * (low + high)
        over = metal.flow.stress(plastic) / metal.youngs_modulus_MPa + plastic > strain
        low, high = (low, plastic) if over else (plastic, high)
    return metal.flow.stress(0.5 * (low + high))


def draw_in(
    pull: float,
    free: float,
    width: float,
    thickness: float,
    bands: tuple[tuple[float, float], ...],
    count: int,
    metal: Metal,
) -> float:
    """How far every field draws in along the pitch circle. [mm]

    pull : N_0 [N/mm]. free : u_free [mm]. bands : (width, middle radius) [mm].
    """
    if pull <= 0.0 or free <= 0.0:
        return 0.0

    def over(u: float) -> float:
        hoops = sum(b * stress_at(metal, count * u / (math.pi * r)) for b, r in bands)
        return pull * (1.0 - u / free) * width - thickness * hoops

    return float(brentq(over, 0.0, free, xtol=1e-9))


def neighbours(
    shape: PortShape,
    held: PortFormed,
    drawn: PortFormed,
    pitch: float,
    count: int,
    blank: tuple[float, float],
    flat: tuple[float, float],
    metal: Metal,
) -> Neighbours:
    """All of it. blank : radii of the blank's edges, flat : where the flange bends begin. [mm]"""
    foot = shape.foot_from
    inner, outer = pitch - foot - blank[0], blank[1] - pitch - foot
    both = ((inner, blank[0] + 0.5 * inner), (outer, blank[1] - 0.5 * outer))
    bands = tuple((b, r) for b, r in both if b > 0.0)
    pull = edge_pull(held.step.record.shut)
    u = draw_in(pull, drawn.draw_in, 2.0 * foot, shape.thickness, bands, count, metal)
    chord = 2.0 * pitch * math.sin(math.pi / count)
    half = 0.5 * np.array(
        [
            drawn.pad_height - held.pad_height,
            drawn.lip_end - held.lip_end,
            2.0 * (drawn.bore_radius - held.bore_radius),
            drawn.edge_strain_log - held.edge_strain_log,
        ]
    )
    a, b, c, d = (abs(float(v)) for v in half)
    return Neighbours(
        a,
        b,
        c,
        d,
        u,
        count * u / math.pi,
        count * drawn.draw_in / math.pi,
        chord - 2.0 * foot,
        min(pitch - foot - flat[0], flat[1] - pitch - foot),
        held.field_strain_log,
        pull,
    )
