"""Equilibrium of the chain under segments or given loads: assembly, damped Newton. mm, N, MPa, rad."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.hoop.arrays import Chain, Matrix, State, Tool, Work
from hoopwright.kernels.hoop.band import solve_band
from hoopwright.kernels.hoop.contact import node_contact
from hoopwright.kernels.hoop.stacks import edge_after, node_terms, turn_between

LARGEST_STRETCH, LARGEST_TURN = 0.02, 0.002
"""Longest change of a fibre, as a share of its length, and largest turn of an edge [rad] in one Newton update. A turn
stretches an edge at second order, which a hoop that rests on few segments does not forgive."""


@compiled
def turned_into_ray(chain: Chain, local: Matrix, force: Matrix, at: int) -> None:
    """Turn local node `at` of a tangent and a force (as a column) into the frame of the last ray."""
    co, si = math.cos(chain.span), math.sin(chain.span)
    i = 2 * at
    for j in range(local.shape[0]):
        a, b = local[j, i], local[j, i + 1]
        local[j, i], local[j, i + 1] = co * a + si * b, -si * a + co * b
    for j in range(local.shape[0]):
        a, b = local[i, j], local[i + 1, j]
        local[i, j], local[i + 1, j] = co * a + si * b, -si * a + co * b
    a, b = force[i, 0], force[i + 1, 0]
    force[i, 0], force[i + 1, 0] = co * a + si * b, -si * a + co * b


@compiled
def set_height(chain: Chain, new: State) -> None:
    """Height of the axis over the segment face: the half thickness thins with the strain of the axis at the node."""
    n = new.x.shape[0]
    thickness, height = chain.sheet[0], chain.sheet[1]
    for i in range(n):
        now = was = 0.0
        if chain.closed or i > 0:
            last = i - 1 if i > 0 else n - 1
            l, _tx, _ty = edge_after(chain, new.x, last)
            now += l
            was += chain.length[last]
        if chain.closed or i < n - 1:
            l, _tx, _ty = edge_after(chain, new.x, i)
            now += l
            was += chain.length[i]
        new.height[i] = height - 0.5 * thickness * (1.0 - math.sqrt(was / now))


@compiled
def add_node(chain: Chain, work: Work, i: int, k6: Matrix, column: Matrix) -> None:
    """Inner forces and tangent of node i, on the nodes i - 1, i, i + 1, into the system."""
    n = chain.half.shape[0]
    if not chain.closed and i >= n - 2:
        turned_into_ray(chain, k6, column, 1 if i == n - 1 else 2)
    for a in range(3):
        if not chain.closed and (i + a - 1 < 0 or i + a - 1 >= n):
            continue
        row = 2 * chain.place[(i + a - 1) % n]
        work.right[row] -= column[2 * a, 0]
        work.right[row + 1] -= column[2 * a + 1, 0]
        for b in range(3):
            if not chain.closed and (i + b - 1 < 0 or i + b - 1 >= n):
                continue
            at = 2 * chain.place[(i + b - 1) % n] - row + chain.reach
            for c in range(2):
                work.band[row + c, at - c] += k6[2 * a + c, 2 * b]
                work.band[row + c, at + 1 - c] += k6[2 * a + c, 2 * b + 1]


@compiled
def add_own(chain: Chain, work: Work, i: int, k2: Matrix, f2: Matrix) -> None:
    """Outer force on node i and its tangent into the system."""
    if not chain.closed and i == chain.half.shape[0] - 1:
        turned_into_ray(chain, k2, f2, 0)
    row, reach = 2 * chain.place[i], chain.reach
    for c in range(2):
        work.right[row + c] += f2[c, 0]
        work.band[row + c, reach - c] += k2[c, 0]
        work.band[row + c, reach + 1 - c] += k2[c, 1]


@compiled
def hold_on_rays(chain: Chain, work: Work) -> None:
    """The end nodes of an open chain only move along their rays."""
    if not chain.closed:
        for row in (2 * chain.place[0] + 1, 2 * chain.place[chain.half.shape[0] - 1] + 1):
            work.band[row, :] = 0.0
            work.band[row, chain.reach] = 1.0
            work.right[row] = 0.0


@compiled
def assemble(
    chain: Chain, tool: Tool, old: State, new: State, dead: Matrix, anchor: Matrix, guide: float, work: Work
) -> tuple[bool, float]:
    """Residual into work.right (minus it, ready to be solved) and tangent into work.band, at the nodes new.x.

    dead (n, 2) : given loads. anchor (n, 2), guide : nodes held to `anchor` by guide [N/mm2] times the length they
    stand for.

    Returns
    -------
    (whole, largest) : whole is False when a fibre has lost its length; largest nodal force out of balance [N].
    """
    work.band[:, :] = 0.0
    work.right[:] = 0.0
    f6, k6, column = np.zeros(6), np.zeros((6, 6)), np.zeros((6, 1))
    k2, f2 = np.zeros((2, 2)), np.zeros((2, 1))
    set_height(chain, new)
    for i in range(new.x.shape[0]):
        if not node_terms(chain, old, new, i, f6, k6):
            return False, 0.0
        for a in range(6):
            column[a, 0] = f6[a]
        add_node(chain, work, i, k6, column)
        k2[:, :] = 0.0
        work.push[i, 0] = work.push[i, 1] = 0.0
        if tool.normal > 0.0:
            work.push[i, 0], work.push[i, 1] = node_contact(chain, tool, old, new, i, k2)
        hold = guide * chain.half[i]
        k2[0, 0] += hold
        k2[1, 1] += hold
        for a in range(2):
            f2[a, 0] = dead[i, a] + work.push[i, a] - hold * (new.x[i, a] - anchor[i, a])
        add_own(chain, work, i, k2, f2)
    hold_on_rays(chain, work)
    largest = 0.0
    for value in work.right:
        if not math.isfinite(value):
            return True, math.nan
        largest = max(largest, abs(value))
    return True, largest


@compiled
def spread(chain: Chain, work: Work, step: Matrix) -> None:
    """Solution in band order back to nodes, shape (n, 2)."""
    n = step.shape[0]
    for i in range(n):
        step[i, 0], step[i, 1] = work.right[2 * chain.place[i]], work.right[2 * chain.place[i] + 1]
    if not chain.closed:
        co, si = math.cos(chain.span), math.sin(chain.span)
        a, b = step[n - 1, 0], step[n - 1, 1]
        step[n - 1, 0], step[n - 1, 1] = co * a - si * b, si * a + co * b


@compiled
def allowed_share(chain: Chain, x: Matrix, step: Matrix) -> float:
    """Share of a step that stays within `LARGEST_STRETCH` and `LARGEST_TURN`, to first order in the step."""
    n = x.shape[0]
    outer = 0.0
    for offset in chain.offset:
        outer = max(outer, abs(offset))
    edges = n if chain.closed else n - 1
    worst = 0.0
    turned_before, l_before = 0.0, 0.0
    if chain.closed:
        l, tx, ty = edge_after(chain, x, n - 1)
        dx, dy = step[0, 0] - step[n - 1, 0], step[0, 1] - step[n - 1, 1]
        turned_before, l_before = (tx * dy - ty * dx) / l, l
    for e in range(edges):
        j = e + 1 if e + 1 < n else 0
        l, tx, ty = edge_after(chain, x, e)
        dx, dy = step[j, 0] - step[e, 0], step[j, 1] - step[e, 1]
        turned = (tx * dy - ty * dx) / l
        stretched = abs(tx * dx + ty * dy) / l
        bent = 0.0
        if l_before > 0.0:
            bent = outer * abs(turned - turned_before) / (0.5 * (l + l_before))
        worst = max(worst, (stretched + bent) / LARGEST_STRETCH, abs(turned) / LARGEST_TURN)
        turned_before, l_before = turned, l
    return 1.0 if worst <= 1.0 else 1.0 / worst


@compiled
def newton(
    chain: Chain,
    tool: Tool,
    old: State,
    new: State,
    dead: Matrix,
    anchor: Matrix,
    guide: float,
    tolerance: float,
    limit: int,
    work: Work,
) -> tuple[int, int, float]:
    """Bring new.x to equilibrium.

    Returns
    -------
    (state, iterations, largest nodal force out of balance [N]) : state 0 converged (or no better for 2 iterations
        within 5 tolerances), 1 not within `limit` or no better for 12 iterations, 2 a fibre lost its length, 3 singular
        or not finite.
    """
    step = np.zeros((new.x.shape[0], 2))
    residual, best, best_at = 0.0, 1e300, 0
    for iteration in range(limit):
        whole, residual = assemble(chain, tool, old, new, dead, anchor, guide, work)
        if not whole:
            return 2, iteration, residual
        if not math.isfinite(residual):
            return 3, iteration, residual
        if residual <= tolerance:
            return 0, iteration, residual
        if residual < best:
            best, best_at = residual, iteration
        elif iteration > best_at + 12 or (iteration > best_at + 2 and residual <= 5.0 * tolerance):
            return 0 if residual <= 5.0 * tolerance else 1, iteration, residual
        if not solve_band(work.band, work.right, chain.reach):
            return 3, iteration, residual
        spread(chain, work, step)
        share = allowed_share(chain, new.x, step)
        if iteration > best_at + 4:
            share *= 0.5
        for i in range(step.shape[0]):
            new.x[i, 0] += share * step[i, 0]
            new.x[i, 1] += share * step[i, 1]
    return 1, limit, residual


@compiled
def turn_of(chain: Chain, x: Matrix, i: int) -> float:
    """Turn psi of the chain at node i [rad], twice the inner part at a mirror ray."""
    n = x.shape[0]
    ax = ay = bx = by = 0.0
    if chain.closed or i > 0:
        _l, bx, by = edge_after(chain, x, i - 1 if i > 0 else n - 1)
    if chain.closed or i < n - 1:
        _l, ax, ay = edge_after(chain, x, i)
    if not chain.closed and i == 0:
        return 2.0 * turn_between(0.0, 1.0, ax, ay)
    if not chain.closed and i == n - 1:
        return 2.0 * turn_between(bx, by, -math.sin(chain.span), math.cos(chain.span))
    return turn_between(bx, by, ax, ay)
