"""Where the work of a step goes, by the trapezoidal rule over the step; and section forces. N mm, N.

Fibre work is sum over fibres of (S_old + S_new)/2 d(strain) times volume, which splits exactly into the gain of stored
energy S^2/2E and the plastic part. The segments' work is nodal force times travel of the segment; what the node does
not get of it is friction (tau ds) and contact (normal force times approach: contact spring and thinning of the sheet).
"""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import NO_SEGMENT, Chain, Matrix, State

TOOLS, PLASTIC, STORED, FRICTION, CONTACT, GUIDE = range(6)


@compiled
def stack_used(chain: Chain, i: int, side: int) -> bool:
    """Whether the stack is inside the part."""
    return chain.closed or not ((i == 0 and side == 0) or (i == chain.half.shape[0] - 1 and side == 1))


@compiled
def edge_of(chain: Chain, i: int, side: int) -> int:
    """Edge on a side of a node."""
    if side == 1:
        return i
    return i - 1 if i > 0 else chain.length.shape[0] - 1


@compiled
def add_fibre_work(chain: Chain, old: State, new: State, ledger: Vector) -> None:
    """Plastic work and gain of stored energy of a step into the ledger."""
    for i in range(chain.half.shape[0]):
        for side in range(2):
            if not stack_used(chain, i, side):
                continue
            young = chain.metals[chain.zone[edge_of(chain, i, side)], 0]
            for k in range(chain.area.shape[0]):
                volume = chain.area[k] * chain.first[i, side, k]
                s0, s1 = old.stress[i, side, k], new.stress[i, side, k]
                strain = math.log(new.fibre[i, side, k] / old.fibre[i, side, k])
                ledger[1] += 0.5 * volume * (s0 + s1) * (strain - (s1 - s0) / young)
                ledger[2] += 0.5 * volume * (s1 * s1 - s0 * s0) / young


@compiled
def add_contact_work(
    chain: Chain, old: State, new: State, push: Matrix, fresh: Matrix, out: Vector, fresh_out: Vector, index: float,
    ledger: Vector,
) -> None:  # fmt: skip
    """Work of the segments, friction and contact of a step into the ledger; push and out are before, fresh is after."""
    count = out.shape[0]
    for i in range(chain.half.shape[0]):
        j = new.segment[i] if new.segment[i] != NO_SEGMENT else old.segment[i]
        if j == NO_SEGMENT:
            continue
        px, py = 0.5 * (push[i, 0] + fresh[i, 0]), 0.5 * (push[i, 1] + fresh[i, 1])
        middle = index + 2.0 * math.pi * j / count
        ahead = px * math.cos(middle) + py * math.sin(middle)
        drive = ahead * (fresh_out[j] - out[j])
        got = px * (new.x[i, 0] - old.x[i, 0]) + py * (new.x[i, 1] - old.x[i, 1])
        slip = 0.0
        if new.segment[i] == old.segment[i]:
            slip = 0.5 * (old.drag[i] + new.drag[i]) * chain.half[i] * (new.along[i] - old.along[i])
        ledger[0] += drive
        ledger[3] += slip
        ledger[4] += drive - got - slip


@compiled
def add_guide_work(chain: Chain, old: State, new: State, pull: Matrix, fresh: Matrix, ledger: Vector) -> None:
    """Work against the guide force on the nodes (before, after) into the ledger."""
    for i in range(chain.half.shape[0]):
        for a in range(2):
            ledger[5] += 0.5 * (pull[i, a] + fresh[i, a]) * (new.x[i, a] - old.x[i, a])


@compiled
def resultants(chain: Chain, state: State, tension: Matrix, moment: Matrix) -> None:
    """Section tension [N] and moment about the axis [N mm] of every stack, shape (n, 2); 0 outside the part."""
    for i in range(chain.half.shape[0]):
        for side in range(2):
            tension[i, side] = moment[i, side] = 0.0
            if not stack_used(chain, i, side):
                continue
            for k in range(chain.area.shape[0]):
                force = state.stress[i, side, k] * chain.area[k] * chain.first[i, side, k] / state.fibre[i, side, k]
                tension[i, side] += force
                moment[i, side] += chain.offset[k] * force


@compiled
def edge_tension(chain: Chain, state: State) -> Vector:
    """Tension of every edge, mean of its two stacks, shape (e,). [N]"""
    n = chain.half.shape[0]
    tension, moment = np.zeros((n, 2)), np.zeros((n, 2))
    resultants(chain, state, tension, moment)
    answer = np.zeros(chain.length.shape[0])
    for e in range(answer.shape[0]):
        following = e + 1 if e + 1 < n else 0
        answer[e] = 0.5 * (tension[e, 1] + tension[following, 0])
    return answer


@compiled
def largest_plastic(chain: Chain, state: State, zone: int) -> float:
    """Largest plastic strain of any stack in a zone, mean over its area."""
    worst, total = 0.0, 0.0
    for area in chain.area:
        total += area
    for i in range(chain.half.shape[0]):
        for side in range(2):
            if stack_used(chain, i, side) and chain.zone[edge_of(chain, i, side)] == zone:
                mean = 0.0
                for k in range(chain.area.shape[0]):
                    mean += state.plastic[i, side, k] * chain.area[k] / total
                worst = max(worst, mean)
    return worst


@compiled
def girth(chain: Chain, x: Matrix) -> float:
    """Length of the chain. [mm]"""
    n, total = x.shape[0], 0.0
    for e in range(chain.length.shape[0]):
        j = e + 1 if e + 1 < n else 0
        total += math.hypot(x[j, 0] - x[e, 0], x[j, 1] - x[e, 1])
    return total


@compiled
def soften(state: State) -> None:
    """Take stress, plastic strain and back stress away: what an anneal leaves, at the present shape."""
    state.stress[:] = 0.0
    state.plastic[:] = 0.0
    state.back[:] = 0.0
