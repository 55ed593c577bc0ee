"""Compiled loops of layered bending with tension; equations and limits stand in `layers`. N, mm, MPa, per mm of width.

A pose is [log stretch of the mid-surface, curvature, width strain]; loads are the resultants that do work on it,
[tension N, moment M, net width force].
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.metal import plane_stress_update, uniaxial_update

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@compiled
def layer_loads(
    points: Array,
    thins: Vector,
    offsets: Vector,
    weights: Vector,
    pose: Vector,
    new_pose: Vector,
    free: bool,
    law: Vector,
    metal: Vector,
    new_points: Array,
    new_thins: Vector,
) -> tuple[Vector, Array]:
    """Carry every layer from one pose to another; return loads, shape (3,), and their tangent, shape (3, 3).

    free : each layer free across (uniaxial); the width strain of the pose is then left alone.
    """
    loads, tangent = np.zeros(3), np.zeros((3, 3))
    modulus, nu, r = metal[0], metal[1], metal[2]
    across = new_pose[2] - pose[2]
    for j in range(offsets.size):
        y = offsets[j]
        spread = 1.0 + y * new_pose[1]
        strain = new_pose[0] - pose[0] + math.log(spread / (1.0 + y * pose[1]))
        lever = y / spread
        point = points[j]
        if free:
            h, p, bh, hh = uniaxial_update(strain, point[0], point[2], point[3], law, metal)
            s, bs, hs, ss = point[1], point[4], 0.0, 0.0
            elastic = (h - point[0]) / modulus
            thin = -nu * elastic - (strain - elastic) / (1.0 + r)
        else:
            h, s, p, bh, bs, hh, hs, ss = plane_stress_update(
                strain, across, (point[0], point[1], point[2], point[3], point[4]), law, metal
            )
            thin = -strain - across + (1.0 - 2.0 * nu) * (h - point[0] + s - point[1]) / modulus
        new_points[j, 0], new_points[j, 1], new_points[j, 2], new_points[j, 3], new_points[j, 4] = h, s, p, bh, bs
        new_thins[j] = thins[j] + thin
        w = weights[j]
        loads[0] += w * h
        loads[1] += w * h * lever
        loads[2] += w * s
        tangent[0, 0] += w * hh
        tangent[0, 1] += w * hh * lever
        tangent[0, 2] += w * hs
        tangent[1, 1] += w * (hh - h) * lever * lever
        tangent[1, 2] += w * hs * lever
        tangent[2, 2] += w * ss
    tangent[1, 0], tangent[2, 0], tangent[2, 1] = tangent[0, 1], tangent[0, 2], tangent[1, 2]
    return loads, tangent


@compiled
def _misfit(loads: Vector, target: Vector, given: Flags, scale: Vector) -> float:
    worst = 0.0
    for i in range(3):
        if not given[i]:
            miss = abs(loads[i] - target[i]) / scale[i]
            # Written so that a value that is no number wins.
            if not miss <= worst:
                worst = miss
    return worst


@compiled
def _correction(loads: Vector, tangent: Array, target: Vector, given: Flags, scale: Vector) -> Vector:
    """Newton step of the pose members that are not given, solved in units of yield (symmetric elimination)."""
    k, b = np.eye(3), np.zeros(3)
    for i in range(3):
        if given[i]:
            continue
        b[i] = (target[i] - loads[i]) / scale[i]
        for j in range(3):
            if not given[j]:
                k[i, j] = tangent[i, j] / (scale[i] * scale[j])
    for i in range(3):
        for j in range(i + 1, 3):
            factor = k[j, i] / k[i, i]
            for c in range(i, 3):
                k[j, c] -= factor * k[i, c]
            b[j] -= factor * b[i]
    for i in range(2, -1, -1):
        for c in range(i + 1, 3):
            b[i] -= k[i, c] * b[c]
        b[i] /= k[i, i]
    for i in range(3):
        b[i] /= scale[i]
    return b


@compiled
def settle(
    points: Array,
    thins: Vector,
    offsets: Vector,
    weights: Vector,
    pose: Vector,
    target: Vector,
    given: Flags,
    free: bool,
    law: Vector,
    metal: Vector,
    new_points: Array,
    new_thins: Vector,
) -> tuple[Vector, Vector, Array, float]:
    """One step: pose members that are `given` go to their target, the others until their loads do.

    Returns
    -------
    tuple
        New pose, loads, tangent, and what is left of the misfit as share of the yield load (below 1e-9 when settled).
    """
    thickness = 0.0
    for j in range(weights.size):
        thickness += weights[j]
    force = 1e-3 * metal[0] * thickness
    scale = np.array([force, force * thickness, force])
    trial = pose.copy()
    for i in range(3):
        if given[i]:
            trial[i] = target[i]
    base, step = trial.copy(), np.zeros(3)
    loads, tangent = np.zeros(3), np.zeros((3, 3))
    misfit, best, halvings = 1e300, 1e300, 0
    for _ in range(200):
        loads, tangent = layer_loads(
            points, thins, offsets, weights, pose, trial, free, law, metal, new_points, new_thins
        )
        misfit = _misfit(loads, target, given, scale)
        if misfit <= 1e-11 or (best <= 1e-9 and misfit >= best):
            break
        if misfit < best or halvings == 6:
            base, best, halvings = trial.copy(), misfit, 0
            step = _correction(loads, tangent, target, given, scale)
        else:
            halvings += 1
        for i in range(3):
            trial[i] = base[i] + 0.5**halvings * step[i]
    return trial, loads, tangent, misfit


@compiled
def drive(
    points: Array,
    thins: Vector,
    offsets: Vector,
    weights: Vector,
    pose: Vector,
    start: Vector,
    target: Vector,
    given: Flags,
    free: bool,
    steps: int,
    loads: Vector,
    law: Vector,
    metal: Vector,
) -> tuple[Array, Vector, Vector, Vector, float, float]:
    """Go from the present pose to a target in equal steps.

    start : present value of each driven quantity (pose member where `given`, load elsewhere), shape (3,).
    loads : present loads, shape (3,).

    Returns
    -------
    tuple
        Points, thickness strains, pose, loads, work of the loads (trapezoids) [N mm per mm2 of mid-surface],
        and the worst misfit of a step.
    """
    now, now_thins, at = points.copy(), thins.copy(), pose.copy()
    new, new_thins = points.copy(), thins.copy()
    goal = np.zeros(3)
    work, worst = 0.0, 0.0
    for i in range(1, steps + 1):
        for k in range(3):
            goal[k] = start[k] + (target[k] - start[k]) * (i / steps)
        next_at, next_loads, _, misfit = settle(
            now, now_thins, offsets, weights, at, goal, given, free, law, metal, new, new_thins
        )
        for k in range(3):
            work += 0.5 * (loads[k] + next_loads[k]) * (next_at[k] - at[k])
        if not misfit <= worst:
            worst = misfit
        at, loads = next_at, next_loads
        now, new = new, now
        now_thins, new_thins = new_thins, now_thins
    return now, now_thins, at, loads, work, worst


@compiled
def release_hoop(
    points: Array,
    thins: Vector,
    offsets: Vector,
    weights: Vector,
    pose: Vector,
    radius: float,
    width_given: bool,
    free: bool,
    loads: Vector,
    law: Vector,
    metal: Vector,
) -> tuple[Array, Vector, Vector, Vector, float]:
    """Let a closed hoop shrink until it carries no tension: stretch and curvature both follow the one radius.

    loads : present loads, shape (3,).

    Returns
    -------
    tuple
        Points, thickness strains, pose, loads, released radius.
    """
    new, new_thins = points.copy(), thins.copy()
    slope = 0.0
    for j in range(weights.size):
        slope += metal[0] * weights[j]
    scale = abs(loads[0]) + 1e-9 * slope
    at, moved = pose.copy(), 0.0
    given = np.array([True, True, width_given])
    for _ in range(60):
        moved -= loads[0] / slope
        here = radius * math.exp(moved)
        target = np.array([pose[0] + moved, 1.0 / here, pose[2] if width_given else 0.0])
        at, loads, tangent, _ = settle(
            points, thins, offsets, weights, pose, target, given, free, law, metal, new, new_thins
        )
        if abs(loads[0]) <= 1e-11 * scale:
            break
        # d N / d ln R with the width force kept at zero; the curvature falls as the radius grows.
        slope = tangent[0, 0] - tangent[0, 1] / here
        if not width_given:
            slope -= tangent[0, 2] * (tangent[2, 0] - tangent[2, 1] / here) / tangent[2, 2]
    return new, new_thins, at, loads, radius * math.exp(moved)
