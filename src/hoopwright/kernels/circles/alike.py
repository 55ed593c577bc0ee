"""Which orders per turn a set of readings can tell apart, and how many readings a question needs. Angles in rad.

With n even steps, order k reads the same as |k - j n| for every whole j.
"""

from __future__ import annotations

from hoopwright.kernels.arrays import whole_count


def aliases(order: int, readings: int, highest: int = 60) -> tuple[int, ...]:
    """Orders up to `highest` that `readings` even steps cannot tell from `order` [1].

    >>> aliases(8, 36), aliases(8, 24), aliases(8, 17), aliases(8, 32)
    ((28, 44), (16, 32, 40, 56), (9, 25, 26, 42, 43, 59, 60), (24, 40, 56))
    """
    k = whole_count("order", order, 0, 10_000)
    n = whole_count("readings", readings, 3, 1_000_000)
    found = {abs(k - j * n) for j in range(-highest // n - 2, highest // n + 3)} | {k}
    return tuple(sorted(m for m in found if m != k and 0 <= m <= highest))


def half_seen(order: int, readings: int) -> bool:
    """Whether only the cosine of this order is seen (2 k is a multiple of the readings) [1]."""
    return (2 * whole_count("order", order, 1, 10_000)) % whole_count("readings", readings, 3, 1_000_000) == 0


def readings_needed(segments: int, least: int = 36) -> int:
    """Fewest even readings a turn that see N and 2N: 4N + 1 or more, at least `least`, no multiple of N [1].

    >>> readings_needed(8), readings_needed(10), readings_needed(12)
    (36, 41, 49)
    """
    n = whole_count("segments", segments, 2, 400)
    count = max(4 * n + 1, whole_count("least", least, 3, 100_000))
    while count % n == 0:
        count += 1
    return count
