"""Data for drawing a hoop: closed polar traces and series unrolled along the girth. mm, N, MPa, rad."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import require_positive
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.inputs import Weld
from hoopwright.kernels.hoop.result import HitResult, RingState

TWO_PI = 2.0 * math.pi


@dataclass(frozen=True, slots=True, eq=False)
class PolarTrace:
    """A closed curve, first point repeated at its end, (n + 1,) each: angle, radius as it is, and radius as shown, the
    departure from the mean radius enlarged `scale` times."""

    angle_rad: Vector
    radius_mm: Vector
    shown_mm: Vector
    mean_mm: float
    scale: float


@dataclass(frozen=True, slots=True, eq=False)
class Unrolled:
    """A loaded hoop along its girth, arc 0 at the hoop's angle 0; (n,) each but the marks.

    arc_mm : rising. departure_mm : from the mean radius. pressure_MPa, friction_MPa : of the segments. slot_arc_mm,
    middle_arc_mm : where slots and segment middles stand, (N,). weld_arc_mm : start and end of the weld, or None.
    """

    arc_mm: Vector
    departure_mm: Vector
    strain_log: Vector
    thickness_mm: Vector
    tension_N: Vector
    pressure_MPa: Vector
    friction_MPa: Vector
    slot_arc_mm: Vector
    middle_arc_mm: Vector
    weld_arc_mm: tuple[float, float] | None


def polar_trace(ring: RingState, scale: float = 1.0) -> PolarTrace:
    """Outline of a hoop with its departure from round enlarged."""
    require_positive("scale of the departure", scale)
    angle = np.append(ring.angle_rad, ring.angle_rad[0] + TWO_PI)
    radius = np.append(ring.radius_mm, ring.radius_mm[0])
    mean = float(np.trapezoid(radius, angle)) / TWO_PI
    return PolarTrace(angle, radius, mean + scale * (radius - mean), mean, scale)


def unrolled(hit: HitResult, weld: Weld | None = None) -> Unrolled:
    """The hoop on the segments at the end of a hit, unrolled."""
    ring, load = hit.loaded, hit.segments
    girth = math.pi * ring.mean_diameter_mm
    angle = ring.angle_rad % TWO_PI
    order = np.argsort(angle)
    mean = polar_trace(ring).mean_mm

    def arc(at: Vector) -> Vector:
        return np.sort(at % TWO_PI) / TWO_PI * girth

    half_pitch = math.pi / load.angle_rad.size
    zone = None
    if weld is not None:
        reach = 0.5 * weld.width_mm * math.exp(ring.weld_strain_log or 0.0)
        middle = weld.angle_rad % TWO_PI / TWO_PI * girth
        zone = (middle - reach, middle + reach)
    return Unrolled(
        arc_mm=angle[order] / TWO_PI * girth,
        departure_mm=ring.radius_mm[order] - mean,
        strain_log=ring.strain_log[order],
        thickness_mm=ring.thickness_mm[order],
        tension_N=ring.tension_N[order],
        pressure_MPa=load.node_pressure_MPa[order],
        friction_MPa=load.node_friction_MPa[order],
        slot_arc_mm=arc(load.angle_rad + half_pitch),
        middle_arc_mm=arc(load.angle_rad),
        weld_arc_mm=zone,
    )
