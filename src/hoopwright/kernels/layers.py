"""Layered bending of sheet with tension: load, unload, springback, what stays in. N, mm, MPa, per mm of width.

The sheet is a stack of layers at fixed offsets y from its mid-surface, each in plane stress along the hoop and across.
With the mid-surface stretched by the factor S and curved by k, a layer is stretched by S (1 + y k):

    eps_hoop = ln S + ln(1 + y k),   eps_width = one value for all layers
    N = sum of w stress,  M = sum of w stress y/(1 + y k),  N_width = sum of w width stress

which are exactly the loads that do work on ln S, k and the width strain (so their tangent is symmetric and work
balances). Three ways across:
    "uniform"  wide strip: one width strain, no net width force (what a strip more than about ten sheets wide does)
    "held"     plane strain: the width strain stays as it is
    "free"     narrow strip or fibre: no width stress in any layer

Limits: bends down to about R = 3 t. Stress through the sheet and the thinning of single layers are left out: with N =
0 the mid-surface then keeps its length to 1e-5 at R = 75 t, as the exact rigid-plastic bend does (Hill 1950);
anticlastic curvature of the width is left out.

Source: derived here; bending under tension after Z. Marciniak, J. L. Duncan and S. J. Hu, Mechanics of Sheet Metal
Forming, 2002, ch. 6 (from memory). Checks: tests/published/sheet_bending, tests/exact/test_layers_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from hoopwright.errors import InputError, NotConverged, require_finite, require_positive
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.layers_loops import Array, drive
from hoopwright.kernels.metal import HOOP, PLASTIC, SECTION, STATE_SIZE, Metal

Across = Literal["uniform", "held", "free"]


@dataclass(frozen=True, slots=True, eq=False)
class Layers:
    """A stack through the sheet, inside face first.

    place : distance from the mid-surface as share of the thickness, -1/2 to 1/2, shape (m,).
    share : share of the thickness each layer stands for, sum 1, shape (m,).
    """

    place: Vector
    share: Vector

    def packed(self) -> Vector:
        """The stack as compiled loops take it, shape (2, m)."""
        return np.stack([self.place, self.share])


def midpoint_layers(count: int) -> Layers:
    """Equal layers, each judged at its middle: second order in 1/count, exact resultant of a uniform stress.

    Raises
    ------
    InputError
        A count that is no whole number of at least 1.
    """
    if isinstance(count, bool) or not isinstance(count, (int, np.integer)) or count < 1:
        raise InputError("count of layers", count, "", "a whole number, 1 or more", "enter 21 for sizing, 41 for curl")
    return Layers((np.arange(count) + 0.5) / count - 0.5, np.full(count, 1.0 / count))


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """A strip in some pose, with what it carries. Arrays are not to be written to.

    thickness_mm : before any forming; layer offsets are measured on it. points : state of each layer (see `metal`),
    shape (m, 5). thins_log : thickness strain of each layer since then, shape (m,). stretch_log, width_strain_log :
    mid-surface strains since then. tension_N_per_mm, moment_N : loads per mm of width. work_N_per_mm : work done by the
    loads in the last move, per mm2 of mid-surface.
    """

    thickness_mm: float
    layers: Layers
    points: Array
    thins_log: Vector
    stretch_log: float = 0.0
    curvature_per_mm: float = 0.0
    width_strain_log: float = 0.0
    tension_N_per_mm: float = 0.0
    moment_N: float = 0.0
    width_force_N_per_mm: float = 0.0
    work_N_per_mm: float = 0.0

    @property
    def radius_mm(self) -> float:
        """Mid-surface radius; infinite where straight. [mm]"""
        return 1.0 / self.curvature_per_mm if self.curvature_per_mm else math.inf

    @property
    def thickness_now_mm(self) -> float:
        """Thickness after what has been done to it. [mm]"""
        return self.thickness_mm * float(self.layers.share @ np.exp(self.thins_log))

    @property
    def mean_plastic_strain(self) -> float:
        """Accumulated plastic strain, mean through the sheet."""
        return float(self.layers.share @ self.points[:, PLASTIC])

    @property
    def mean_stress_MPa(self) -> float:
        """Hoop stress, mean through the sheet. [MPa]"""
        return float(self.layers.share @ self.points[:, HOOP])

    @property
    def stretch(self) -> float:
        """Length of the mid-surface over its length before forming."""
        return math.exp(self.stretch_log)

    def offsets(self) -> Vector:
        """Offset of each layer from the mid-surface, shape (m,). [mm]"""
        return self.layers.place * self.thickness_mm

    def weights(self) -> Vector:
        """Thickness each layer stands for, shape (m,). [mm]"""
        return self.layers.share * self.thickness_mm

    def pose(self) -> Vector:
        """[log stretch, curvature, width strain], as compiled loops take it."""
        return np.array([self.stretch_log, self.curvature_per_mm, self.width_strain_log])


def flat_strip(thickness_mm: float, layers: int | Layers = 41, prior_plastic_strain: Vector | float = 0.0) -> Strip:
    """A flat strip free of stress, with prior plastic strain (one value or one a layer, shape (m,)).

    Raises
    ------
    InputError
        Thickness not above 0; prior strain below 0, not finite, or not one a layer.
    """
    require_positive("thickness", thickness_mm, "mm")
    stack = midpoint_layers(layers) if isinstance(layers, int) else layers
    m = stack.place.size
    prior = np.asarray(prior_plastic_strain, dtype=np.float64)
    if prior.shape not in ((), (m,)) or not np.all(np.isfinite(prior)) or np.any(prior < 0.0):
        raise InputError("prior plastic strain", prior.tolist(), "", f"0 or more, one value or {m}", "correct it")
    points = np.zeros((m, STATE_SIZE))
    points[:, PLASTIC] = prior
    return Strip(float(thickness_mm), stack, points, np.zeros(m))


def moved(
    strip: Strip,
    metal: Metal,
    *,
    stretch_log: float | None = None,
    tension_N_per_mm: float | None = None,
    curvature_per_mm: float | None = None,
    moment_N: float | None = None,
    across: Across = "uniform",
    steps: int = 40,
) -> Strip:
    """Drive a strip in equal steps to a stretch or a tension, and to a curvature or a moment.

    Parameters
    ----------
    stretch_log, tension_N_per_mm : float
        Exactly one of them: log stretch of the mid-surface since flat, or tension.
    curvature_per_mm, moment_N : float
        Exactly one of them.
    across : {"uniform", "held", "free"}
        What the strip does across.
    steps : int
        The return map of a step is first order where stress turns from one direction to another: 40 steps leave 0.01 %
        on a natural radius, none on a monotone free fibre.

    Raises
    ------
    InputError
        Two driven values of a pair or none; a curvature that folds the inside face through the centre; width stress in
        a strip that is to be free across.
    NotConverged
        Equilibrium not met to 1e-7 of the yield load (a tension above what the strip can carry, for one).
    """
    first, first_given, first_now = _one_of("stretch or tension", stretch_log, tension_N_per_mm, strip, 0)
    second, second_given, second_now = _one_of("curvature or moment", curvature_per_mm, moment_N, strip, 1)
    if second_given and abs(second) * 0.5 * strip.thickness_mm >= 1.0:
        raise InputError("curvature", second, "1/mm", "below 2/thickness", "bend to a larger radius")
    if isinstance(steps, bool) or not isinstance(steps, int) or steps < 1:
        raise InputError("steps", steps, "", "a whole number, 1 or more", "enter 40")
    if across == "free":
        require_no_width_stress(strip.points, metal)
    held = across != "uniform"
    start = np.array([first_now, second_now, strip.width_strain_log if held else strip.width_force_N_per_mm])
    target = np.array([first, second, strip.width_strain_log if held else 0.0])
    given = np.array([first_given, second_given, held])
    points, thins, pose, loads, work, misfit = drive(
        strip.points,
        strip.thins_log,
        strip.offsets(),
        strip.weights(),
        strip.pose(),
        start,
        target,
        given,
        across == "free",
        steps,
        np.array([strip.tension_N_per_mm, strip.moment_N, strip.width_force_N_per_mm]),
        metal.law(),
        metal.vector(),
    )
    if not misfit <= 1e-7:
        remedy = "lower the tension, or take more steps"
        raise NotConverged(f"layered strip misses equilibrium by {misfit:.2g} of yield", strip, remedy)
    return Strip(
        strip.thickness_mm,
        strip.layers,
        points,
        thins,
        float(pose[0]),
        float(pose[1]),
        float(pose[2]),
        float(loads[0]),
        float(loads[1]),
        float(loads[2]),
        float(work),
    )


def require_no_width_stress(points: Array, metal: Metal) -> None:
    """Refuse states with a width stress above 1 % of yield where each fibre is to be free across."""
    worst = float(np.max(np.abs(points[..., SECTION])))
    if worst > 0.01 * metal.flow.stress(0.0):
        must = "below 1 % of yield where the width is free"
        raise InputError("width stress", round(worst, 3), "MPa", must, "hold the width, or let the strip be uniform")


def bent(
    strip: Strip,
    metal: Metal,
    radius_mm: float,
    tension_N_per_mm: float = 0.0,
    across: Across = "uniform",
    steps: int = 40,
) -> Strip:
    """Bend to a mid-surface radius (below zero: the other way) under a tension brought on first.

    Raises
    ------
    InputError
        Radius 0 or not finite; see also `moved`.
    """
    require_finite("bend radius", radius_mm, "mm")
    if radius_mm == 0.0:
        raise InputError("bend radius", radius_mm, "mm", "not 0", "enter the loaded mid-surface radius")
    if tension_N_per_mm != strip.tension_N_per_mm:
        strip = moved(
            strip,
            metal,
            tension_N_per_mm=tension_N_per_mm,
            curvature_per_mm=strip.curvature_per_mm,
            across=across,
            steps=steps,
        )
    return moved(
        strip, metal, tension_N_per_mm=tension_N_per_mm, curvature_per_mm=1.0 / radius_mm, across=across, steps=steps
    )


def released(strip: Strip, metal: Metal, across: Across = "uniform", steps: int = 4) -> Strip:
    """Let go of tension and moment; layers that yield backward on the way do so."""
    return moved(strip, metal, tension_N_per_mm=0.0, moment_N=0.0, across=across, steps=steps)


def _one_of(name: str, pose: float | None, load: float | None, strip: Strip, place: int) -> tuple[float, bool, float]:
    """Driven value, whether it is a pose member, and its present value."""
    if (pose is None) == (load is None):
        raise InputError(name, "both" if pose is not None else "neither", "", "exactly one of the two", "give one")
    now_pose = (strip.stretch_log, strip.curvature_per_mm)[place]
    now_load = (strip.tension_N_per_mm, strip.moment_N)[place]
    if pose is not None:
        return require_finite(name, pose), True, now_pose
    assert load is not None
    return require_finite(name, load), False, now_load
