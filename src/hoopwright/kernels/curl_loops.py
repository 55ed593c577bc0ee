"""Compiled loops of curling a contoured strip; equations and limits stand in `curl`. N, mm, MPa.

A pose is [stretch b of the fibre at height 0, curl k]: a fibre at height y is b + k y times as long as when flat.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.chain_contour_loops import fibre_update
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector

Array = NDArray[np.float64]


@compiled
def curl_loads(
    heights: Array,
    areas: Array,
    points: Array,
    pose: Vector,
    new_pose: Vector,
    held: bool,
    steps: int,
    law: Vector,
    metal: Vector,
    new_points: Array,
    changes: Array,
) -> Vector:
    """Carry every fibre from one pose to another.

    heights, areas : height and flat area of each fibre, shape (n, m). changes : takes thickness and width strain of
    each station's fibres, weighted by area, shape (2, n).

    Returns
    -------
    array, shape (5,)
        Force N, moment M about height 0, and dN/db, dN/dk = dM/db, dM/dk.
    """
    out = np.zeros(5)
    for i in range(heights.shape[0]):
        whole, thin, narrow = 0.0, 0.0, 0.0
        for j in range(heights.shape[1]):
            y = heights[i, j]
            long = new_pose[0] + new_pose[1] * y
            strain = math.log(long / (pose[0] + pose[1] * y))
            h, s, p, bh, bs, tangent, dt, dw = fibre_update(strain, points[i, j], held, steps, law, metal)
            point = new_points[i, j]
            point[0], point[1], point[2], point[3], point[4] = h, s, p, bh, bs
            area = areas[i, j]
            force, stiffness = h * area / long, (tangent - h) * area / (long * long)
            out[0] += force
            out[1] += force * y
            out[2] += stiffness
            out[3] += stiffness * y
            out[4] += stiffness * y * y
            whole += area
            thin += dt * area
            narrow += dw * area
        changes[0, i], changes[1, i] = thin / whole, narrow / whole
    return out


@compiled
def curl_settle(
    heights: Array,
    areas: Array,
    points: Array,
    pose: Vector,
    curl: float,
    neutral: float,
    moment_free: bool,
    held: bool,
    steps: int,
    law: Vector,
    metal: Vector,
) -> tuple[Array, Array, Vector, Vector, float]:
    """Strip without force at a given curl, or without force and moment.

    curl : wanted [1/mm], not used where the moment is free. neutral : first guess of the height of the fibre that keeps
    its length [mm].

    Returns
    -------
    tuple
        Points, station changes (2, n), pose, [N, M, ...] of `curl_loads`, misfit as share of the yield loads.
    """
    area, high = 0.0, 1e-9
    for i in range(heights.shape[0]):
        for j in range(heights.shape[1]):
            area += areas[i, j]
            high = max(high, abs(heights[i, j]))
    force = 1e-3 * metal[0] * area
    trial = pose.copy()
    if not moment_free:
        # Turn about the fibre that keeps its length, so that the first guess is near balance.
        trial[0], trial[1] = 1.0 - neutral * curl, curl
    new_points, changes, out = points.copy(), np.zeros((2, heights.shape[0])), np.zeros(5)
    base, db, dk = trial.copy(), 0.0, 0.0
    misfit, best, halvings = 1e300, 1e300, 0
    short, long = -1e300, 1e300
    for _ in range(200):
        out = curl_loads(heights, areas, points, pose, trial, held, steps, law, metal, new_points, changes)
        misfit = abs(out[0]) / force
        if moment_free:
            misfit = max(misfit, abs(out[1]) / (force * high))
        if misfit <= 1e-12 or (best <= 1e-10 and misfit >= best):
            break
        if not moment_free:
            # One unknown, and the force rises with it: Newton's step, kept between what was too short and too long.
            best = min(best, misfit)
            if out[0] < 0.0:
                short = max(short, trial[0])
            else:
                long = min(long, trial[0])
            # A section that hardens little has next to no stiffness of its own; the floor keeps the step finite.
            db = -out[0] / max(out[2], 1e-4 * metal[0] * area)
            trial[0] += min(max(db, -0.02), 0.02)
            if not short < trial[0] < long:
                trial[0] = 0.5 * (short + long)
            continue
        if misfit < best or halvings == 6:
            base, best, halvings = trial.copy(), misfit, 0
            det = out[2] * out[4] - out[3] * out[3]
            db = -(out[0] * out[4] - out[1] * out[3]) / det
            dk = -(out[1] * out[2] - out[0] * out[3]) / det
            db = min(max(db, -0.02), 0.02)
        else:
            halvings += 1
        trial[0] = base[0] + 0.5**halvings * db
        trial[1] = base[1] + 0.5**halvings * dk
    return new_points, changes, trial, out, misfit
