"""Newton iteration of one increment: bordered banded solve, limit on rotation, line search on work. Units mm, N,
rad."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.assemble import assemble, norms, reduce_held
from hoopwright.kernels.section.banded import solve_band
from hoopwright.kernels.section.shapes import Drive, Matrix, Sheet, System, Tooling, put

CONVERGED, STALLED, DISTORTED, SINGULAR = 0, 1, 2, 3


@compiled
def solve_small(matrix: Matrix, right: Vector) -> bool:
    """Solve a small dense system in place by elimination with row exchanges; False when singular."""
    n = right.shape[0]
    for k in range(n):
        pivot = k
        for i in range(k + 1, n):
            if abs(matrix[i, k]) > abs(matrix[pivot, k]):
                pivot = i
        if matrix[pivot, k] == 0.0 or not math.isfinite(matrix[pivot, k]):
            return False
        if pivot != k:
            for j in range(n):
                keep = matrix[k, j]
                matrix[k, j] = matrix[pivot, j]
                matrix[pivot, j] = keep
            keep = right[k]
            right[k] = right[pivot]
            right[pivot] = keep
        for i in range(k + 1, n):
            factor = matrix[i, k] / matrix[k, k]
            for j in range(k, n):
                matrix[i, j] -= factor * matrix[k, j]
            right[i] -= factor * right[k]
    for k in range(n - 1, -1, -1):
        for j in range(k + 1, n):
            right[k] -= matrix[k, j] * right[j]
        right[k] /= matrix[k, k]
    return True


@compiled
def direction(drive: Drive, system: System, dq: Vector, dg: Vector, goal_q: Vector, goal_g: Vector) -> bool:
    """Newton step of the bordered system into dq (3 n,) and dg (5,).

    goal_q, goal_g : steps of the held unknowns (used where held). False when the system is singular.
    """
    n = system.force.shape[0]
    answers = system.answers
    for i in range(n):
        answers[i, 0] = goal_q[i] if drive.fixed[i] else -system.force[i]
        if not drive.fixed[i]:
            for k in range(5):
                if not drive.free[k]:
                    answers[i, 0] -= system.columns[i, k] * goal_g[k]
    reduce_held(drive, system)
    count = 1
    for k in range(5):
        if drive.free[k]:
            for i in range(n):
                answers[i, count] = system.columns[i, k]
            count += 1
    if not solve_band(system.band, answers, count):
        return False
    small, right = np.zeros((count - 1, count - 1)), np.zeros(count - 1)
    a = 0
    for k in range(5):
        dg[k] = 0.0 if drive.free[k] else goal_g[k]
        if not drive.free[k]:
            continue
        right[a] = -system.balance[k]
        for i in range(n):
            right[a] -= system.rows[i, k] * answers[i, 0]
        b = 0
        for m in range(5):
            if drive.free[m]:
                small[a, b] = system.corner[k, m]
                for i in range(n):
                    small[a, b] -= system.rows[i, k] * answers[i, 1 + b]
                b += 1
        a += 1
    if count > 1 and not solve_small(small, right):
        return False
    for i in range(n):
        value = answers[i, 0]
        for b in range(count - 1):
            value -= answers[i, 1 + b] * right[b]
        dq[i] = value
    a = 0
    for k in range(5):
        if drive.free[k]:
            dg[k] = right[a]
            a += 1
    total = 0.0
    for i in range(n):
        total += dq[i]
    for k in range(5):
        total += dg[k]
    return math.isfinite(total)


@compiled
def work_of(drive: Drive, system: System, dq: Vector, dg: Vector) -> float:
    """Residual times step, over what is free. The border of the controlled unknown does no work."""
    total = 0.0
    for i in range(dq.shape[0]):
        if not drive.fixed[i]:
            total += system.force[i] * dq[i]
    for k in range(3):
        if drive.free[k]:
            total += system.balance[k] * dg[k]
    if drive.free[3]:
        total -= system.balance[3] * dg[3]
    return total


@compiled
def limited(dq: Vector, dg: Vector) -> None:
    """Shorten a step that turns a node by more than 0.3 rad."""
    widest = 0.0
    for i in range(2, dq.shape[0], 3):
        widest = max(widest, abs(dq[i]))
    if widest > 0.3:
        for i in range(dq.shape[0]):
            dq[i] *= 0.3 / widest
        for k in range(5):
            dg[k] *= 0.3 / widest


@compiled
def add_damping(sheet: Sheet, damping: float, system: System) -> None:
    """Mass-like term towards the current iterate (pseudo-transient continuation): in the tangent only."""
    for i in range(sheet.area.shape[0]):
        system.band[3 * i, 5] += damping * sheet.area[i]
        system.band[3 * i + 1, 5] += damping * sheet.area[i]


@compiled
def newton(
    sheet: Sheet,
    tools: Tooling,
    drive: Drive,
    metal: Vector,
    law: Vector,
    q: Vector,
    g: Vector,
    system: System,
    largest: float,
    floor: float,
    damping: float,
    limit: int,
) -> tuple[int, int, float, float]:
    """Iterate q and g (changed in place) to equilibrium.

    Parameters
    ----------
    q, g : starting guess, held unknowns already at their goals.
    largest, floor : largest inner force norm so far, and the residual that counts as none. [N]
    damping : start of the pseudo-transient term, 0 for none. [N/mm3]
    limit : iterations allowed.

    Returns
    -------
    (state, iterations, residual, inner norm) : state 0 converged, 1 stalled, 2 distorted, 3 singular.
    """
    n = q.shape[0]
    dq, dg, qt, gt = np.zeros(n), np.zeros(5), np.zeros(n), np.zeros(5)
    none_q, none_g = np.zeros(n), np.zeros(5)
    if not assemble(sheet, tools, drive, metal, law, q, g, system):
        return 2, 0, 0.0, 0.0
    norm, inner = norms(drive, system)
    start = norm
    for iteration in range(limit):
        if norm <= 1e-6 * max(inner, 0.03 * largest) or norm <= floor:
            return 0, iteration, norm, inner
        if damping > 0.0:
            add_damping(sheet, damping * min(1.0, norm / max(start, floor)), system)
        before = norm
        if not direction(drive, system, dq, dg, none_q, none_g):
            return 3, iteration, norm, inner
        limited(dq, dg)
        # direction() has used up the band but left the residual in place
        first = work_of(drive, system, dq, dg)
        alpha, done = 1.0, False
        for _ in range(6):
            for i in range(n):
                qt[i] = q[i] + alpha * dq[i]
            for k in range(5):
                gt[k] = g[k] + alpha * dg[k]
            done = assemble(sheet, tools, drive, metal, law, qt, gt, system)
            if not done:
                alpha *= 0.4
                continue
            norm, inner = norms(drive, system)
            work = work_of(drive, system, dq, dg)
            if abs(work) <= 0.8 * abs(first) or norm < before:
                break
            secant = alpha * first / (first - work) if first != work else 0.5 * alpha
            alpha = min(max(secant, 0.1 * alpha), 0.5 * alpha)
        if not done:
            return 2, iteration, norm, inner
        put(q, qt)
        put(g, gt)
    if norm <= 1e-6 * max(inner, 0.03 * largest) or norm <= floor:
        return 0, limit, norm, inner
    return 1, limit, norm, inner


@compiled
def tangent_guess(
    sheet: Sheet, tools: Tooling, drive: Drive, metal: Vector, law: Vector, q: Vector, g: Vector, system: System
) -> bool:
    """First guess from the tangent at the accepted state: held unknowns go to their goals, the rest follows in line."""
    n = q.shape[0]
    goal_q, goal_g, dq, dg = np.zeros(n), np.zeros(5), np.zeros(n), np.zeros(5)
    for i in range(n):
        if drive.fixed[i]:
            goal_q[i] = drive.goal[i] - sheet.q[i]
    for k in range(5):
        if not drive.free[k]:
            goal_g[k] = drive.target[k] - sheet.g[k]
    put(q, sheet.q)
    put(g, sheet.g)
    good = assemble(sheet, tools, drive, metal, law, q, g, system)
    good = good and direction(drive, system, dq, dg, goal_q, goal_g)
    if good:
        limited(dq, dg)
    for i in range(n):
        q[i] = drive.goal[i] if drive.fixed[i] else sheet.q[i] + (dq[i] if good else 0.0)
    for k in range(5):
        g[k] = sheet.g[k] + (dg[k] if good else 0.0) if drive.free[k] else drive.target[k]
    return good
