"""Sides of the convex hull of points in a plane. mm."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from hoopwright.kernels.arrays import Vector


def hull_sides(x: Vector, y: Vector) -> list[tuple[int, int]]:
    """Sides of the convex hull, lower then upper chain, each as two indices with x rising (monotone chain).

    Points in any order; of points with equal x the lowest counts below and the highest above. No vertical sides.
    """
    sides: list[tuple[int, int]] = []
    for sign in (1.0, -1.0):
        order = np.lexsort((sign * y, x))
        chain: list[int] = []
        for k in order.tolist():
            if chain and x[k] == x[chain[-1]]:
                continue
            while len(chain) > 1 and not _turns(x, y, chain[-2], chain[-1], k, sign):
                chain.pop()
            chain.append(k)
        sides += list(pairwise(chain))
    return sides


def _turns(x: Vector, y: Vector, i: int, j: int, k: int, sign: float) -> bool:
    turn = (x[j] - x[i]) * (y[k] - y[i]) - (y[j] - y[i]) * (x[k] - x[i])
    return bool(sign * turn > 0.0)
