"""A quick stand-in for the runs: everything a run gives, as a polynomial of the draws, its error measured.

Each result and each place of the free profile is fitted by least squares on 1, z, z^2 - 1
of every input and on the products of those inputs that matter most. What is judged (peak to valley, lobes, shares) is
read off the fitted profile as it is off a run's. The error is that on runs the fit has not seen.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.plan.shapes import Array
from hoopwright.plan.study.forward import Ran

PRODUCTS = 10
"""Products of two inputs that are taken up, at most."""

RUNS_A_TERM = 2.0
"""Runs there must be for each term of the polynomial."""


@dataclass(frozen=True, slots=True, eq=False)
class Surrogate:
    """names : of the plain results. pairs : inputs whose products are terms. weights : (terms, outputs)."""

    names: tuple[str, ...]
    inputs: int
    pairs: tuple[tuple[int, int], ...]
    weights: Array

    def predict(self, draws: Array) -> tuple[Array, Array]:
        """Results (n, names) and free profile [mm] (n, places) of rows of draws (n, d)."""
        if draws.ndim != 2 or draws.shape[1] != self.inputs:
            raise InputError("draws", draws.shape, "", f"of shape (n, {self.inputs})", "draw one number an input")
        whole = terms(draws, self.pairs) @ self.weights
        count = len(self.names)
        return whole[:, :count], whole[:, count:]


def terms(draws: Array, pairs: tuple[tuple[int, int], ...]) -> Array:
    """1, z, z^2 - 1 and the products, shape (n, terms)."""
    products = [draws[:, a] * draws[:, b] for a, b in pairs]
    columns = [np.ones((draws.shape[0], 1)), draws, draws * draws - 1.0]
    return np.hstack([*columns, *([np.column_stack(products)] if products else [])])


def outputs(runs: list[Ran]) -> tuple[tuple[str, ...], Array]:
    """Everything the runs give, side by side: names of the plain results and (n, outputs).

    Raises
    ------
    InputError
        Runs that do not give the same results.
    """
    names = tuple(runs[0].values)
    if any(tuple(run.values) != names for run in runs):
        raise InputError("runs", len(runs), "", "of one kind, with the same results", "start a fresh journal")
    rows = [np.concatenate(([run.values[n] for n in names], run.profile_mm)) for run in runs]
    return names, np.array(rows)


def fitted(runs: list[Ran], draws: Array) -> Surrogate:
    """The stand-in for runs made at rows of draws (n, d).

    Raises
    ------
    InputError
        Fewer runs than twice the terms.
    """
    count, inputs = draws.shape
    if count < RUNS_A_TERM * (1 + 2 * inputs):
        least = int(RUNS_A_TERM * (1 + 2 * inputs))
        raise InputError("runs of the design", count, "", f"{least} or more for {inputs} inputs", "ask for more runs")
    names, wanted = outputs(runs)
    room = int(count / RUNS_A_TERM) - (1 + 2 * inputs)
    pairs = _pairs(draws, wanted, min(room, PRODUCTS))
    weights = np.linalg.lstsq(terms(draws, pairs), wanted, rcond=None)[0]
    return Surrogate(names, inputs, pairs, np.asarray(weights))


def _pairs(draws: Array, wanted: Array, most: int) -> tuple[tuple[int, int], ...]:
    """Products that explain most of what the plain polynomial leaves, summed over all outputs by their own scatter."""
    plain = terms(draws, ())
    left = wanted - plain @ np.linalg.lstsq(plain, wanted, rcond=None)[0]
    spread = wanted.std(axis=0)
    kept = spread > 1e-12 * np.maximum(np.abs(wanted).max(axis=0), 1e-300)
    scaled: NDArray[np.float64] = left[:, kept] / spread[kept]
    every = list(combinations(range(draws.shape[1]), 2))
    gain = []
    for a, b in every:
        product = draws[:, a] * draws[:, b]
        product = product - plain @ np.linalg.lstsq(plain, product, rcond=None)[0]
        gain.append(float(np.sum((product @ scaled) ** 2) / max(float(product @ product), 1e-300)))
    best = np.argsort(gain, kind="stable")[::-1][: max(most, 0)]
    return tuple(sorted(every[k] for k in best))
