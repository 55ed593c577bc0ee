"""Banded elimination with row exchanges, for a band of any half width. Unitless: it solves whatever it is given."""

from __future__ import annotations

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import Matrix


@compiled
def solve_band(band: Matrix, right: Vector, reach: int) -> bool:
    """Solve in place: `right` (n,) becomes the answer, `band` (n, 3 reach + 1) is used up.

    Columns i - reach .. i + reach of row i stand at places 0 .. 2 reach; the further places must be zero and take the
    fill of the row exchanges. Returns False when a pivot is zero or not finite.
    """
    n = band.shape[0]
    for k in range(n):
        last = min(n, k + reach + 1)
        pivot, size = k, 0.0
        for i in range(k, last):
            value = abs(band[i, k - i + reach])
            if value > size:
                pivot, size = i, value
        if not (size > 0.0 and size < 1e300):
            return False
        wide = min(n, k + 2 * reach + 1) - k
        if pivot != k:
            shift = pivot - k
            for j in range(reach, reach + wide):
                band[k, j], band[pivot, j - shift] = band[pivot, j - shift], band[k, j]
            right[k], right[pivot] = right[pivot], right[k]
        inverse = 1.0 / band[k, reach]
        for i in range(k + 1, last):
            shift = i - k
            factor = band[i, reach - shift] * inverse
            if factor == 0.0:
                continue
            for j in range(reach + 1, reach + wide):
                band[i, j - shift] -= factor * band[k, j]
            right[i] -= factor * right[k]
    for k in range(n - 1, -1, -1):
        wide = min(n, k + 2 * reach + 1)
        value = right[k]
        for j in range(k + 1, wide):
            value -= band[k, j - k + reach] * right[j]
        right[k] = value / band[k, reach]
    return True
