"""The same hoop on a round tool: no slots, no friction, no seam; every fibre of a place is alike. mm, N, MPa.

    strain of a fibre   ln((R + y)/(R0 + y)),   tension  sum S A (R0 + y)/(R + y),   free where the tension is nil
    height of the axis  c = c0 - (t/2)(1 - exp(-strain/2)), the thinning of the sheet, found with the radius

It is what the reckoning of a section takes for the hoop, so that a run on segments less this one is what the segments
add. Limits as of `size_hoop`. Source: derived; tests/kernels/test_round_tool.py against `size_hoop` on 180 segments.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import NotConverged, require_positive
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import Matrix
from hoopwright.kernels.hoop.inputs import HoopSection
from hoopwright.kernels.metal import uniaxial_update


@dataclass(frozen=True, slots=True)
class RoundHit:
    """One stretch on a round tool: radius of the axis on it and off it [mm], tension [N], strain of the axis."""

    loaded_radius_mm: float
    free_radius_mm: float
    tension_N: float
    strain_log: float


@compiled
def pulled(
    start: float, before: float, radius: float, offset: Vector, area: Vector, state: Matrix, law: Vector, metal: Vector
) -> tuple[float, float, Matrix]:
    """Tension [N], its slope against the radius [N/mm] and the state (3, k) when the axis goes from a radius to
    another; start : radius of the axis where areas and fibre lengths were counted. mm, MPa."""
    force, slope = 0.0, 0.0
    new = np.empty_like(state)
    for k in range(offset.size):
        reach = radius + offset[k]
        shrink = (start + offset[k]) / reach
        stress, plastic, back, tangent = uniaxial_update(
            math.log(reach / (before + offset[k])), state[0, k], state[1, k], state[2, k], law, metal
        )
        new[0, k], new[1, k], new[2, k] = stress, plastic, back
        force += stress * area[k] * shrink
        slope += (tangent - stress) * area[k] * shrink / reach
    return force, slope, new


def round_hits(
    section: HoopSection, radius_mm: float, tools_mm: Sequence[float], anneal_before: Sequence[bool]
) -> tuple[RoundHit, ...]:
    """Stretches on round tools, one after the other.

    Parameters
    ----------
    radius_mm : of the hoop's axis before the first. tools_mm : radius of each tool's face, to which the height of the
        axis is counted. anneal_before : whether the hoop is softened before each.

    Raises
    ------
    NotConverged
        A release that finds no balance.
    """
    offset, area = np.array(section.offsets_mm), np.array(section.areas_mm2)
    law, metal = section.metal.law(), section.metal.vector()
    start = now = require_positive("radius of the hoop", radius_mm, "mm")
    state = section.fibre_state().rows()
    now, state = _released(start, now, offset, area, state, law, metal)
    done = []
    for tool, soft in zip(tools_mm, anneal_before, strict=True):
        if soft:
            state = np.zeros_like(state)
        loaded = _seated(section, start, tool)
        tension, _slope, held = pulled(start, now, loaded, offset, area, state, law, metal)
        free, state = _released(start, loaded, offset, area, held, law, metal)
        done.append(RoundHit(loaded, free, float(tension), math.log(loaded / start)))
        now = free
    return tuple(done)


def _seated(section: HoopSection, start: float, tool: float) -> float:
    """Radius of the axis over the face of a tool, the sheet thinned by the stretch. [mm]"""
    radius = tool + section.axis_height_mm
    for _ in range(40):
        thinned = 0.5 * section.thickness_mm * (1.0 - math.exp(-0.5 * math.log(radius / start)))
        following = tool + section.axis_height_mm - thinned
        if abs(following - radius) <= 1e-13 * radius:
            return following
        radius = following
    return radius


def _released(
    start: float, loaded: float, offset: Vector, area: Vector, state: Matrix, law: Vector, metal: Vector
) -> tuple[float, Matrix]:
    """Radius at which the hoop carries no tension, and the state there. [mm]"""
    radius = loaded
    for _ in range(60):
        force, slope, new = pulled(start, loaded, radius, offset, area, state, law, metal)
        if abs(force) <= 1e-12 * metal[0] * float(area.sum()) * 1e-3:
            return radius, np.asarray(new)
        radius -= force / slope
    raise NotConverged("the hoop on a round tool finds no free radius", radius, "check stress and flow curve")
