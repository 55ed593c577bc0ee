"""From a state of the chain to what a person reads: the ring, its segments' loads, its fibres. mm, N, MPa, rad."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import Chain, Matrix, State
from hoopwright.kernels.hoop.inputs import FibreState, HoopSection
from hoopwright.kernels.hoop.ledger import girth, resultants
from hoopwright.kernels.hoop.result import RingState
from hoopwright.kernels.hoop.roundness import outline_of
from hoopwright.kernels.hoop.symmetry import Part
from hoopwright.kernels.hoop.unfold import Unfolding

TWO_PI = 2.0 * math.pi


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What stays the same from one measurement to the next.

    girth_before : of the chain before the first hit [mm]; the true girth was 2 pi times the radius, and the ratio of
    chain girths carries over, which takes the chord error out.
    """

    chain: Chain
    section: HoopSection
    part: Part
    unfolding: Unfolding
    girth_before: float
    count: int


def edge_lengths_now(chain: Chain, x: Matrix) -> Vector:
    """Length of every edge, shape (e,). [mm]"""
    following = np.vstack([x, x[:1]]) if chain.closed else x
    return np.hypot(*np.diff(following, axis=0).T)


def at_nodes(chain: Chain, per_edge: Vector) -> Vector:
    """Sum of the two edges at each node, of the one at a mirror ray, shape (n,)."""
    if chain.closed:
        return per_edge + np.roll(per_edge, 1)
    return np.concatenate([[0.0], per_edge]) + np.concatenate([per_edge, [0.0]])


def section_forces(chain: Chain, state: State) -> tuple[Vector, Vector]:
    """Section tension [N] and moment [N mm] at each node, mean of its stacks, shape (n,)."""
    n = chain.half.size
    tension, moment = np.zeros((n, 2)), np.zeros((n, 2))
    resultants(chain, state, tension, moment)
    stacks = np.full(n, 2.0)
    if not chain.closed:
        stacks[[0, -1]] = 1.0
    return tension.sum(axis=1) / stacks, moment.sum(axis=1) / stacks


def weld_strain(chain: Chain, now: Vector) -> float | None:
    """Mean strain of the weld zone; None without one."""
    weld = chain.zone == 1
    return math.log(float(now[weld].sum() / chain.length[weld].sum())) if weld.any() else None


def ring_state(bench: Bench, state: State, index: float) -> RingState:
    """The hoop as it stands; lobes and flats counted against segments with segment 0 at the angle `index`."""
    chain, whole = bench.chain, bench.unfolding
    places = whole.places(state.x)
    outline = outline_of(places[:, 0], places[:, 1])
    order = np.arange(2, max(3 * bench.count, 12) + 1)
    pitch = TWO_PI / bench.count
    slots = np.array([index + (j + 0.5) * pitch for j in range(bench.count)])
    now = edge_lengths_now(chain, state.x)
    strain = np.log(at_nodes(chain, now) / at_nodes(chain, chain.length))
    tension, moment = section_forces(chain, state)
    node = whole.node[outline.order]
    return RingState(
        mean_diameter_mm=2.0 * float(chain.sheet[2]) * girth(chain, state.x) / bench.girth_before,
        peak_to_valley_mm=outline.peak_to_valley,
        order=order,
        amplitude_mm=outline.amplitudes(order),
        phase_rad=outline.phases(order),
        lobe_mm=outline.in_step(bench.count, index),
        flat_mm=outline.flats(slots, pitch),
        angle_rad=outline.angle,
        radius_mm=outline.radius,
        x_mm=places[outline.order, 0],
        y_mm=places[outline.order, 1],
        material_rad=whole.material[outline.order],
        strain_log=strain[node],
        thickness_mm=bench.section.thickness_mm * np.exp(-0.5 * strain[node]),
        tension_N=tension[node],
        moment_Nmm=moment[node],
        weld_strain_log=weld_strain(chain, now),
    )


def fibre_means(chain: Chain, state: State) -> list[FibreState]:
    """State of each fibre, its mean round the hoop: in the parent, then in the weld (where there is none, the
    parent)."""
    n, edges = chain.half.size, chain.length.size
    edge = np.stack([(np.arange(n) - 1) % edges, np.arange(n) % edges], axis=1)
    length = chain.length[edge]
    if not chain.closed:
        length[0, 0] = length[-1, 1] = 0.0
    means = []
    for zone in (0, int(chain.zone.max())):
        weight = length * (chain.zone[edge] == zone)
        rows = [np.einsum("is,isk->k", weight, v) / weight.sum() for v in (state.stress, state.plastic, state.back)]
        stress, plastic, back = (tuple(float(v) for v in row) for row in rows)
        means.append(FibreState(stress, plastic, back))
    return means
