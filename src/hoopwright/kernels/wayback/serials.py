"""Which serial of each part goes into which liner: best path along the chain of laps, exact. Gaps in mm, margins [1].

Parts form one path (neighbours meet in a lap). One liner: dynamic programme on the smallest margin, then the largest
sum of margins among choices with that smallest. Several liners, no serial twice: node-disjoint paths; the largest
smallest margin by bisection over the margins with a flow, then the largest sum by a cheapest flow at that bottleneck.

References
----------
Bottleneck path and disjoint paths by flow, textbook; against enumeration in tests/exact/test_serials_exact.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import optimize

from hoopwright.errors import InputError
from hoopwright.kernels.arrays import whole_count

Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Path:
    """serials : number of the chosen serial of each part in turn. smallest, total : of its margins [1]."""

    serials: tuple[int, ...]
    smallest: float
    total: float


def _checked(margins: Sequence[Matrix]) -> list[Matrix]:
    if not margins:
        raise InputError("laps", "none", "", "one at least", "name the parts that meet")
    tables = [np.asarray(m, dtype=np.float64) for m in margins]
    for n, table in enumerate(tables):
        if table.ndim != 2 or not np.all(np.isfinite(table)) or table.size == 0:
            raise InputError(
                f"margins of lap {n + 1}", table.shape, "", "a finite table, serial by serial", "measure all"
            )
        if n and tables[n - 1].shape[1] != table.shape[0]:
            raise InputError(
                f"lap {n + 1}", table.shape[0], "serials", f"{tables[n - 1].shape[1]}", "use the same part"
            )
    return tables


def best_path(margins: Sequence[Matrix]) -> Path:
    """One liner's best choice: margins[k][i, j] of serial i of part k against serial j of part k + 1 [1]."""
    tables = _checked(margins)
    reach = np.full(tables[0].shape[0], np.inf)
    for table in tables:
        reach = np.minimum(reach[:, None], table).max(axis=0)
    floor = float(reach.max())
    score = np.zeros(tables[0].shape[0])
    back: list[NDArray[np.int64]] = []
    for table in tables:
        gain = np.where(table >= floor - 1e-12, score[:, None] + table, -np.inf)
        back.append(gain.argmax(axis=0))
        score = gain.max(axis=0)
    last = int(score.argmax())
    chosen = [last]
    for step in reversed(back):
        chosen.append(int(step[chosen[-1]]))
    return _path(tables, tuple(reversed(chosen)))


def _path(tables: Sequence[Matrix], chosen: tuple[int, ...]) -> Path:
    values = [float(t[a, b]) for t, a, b in zip(tables, chosen, chosen[1:], strict=False)]
    return Path(chosen, min(values), sum(values))


def disjoint_paths(margins: Sequence[Matrix], liners: int) -> tuple[Path, ...]:
    """Best choice for several liners at once, no serial twice: largest smallest margin, then largest sum. [1]

    Raises
    ------
    InputError
        More liners than serials of some part.
    """
    tables = _checked(margins)
    fewest = min(min(t.shape) for t in tables)
    whole_count("liners", liners, 1, fewest)
    levels = np.unique(np.concatenate([t.ravel() for t in tables]))
    low, high = 0, levels.size - 1
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if _flow(tables, liners, float(levels[middle])) is not None else (low, middle - 1)
    links = _flow(tables, liners, float(levels[low]))
    assert links is not None
    paths = []
    for start in np.nonzero(links[0].sum(axis=1) > 0.5)[0]:
        chosen = [int(start)]
        for link in links:
            chosen.append(int(link[chosen[-1]].argmax()))
        paths.append(_path(tables, tuple(chosen)))
    return tuple(sorted(paths, key=lambda p: -p.smallest))


def _flow(tables: Sequence[Matrix], liners: int, floor: float) -> list[Matrix] | None:
    """Links of the largest total margin with `liners` disjoint paths over margins at or above `floor`; None if none.

    A flow on a layered network: its programme has only whole vertices, so the linear programme is exact.
    """
    index: list[tuple[int, int, int]] = []
    for k, table in enumerate(tables):
        for i, j in zip(*np.nonzero(table >= floor - 1e-12), strict=True):
            index.append((k, int(i), int(j)))
    if not index:
        return None
    parts = [tables[0].shape[0], *(t.shape[1] for t in tables)]
    base = np.concatenate(([0], np.cumsum(parts)))
    total = int(base[-1])
    rows_eq, rows_ub = np.zeros((total, len(index))), np.zeros((total, len(index)))
    for c, (k, i, j) in enumerate(index):
        out, into = int(base[k]) + i, int(base[k + 1]) + j
        rows_ub[out if k == 0 else into, c] += 1.0
        if k == 0:
            rows_ub[into, c] += 1.0
        if k > 0:
            rows_eq[out, c] += 1.0
        if k < len(tables) - 1:
            rows_eq[into, c] -= 1.0
    first = np.array([1.0 if k == 0 else 0.0 for k, _, _ in index])
    cost = -np.array([tables[k][i, j] for k, i, j in index])
    inner = rows_eq[int(base[1]) : int(base[-2])]
    found = optimize.linprog(
        cost, A_ub=rows_ub, b_ub=np.ones(total), A_eq=np.vstack((inner, first)),
        b_eq=np.concatenate((np.zeros(inner.shape[0]), [float(liners)])), bounds=(0.0, 1.0), method="highs-ds",
    )  # fmt: skip
    if found.status != 0:
        return None
    links = [np.zeros(t.shape) for t in tables]
    for (k, i, j), share in zip(index, found.x, strict=True):
        links[k][i, j] = round(float(share))
    return links
