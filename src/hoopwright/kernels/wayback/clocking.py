"""Where the seams of a shell stand: turning of each ring, by rules first and by the shape of the gaps. Angles deg, mm.

Each ring takes one of its allowed seam places. Rules: neighbours at least `neighbour` apart, any two at least
`any_two`. Among those, the largest smallest margin over the laps (a table of margin against turn difference), found by
depth-first search with the best remaining chain as bound: exact on the grid.

Only lobes that clamps cannot close count. Line load that bends order n, amplitude a, of a thin ring:
E I (n^2 - 1)^2 a / R^4 (from memory, inextensional).

References
----------
Search exact against enumeration in tests/exact/test_clocking_exact.py.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.arrays import Vector, finite_vector, whole_count


def apart(one: float, two: float) -> float:
    """Angle between two places, 0 to 180 [deg]."""
    turn = (one - two) % 360.0
    return min(turn, 360.0 - turn)


@dataclass(frozen=True, slots=True)
class Clocking:
    """seams : angle of each ring's seam [deg]. smallest : smallest margin over the laps [1]. nearest : least angle
    between neighbours [deg]."""

    seams: tuple[float, ...]
    smallest: float
    nearest: float


def clock(
    allowed: Sequence[ArrayLike],
    margin: Sequence[Callable[[float, float], float]],
    neighbour: float = 60.0,
    any_two: float = 30.0,
    best: int = 10,
) -> tuple[Clocking, ...]:
    """The best clockings by smallest margin [1], then by angle between neighbours; angles in deg.

    Parameters
    ----------
    allowed : for each ring the angles its seam may stand at.
    margin : for each lap k, a function of the seam angles of rings k and k + 1.

    Raises
    ------
    InputError
        No clocking obeys the rules: names what to widen.
    """
    rings = [finite_vector(f"places of ring {n + 1}", a, "deg") for n, a in enumerate(allowed)]
    if len(margin) != len(rings) - 1:
        raise InputError("laps", len(margin), "", f"{len(rings) - 1}", "one margin a lap")
    require_range("neighbours apart", neighbour, 0.0, 180.0, "deg")
    require_range("any two apart", any_two, 0.0, 180.0, "deg")
    whole_count("answers", best, 1, 1000)
    tables = [
        np.array([[margin[k](float(a), float(b)) for b in rings[k + 1]] for a in rings[k]]) for k in range(len(margin))
    ]
    ahead = _ahead(tables)
    found: list[tuple[float, float, tuple[float, ...]]] = []

    def go(seams: list[float], last: int, smallest: float, nearest: float) -> None:
        k = len(seams) - 1
        if k == len(tables):
            heapq.heappush(found, (round(smallest, 12), nearest, tuple(seams)))
            if len(found) > best:
                heapq.heappop(found)
            return
        row = tables[k][last]
        bound = np.minimum(np.minimum(row, smallest), ahead[k + 1])
        for j in np.argsort(-bound, kind="stable"):
            if len(found) == best and bound[j] < found[0][0] - 1e-12:
                break
            angle = float(rings[k + 1][j])
            turn = apart(angle, seams[-1])
            if turn < neighbour - 1e-9 or any(apart(angle, s) < any_two - 1e-9 for s in seams[:-1]):
                continue
            go([*seams, angle], int(j), min(smallest, float(row[j])), min(nearest, turn))

    for i in np.argsort(-ahead[0], kind="stable"):
        if len(found) == best and ahead[0][i] < found[0][0] - 1e-12:
            break
        go([float(rings[0][i])], int(i), np.inf, 180.0)
    if not found:
        raise InputError(
            "seams", "no place", "", f"neighbours {neighbour:g} deg apart and any two {any_two:g}", "allow more places"
        )
    ordered = sorted(found, key=lambda f: (-f[0], -f[1], f[2]))
    return tuple(Clocking(seams, smallest, nearest) for smallest, nearest, seams in ordered)


def _ahead(tables: Sequence[Vector]) -> list[Vector]:
    """Largest smallest margin from each place of each ring to the end, rules left out: an upper bound."""
    ahead = [np.full(tables[-1].shape[1] if tables else 1, np.inf)]
    for table in reversed(tables):
        ahead.append(np.minimum(table, ahead[-1][None, :]).max(axis=1))
    return list(reversed(ahead))


def every_clocking(allowed: Sequence[Iterable[float]], neighbour: float, any_two: float) -> list[tuple[float, ...]]:
    """All seams that obey the rules, by enumeration [deg]: for proofs on small cases."""
    good = []
    for seams in itertools.product(*[tuple(a) for a in allowed]):
        near = all(apart(a, b) >= neighbour - 1e-9 for a, b in itertools.pairwise(seams))
        if near and all(apart(a, b) >= any_two - 1e-9 for a, b in itertools.combinations(seams, 2)):
            good.append(seams)
    return good


def bending_load(order: int, amplitude: float, radius: float, second_moment: float, youngs_modulus: float) -> float:
    """Line load that bends order n of this amplitude into a ring [N/mm]; mm, mm^4, MPa."""
    n = whole_count("order", order, 2, 1000)
    r, i = require_positive("radius", radius, "mm"), require_positive("second moment", second_moment, "mm^4")
    e = require_positive("Young's modulus", youngs_modulus, "MPa")
    return e * i * (n * n - 1) ** 2 * amplitude / r**4


def gap_range(
    nominal_gap: float,
    outer: Callable[[Vector], Vector],
    inner: Callable[[Vector], Vector],
    turn: float,
    steps: int = 360,
) -> tuple[float, float]:
    """Least and largest radial gap round a lap, inner part turned by `turn` [deg] against the outer one. [mm]"""
    th = 2.0 * np.pi * np.arange(steps) / steps
    gap = nominal_gap + outer(th) - inner(th - np.deg2rad(turn))
    return float(gap.min()), float(gap.max())
