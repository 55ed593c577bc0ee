"""A lap weld of stated width between two shells: what the solid round it does otherwise than a tie. mm, N, MPa, rad.

A tie joins two mid-surfaces at a point. A real weld holds both sheets together over its width (stiffer) and turns in
the metal about its narrow foot (softer); which wins depends on the width. The stretch of both sheets to some 2.5
thicknesses on either side is therefore taken as an axisymmetric solid, reduced to its four cuts, and put in the place
of the same stretch of shell:

    cut forces: N, M, Q work on the mean, the linear share and the parabola-weighted mean of the displacements
    [K C'; C 0] [u; l] = [f; q]        S = -dl/dq        g = l(f)        added to the stack: S - S_shell, g - g_shell

The weights are those of a bar's own stress over its depth, so a cut in a straight stretch does no harm. Derived here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import bmat, coo_matrix
from scipy.sparse.linalg import splu

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.shell_stack_mesh import Strand
from hoopwright.kernels.solid_rings import grid_elements, section_weights, sheet_nodes, solid_matrices

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]

REACH = 2.5
"""Cuts lie this many thicknesses from the weld; edge effects of a solid die out within about one."""
LAYERS = 4
LEAST_GAP = 0.01
"""Least height of a weld's foot between the faces, in thicknesses."""


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """One sheet of the cell. nodes : strand nodes from `first` to `last`; cuts : those of both ends that go on."""

    strand: Strand
    weld: int
    first: int
    last: int
    young: float

    @property
    def cuts(self) -> tuple[int, ...]:
        """Strand nodes at which the sheet goes on beyond the cell."""
        return tuple(k for k in (self.first, self.last) if 0 < k < self.strand.nodes - 1)


def stretch_of(strand: Strand, weld: int, young: float, others: tuple[int, ...]) -> Stretch:
    """The stretch of a strand about its weld node: to the cuts, to the edge, or half-way to another weld."""
    s, at = strand.s, float(strand.s[weld])
    reach = REACH * strand.thickness
    for other in others:
        reach = min(reach, 0.45 * abs(float(s[other]) - at))
    first = 0 if at - s[0] < reach + 0.5 * strand.thickness else strand.node_at(at - reach)
    last = strand.nodes - 1 if s[-1] - at < reach + 0.5 * strand.thickness else strand.node_at(at + reach)
    return Stretch(strand, weld, int(first), int(last), young)


@dataclass(frozen=True, slots=True, eq=False)
class WeldCell:
    """stiffness : of the cut unknowns u_r, u_z, theta of each cut, leader's cuts first, shape (c, c). forces : from a
    free strain of 1 at each node of both stretches, leader first, shape (c, n)."""

    stiffness: Vector
    forces: Vector


def weld_cell(lead: Stretch, follow: Stretch, width: float, poisson: float) -> WeldCell:
    """The solid of a weld and both sheets about it.

    Raises
    ------
    InputError
        A width that is not above 0 or reaches beyond the stretch; sheets that do not lie over each other.
    """
    require_positive("weld width", width, "mm")
    for one in (lead, follow):
        s = one.strand.s
        room = 2.0 * min(float(s[one.weld] - s[one.first]), float(s[one.last] - s[one.weld]))
        if width >= room:
            raise InputError("weld width", width, "mm", f"under {room:.2f}", "narrow it, or move the weld off the edge")
    mesh, grids = _meshed(lead, follow, width)
    r, z, young = np.concatenate(mesh.r), np.concatenate(mesh.z), np.concatenate(mesh.young)
    stiffness, unit = solid_matrices(r, z, np.concatenate(mesh.elements), young, poisson)
    strain_of = np.concatenate(mesh.shares)
    rows = [row for one, grid in zip((lead, follow), grids, strict=True) for row in _cut_rows(one, grid, r, z)]
    held = coo_matrix(
        (np.concatenate([v for _, v in rows]), (np.repeat(np.arange(len(rows)), [k.size for k, _ in rows]),
         np.concatenate([k for k, _ in rows]))), shape=(len(rows), 2 * r.size),
    ).tocsc()  # fmt: skip
    scale = float(young.max()) * float(r.mean())
    system = bmat([[stiffness / scale, held.T], [held, None]], format="csc")
    right = np.zeros((2 * r.size + len(rows), len(rows) + strain_of.shape[1]))
    right[2 * r.size :, : len(rows)] = np.eye(len(rows))
    right[: 2 * r.size, len(rows) :] = (unit @ strain_of) / scale
    tail = splu(system).solve(right)[2 * r.size :] * scale
    own = -0.5 * (tail[:, : len(rows)] + tail[:, : len(rows)].T)
    return WeldCell(own, tail[:, len(rows) :])


def _grid(one: Stretch, width: float) -> Vector:
    """Distances along the strand of the solid's nodes, quadratic elements: fine in the weld, growing to the cuts."""
    s = one.strand.s
    at, fine = float(s[one.weld]), 0.25 * width
    ends = [at - 0.5 * width, at - 0.25 * width, at, at + 0.25 * width, at + 0.5 * width]
    for edge, sense in ((float(s[one.first]), -1.0), (float(s[one.last]), 1.0)):
        room, size, steps = abs(edge - at) - 0.5 * width, fine, [0.0]
        while steps[-1] < room:
            steps.append(steps[-1] + size)
            size = min(1.35 * size, 0.5 * one.strand.thickness)
        out = at + sense * (0.5 * width + np.array(steps[1:]) * room / steps[-1])
        ends += out.tolist()
    corners = np.sort(np.array(ends))
    return np.sort(np.concatenate((corners, 0.5 * (corners[1:] + corners[:-1]))))


