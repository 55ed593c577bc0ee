"""Sides of the convex hull of points in a plane. mm."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.arrays import Vector
from hoopwright.kernels.compiled import compiled

Order = NDArray[np.int64]


def hull_sides(x: Vector, y: Vector) -> list[tuple[int, int]]:
    """Sides of the convex hull, lower then upper chain, each as two indices with x rising (monotone chain).

    Points in any order; of points with equal x the lowest counts below and the highest above. No vertical sides.
    """
    sides: list[tuple[int, int]] = []
    for sign in (1.0, -1.0):
        order = np.lexsort((sign * y, x))
        sides += list(pairwise(hull_chain(x, y, order, sign).tolist()))
    return sides


@compiled
def hull_chain(x: Vector, y: Vector, order: Order, sign: float) -> Order:
    """Corners of the lower (sign 1) or upper (sign -1) chain, points taken in `order` of rising x.

    x, y : [mm], shape (n,). order : indices [1], shape (n,). Returns indices [1] of the corners.
    """
    chain = np.empty(order.size, dtype=np.int64)
    size = 0
    for k in order:
        if size and x[k] == x[chain[size - 1]]:
            continue
        while size > 1:
            i, j = chain[size - 2], chain[size - 1]
            if sign * ((x[j] - x[i]) * (y[k] - y[i]) - (y[j] - y[i]) * (x[k] - x[i])) > 0.0:
                break
            size -= 1
        chain[size] = k
        size += 1
    return chain[:size]
