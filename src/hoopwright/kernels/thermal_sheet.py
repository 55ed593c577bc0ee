"""Heat conducted along thin sheet, on the nodes of a shell stack; tied nodes share their temperature. degC, mm, W.

    k t d2T/ds2 = h (T - Teq)          h = hg + ha, the sum over both faces

Teq is the temperature the sheet would take far from any change. Linear elements weighted with the radius. The length
over which a step runs out is sqrt(k t / h). Checked in tests/exact/test_thermal_exact.py (fin between two levels).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.shell_links import Link
from hoopwright.kernels.shell_stack_mesh import Strand

Vector = NDArray[np.float64]


def conducted(
    strands: Sequence[Strand], links: Sequence[Link], settled: Sequence[Vector], conductivity: Sequence[float],
    film: Sequence[float],
) -> tuple[Vector, ...]:  # fmt: skip
    """Temperatures at the nodes of every strand.

    Parameters
    ----------
    strands, links : as given to the shell.
    settled : temperature of each node without conduction, one array (n,) a strand. [degC]
    conductivity : of each strand. [W/(mm K)]
    film : sum of the film coefficients of both faces of each strand. [W/(mm2 K)]

    Raises
    ------
    InputError
        A conductivity or film coefficient that is not above 0, or temperatures of the wrong shape.
    """
    counts = [s.nodes for s in strands]
    offsets = np.concatenate(([0], np.cumsum(counts)[:-1])).astype(np.int64)
    number = np.arange(int(sum(counts)))
    for link in links:
        a = number[offsets[link.leader[0]] + link.leader[1]]
        b = number[offsets[link.follower[0]] + link.follower[1]]
        number[number == b] = a
    _, number = np.unique(number, return_inverse=True)
    size = int(number.max()) + 1
    down: list[NDArray[np.int64]] = []
    across: list[NDArray[np.int64]] = []
    values: list[Vector] = []
    load = np.zeros(size)
    for strand, at, t0, k, h in zip(strands, offsets, settled, conductivity, film, strict=True):
        require_positive("conductivity", k, "W/(mm K)")
        require_positive("film coefficient", h, "W/(mm2 K)")
        if t0.shape != (strand.nodes,):
            raise InputError("settled temperature", t0.shape, "", f"shape ({strand.nodes},)", "one a node")
        length = np.diff(strand.s)
        radius = 0.5 * (strand.r[1:] + strand.r[:-1])
        lead = k * strand.thickness * radius / length
        film_share = h * radius * length
        one, two = number[at : at + strand.nodes - 1], number[at + 1 : at + strand.nodes]
        for i, j, v in (
            (one, one, lead + film_share / 3.0),
            (two, two, lead + film_share / 3.0),
            (one, two, -lead + film_share / 6.0),
            (two, one, -lead + film_share / 6.0),
        ):
            down.append(i)
            across.append(j)
            values.append(v)
        np.add.at(load, one, film_share * (t0[:-1] / 3.0 + t0[1:] / 6.0))
        np.add.at(load, two, film_share * (t0[:-1] / 6.0 + t0[1:] / 3.0))
    matrix = coo_matrix(
        (np.concatenate(values), (np.concatenate(down), np.concatenate(across))), shape=(size, size)
    ).tocsc()
    warm = spsolve(matrix, load)
    return tuple(warm[number[at : at + n]] for at, n in zip(offsets, counts, strict=True))
