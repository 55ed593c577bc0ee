"""Fibre stacks of the chain: strains, forces and tangent of one node. mm, N, MPa, rad.

A node i has the edges before and after it (lengths l-, l+, angles a-, a+) and the turn psi = a+ - a-. The stack on
side s holds fibres of length lf = l_s/2 + y w_s psi, w_s the share of psi by initial edge lengths. Natural strain
ln(lf/lf0), force S A lf0/lf (the volume is constant), so with F the fibre forces

    q_l = sum F / 2,  q_psi = w sum y F,  tangent (Et - S) A lf0/lf^2 on (1/2, w y)

plus the geometric terms: grad angle = n/l, Hess l = n n'/l, Hess angle = -(t n' + n t')/l^2 (t along, n left of the
edge). At a mirror ray only the inner stack is counted, with psi twice the angle between the edge and the square to the
ray. Source: derived here.
"""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import Chain, Matrix, State
from hoopwright.kernels.metal import uniaxial_update

Stack = tuple[bool, float, float, float, float, float]


@compiled
def update_stack(chain: Chain, old: State, new: State, i: int, side: int, edge: int, l: float, psi: float) -> Stack:
    """New fibres of one stack into `new`.

    Returns
    -------
    (whole, sum F, sum y F, sum D, sum y D, sum y^2 D) : whole is False when a fibre has lost its length. [N, N mm,
    N/mm, N, N mm]
    """
    row = chain.zone[edge]
    law, metal = chain.laws[row], chain.metals[row]
    share = chain.share[i, side]
    f0 = f1 = d0 = d1 = d2 = 0.0
    for k in range(chain.offset.shape[0]):
        y = chain.offset[k]
        lf = 0.5 * l + y * share * psi
        was = old.fibre[i, side, k]
        if not lf > 0.2 * was:
            return False, 0.0, 0.0, 0.0, 0.0, 0.0
        stress, plastic, back, slope = uniaxial_update(
            math.log(lf / was), old.stress[i, side, k], old.plastic[i, side, k], old.back[i, side, k], law, metal
        )
        new.fibre[i, side, k], new.stress[i, side, k] = lf, stress
        new.plastic[i, side, k], new.back[i, side, k] = plastic, back
        area = chain.area[k] * chain.first[i, side, k] / lf
        force, stiff = stress * area, (slope - stress) * area / lf
        f0 += force
        f1 += y * force
        d0 += stiff
        d1 += y * stiff
        d2 += y * y * stiff
    return True, f0, f1, d0, d1, d2


@compiled
def edge_after(chain: Chain, x: Matrix, i: int) -> tuple[float, float, float]:
    """Length and direction of edge i."""
    j = i + 1
    if j == x.shape[0]:
        j = 0
    dx, dy = x[j, 0] - x[i, 0], x[j, 1] - x[i, 1]
    l = math.sqrt(dx * dx + dy * dy)
    return l, dx / l, dy / l


@compiled
def turn_between(ax: float, ay: float, bx: float, by: float) -> float:
    """Angle from direction a to direction b, counter-clockwise positive."""
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


@compiled
def add_edge(k: Matrix, at: int, l: float, tx: float, ty: float, axial: float, moment: float) -> None:
    """Geometric stiffness of an edge from local node `at` on, axial Hess l + moment Hess angle, into k (6, 6)."""
    nx, ny = -ty, tx
    a, m = axial / l, moment / (l * l)
    xx = a * nx * nx - 2.0 * m * tx * nx
    xy = a * nx * ny - m * (tx * ny + nx * ty)
    yy = a * ny * ny - 2.0 * m * ty * ny
    i, j = 2 * at, 2 * at + 2
    for p, q, s in ((i, i, 1.0), (j, j, 1.0), (i, j, -1.0), (j, i, -1.0)):
        k[p, q] += s * xx
        k[p, q + 1] += s * xy
        k[p + 1, q] += s * xy
        k[p + 1, q + 1] += s * yy


