"""Growth, bimetal, slip joint, press fit and stack against published formulas and tables; see SOURCE.md."""

import math

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.shell_links import AXIAL, TURN, Hold
from hoopwright.kernels.shell_stack import shell_stack
from hoopwright.kernels.shell_stack_mesh import strand
from hoopwright.kernels.stack_mend import Allowed, mend
from hoopwright.kernels.stack_variation import Varies, stack


@pytest.mark.parametrize(("degC", "printed"), [(538.0, 3.866), (982.0, 7.935)])
def test_hoop_growth(degC: float, printed: float) -> None:
    """500 mm at 26 degC, the table's own base."""
    grown = 500.0 * alloy("N06002").thermal_growth_eng(degC, 26.0).value
    assert grown == pytest.approx(printed, abs=1e-3)


def test_slip_joint_closes() -> None:
    """Base of each table is its own cold: 26 and 21 degC; clearance 1.000 cold becomes -0.613."""
    liner = 300.0 * alloy("N06002").thermal_growth_eng(816.0, 26.0).value
    casing = 301.0 * alloy("N06625").thermal_growth_eng(538.0, 21.0).value
    assert liner == pytest.approx(3.792, abs=2e-3)
    assert casing == pytest.approx(2.179, abs=2e-3)
    assert 1.0 + casing - liner == pytest.approx(-0.613, abs=2e-3)
    assert liner - casing == pytest.approx(1.613, abs=2e-3)


def test_bimetal() -> None:
    """Two layers of 0.5 mm, da 5e-6, 100 K: 7.5e-4 /mm. A cone wall this narrow bends as a strip between frictionless
    stops."""
    curvature = 1.5 * 5e-6 * 100.0 / 1.0
    assert curvature == pytest.approx(7.5e-4, rel=1e-12)
    assert 0.5 * curvature * 50.0**2 == pytest.approx(0.9375, abs=5e-5)
    # the same free curvature on a very large ring, free to bend: tip of a 50 mm cantilever
    wide = strand(Profile((line((0.0, 1e7), (50.0, 1e7)),)), 1.0, step=0.5)
    free = shell_stack((wide,), (200e3,), 0.0, (), (Hold((0, 0), AXIAL), Hold((0, 0), TURN), Hold((0, 0), 0)))
    moved = free.displaced(np.zeros(free.nodes), np.full(free.nodes, curvature))
    # the hoop of radius 1e7 still resists a little
    assert abs(moved[-1, 0]) == pytest.approx(0.9375, rel=1e-3)


def test_through_wall_difference_on_a_tube() -> None:
    """Far from ends E alpha dT/(2 (1 - nu)); 5 K through the wall, E 160 GPa, 17.2e-6: 10.1 MPa."""
    from hoopwright.kernels.shell_stack_stress import stack_stress

    tube = strand(Profile((line((0.0, 120.0), (100.0, 120.0)),)), 0.8, step=0.5)
    shell = shell_stack((tube,), (160e3,), 0.32, (), (Hold((0, 0), AXIAL),))
    bend = np.full(shell.nodes, 17.2e-6 * 5.0 / 0.8)
    moved = shell.displaced(np.zeros(shell.nodes), bend)
    told = stack_stress(shell, moved, np.zeros(shell.nodes), bend)[0]
    wanted = 160e3 * 17.2e-6 * 5.0 / (2.0 * (1.0 - 0.32))
    # 50 mm from either end exp(-beta 50) = 0.0014 of the end effect is left
    assert abs(told.bend_hoop[100]) == pytest.approx(wanted, rel=2e-3)
    assert wanted == pytest.approx(10.1, abs=0.05)


def test_press_fit() -> None:
    """Solid shaft 50, hub 100, interference 0.050 on diameter: both grow and shrink as the thick-cylinder equations
    say."""
    young, inner, outer, fit = 207e3, 25.0, 50.0, 0.025
    pressure = young * fit / inner * (outer**2 - inner**2) / (2.0 * outer**2)
    assert pressure == pytest.approx(77.625, rel=1e-4)
    assert pressure * (outer**2 + inner**2) / (outer**2 - inner**2) == pytest.approx(129.375, rel=1e-4)
    assert 0.15 * pressure * math.pi * 50.0 * 50.0 * 0.025 == pytest.approx(2286.0, rel=1e-3)
    assert pytest.approx(121.7, abs=0.05) == (0.050 + 0.020) / (50.0 * 11.5e-6)


SLEEVES = (
    Varies("screw", 1.750, 0.003, 0.003, "in"),
    Varies("sleeve 1", 0.750, 0.001, 0.001, "in"),
    Varies("sleeve 2", 0.120, 0.005, 0.005, "in"),
    Varies("sleeve 3", 0.875, 0.001, 0.001, "in"),
)


def gap(x: np.ndarray) -> np.ndarray:
    return x[:, 0] - x[:, 1] - x[:, 2] - x[:, 3]


def test_stack_of_sleeves() -> None:
    told = stack(gap, SLEEVES)
    assert told.nominal == pytest.approx(0.005, abs=1e-9)
    assert (told.low, told.high) == pytest.approx((-0.005, 0.015), abs=1e-9)
    assert told.middle - told.rss_low == pytest.approx(0.006, abs=1e-9)
    assert told.shares[0].name == "sleeve 2"


def test_last_sleeve_for_a_least_gap() -> None:
    """0.003 at least: the last sleeve becomes 0.867."""
    fixed = [Allowed(v.nominal, v.nominal) for v in SLEEVES[:3]]
    done = mend([lambda x: gap(x) - 0.003], SLEEVES, [*fixed, Allowed(0.5, 1.0)])
    assert done.reached
    assert done.inputs[3].nominal == pytest.approx(0.867, abs=1e-6)
