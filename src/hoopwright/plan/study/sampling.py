"""Rows of standard normal draws: the same seed gives the same rows, however many are asked for at a time."""

from __future__ import annotations

import numpy as np
from scipy.stats import norm, qmc

from hoopwright.errors import InputError
from hoopwright.plan.shapes import Array

DESIGN, HELD_BACK, POPULATION = 1, 2, 3
"""Streams of draws that never share a number."""

WIDEST = 2.6
"""The design reaches so many standard deviations to either side: 99 % of a population lie inside."""


def require_seed(seed: int) -> int:
    """A seed as the generators take it."""
    if isinstance(seed, bool) or not isinstance(seed, int) or not 0 <= seed < 2**32:
        raise InputError("seed", seed, "", "a whole number from 0 to 4294967295", "use 1")
    return seed


def design_rows(seed: int, count: int, inputs: int) -> Array:
    """Rows spread evenly over the spreads (scrambled low-discrepancy points), shape (count, inputs)."""
    engine = qmc.Sobol(inputs, scramble=True, rng=np.random.default_rng([require_seed(seed), DESIGN]))
    points = engine.random_base2(max(1, (count - 1).bit_length()))[:count]
    edge = float(norm.cdf(-WIDEST))
    return np.asarray(norm.ppf(edge + (1.0 - 2.0 * edge) * points), dtype=np.float64)


def random_rows(seed: int, stream: int, first: int, count: int, inputs: int) -> Array:
    """Rows first, first + 1, ... of an endless table of plain draws, shape (count, inputs)."""
    rows = [
        np.random.default_rng([require_seed(seed), stream, first + k]).standard_normal(inputs) for k in range(count)
    ]
    return np.array(rows).reshape(count, inputs)
