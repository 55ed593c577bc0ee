"""Rigid ties between nodes of shells of revolution, and held displacements, as one change of unknowns. mm, rad.

A tie makes the second node follow the first: with (o_r, o_z) the offset from first to second node,

    u_r' = u_r - o_z theta + e o_r        u_z' = u_z + o_r theta + e o_z        theta' = theta

where e is the mean free strain of the two nodes: the metal between the two mid-surfaces grows too. Without that term a
stack at one uniform temperature shows stress that is not there. Derived here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix, identity, lil_matrix

from hoopwright.errors import InputError
from hoopwright.kernels.shell_stack_mesh import Strand

Vector = NDArray[np.float64]

RADIAL, AXIAL, TURN = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Link:
    """The node of `follower` is tied to the node of `leader`; each is (strand, node of that strand).

    components : what is tied; (AXIAL,) alone lets the joint slide along the radius. width : of the weld, None for a
    tie without width; taken for ties of all three components only (see `shell_weld`). [mm]
    """

    leader: tuple[int, int]
    follower: tuple[int, int]
    components: tuple[int, ...] = (RADIAL, AXIAL, TURN)
    width: float | None = None


@dataclass(frozen=True, slots=True)
class Hold:
    """A displacement of one node is given. component : RADIAL, AXIAL or TURN. value : [mm or rad]"""

    at: tuple[int, int]
    component: int
    value: float = 0.0


def reduction(
    strands: Sequence[Strand], offsets: NDArray[np.int64], links: Sequence[Link], holds: Sequence[Hold]
) -> tuple[csc_matrix, csc_matrix, Vector, NDArray[np.int64]]:
    """All displacements u from those q that are left, u = basis q + shift e; the held part of q, and what is free.

    Raises
    ------
    InputError
        A node follows two others, or ties run in a circle; a node that is not there; a follower that is held.
    """
    nodes = int(sum(s.nodes for s in strands))
    r = np.concatenate([s.r for s in strands])
    z = np.concatenate([s.z for s in strands])
    once = identity(3 * nodes, format="lil")
    grows = lil_matrix((3 * nodes, nodes))
    followers: set[int] = set()
    for link in links:
        lead, follow = (_number(strands, offsets, at) for at in (link.leader, link.follower))
        own = {3 * follow + component for component in link.components}
        if followers & own or lead == follow:
            raise InputError("tie", str(link), "", "one leader for each follower", "tie each circle once")
        followers |= own
        o_r, o_z = float(r[follow] - r[lead]), float(z[follow] - z[lead])
        for row, terms in _rows(lead, follow, o_r, o_z).items():
            if row in own:
                once.rows[row], once.data[row] = [k for k, _ in terms], [v for _, v in terms]
        for row, share in ((3 * follow, o_r), (3 * follow + 1, o_z)):
            if row in own:
                grows[row, lead] = grows[row, follow] = 0.5 * share
    basis, shift = _followed(once.tocsc(), grows.tocsc(), len(links))
    kept = np.ones(3 * nodes, dtype=bool)
    kept[sorted(followers)] = False
    if followers and abs(basis[:, np.flatnonzero(~kept)]).sum() > 0.0:
        raise InputError("ties", len(links), "", "free of circles", "take out one tie of the circle")
    columns = np.flatnonzero(kept)
    place = np.full(3 * nodes, -1)
    place[columns] = np.arange(columns.size)
    held, is_held = np.zeros(columns.size), np.zeros(columns.size, dtype=bool)
    for hold in holds:
        spot = place[3 * _number(strands, offsets, hold.at) + hold.component]
        if spot < 0:
            raise InputError("hold", str(hold), "", "at a node that follows no other", "hold the node it follows")
        held[spot], is_held[spot] = hold.value, True
    return basis[:, columns].tocsc(), shift, held, np.flatnonzero(~is_held)


def _number(strands: Sequence[Strand], offsets: NDArray[np.int64], at: tuple[int, int]) -> int:
    strand, node = at
    if not (0 <= strand < len(strands) and 0 <= node < strands[strand].nodes):
        raise InputError("node of a tie", at, "", "on one of the strands", "name a strand and one of its nodes")
    return int(offsets[strand]) + node


def _rows(lead: int, follow: int, o_r: float, o_z: float) -> dict[int, list[tuple[int, float]]]:
    def row(*terms: tuple[int, float]) -> list[tuple[int, float]]:
        return sorted(terms)

    return {
        3 * follow: row((3 * lead, 1.0), (3 * lead + 2, -o_z)),
        3 * follow + 1: row((3 * lead + 1, 1.0), (3 * lead + 2, o_r)),
        3 * follow + 2: row((3 * lead + 2, 1.0)),
    }


def _followed(once: csc_matrix, grows: csc_matrix, turns: int) -> tuple[csc_matrix, csc_matrix]:
    """A follower may lead another: u = once u + grows e is repeated until nothing changes."""
    basis, shift = once, grows
    for _ in range(turns):
        after = (once @ basis).tocsc()
        if abs(after - basis).nnz == 0:
            break
        basis, shift = after, (once @ shift + grows).tocsc()
    return basis, shift
