"""Stresses of a solved shell stack: by element on both faces, and the hoop stress of the middle at nodes. MPa.

Element means lose about beta h/2 of a hoop stress that peaks at a node; at nodes it is E (u_r/r - e) + nu sigma_s.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.shell_stack import ShellStack

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class StackStress:
    """Stresses of one strand.

    s : middle of each element, along the strand, shape (m,). along, hoop : of the middle surface, (m,). bend_along,
    bend_hoop : what bending adds on the left face (and takes on the right), (m,). mises : larger of both faces, (m,).
    node_hoop : of the middle surface at nodes, shape (m + 1,). [MPa]
    """

    s: Vector
    along: Vector
    hoop: Vector
    bend_along: Vector
    bend_hoop: Vector
    mises: Vector
    node_hoop: Vector


def stack_stress(
    stack: ShellStack, moved: Vector, strain: Vector, curvature: Vector | None = None
) -> tuple[StackStress, ...]:
    """Stresses of every strand.

    Parameters
    ----------
    moved : Vector
        From `ShellStack.displaced`, shape (N, 3).
    strain, curvature : Vector
        The free strain and curvature it was solved for, shape (N,).
    """
    first = stack.elements
    u = np.concatenate((moved[first], moved[first + 1]), axis=1)
    measured = np.einsum("eki,ei->ek", stack.rows, u)
    free = 0.5 * (strain[first] + strain[first + 1])
    bend = np.zeros_like(strain) if curvature is None else curvature
    kink = 0.5 * (bend[first] + bend[first + 1])
    nu = stack.poisson
    plate = stack.young / (1.0 - nu**2)
    eps_s, eps_t = measured[:, 0] - free, measured[:, 1] - free
    kap_s, kap_t = measured[:, 2] - kink, measured[:, 3] - kink
    sheet = np.concatenate([np.full(s.nodes - 1, s.thickness) for s in stack.strands])
    along, hoop = plate * (eps_s + nu * eps_t), plate * (eps_t + nu * eps_s)
    b_along, b_hoop = (0.5 * sheet * plate * k for k in (kap_s + nu * kap_t, kap_t + nu * kap_s))
    mises = np.maximum(_mises(along + b_along, hoop + b_hoop), _mises(along - b_along, hoop - b_hoop))
    found, begin = [], 0
    for strand, offset in zip(stack.strands, stack.offsets, strict=True):
        end = begin + strand.nodes - 1
        own = slice(begin, end)
        node = slice(int(offset), int(offset) + strand.nodes)
        young = _at_nodes(stack.young[own])
        hoop_at = young * (moved[node, 0] / strand.r - strain[node]) + nu * _at_nodes(along[own])
        middle = 0.5 * (strand.s[1:] + strand.s[:-1])
        found.append(StackStress(middle, along[own], hoop[own], b_along[own], b_hoop[own], mises[own], hoop_at))
        begin = end
    return tuple(found)


def _mises(one: Vector, two: Vector) -> Vector:
    return np.asarray(np.sqrt(one**2 - one * two + two**2))


def _at_nodes(values: Vector) -> Vector:
    """Element values carried to nodes: mean of the neighbours, the end ones as they are."""
    return np.concatenate((values[:1], 0.5 * (values[1:] + values[:-1]), values[-1:]))
