"""From section, shape and weld to the chain and its first state. mm, N, MPa, rad."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import NO_SEGMENT, Chain, Counts, Matrix, State, Work
from hoopwright.kernels.hoop.inputs import Fineness, Hit, HoopSection, InitialShape, SegmentTool, Weld
from hoopwright.kernels.hoop.mesh import TWO_PI, breakpoints, edge_lengths, fine_intervals, node_angles
from hoopwright.kernels.hoop.outline import outline
from hoopwright.kernels.hoop.solve import turn_of
from hoopwright.kernels.hoop.symmetry import Part


def folded(count: int) -> Counts:
    """Row block of each node of a closed chain, numbered 0, n - 1, 1, n - 2, ... so that neighbours lie close."""
    place = np.zeros(count, dtype=np.int64)
    order = [i // 2 if i % 2 == 0 else count - 1 - i // 2 for i in range(count)]
    place[order] = np.arange(count)
    return place


def padded(rows: Sequence[Vector]) -> Matrix:
    """Vectors of unlike length as the rows of one matrix, filled up with zeros."""
    matrix = np.zeros((len(rows), max(row.size for row in rows)))
    for i, row in enumerate(rows):
        matrix[i, : row.size] = row
    return matrix


def material_angles(
    section: HoopSection,
    tool: SegmentTool,
    shape: InitialShape,
    weld: Weld | None,
    hits: Sequence[Hit],
    part: Part,
    fineness: Fineness,
) -> Vector:
    """Angle of each node in the part's frame, shape (n,)."""
    near, far = edge_lengths(fineness, section, shape, part)
    angles = node_angles(
        fine_intervals(tool, shape, weld, hits, part), breakpoints(shape, weld, part),
        shape.radius_mm, near, far, fineness.growth,
    )  # fmt: skip
    return angles[:-1] if part.closed else angles


def weld_edges(angles: Vector, weld: Weld | None, radius: float, part: Part) -> Counts:
    """Row of law and metal of each edge: 0 parent, 1 weld, shape (e,)."""
    following = np.append(angles[1:], angles[0] + TWO_PI) if part.closed else angles[1:]
    middle = 0.5 * (angles[: following.size] + following)
    if weld is None:
        return np.zeros(middle.size, dtype=np.int64)
    away = np.abs((middle + part.turn_rad - weld.angle_rad + math.pi) % TWO_PI - math.pi)
    return (away < 0.5 * weld.width_mm / radius).astype(np.int64)


def build(
    section: HoopSection, shape: InitialShape, weld: Weld | None, part: Part, angles: Vector
) -> tuple[Chain, State]:
    """Chain and first state for nodes at `angles` of the part's frame."""
    n, k = angles.size, len(section.offsets_mm)
    radius = outline(shape, angles + part.turn_rad)
    x = np.column_stack([radius * np.cos(angles), radius * np.sin(angles)])
    closing = np.vstack([x, x[:1]]) if part.closed else x
    length = np.hypot(*np.diff(closing, axis=0).T)
    before = np.concatenate([length[-1:], length[:-1]]) if part.closed else np.concatenate([length[:1], length])
    after = length if part.closed else np.concatenate([length, length[-1:]])
    metals = [section.metal] + ([weld.metal] if weld is not None else [])
    chain = Chain(
        offset=np.array(section.offsets_mm),
        area=np.array(section.areas_mm2),
        length=length,
        first=np.zeros((n, 2, k)),
        half=0.5 * (before + after),
        share=np.column_stack([before, after]) / (before + after)[:, None],
        zone=weld_edges(angles, weld, shape.radius_mm, part),
        laws=padded([m.law() for m in metals]),
        metals=np.array([m.vector() for m in metals]),
        closed=part.closed,
        span=part.span_rad,
        place=folded(n) if part.closed else np.arange(n),
        reach=9 if part.closed else 5,
        sheet=np.array([section.thickness_mm, section.axis_height_mm, shape.radius_mm]),
    )
    if not part.closed:
        chain.half[[0, -1]] *= 0.5
    turn = np.array([turn_of(chain, x, i) for i in range(n)])
    sides = np.stack([0.5 * before, 0.5 * after], axis=1)
    chain.first[:] = sides[:, :, None] + chain.share[:, :, None] * turn[:, None, None] * chain.offset
    return chain, first_state(chain, section, weld, x)


def first_state(chain: Chain, section: HoopSection, weld: Weld | None, x: Matrix) -> State:
    """State before the first hit: what earlier steps left in the fibres, nothing touched."""
    n = x.shape[0]
    edge = np.arange(chain.length.size)
    zone = np.stack([chain.zone[(np.arange(n) - 1) % edge.size], chain.zone[np.arange(n) % edge.size]], axis=1)
    if not chain.closed:
        zone[-1, 1] = zone[-1, 0]
        zone[0, 0] = zone[0, 1]
    rows = [section.fibre_state().rows()]
    if weld is not None:
        rows.append(weld.state.rows() if weld.state is not None else np.zeros_like(rows[0]))
    fibres = np.array(rows)[zone]
    return State(
        x=x,
        fibre=chain.first.copy(),
        stress=np.ascontiguousarray(fibres[:, :, 0]),
        plastic=np.ascontiguousarray(fibres[:, :, 1]),
        back=np.ascontiguousarray(fibres[:, :, 2]),
        drag=np.zeros(n),
        along=np.zeros(n),
        segment=np.full(n, NO_SEGMENT, dtype=np.int64),
        height=np.full(n, section.axis_height_mm),
    )


def scratch(chain: Chain) -> Work:
    """Work arrays of the solver for this chain."""
    n = chain.half.size
    return Work(np.zeros((2 * n, 3 * chain.reach + 1)), np.zeros(2 * n), np.zeros((n, 2)))
