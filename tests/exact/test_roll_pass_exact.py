"""Load of a pass: exact for straight pieces, and convergent for a smooth force."""

import math

import numpy as np
import pytest

from hoopwright.kernels.roll_pass import ForceOpening, pass_load
from hoopwright.kernels.shaft import loads_from, running_gap

RE = 25.0


def test_a_force_falling_to_nothing_gives_two_thirds() -> None:
    load = pass_load(ForceOpening(np.array([0.0, 2.0]), np.array([600.0, 0.0])), RE, 50.0)
    assert load.load_N == pytest.approx(600.0 * math.sqrt(2.0 * RE * 2.0) * 2.0 / 3.0, rel=1e-14)
    assert load.work_N == pytest.approx(600.0)


def test_breaking_a_straight_piece_changes_nothing() -> None:
    one = pass_load(ForceOpening(np.array([0.0, 2.0]), np.array([600.0, 100.0])), RE, 50.0)
    cut = np.array([0.0, 0.3, 1.1, 2.0])
    two = pass_load(ForceOpening(cut, 600.0 - 250.0 * cut), RE, 50.0)
    assert (two.load_N, two.work_N) == pytest.approx((one.load_N, one.work_N), rel=1e-13)


def test_smooth_force_converges_with_the_square_of_the_step() -> None:
    """F = F0 exp(-o/c): P = F0 sqrt(2 Re c) sqrt(pi)/2 erf(sqrt(h/c))."""
    scale, height = 0.3, 2.0
    exact = 800.0 * math.sqrt(2.0 * RE * scale) * 0.5 * math.sqrt(math.pi) * math.erf(math.sqrt(height / scale))
    errors = []
    for count in (80, 160, 320):
        opening = np.linspace(0.0, height, count + 1)
        got = pass_load(ForceOpening(opening, 800.0 * np.exp(-opening / scale)), RE, 50.0).load_N
        errors.append(abs(got - exact) / exact)
    assert errors[-1] < 1e-4
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.15) and errors[1] / errors[2] == pytest.approx(
        4.0, rel=0.1
    )


def test_running_gap_of_a_straight_load_law() -> None:
    """P = P0 (1 - g/g0): g = (g_set + C P0)/(1 + C P0/g0)."""
    table = loads_from([0.0, 0.05, 0.2], [4000.0, 3000.0, 0.0])
    got = running_gap(0.01, 5e-6, table)
    assert got.running_mm == pytest.approx((0.01 + 0.02) / (1.0 + 0.02 / 0.2), rel=1e-13)
