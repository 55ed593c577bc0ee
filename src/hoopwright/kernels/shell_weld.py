"""Welds with a width in a stack of shells: the solid of each in the place of the shell it replaces. mm, N, MPa.

Added to the stack at the cuts of each weld: stiffness and thermal forces of the solid less those of the same stretch of
shell with its tie, both reduced to the cuts. Nodes between the cuts still move as the shell does; their stress means
nothing and is not to be read. See `shell_weld_solid`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix

from hoopwright.kernels.shell_links import Link
from hoopwright.kernels.shell_stack_mesh import Strand
from hoopwright.kernels.shell_weld_solid import Stretch, WeldCell, stretch_of, weld_cell

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]


def weld_terms(
    strands: Sequence[Strand], links: Sequence[Link], blocks: Vector, pull: Vector, young: Vector, poisson: float
) -> tuple[csc_matrix, csc_matrix]:
    """What the welds with a width add to stiffness (3 N, 3 N) and to the forces of unit free strains (3 N, N).

    Parameters
    ----------
    blocks, pull : stiffness (M, 6, 6) and forces of a free strain of 1 (M, 6) of each shell element, strand by strand.
    young : of each element, shape (M,). [MPa]
    """
    starts = np.concatenate(([0], np.cumsum([s.nodes for s in strands])))
    nodes = int(starts[-1])
    more, force = csc_matrix((3 * nodes, 3 * nodes)), csc_matrix((3 * nodes, nodes))
    for link in links:
        if link.width is None or len(link.components) < 3:
            continue
        pair = (
            _stretch(strands, starts, links, link.leader, young),
            _stretch(strands, starts, links, link.follower, young),
        )
        cell = weld_cell(pair[0], pair[1], link.width, poisson)
        begins = (int(starts[link.leader[0]]), int(starts[link.follower[0]]))
        shell = _as_shell(
            pair, [b - at[0] for b, at in zip(begins, (link.leader, link.follower), strict=True)], blocks, pull
        )
        own = np.concatenate([b + np.arange(one.first, one.last + 1) for b, one in zip(begins, pair, strict=True)])
        cuts = np.concatenate([b + np.array(one.cuts, dtype=np.int64) for b, one in zip(begins, pair, strict=True)])
        places = (3 * cuts[:, None] + np.arange(3)).ravel()
        more = more + _placed(cell.stiffness - shell.stiffness, places, places, more.shape)
        force = force + _placed(cell.forces - shell.forces, places, own, force.shape)
    return more, force


def _placed(values: Vector, rows: Whole, columns: Whole, shape: tuple[int, int]) -> csc_matrix:
    down, across = np.repeat(rows, columns.size), np.tile(columns, rows.size)
    return coo_matrix((values.ravel(), (down, across)), shape=shape).tocsc()


def _stretch(
    strands: Sequence[Strand], starts: Whole, links: Sequence[Link], at: tuple[int, int], young: Vector
) -> Stretch:
    strand = strands[at[0]]
    others = tuple(k for one in links for n, k in (one.leader, one.follower) if n == at[0] and k != at[1])
    element = int(starts[at[0]]) - at[0] + min(at[1], strand.nodes - 2)
    return stretch_of(strand, at[1], float(young[element]), others)


def _as_shell(pair: Sequence[Stretch], begins: Sequence[int], blocks: Vector, pull: Vector) -> WeldCell:
    """The same stretch as shell elements and a tie without width, reduced to the cuts."""
    sizes = [one.last - one.first + 1 for one in pair]
    n = sum(sizes)
    stiff, force = np.zeros((3 * n, 3 * n)), np.zeros((3 * n, n))
    for one, begin, shift in zip(pair, begins, (0, sizes[0]), strict=True):
        for k in range(one.first, one.last):
            at = shift + k - one.first
            places = slice(3 * at, 3 * at + 6)
            stiff[places, places] += blocks[begin + k]
            force[places, at] += 0.5 * pull[begin + k]
            force[places, at + 1] += 0.5 * pull[begin + k]
    lead, follow = pair[0].weld - pair[0].first, sizes[0] + pair[1].weld - pair[1].first
    o_r = float(pair[1].strand.r[pair[1].weld] - pair[0].strand.r[pair[0].weld])
    o_z = float(pair[1].strand.z[pair[1].weld] - pair[0].strand.z[pair[0].weld])
    basis, grows = np.eye(3 * n), np.zeros((3 * n, n))
    basis[3 * follow : 3 * follow + 3] = 0.0
    basis[3 * follow : 3 * follow + 3, 3 * lead : 3 * lead + 3] = [[1.0, 0.0, -o_z], [0.0, 1.0, o_r], [0.0, 0.0, 1.0]]
    for row, share in ((3 * follow, o_r), (3 * follow + 1, o_z)):
        grows[row, [lead, follow]] = 0.5 * share
    cut_nodes = [shift + k - one.first for one, shift in zip(pair, (0, sizes[0]), strict=True) for k in one.cuts]
    cut = np.array([3 * k + c for k in cut_nodes for c in range(3)])
    gone = np.concatenate((cut, 3 * follow + np.arange(3)))
    rest = np.setdiff1d(np.arange(3 * n), gone)
    tied_force = basis.T @ (force - stiff @ grows)
    tied_stiff = basis.T @ stiff @ basis
    give = np.linalg.solve(tied_stiff[np.ix_(rest, rest)], np.hstack((tied_stiff[np.ix_(rest, cut)], tied_force[rest])))
    across = tied_stiff[np.ix_(cut, rest)] @ give
    own = tied_stiff[np.ix_(cut, cut)] - across[:, : cut.size]
    return WeldCell(own, tied_force[cut] - across[:, cut.size :])
