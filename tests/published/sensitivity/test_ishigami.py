"""Shares of variance of a function whose shares are printed (SOURCE.md), and against a general library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import qmc, sobol_indices, uniform

from hoopwright.errors import InputError
from hoopwright.kernels.statistics.sensitivity import variance_shares

Array = NDArray[np.float64]
FIRST, TOTAL = (0.3139, 0.4424, 0.0), (0.5576, 0.4424, 0.2437)


def ishigami(x: Array) -> Array:
    one, two, three = x.T
    return np.column_stack((np.sin(one) + 7.0 * np.sin(two) ** 2 + 0.1 * three**4 * np.sin(one), one + two))


def tables(count: int) -> tuple[Array, Array]:
    points = qmc.Sobol(6, scramble=True, rng=np.random.default_rng(5)).random(count)
    drawn = math.pi * (2.0 * points - 1.0)
    return drawn[:, :3], drawn[:, 3:]


def test_printed_digits() -> None:
    """Even points of 2^16: the estimate comes within 0.002, which is what is left of its sampling error."""
    shares = variance_shares(ishigami, *tables(2**16), [[0], [1], [2]])
    assert shares.first[:, 0] == pytest.approx(FIRST, abs=0.002)
    assert shares.total[:, 0] == pytest.approx(TOTAL, abs=0.002)


def test_closed_forms_give_the_printed_digits() -> None:
    a, b, quartic = 7.0, 0.1, math.pi**4
    v1, v2, v13 = 0.5 * (1.0 + b * quartic / 5.0) ** 2, a * a / 8.0, 8.0 * b * b * quartic**2 / 225.0
    whole = v1 + v2 + v13
    assert [v1 / whole, v2 / whole, 0.0] == pytest.approx(FIRST, abs=5e-5)
    assert [(v1 + v13) / whole, v2 / whole, v13 / whole] == pytest.approx(TOTAL, abs=5e-5)


def test_as_a_general_library() -> None:
    theirs = sobol_indices(
        func=lambda x: ishigami(x.T).T[:1], n=2**13, dists=[uniform(-math.pi, 2.0 * math.pi)] * 3, rng=7
    )
    ours = variance_shares(ishigami, *tables(2**13), [[0], [1], [2]])
    assert ours.first[:, 0] == pytest.approx(np.ravel(theirs.first_order), abs=0.02)
    assert ours.total[:, 0] == pytest.approx(np.ravel(theirs.total_order), abs=0.02)


def test_groups_add_up() -> None:
    """Of a sum, shares are first order only, add to 1, and a group has what its members have together."""
    shares = variance_shares(ishigami, *tables(2**13), [[0], [1], [2], [0, 1]])
    assert shares.first[:, 1] == pytest.approx([0.5, 0.5, 0.0, 1.0], abs=0.01)
    assert shares.total[:, 1] == pytest.approx([0.5, 0.5, 0.0, 1.0], abs=0.01)


def test_what_does_not_scatter_has_no_shares() -> None:
    shares = variance_shares(lambda x: np.full((len(x), 1), 247.6), *tables(64), [[0], [1]])
    assert not shares.first.any() and not shares.total.any()


def test_refusals() -> None:
    a, b = tables(64)
    with pytest.raises(InputError, match="columns from 0 to 2"):
        variance_shares(ishigami, a, b, [[3]])
    with pytest.raises(InputError, match="tables of draws"):
        variance_shares(ishigami, a[:8], b[:8], [[0]])
    with pytest.raises(InputError, match="tables of draws"):
        variance_shares(ishigami, a, b[:32], [[0]])
