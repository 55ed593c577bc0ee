"""The arrays the compiled loops work on. mm, N, MPa, rad.

A chain of n nodes; edge e joins node e to node e + 1 (a closed chain: the last node to node 0). A stack is one side of
a node, side 0 towards the node before, side 1 towards the node after; its k fibres run over half of that side's edge.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.flow import Vector

Matrix = NDArray[np.float64]
Cube = NDArray[np.float64]
Counts = NDArray[np.int64]

NO_SEGMENT = -1


class Chain(NamedTuple):
    """What does not change: the cut-up hoop.

    offset, area : (k,). length : edges before sizing, (e,). first : fibre lengths before sizing, (n, 2, k).
    half : length a node stands for, (n,). share : part of a node's turn that each stack takes, (n, 2). zone : row of
    laws and metals of each edge, (e,). laws (2, m), metals (2, 6). closed : whether edge n-1 leads back to node 0;
    else node 0 slides on the x axis and node n-1 on the ray at `span`. place : row block of a node in the band, (n,).
    reach : half width of the band. sheet : [thickness, height of the axis over the segments, radius].
    """

    offset: Vector
    area: Vector
    length: Vector
    first: Cube
    half: Vector
    share: Matrix
    zone: Counts
    laws: Matrix
    metals: Matrix
    closed: bool
    span: float
    place: Counts
    reach: int
    sheet: Vector


class State(NamedTuple):
    """What changes: nodes x (n, 2); fibres lf, stress, plastic, back (n, 2, k); drag and arc place of the node on its
    segment (n,), the segment (n,), and the height of the axis over the segment face (n,)."""

    x: Matrix
    fibre: Cube
    stress: Cube
    plastic: Cube
    back: Cube
    drag: Vector
    along: Vector
    segment: Counts
    height: Vector


class Tool(NamedTuple):
    """The segments at one position. figures : [N, turned radius, half angle of the arc, edge radius, friction, index].
    out : how far each stands out from the position in which it was turned, (N,). normal, drag : contact stiffness per
    length of hoop [N/mm2]; normal 0 takes the segments away."""

    figures: Vector
    out: Vector
    normal: float
    drag: float


class Work(NamedTuple):
    """Scratch of the solver: band (2n, 3 reach + 1), right (2n,), contact forces on the nodes (n, 2)."""

    band: Matrix
    right: Vector
    push: Matrix


def copied(state: State) -> State:
    """A state of its own."""
    return State(
        x=state.x.copy(),
        fibre=state.fibre.copy(),
        stress=state.stress.copy(),
        plastic=state.plastic.copy(),
        back=state.back.copy(),
        drag=state.drag.copy(),
        along=state.along.copy(),
        segment=state.segment.copy(),
        height=state.height.copy(),
    )
