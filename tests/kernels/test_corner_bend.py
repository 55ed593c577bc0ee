import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.corner_bend import (
    BendSheet,
    bending_moment,
    bending_work,
    corner,
    corner_first_order,
    corner_for,
    springback_curvature,
)
from hoopwright.kernels.flow import ludwik, swift, tabulated, voce

SWIFT = swift(1630.0, 0.020, 0.385)
SHEET = BendSheet(SWIFT, 205000.0, 0.32, 0.8)


def test_an_elastic_bend_has_the_plate_moment() -> None:
    curvature = 0.9 * SHEET.yield_strain / 0.4
    expected = SHEET.plane_modulus_MPa * 0.8**3 / 12.0 * curvature
    assert bending_moment(SHEET, curvature) == pytest.approx(expected, rel=1e-12)
    assert springback_curvature(SHEET, curvature) == pytest.approx(curvature, rel=1e-12)


def test_moment_is_odd_and_nothing_at_rest() -> None:
    assert bending_moment(SHEET, -0.2) == -bending_moment(SHEET, 0.2)
    assert bending_moment(SHEET, 0.0) == 0.0


@settings(max_examples=30, deadline=None)
@given(radius=st.floats(2.0, 60.0), turn=st.floats(0.05, 2.0))
def test_tool_for_a_corner_releases_to_it(radius: float, turn: float) -> None:
    found = corner_for(SHEET, radius, turn)
    assert found.released_radius_mm == pytest.approx(radius, rel=1e-9)
    assert found.released_turn_rad == pytest.approx(turn, rel=1e-9)
    assert found.loaded_radius_mm < radius
    # the arc keeps its length
    assert found.loaded_radius_mm * found.loaded_turn_rad == pytest.approx(radius * turn, rel=1e-9)


def test_first_order_is_close_and_a_little_open() -> None:
    exact, first = corner_for(SHEET, 3.0, 0.5), corner_first_order(SHEET, 3.0, 0.5)
    assert exact.loaded_radius_mm < first.loaded_radius_mm < exact.loaded_radius_mm + 0.004


def test_harder_metal_and_prior_strain_spring_back_more() -> None:
    base = springback_curvature(SHEET, 1.0 / 3.0)
    hard = BendSheet(SWIFT, 205000.0, 0.32, 0.8, prior_strain=0.05)
    assert springback_curvature(hard, 1.0 / 3.0) > base
    assert springback_curvature(BendSheet(SWIFT, 190000.0, 0.32, 0.8), 1.0 / 3.0) > base


def test_anisotropy_raises_the_plane_strain_factor() -> None:
    assert SHEET.plane_factor == pytest.approx(2.0 / math.sqrt(3.0))
    assert BendSheet(SWIFT, 205000.0, 0.32, 0.8, normal_anisotropy=2.0).plane_factor == pytest.approx(
        3.0 / math.sqrt(5.0)
    )


def test_every_law_of_flow_is_taken() -> None:
    p = np.linspace(0.0, 0.5, 2001)
    table = tabulated(p, np.array([SWIFT.stress(float(x)) for x in p]))
    dense = bending_moment(BendSheet(table, 205000.0, 0.32, 0.8), 1.0 / 3.0)
    assert dense == pytest.approx(bending_moment(SHEET, 1.0 / 3.0), rel=1e-5)
    for law in (voce(360.0, 900.0, 3.0), ludwik(300.0, 1200.0, 0.6)):
        assert bending_moment(BendSheet(law, 205000.0, 0.32, 0.8), 1.0 / 3.0) > 0.0


def test_bending_work_is_the_area_under_the_moment() -> None:
    curvature = np.linspace(0.0, 1.0 / 3.0, 2001)
    moments = np.array([bending_moment(SHEET, float(k)) for k in curvature])
    area = float(np.sum(0.5 * (moments[1:] + moments[:-1]) * np.diff(curvature)))
    assert bending_work(SHEET, 3.0, 0.4974) == pytest.approx(0.4974 * 3.0 * area, rel=2e-4)


def test_refusals() -> None:
    with pytest.raises(InputError, match="curvature"):
        bending_moment(SHEET, 1.26)
    with pytest.raises(InputError, match="loaded radius"):
        corner(SHEET, 1000.0, 0.1)
    with pytest.raises(InputError, match="released radius"):
        corner_for(SHEET, 0.8, 0.1)
    with pytest.raises(InputError, match="prior strain"):
        BendSheet(SWIFT, 205000.0, 0.32, 0.8, prior_strain=-0.01)
    with pytest.raises(InputError, match="turn"):
        corner(SHEET, 3.0, math.nan)
