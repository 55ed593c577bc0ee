"""Closed forms of press work and forming limits against figures printed elsewhere (see SOURCE.md)."""

import math

import pytest
from scipy.optimize import brentq

from hoopwright.errors import InputError
from hoopwright.kernels.forming_limit import hill_limit, low_carbon_plane_strain_limit, major_limit, swift_limit
from hoopwright.kernels.press_formulas import (
    blank_diameter,
    clearance_by_allowance,
    clearance_by_fracture,
    clearance_by_root,
    draw_force,
    edge_strain,
    edge_thickness,
    holder_force,
    ironing_stress,
    punch_force,
    relieved_force,
    shear_force,
    wall_stress,
)


def test_cup_by_textbook_rules():
    assert draw_force(75.0, 138.0, 2.4, 300.0) == pytest.approx(193396.0, rel=1e-5)
    assert holder_force(75.0, 138.0, 2.4, 6.0, 175.0) == pytest.approx(86824.0, rel=1e-5)


def test_cup_by_stress_build_up():
    # the book prints 62 680 N; its own steps carried with more digits give 62 724 (0.07 %)
    stress = wall_stress(40.0, 33.0, 3.0, 210.0, 0.1)
    assert 2.0 * math.pi * 30.0 * 3.0 * stress == pytest.approx(62680.0, rel=0.003)
    # the wall lies one sheet outside the punch
    least = -3.0 + brentq(lambda rd: wall_stress(40.0, rd, 3.0, 210.0, 0.1) - 600.0, 5.0, 33.0)
    assert least == pytest.approx(9.2, abs=0.05)


def test_edge_of_a_flanged_hole():
    assert edge_strain(60.0, 40.0) == pytest.approx(0.4055, abs=5e-5)
    assert edge_thickness(1.0, 60.0, 40.0) == pytest.approx(0.8165, abs=5e-5)


def test_blanking_sizes_and_force():
    clearance = clearance_by_allowance(3.2, 0.075)
    assert clearance == pytest.approx(0.24, abs=5e-4)
    assert 150.0 - 2.0 * clearance == pytest.approx(149.52, abs=5e-3)
    assert shear_force(150.0 * math.pi, 3.2, 310.0) == pytest.approx(467.5e3, rel=5e-4)


def test_punching():
    assert punch_force(math.pi * 1.0, 0.125, 140000.0) == pytest.approx(38500.0, rel=0.002)
    clearance = clearance_by_fracture(3.0, 1.75)
    assert clearance == pytest.approx(0.329, abs=5e-4)
    assert math.pi * 50.0 * clearance * 2100.0 == pytest.approx(108.6e3, rel=0.002)
    assert 25.0 + clearance_by_root(2.5, 350.0) == pytest.approx(25.3, abs=0.05)
    assert shear_force(math.pi * 25.0, 2.5, 350.0) == pytest.approx(68.7e3, rel=0.002)
    assert relieved_force(1000.0, 1.0, 1.0) == pytest.approx(500.0)


def test_blank_at_constant_area():
    assert blank_diameter(25.0, 15.0) == pytest.approx(46.1, abs=0.05)


def test_ideal_ironing():
    assert ironing_stress(3.0, 2.4, 300.0) == pytest.approx(77.3, abs=0.05)
    with pytest.raises(InputError, match="thickness after"):
        ironing_stress(3.0, 3.0 * (1.0 - 0.64), 300.0)
    assert ironing_stress(3.0, 3.0 * (1.0 - 0.63), 300.0) < 2.0 / math.sqrt(3.0) * 300.0


@pytest.mark.parametrize(
    ("stress_ratio", "major", "minor"),
    [(0.0, 0.250, -0.125), (0.5, 0.250, 0.0), (0.75, 0.2902, 0.1161), (1.0, 0.250, 0.250)],
)
def test_swift_limit(stress_ratio, major, minor):
    assert swift_limit(0.25, stress_ratio) == pytest.approx((major, minor), abs=5e-5)


def test_hill_limit_and_what_a_strain_before_takes():
    assert hill_limit(0.25, -0.5) == pytest.approx(0.500)
    assert hill_limit(0.25, 0.0) == pytest.approx(0.250)
    # in plane strain the effective strain behind it counts by sqrt3/2, as the source's formula has it
    assert hill_limit(0.25, 0.0, 0.1) == pytest.approx(0.25 - 0.1 * math.sqrt(3.0) / 2.0)
    assert major_limit(0.25, -0.5, 10.0) == 0.0
    assert major_limit(0.25, 0.4, 0.0) == pytest.approx(swift_limit(0.25, 1.8 / 2.4)[0])
    assert major_limit(0.25, -1e-12) == pytest.approx(major_limit(0.25, 1e-12), abs=1e-9)


@pytest.mark.parametrize(("thickness", "n", "limit"), [(1.0, 0.21, 0.374), (1.5, 0.18, 0.381), (0.5, 0.21, 0.304)])
def test_low_carbon_limit(thickness, n, limit):
    assert low_carbon_plane_strain_limit(n, thickness) == pytest.approx(limit, abs=5e-4)


def test_refusals_name_field_and_remedy():
    with pytest.raises(InputError, match=r"blank diameter.*above 80\.28"):
        holder_force(63.0, 70.0, 2.4, 6.0, 175.0)
    with pytest.raises(InputError, match="prior strain"):
        hill_limit(0.2, 0.0, -0.1)
    with pytest.raises(InputError, match="shear is -1"):
        relieved_force(10.0, 1.0, -1.0)