@dataclass(slots=True)
class _Mesh:
    """A solid under construction: nodes, elements, modulus and share of each strand node in the strain of each."""

    columns: int
    r: list[Vector]
    z: list[Vector]
    elements: list[Whole]
    young: list[Vector]
    shares: list[Vector]
    nodes: int = 0

    def add(self, r: Vector, z: Vector) -> Whole:
        """Numbers of new nodes, in their shape."""
        numbers = self.nodes + np.arange(r.size).reshape(r.shape)
        self.nodes += r.size
        self.r.append(r.ravel())
        self.z.append(z.ravel())
        return numbers

    def fill(self, grid: Whole, young: float, share: Vector) -> None:
        """Elements on a grid of nodes."""
        own = grid_elements(grid)
        self.elements.append(own)
        self.young.append(np.full(own.shape[0], young))
        self.shares.append(np.broadcast_to(share, (own.shape[0], self.columns)))


def _meshed(lead: Stretch, follow: Stretch, width: float) -> tuple[_Mesh, list[tuple[Whole, Vector, Vector]]]:
    sizes = [one.last - one.first + 1 for one in (lead, follow)]
    mesh = _Mesh(sum(sizes), [], [], [], [], [])
    away = np.array([follow.strand.r[follow.weld] - lead.strand.r[lead.weld],
                     follow.strand.z[follow.weld] - lead.strand.z[lead.weld]])  # fmt: skip
    sheets = 0.5 * (lead.strand.thickness + follow.strand.thickness)
    apart = float(np.hypot(*away))
    if apart < 0.5 * sheets:
        raise InputError("mid-surfaces at the weld", apart, "mm", f"about {sheets:g} apart", "lay one over the other")
    # sheets that touch or are pressed leave the foot no height: the follower's solid stands off by a hair
    stand = max(0.0, (1.0 + LEAST_GAP) * sheets / apart - 1.0)
    grids, faces = [], []
    for one, begin, sense in ((lead, 0, 1.0), (follow, sizes[0], -1.0)):
        strand, s = one.strand, _grid(one, width)
        across = 0.5 * strand.thickness * np.linspace(-1.0, 1.0, 2 * LAYERS + 1)
        off = stand * away if begin else 0.0 * away
        r, z = sheet_nodes(np.interp(s, strand.s, strand.r) + off[0], np.interp(s, strand.s, strand.z) + off[1], across)
        numbers = mesh.add(r, z)
        own = strand.s[one.first : one.last + 1]
        middle = np.repeat(s[1::2], LAYERS)
        share = np.zeros((middle.size, mesh.columns))
        share[:, begin : begin + own.size] = np.stack([np.interp(middle, own, row) for row in np.eye(own.size)], axis=1)
        mesh.fill(numbers, one.young, share)
        grids.append((numbers, s, across))
        near = np.flatnonzero(np.abs(s - float(strand.s[one.weld])) <= 0.5 * width + 1e-9)
        k = near[near.size // 2]
        left = sense * float(np.array([r[k, -1] - r[k, 0], z[k, -1] - z[k, 0]]) @ away) > 0.0
        side = -1 if left else 0
        faces.append((numbers[near, side], r[near, side], z[near, side]))
    _foot(
        mesh, faces, 0.5 * (lead.young + follow.young), (lead.weld - lead.first, sizes[0] + follow.weld - follow.first)
    )
    return mesh, grids


def _foot(mesh: _Mesh, faces: list[tuple[Whole, Vector, Vector]], young: float, welds: tuple[int, int]) -> None:
    """Metal of the weld between the two faces, one element high."""
    (lower, r_a, z_a), (upper, r_b, z_b) = faces
    if (r_a[-1] - r_a[0]) * (r_b[-1] - r_b[0]) + (z_a[-1] - z_a[0]) * (z_b[-1] - z_b[0]) < 0.0:
        upper, r_b, z_b = upper[::-1], r_b[::-1], z_b[::-1]
    middle = mesh.add(0.5 * (r_a + r_b), 0.5 * (z_a + z_b))
    share = np.zeros(mesh.columns)
    share[list(welds)] = 0.5
    mesh.fill(np.stack((lower, middle, upper), axis=1), young, share)


def _cut_rows(one: Stretch, grid: tuple[Whole, Vector, Vector], r: Vector, z: Vector) -> list[tuple[Whole, Vector]]:
    """Rows that read u_r, u_z, theta of each cut from the solid's displacements."""
    numbers, s, across = grid
    t = one.strand.thickness
    flat, line = section_weights(across, 0), section_weights(across, 1)
    bowed = 1.5 / t * (flat - 4.0 / t**2 * section_weights(across, 2))
    rows: list[tuple[Whole, Vector]] = []
    for cut in one.cuts:
        k = int(np.argmin(np.abs(s - float(one.strand.s[cut]))))
        nodes = numbers[k]
        n_r, n_z = (r[nodes[-1]] - r[nodes[0]]) / t, (z[nodes[-1]] - z[nodes[0]]) / t
        t_r, t_z = n_z, -n_r
        places = np.concatenate((2 * nodes, 2 * nodes + 1))
        along = np.concatenate((t_r * flat, t_z * flat)) / t
        normal = np.concatenate((n_r * bowed, n_z * bowed))
        turn = -12.0 / t**3 * np.concatenate((t_r * line, t_z * line))
        rows += [(places, t_r * along + n_r * normal), (places, t_z * along + n_z * normal), (places, turn)]
    return rows
