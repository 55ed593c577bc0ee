import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.corner_formulas import (
    face_strain,
    hand_corner,
    inside_radius_for_strain,
    least_inside_radius,
    neutral_radius,
    power_law_moment,
    springback_ratio,
    tension_moment_share,
)
from hoopwright.kernels.flow import swift


def test_hand_corner_keeps_the_arc() -> None:
    hand = hand_corner(swift(1630.0, 0.020, 0.385), 205000.0, 0.32, 0.8, 4.0, math.radians(21.39))
    assert hand.tool_radius_mm * hand.tool_turn_rad == pytest.approx(4.0 * math.radians(21.39))
    assert hand.tool_radius_mm == pytest.approx(1.0 / (0.25 + hand.curvature_change_per_mm))


def test_cubic_at_its_two_ends() -> None:
    assert springback_ratio(0.5e-3, 1.0, 200.0, 200000.0) == pytest.approx(1.0, abs=1e-5)
    assert springback_ratio(500.0, 1.0, 200.0, 200000.0) == 0.0


def test_cubic_is_refused_where_the_bend_is_elastic() -> None:
    with pytest.raises(InputError, match="loaded radius"):
        springback_ratio(501.0, 1.0, 200.0, 200000.0)


def test_power_law_without_hardening_is_the_plastic_moment() -> None:
    assert power_law_moment(300.0, 0.0, 0.02, 1.0) == pytest.approx(300.0 / 4.0)


def test_tension_takes_the_moment_away() -> None:
    assert tension_moment_share(0.0, 20.0, 1.0, 300.0, 220000.0) > tension_moment_share(0.9, 20.0, 1.0, 300.0, 220000.0)
    with pytest.raises(InputError, match="tension share"):
        tension_moment_share(0.99, 20.0, 1.0, 300.0, 220000.0)


def test_face_strain_and_its_inverse() -> None:
    assert inside_radius_for_strain(face_strain(2.6, 0.8), 0.8) == pytest.approx(2.6)
    assert face_strain(0.0, 0.8) == 1.0
    assert least_inside_radius(0.6, 0.8) == 0.0
    assert neutral_radius(1.0, 1.0) == pytest.approx(math.sqrt(2.0))


def test_refusals() -> None:
    with pytest.raises(InputError, match="inside radius"):
        face_strain(-0.1, 0.8)
    with pytest.raises(InputError, match="face strain"):
        inside_radius_for_strain(0.0, 0.8)
    with pytest.raises(InputError, match="reduction of area"):
        least_inside_radius(math.nan, 0.8)
    with pytest.raises(InputError, match="exponent"):
        power_law_moment(300.0, 1.5, 0.02, 1.0)
