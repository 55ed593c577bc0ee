"""Corner formulas and plane-strain bending against textbook figures; sources and their standing in SOURCE.md."""

import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.corner_bend import BendSheet, bending_moment, springback_curvature
from hoopwright.kernels.corner_formulas import (
    face_strain,
    least_inside_radius,
    neutral_radius,
    power_law_moment,
    springback_ratio,
    tension_moment_share,
)
from hoopwright.kernels.flow import tabulated


def test_overbend_of_a_thin_sheet() -> None:
    """Printed: ratio 0.944, final radius 0.529 in, bend to about 95.1 degrees (book rounds at each step: 0.3 %)."""
    inch = 25.4
    ratio = springback_ratio(0.5 * inch, 0.0359 * inch, 40.0, 30000.0)
    assert ratio == pytest.approx(0.944, abs=5e-4)
    assert 0.5 / ratio == pytest.approx(0.529, abs=5e-4 + 0.001 * 0.529)
    t, loaded = 0.0359, 0.5
    bend = 90.0 * (2.0 * loaded / ratio / t + 1.0) / (2.0 * loaded / t + 1.0)
    assert bend == pytest.approx(95.1, abs=0.05)


def test_gap_of_a_strip_rolled_to_a_tube() -> None:
    """Printed for the plastic section: 0.375 rad, final radius 6.77, gap 2.53; within 0.5 %, as the problem rounds.

    The elastic core of the full cubic takes 0.1 % off the angle.
    """
    plane = 70000.0 / (1.0 - 0.09)
    stress = 250.0 * 2.0 / math.sqrt(3.0)
    assert stress == pytest.approx(288.7, abs=0.05)
    assert plane == pytest.approx(76900.0, abs=50.0)
    radius = 40.0 / (2.0 * math.pi)
    recovered = 2.0 * math.pi * (1.0 - springback_ratio(radius, 1.2, stress, plane))
    assert recovered == pytest.approx(0.375, rel=5e-3)
    final = 40.0 / (2.0 * math.pi - recovered)
    assert final == pytest.approx(6.77, rel=5e-3)
    assert 2.0 * final * math.sin(0.5 * recovered) == pytest.approx(2.53, rel=5e-3)
    sheet = BendSheet(tabulated(np.array([0.0, 1.0]), np.array([250.0, 250.0])), 70000.0, 0.3, 1.2)
    assert 2.0 * math.pi * radius * springback_curvature(sheet, 1.0 / radius) == pytest.approx(recovered, rel=1e-9)


def test_moment_and_curvature_at_yield() -> None:
    """Printed for 86.60 MPa in plane strain: radius 1599, moments 20.8 and 31.2 N (last digits)."""
    flow = 86.60 * math.sqrt(3.0) / 2.0
    sheet = BendSheet(tabulated(np.array([0.0, 1.0]), np.array([flow, flow])), 210000.0, 0.3, 1.2)
    first = sheet.yield_strain / 0.6
    assert 1.0 / first == pytest.approx(1599.0, abs=0.5)
    assert bending_moment(sheet, first) == pytest.approx(20.8, abs=0.05)
    assert bending_moment(sheet, 1.0 / 5.0) == pytest.approx(31.2, abs=0.05)


def test_power_law_springback() -> None:
    """Computed from the book's form: K' 1570.7, moment 40.35 N, change 2.2833e-3, released radius 56.44."""
    raised = 1275.0 * (2.0 / math.sqrt(3.0)) ** 1.45
    assert raised == pytest.approx(1570.7, abs=0.05)
    moment = power_law_moment(raised, 0.45, 0.02, 1.0)
    change = 12.0 * moment * (1.0 - 0.09) / 193000.0
    assert moment == pytest.approx(40.35, abs=0.005)
    assert change == pytest.approx(2.2833e-3, abs=5e-8)
    assert 1.0 / (0.02 - change) == pytest.approx(56.44, abs=0.005)


@pytest.mark.parametrize(
    ("share", "moment", "springback"),
    [
        (0.0, 0.9990, 0.08174),
        (0.25, 0.9365, 0.07662),
        (0.5, 0.7490, 0.06128),
        (0.75, 0.4365, 0.03571),
        (0.9, 0.1890, 0.01546),
    ],
)
def test_bending_under_tension(share: float, moment: float, springback: float) -> None:
    stress, plane, t, rho = 300.0, 220000.0, 1.0, 20.0
    got = tension_moment_share(share, rho, t, stress, plane)
    assert got == pytest.approx(moment, abs=5e-5)
    # the last two print 0.00001 off their own moments
    assert 12.0 * got * stress * t**2 / 4.0 * rho / (plane * t**3) == pytest.approx(springback, abs=1.5e-5)


@pytest.mark.parametrize(("ratio", "strain"), [(0.0, 1.0), (1.0, 0.333), (2.0, 0.200), (4.0, 0.111), (10.0, 0.0476)])
def test_outer_fibre_strain(ratio: float, strain: float) -> None:
    assert face_strain(ratio * 0.8, 0.8) == pytest.approx(strain, abs=5e-4 if strain > 0.1 else 5e-5)


@pytest.mark.parametrize(("reduction", "ratio"), [(0.20, 1.5), (0.35, 0.43), (0.50, 0.0)])
def test_least_radius_by_reduction_of_area(reduction: float, ratio: float) -> None:
    assert least_inside_radius(reduction, 1.0) == pytest.approx(ratio, abs=5e-3)


@pytest.mark.parametrize(("ratio", "factor"), [(1.0, 0.4142), (2.0, 0.4495), (5.0, 0.4772), (10.0, 0.4881)])
def test_neutral_surface(ratio: float, factor: float) -> None:
    assert neutral_radius(ratio, 1.0) - ratio == pytest.approx(factor, abs=5e-5)


def test_the_cubic_stops_where_the_sheet_is_elastic() -> None:
    with pytest.raises(InputError, match="loaded radius"):
        springback_ratio(100.0, 0.1, 300.0, 205000.0)
