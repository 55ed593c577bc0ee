"""Random makeable cases: every one converges, keeps its volume and its energy, and stays out of its tools."""

import numpy as np
import pytest

from tests.kernels.random_sections import case

SHARE = 0.01
"""Greatest depth in a tool over the thickness."""


def check(seed):
    outcome = case(seed)
    section = outcome.result.section
    assert np.all(np.isfinite(section.layers))
    assert outcome.result.converged
    assert outcome.deepest() <= SHARE * outcome.thickness, f"{outcome.kind} {seed}"
    assert abs(outcome.result.energies.gap) < 0.01, f"{outcome.kind} {seed}"
    assert abs(outcome.result.volume_gap) < 1e-3, f"{outcome.kind} {seed}"


@pytest.mark.parametrize("seed", range(12))
def test_random_case(seed):
    check(seed)


@pytest.mark.soak
@pytest.mark.parametrize("block", range(15))
def test_three_hundred_random_cases(block):
    for seed in range(20 * block, 20 * block + 20):
        check(seed)
