"""Which inputs scatter a result: first-order and total shares of its variance, by groups of inputs. Pure numbers [1].

Two independent tables A and B of draws; AB is A with the columns of one group taken from B. With V the variance,

    first order  S = mean( f(B) (f(AB) - f(A)) ) / V       total  T = mean( (f(A) - f(AB))^2 ) / (2 V)

S is what fixing the group would take off the variance; T also counts what it does together with others. Of inputs that
only add up S = T and they sum to 1.

References
----------
A. Saltelli et al., Variance based sensitivity analysis of model output, Comput. Phys. Commun. 181, 2010 (estimators;
from memory). Checked on the Ishigami function, whose shares are known: tests/published/sensitivity.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Shares:
    """Shares of the variance [1], rows by group, columns by result: first order and total, with standard errors."""

    first: Array
    total: Array
    first_error: Array
    total_error: Array


def variance_shares(model: Callable[[Array], Array], a: Array, b: Array, groups: Sequence[Sequence[int]]) -> Shares:
    """Shares of each group of inputs in the variance of each result [1].

    Parameters
    ----------
    model : rows of inputs (n, d) to results (n, r). a, b : independent tables of draws, (n, d). groups : columns of
        each group; together they need not cover all.

    Raises
    ------
    InputError
        Tables that differ in shape, fewer than 16 rows, a column that is not there.
    """
    if a.shape != b.shape or a.ndim != 2 or a.shape[0] < 16:
        raise InputError("tables of draws", (a.shape, b.shape), "", "of one shape (n, d), n 16 or more", "draw again")
    if any(not 0 <= column < a.shape[1] for group in groups for column in group):
        raise InputError("groups of inputs", groups, "", f"columns from 0 to {a.shape[1] - 1}", "count from 0")
    at_a, at_b = model(a), model(b)
    centre = 0.5 * (at_a.mean(axis=0) + at_b.mean(axis=0))
    variance = 0.5 * (at_a.var(axis=0) + at_b.var(axis=0))
    # a result that does not scatter has no shares; rounding must not make some up
    scatters = variance > 1e-24 * np.maximum(centre * centre, 1e-300)
    safe = np.where(scatters, variance, 1.0)
    rows = []
    for group in groups:
        mixed = a.copy()
        mixed[:, list(group)] = b[:, list(group)]
        at_mixed = model(mixed)
        alone = (at_b - centre) * (at_mixed - at_a) / safe
        whole = 0.5 * (at_a - at_mixed) ** 2 / safe
        rows.append([np.where(scatters, one, 0.0) for one in (alone, whole)])
    root = np.sqrt(a.shape[0])
    mean = [np.array([row[k].mean(axis=0) for row in rows]) for k in (0, 1)]
    error = [np.array([row[k].std(axis=0) / root for row in rows]) for k in (0, 1)]
    return Shares(mean[0], mean[1], error[0], error[1])
