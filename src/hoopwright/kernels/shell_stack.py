"""Linear thin shells of revolution, several of them tied at circles, under free (thermal) strain. mm, N, MPa, rad.

Two-node straight elements, shear-flexible, one integration point. Unknowns at a node: u_r, u_z, rotation theta.
Strains of an element of length l, c = dr/l, s = dz/l, means m:

    eps_s = (c du_r + s du_z)/l - e       eps_t = u_r,m/r_m - e
    kap_s = dtheta/l - k                  kap_t = c theta_m/r_m - k        gam = (-s du_r + c du_z)/l - theta_m

Membrane stiffness E t/(1-nu^2) [1 nu; nu 1], bending the same with t^3/12, shear 5/6 G t. Free strain e per node; free
curvature k = alpha dT/t per node for a difference of temperature through the wall. Ties are rigid links whose offset
takes part in the free strain (`shell_links`). Linear: large rotations, plasticity and buckling are not in it.

Source: thin-shell theory (Timoshenko, from memory), element derived here. Checked in
tests/exact/test_shell_stack_exact.py (uniform strain is free of stress, cylinders joined at a step) and against the
general finite-element library.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix
from scipy.sparse.linalg import SuperLU, splu

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.shell_links import Hold, Link, reduction
from hoopwright.kernels.shell_stack_mesh import Strand
from hoopwright.kernels.shell_weld import weld_terms

Vector = NDArray[np.float64]

RESULTANTS = 5
LOOSE = "the shells are not held along the axis"


@dataclass(frozen=True, slots=True, eq=False)
class ShellStack:
    """Strands tied to each other, assembled and factored: solve it for as many free strains as wanted.

    strands : meridians, nodes of all of them numbered on (N in all). offsets : first node of each strand.
    young : of each element, shape (M,). poisson : one for all. elements : first node of each, shape (M,).
    """

    strands: tuple[Strand, ...]
    offsets: NDArray[np.int64]
    elements: NDArray[np.int64]
    young: Vector
    poisson: float
    rows: Vector
    elastic: Vector
    stiffness: csc_matrix
    basis: csc_matrix
    shift: csc_matrix
    held: Vector
    free: NDArray[np.int64]
    factor: SuperLU
    weld_forces: csc_matrix

    @property
    def nodes(self) -> int:
        """Nodes of all strands."""
        return int(sum(strand.nodes for strand in self.strands))

    def node(self, strand: int, s: float) -> int:
        """Number of the node of a strand nearest to a distance along it."""
        return int(self.offsets[strand]) + self.strands[strand].node_at(s)

    def displaced(self, strain: Vector, curvature: Vector | None = None, holds: float = 1.0) -> Vector:
        """Displacements under free strain.

        Parameters
        ----------
        strain : Vector
            Free strain of each node, shape (N,) or (N, q) for q cases at once.
        curvature : Vector, optional
            Free curvature of each node, same shape. [1/mm]
        holds : float
            Share of the held displacements that is applied (0 for influence rows).

        Returns
        -------
        Vector
            u_r, u_z, theta of each node, shape (N, 3) or (N, 3, q). [mm, mm, rad]

        Raises
        ------
        InputError
            Wrong shape, or a value that is not finite.
        """
        cases = np.asarray(strain, dtype=np.float64)
        single = cases.ndim == 1
        cases = cases.reshape(self.nodes, -1) if cases.shape[0] == self.nodes else cases
        if cases.shape[0] != self.nodes or not np.all(np.isfinite(cases)):
            raise InputError("free strain", cases.shape, "", f"finite, one for each of {self.nodes} nodes", "fill it")
        bend = np.zeros_like(cases) if curvature is None else np.asarray(curvature, float).reshape(cases.shape)
        shifted = np.asarray(self.shift @ cases)
        load = self._thermal_load(cases, bend)
        pull = self.basis.T @ (load - self.stiffness @ shifted)
        reduced = self.basis.T @ (self.stiffness @ self.basis)
        known = holds * self.held
        pull = pull - (reduced @ known)[:, None]
        q = np.repeat(known[:, None], cases.shape[1], axis=1)
        q[self.free] = self.factor.solve(np.ascontiguousarray(pull[self.free]))
        full = self.basis @ q + shifted
        if not np.all(np.isfinite(full)):
            raise NotConverged("the shell has no answer", None, "look for parts that nothing holds")
        shaped = np.asarray(full).reshape(self.nodes, 3, -1)
        return shaped[:, :, 0] if single else shaped

    def node_forces(self, moved: Vector, strain: Vector) -> Vector:
        """What ties and holds do to each node, per radian, shape (N, 3). [N, N, N mm]

        Internal forces less those of the free strain: nil but at followers, leaders and held nodes. On a follower it is
        the force of its tie (and less that of ties it leads itself).

        Parameters
        ----------
        moved : from `displaced`, shape (N, 3). strain : the free strain it was solved for, shape (N,).
        """
        load = self._thermal_load(strain[:, None], np.zeros((self.nodes, 1)))[:, 0]
        return np.asarray((self.stiffness @ moved.ravel() - load).reshape(self.nodes, 3))

    def _thermal_load(self, strain: Vector, curvature: Vector) -> Vector:
        first = self.elements
        mean = 0.5 * (strain[first] + strain[first + 1])
        bend = 0.5 * (curvature[first] + curvature[first + 1])
        own = np.zeros((first.size, RESULTANTS, strain.shape[1]))
        own[:, 0] = own[:, 1] = mean
        own[:, 2] = own[:, 3] = bend
        forces = np.einsum("eki,ekl,elq->eiq", self.rows, self.elastic, own)
        load = np.zeros((3 * self.nodes, strain.shape[1]))
        places = 3 * first[:, None] + np.arange(6)[None, :]
        np.add.at(load, places.ravel(), forces.reshape(-1, strain.shape[1]))
        return load + np.asarray(self.weld_forces @ strain)


def shell_stack(
    strands: Sequence[Strand], young: Sequence[Vector | float], poisson: float, links: Sequence[Link],
    holds: Sequence[Hold],
) -> ShellStack:  # fmt: skip
    """Assemble and factor.

    Parameters
    ----------
    strands : meridians.
    young : Young's modulus of each strand, one value or one an element. [MPa]
    poisson : Poisson's ratio.
    links : rigid ties between nodes of strands, whose offsets take part in the free strain.
    holds : displacements held at nodes.

    Raises
    ------
    InputError
        A strand without two nodes, a modulus not above 0, a link or hold off the strands.
    NotConverged
        Something can move freely: the stiffness has no inverse.
    """
    counts = [s.nodes for s in strands]
    if not counts or min(counts) < 2:
        raise InputError("strands", counts, "nodes", "two or more each", "give each meridian a length")
    offsets = np.concatenate(([0], np.cumsum(counts)[:-1])).astype(np.int64)
    elements = np.concatenate([o + np.arange(n - 1) for o, n in zip(offsets, counts, strict=True)]).astype(np.int64)
    each = zip(young, counts, strict=True)
    moduli = np.concatenate([np.broadcast_to(np.asarray(e, float), (n - 1,)) for e, n in each])
    if not np.all(moduli > 0.0):
        raise InputError("Young's modulus", float(np.min(moduli)), "MPa", "above 0", "read it from the card")
    rows, elastic = _element_matrices(strands, moduli, poisson)
    blocks = np.einsum("eki,ekl,elj->eij", rows, elastic, rows)
    pull = np.einsum("eki,ek->ei", rows, elastic[:, :, 0] + elastic[:, :, 1])
    stiffer, weld_forces = weld_terms(strands, links, blocks, pull, moduli, poisson)
    stiffness = _assembled(blocks, elements, int(sum(counts))) + stiffer
    basis, shift, held, free = reduction(strands, offsets, links, holds)
    reduced = (basis.T @ stiffness @ basis).tocsc()
    try:
        factor = splu(reduced[free][:, free].tocsc())
    except RuntimeError:
        raise NotConverged(LOOSE, None, "hold one part axially") from None
    pivots = np.abs(factor.U.diagonal())
    # a free motion leaves a pivot of the size of rounding; bending of thin sheet is some 1e-6 of stretching
    if float(pivots.min()) < 1e-12 * float(pivots.max()):
        raise NotConverged(LOOSE, None, "hold one part axially")
    return ShellStack(
        tuple(strands), offsets, elements, moduli, poisson, rows, elastic, stiffness, basis, shift, held, free, factor,
        weld_forces,
    )  # fmt: skip


def _element_matrices(strands: Sequence[Strand], young: Vector, poisson: float) -> tuple[Vector, Vector]:
    """Strain rows (M, 5, 6) and stiffness of resultants times r l (M, 5, 5)."""
    dr = np.concatenate([np.diff(s.r) for s in strands])
    dz = np.concatenate([np.diff(s.z) for s in strands])
    mid = np.concatenate([0.5 * (s.r[1:] + s.r[:-1]) for s in strands])
    sheet = np.concatenate([np.full(s.nodes - 1, s.thickness) for s in strands])
    size = np.hypot(dr, dz)
    c, s_ = dr / size, dz / size
    rows = np.zeros((size.size, RESULTANTS, 6))
    for side, sign in ((0, -1.0), (3, 1.0)):
        rows[:, 0, side], rows[:, 0, side + 1] = sign * c / size, sign * s_ / size
        rows[:, 1, side] = 0.5 / mid
        rows[:, 2, side + 2] = sign / size
        rows[:, 3, side + 2] = 0.5 * c / mid
        rows[:, 4, side], rows[:, 4, side + 1] = -sign * s_ / size, sign * c / size
        rows[:, 4, side + 2] = -0.5
    plate = young * sheet / (1.0 - poisson**2)
    weight = mid * size
    elastic = np.zeros((size.size, RESULTANTS, RESULTANTS))
    for at, stiff in ((0, plate), (2, plate * sheet**2 / 12.0)):
        elastic[:, at, at] = elastic[:, at + 1, at + 1] = weight * stiff
        elastic[:, at, at + 1] = elastic[:, at + 1, at] = weight * stiff * poisson
    elastic[:, 4, 4] = weight * 5.0 / 6.0 * young / (2.0 * (1.0 + poisson)) * sheet
    return rows, elastic


def _assembled(blocks: Vector, elements: NDArray[np.int64], nodes: int) -> csc_matrix:
    places = 3 * elements[:, None] + np.arange(6)[None, :]
    down = np.repeat(places, 6, axis=1).ravel()
    across = np.tile(places, (1, 6)).ravel()
    return coo_matrix((blocks.ravel(), (down, across)), shape=(3 * nodes, 3 * nodes)).tocsc()
