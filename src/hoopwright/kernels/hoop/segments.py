"""What the segments carry: forces, pressures, edge loads, and their history. mm, N, MPa, rad."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import NO_SEGMENT, Counts, Matrix
from hoopwright.kernels.hoop.contact import foot
from hoopwright.kernels.hoop.measure import Bench
from hoopwright.kernels.hoop.result import LoadHistory, RingState, SegmentLoad
from hoopwright.kernels.hoop.stretch import Track
from hoopwright.kernels.hoop.unfold import Unfolding, edge_at, segment_of
from hoopwright.kernels.hoop.walk import Walk

Flags = NDArray[np.bool_]

EDGE_REACH = 2.0
"""Load within so many thicknesses of the start of the edge rounding, and on the rounding, counts as edge load."""


def segment_forces(unfolding: Unfolding, x: Matrix, push: Matrix, index: float, count: int) -> tuple[Matrix, Matrix]:
    """Radial and sideways force of each segment on the hoop, outward and counter-clockwise positive, shape (k, N) each,
    for states (k, n, 2) with nodal forces (k, n, 2). [N]"""
    segment = segment_of(unfolding.places(x), index, count)
    force = unfolding.forces(push)
    middle = index + segment * (2.0 * math.pi / count)
    co, si = np.cos(middle), np.sin(middle)
    row = np.arange(x.shape[0])[:, None]
    radial, side = np.zeros((x.shape[0], count)), np.zeros((x.shape[0], count))
    np.add.at(radial, (row, segment), force[..., 0] * co + force[..., 1] * si)
    np.add.at(side, (row, segment), force[..., 1] * co - force[..., 0] * si)
    return radial, side


def history(bench: Bench, track: Track, index: float) -> LoadHistory:
    """Tension over the slots and force on the segments, from first touch to the end of the hold."""
    pitch = 2.0 * math.pi / bench.count
    slots = np.array([index + (j + 0.5) * pitch for j in range(bench.count)])
    edges = edge_at(bench.unfolding, slots)
    radial, _side = segment_forces(bench.unfolding, np.array(track.x), np.array(track.push), index, bench.count)
    return LoadHistory(
        position_mm=np.array(track.position),
        gap_tension_N=np.array(track.tension)[:, edges],
        segment_force_N=radial,
        mean_strain_log=np.log(np.array(track.girth) / bench.girth_before),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Bearing:
    """Every node of the hoop on its segment, (m,) each: segment, normal force [N], length it stands for [mm], and how
    far its foot is from the middle of the segment [rad], counter-clockwise positive."""

    segment: Counts
    normal: Vector
    length: Vector
    away: Vector

    def summed(self, values: Vector, pick: Flags, count: int) -> Vector:
        """Sum of the picked values on each segment, shape (N,)."""
        answer = np.zeros(count)
        np.add.at(answer, self.segment, np.where(pick, values, 0.0))
        return answer


def bearing(bench: Bench, walk: Walk, index: float) -> Bearing:
    """Where and how hard the hoop bears at the present state."""
    chain, whole = bench.chain, bench.unfolding
    n = chain.half.size
    normal, away = np.zeros(n), np.zeros(n)
    tool = walk.tool(float(walk.figures[1]), 1.0)._replace(out=walk.out)
    for i in np.flatnonzero(walk.state.segment != NO_SEGMENT):
        x, y = walk.state.x[i]
        _s, _g, nx, ny, _r, along, _d = foot(tool, x, y, walk.state.height[i], chain.sheet[1])
        normal[i] = walk.push[i, 0] * nx + walk.push[i, 1] * ny
        away[i] = along / (walk.figures[1] + chain.sheet[1])
    segment = segment_of(whole.places(walk.state.x), index, bench.count)
    return Bearing(
        segment, normal[whole.node] * whole.weight, chain.half[whole.node] * whole.weight, away[whole.node] * whole.flip
    )


def edge_loads(bear: Bearing, near_edge: Flags, width: float, count: int) -> Vector:
    """Larger of the two edge loads of each segment, per width, shape (N,). [N/mm]"""
    sides = [bear.summed(bear.normal, near_edge & (bear.away * side > 0.0), count) for side in (-1.0, 1.0)]
    return np.maximum(*sides) / width


def segment_load(bench: Bench, walk: Walk, index: float, ring: RingState) -> SegmentLoad:
    """Loads at the end of a hit, `ring` being the loaded state."""
    whole, width, count = bench.unfolding, bench.section.width_mm, bench.count
    order = np.searchsorted(whole.material, ring.material_rad)
    radial, side = segment_forces(whole, walk.state.x[None], walk.push[None], index, count)
    bear = bearing(bench, walk, index)
    inner = float(walk.figures[2]) - EDGE_REACH * bench.section.thickness_mm / float(walk.figures[1])
    arc = (np.abs(bear.away) < inner) & (bear.normal > 0.0)
    length = bear.summed(bear.length, arc, count)
    mean = bear.summed(bear.normal, arc, count) / np.where(length > 0.0, length, 1.0) / width
    pressure = bear.normal / bear.length / width
    peak = np.zeros(count)
    np.maximum.at(peak, bear.segment, np.where(arc, pressure, 0.0))
    drag = walk.state.drag[whole.node]
    bound = walk.figures[4] * bear.normal / bear.length
    touched = bear.length * (bear.normal > 0.0)
    slides = np.abs(drag) >= bound * (1.0 - 1e-6)
    return SegmentLoad(
        angle_rad=np.array([index + j * 2.0 * math.pi / count for j in range(count)]),
        force_N=radial[0],
        side_N=side[0],
        pressure_MPa=mean,
        peak_MPa=peak,
        edge_N_per_mm=edge_loads(bear, np.abs(bear.away) >= inner, width, count),
        node_pressure_MPa=pressure[order],
        node_friction_MPa=(-drag * whole.flip / width)[order],
        share_sliding=float(touched[slides].sum() / touched.sum()),
    )