@compiled
def gradients(chain: Chain, x: Matrix, i: int, grad: Matrix, edges: Matrix) -> float:
    """Gradients of l-, l+ and psi at node i over the nodes i - 1, i, i + 1.

    Fills grad (3, 6) and edges (2, 3), a row [length, direction] for the edge before and after (length 0: none);
    returns psi [rad].
    """
    n = x.shape[0]
    grad[:, :] = 0.0
    edges[:, :] = 0.0
    before, after = chain.closed or i > 0, chain.closed or i < n - 1
    twice = 1.0 if before and after else 2.0
    if before:
        l, tx, ty = edge_after(chain, x, i - 1 if i > 0 else n - 1)
        edges[0, 0], edges[0, 1], edges[0, 2] = l, tx, ty
        grad[0, 0], grad[0, 1], grad[0, 2], grad[0, 3] = -tx, -ty, tx, ty
        a, b = twice * ty / l, twice * tx / l
        grad[2, 0], grad[2, 1], grad[2, 2], grad[2, 3] = -a, b, a, -b
    if after:
        l, tx, ty = edge_after(chain, x, i)
        edges[1, 0], edges[1, 1], edges[1, 2] = l, tx, ty
        grad[1, 2], grad[1, 3], grad[1, 4], grad[1, 5] = -tx, -ty, tx, ty
        a, b = twice * ty / l, twice * tx / l
        grad[2, 2] += a
        grad[2, 3] -= b
        grad[2, 4], grad[2, 5] = -a, b
    if not before:
        return 2.0 * turn_between(0.0, 1.0, edges[1, 1], edges[1, 2])
    if not after:
        return 2.0 * turn_between(edges[0, 1], edges[0, 2], -math.sin(chain.span), math.cos(chain.span))
    return turn_between(edges[0, 1], edges[0, 2], edges[1, 1], edges[1, 2])


@compiled
def add_products(grad: Matrix, q: Vector, stiff: Matrix, force: Vector, k: Matrix) -> None:
    """Forces q (3,) and stiffness (3, 3) on l-, l+, psi into nodal forces (6,) and tangent (6, 6)."""
    for a in range(3):
        for c in range(6):
            force[c] += q[a] * grad[a, c]
        for b in range(3):
            s = stiff[a, b]
            if s != 0.0:
                for c in range(6):
                    g = s * grad[a, c]
                    for d in range(6):
                        k[c, d] += g * grad[b, d]


@compiled
def node_terms(chain: Chain, old: State, new: State, i: int, force: Vector, k: Matrix) -> bool:
    """Inner forces (6,) and tangent (6, 6) of node i on nodes i - 1 to i + 1; False when a fibre has no length."""
    force[:] = 0.0
    k[:, :] = 0.0
    grad, edges = np.zeros((3, 6)), np.zeros((2, 3))
    psi = gradients(chain, new.x, i, grad, edges)
    stiff, q = np.zeros((3, 3)), np.zeros(3)
    for side in range(2):
        if edges[side, 0] == 0.0:
            continue
        edge = i if side == 1 else (i - 1 if i > 0 else chain.length.shape[0] - 1)
        whole, f0, f1, d0, d1, d2 = update_stack(chain, old, new, i, side, edge, edges[side, 0], psi)
        if not whole:
            return False
        w = chain.share[i, side]
        q[side] = 0.5 * f0
        q[2] += w * f1
        stiff[side, side] = 0.25 * d0
        stiff[side, 2] = stiff[2, side] = 0.5 * w * d1
        stiff[2, 2] += w * w * d2
    add_products(grad, q, stiff, force, k)
    twice = 1.0 if edges[0, 0] > 0.0 and edges[1, 0] > 0.0 else 2.0
    if edges[0, 0] > 0.0:
        add_edge(k, 0, edges[0, 0], edges[0, 1], edges[0, 2], q[0], -twice * q[2])
    if edges[1, 0] > 0.0:
        add_edge(k, 1, edges[1, 0], edges[1, 1], edges[1, 2], q[1], twice * q[2])
    return True
