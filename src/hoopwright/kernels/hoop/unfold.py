"""The whole hoop from the part that was worked on, by mirroring and turning. mm, N, rad."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import Counts, Matrix
from hoopwright.kernels.hoop.symmetry import Part


@dataclass(frozen=True, slots=True, eq=False)
class Unfolding:
    """m nodes of the whole hoop, in the order of their angle of the hoop.

    node, edge : node of the part, and edge of the part that leads on from it, (m,). flip : -1 in a mirrored image,
    (m,). turn : turn of the image, (m,). weight : 2 where a node of the part stands on a mirror ray, (m,). material :
    angle of the hoop, (m,), rising, from within the first image on.
    """

    node: Counts
    edge: Counts
    flip: Vector
    turn: Vector
    weight: Vector
    material: Vector

    def places(self, x: Matrix) -> Matrix:
        """Vectors (..., n, 2) of the part's nodes as vectors (..., m, 2) of the hoop's, in the frame of the machine."""
        u, v = x[..., self.node, 0], self.flip * x[..., self.node, 1]
        co, si = np.cos(self.turn), np.sin(self.turn)
        return np.stack([co * u - si * v, si * u + co * v], axis=-1)

    def forces(self, push: Matrix) -> Matrix:
        """Nodal forces (..., n, 2) as forces (..., m, 2): both halves of a node on a mirror ray, whose sideways parts
        cancel."""
        force = self.places(push) * self.weight[:, None]
        on_ray = self.weight > 1.0
        along = np.stack([np.cos(self.material), np.sin(self.material)], axis=-1)[on_ray]
        pull = np.sum(force[..., on_ray, :] * along, axis=-1)
        force[..., on_ray, :] = pull[..., None] * along
        return force


def unfold(part: Part, angles: Vector) -> Unfolding:
    """Unfolding of a part whose nodes stand at `angles` (n,) of the part's frame."""
    n = angles.size
    if part.closed:
        every = np.arange(n)
        return Unfolding(every, every, np.ones(n), np.full(n, part.turn_rad), np.ones(n), angles + part.turn_rad)
    node = np.concatenate([np.arange(n - 1, 0, -1), np.arange(n - 1)])
    edge = np.concatenate([np.arange(n - 2, -1, -1), np.arange(n - 1)])
    flip = np.concatenate([-np.ones(n - 1), np.ones(n - 1)])
    repeats = part.images // 2
    turn = part.turn_rad + np.repeat(np.arange(repeats) * 2.0 * part.span_rad, node.size)
    node, edge, flip = np.tile(node, repeats), np.tile(edge, repeats), np.tile(flip, repeats)
    weight = np.where((node == 0) | (node == n - 1), 2.0, 1.0)
    return Unfolding(node, edge, flip, turn, weight, turn + flip * angles[node])


def segment_of(places: Matrix, index: float, count: int) -> Counts:
    """Segment under each place (..., 2), segment 0 standing at the angle `index`."""
    pitch = 2.0 * math.pi / count
    number = np.floor((np.arctan2(places[..., 1], places[..., 0]) - index) / pitch + 0.5)
    return np.asarray(number % count, dtype=np.int64)


def edge_at(unfolding: Unfolding, angle: Vector) -> Counts:
    """Edge of the part over each angle of the hoop, any shape."""
    start = float(unfolding.material[0])
    wrapped = start + (angle - start) % (2.0 * math.pi)
    return unfolding.edge[np.searchsorted(unfolding.material, wrapped, side="right") - 1]
