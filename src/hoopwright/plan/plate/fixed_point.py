"""Taking springback out by repeated forward runs: settings moved by what the part misses, and proof that it closes.

Each round runs the press forward and moves every setting by its miss times a gain:

    x_(k+1) = x_k + g (wanted - found(x_k))

If the steps shrink by a factor q < 1 each round, the sequence closes and the settings are no further from their limit
than q/(1 - q) times the last step (Banach's fixed-point theorem). q is taken as the largest ratio of following steps
that were seen. mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import Generic, TypeVar

import numpy as np

from hoopwright.errors import NotConverged
from hoopwright.process.workpiece import Array

R = TypeVar("R")
NOISE_MM = 2e-4
"""Steps this small are the kernel's own scatter from node to node; their ratio proves nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Closed(Generic[R]):
    """Where it closed. values : settings (n,). missed_mm : what the last run misses (n,). last : that run.

    steps_mm : largest change of a setting in each round. ratio : q. bound_mm : how far the settings may be from the
    limit.
    """

    values: Array
    missed_mm: Array
    last: R
    steps_mm: tuple[float, ...]
    ratio: float
    bound_mm: float

    @property
    def rounds(self) -> int:
        """Forward runs."""
        return len(self.steps_mm) + 1


def close(
    name: str,
    start: Array,
    run: Callable[[Array], tuple[Array, R]],
    gain: Array,
    within_mm: float,
    most: int = 12,
) -> Closed[R]:
    """Repeat until every miss is within `within_mm`.

    Parameters
    ----------
    start : settings to begin with, shape (n,). run : settings to (wanted - found, anything). gain : of each setting on
    its own miss, shape (n,).

    Raises
    ------
    NotConverged
        Steps that do not shrink, or a miss that is still too large after `most` runs.
    """
    values = start.copy()
    steps: list[float] = []
    missed, last = run(values)
    while float(np.max(np.abs(missed))) > within_mm:
        step = gain * missed
        size = float(np.max(np.abs(step)))
        if len(steps) + 1 >= most or (len(steps) >= 3 and size > max(steps[-3:]) and size > NOISE_MM):
            raise NotConverged(
                f"{name}: tool faces do not close on the drawing, still {np.max(np.abs(missed)):.4f} mm off after "
                f"{len(steps) + 1} runs.",
                values,
                "widen the tolerance it is closed to, or look for a setting the part does not answer to",
            )
        values = values + step
        steps.append(size)
        missed, last = run(values)
    ratio, bound = proof(steps, float(np.max(np.abs(gain * missed))))
    return Closed(values, missed, last, tuple(steps), ratio, bound)


def proof(steps: list[float], next_step: float) -> tuple[float, float]:
    """Contraction q and bound from the steps taken and the one not taken any more.

    >>> proof([1.0, 0.1], 0.01)
    (0.1, 0.011111111111111113)
    """
    sizes = [*steps, next_step]
    ratios = [b / a for a, b in pairwise(sizes) if a > NOISE_MM]
    q = max(ratios, default=0.0)
    if q >= 1.0:
        # closed within the scatter of the kernel: the last step itself is all that can be said
        return q, max(sizes)
    return q, q / (1.0 - q) * sizes[-2] if len(sizes) > 1 else next_step
