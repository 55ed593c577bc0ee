"""Banded elimination with row exchanges, for an unsymmetric band of half width 5. Row i holds columns i-5 .. i+10."""

from __future__ import annotations

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.section.shapes import Matrix


@compiled
def solve_band(band: Matrix, right: Matrix, count: int) -> bool:
    """Solve in place: right (n, >= count) becomes the answers; band (n, 16) is used up.

    Columns i-5 .. i+5 of row i stand at places 0 .. 10 of band[i]; places 11 .. 15 must be zero and take the fill of
    the row exchanges. Returns False when a pivot is zero or not finite.
    """
    n = band.shape[0]
    for k in range(n):
        last = min(n, k + 6)
        pivot, size = k, 0.0
        for i in range(k, last):
            value = abs(band[i, k - i + 5])
            if value > size:
                pivot, size = i, value
        if not (size > 0.0 and size < 1e300):
            return False
        wide = min(n, k + 11)
        if pivot != k:
            shift = pivot - k
            for j in range(k, wide):
                here, there = j - k + 5, j - k + 5 - shift
                keep = band[k, here]
                band[k, here] = band[pivot, there]
                band[pivot, there] = keep
            for c in range(count):
                keep = right[k, c]
                right[k, c] = right[pivot, c]
                right[pivot, c] = keep
        inverse = 1.0 / band[k, 5]
        for i in range(k + 1, last):
            shift = i - k
            factor = band[i, 5 - shift] * inverse
            if factor == 0.0:
                continue
            for j in range(6, wide - k + 5):
                band[i, j - shift] -= factor * band[k, j]
            for c in range(count):
                right[i, c] -= factor * right[k, c]
    for k in range(n - 1, -1, -1):
        wide = min(n, k + 11)
        inverse = 1.0 / band[k, 5]
        for c in range(count):
            value = right[k, c]
            for j in range(k + 1, wide):
                value -= band[k, j - k + 5] * right[j, c]
            right[k, c] = value * inverse
    return True
