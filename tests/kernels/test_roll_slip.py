import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.roll_slip import (
    cant_for_least_depth,
    canted,
    conical_pitch,
    level_pitch_height,
    pitch_radius_needed,
    slip_map,
    steering,
)


def test_mid_depth_makes_the_worst_slip_smallest() -> None:
    heights = np.array([0.0, 1.0, 3.0, 2.5])
    middle = level_pitch_height(heights)
    best = slip_map(heights - middle, 50.0, 0.8)
    assert middle == 1.5
    assert best.worst == pytest.approx(3.0 / 50.0)
    assert all(slip_map(heights - middle - move, 50.0, 0.8).worst > best.worst for move in (-0.2, 0.2))


def test_both_faces_keep_the_sheet_between_them() -> None:
    slips = slip_map([-1.0, 0.0, 2.0], 50.0, 0.8)
    assert slips.inner_radius_mm + slips.outer_radius_mm + 0.8 == pytest.approx(np.full(3, 100.0))
    assert slips.worst_station == 2


def test_slip_is_the_speed_difference_of_the_faces_over_the_pitch_speed() -> None:
    slips = slip_map([1.2], 50.0, 0.8)
    speed = slips.inner_radius_mm[0] - slips.outer_radius_mm[0]
    assert slips.slip[0] == pytest.approx(speed / 50.0)


def test_pitch_radius_needed_just_meets_the_limit() -> None:
    needed = pitch_radius_needed(3.05, 0.05)
    assert slip_map([-1.525, 1.525], needed, 0.8).worst == pytest.approx(0.05)
    assert pitch_radius_needed(0.0, 0.05) == 0.0


def test_a_straight_cone_canted_to_its_slope_has_no_depth() -> None:
    z = np.linspace(0.0, 30.0, 7)
    cant = cant_for_least_depth(z, 100.0 + 0.2 * z, math.radians(20.0))
    assert cant.depth_mm == pytest.approx(0.0, abs=1e-12)
    assert cant.angle_rad == pytest.approx(math.atan(0.2))
    assert np.ptp(cant.axial_mm) == pytest.approx(30.0 * math.hypot(1.0, 0.2))


def test_cant_found_is_the_best_of_a_scan_and_respects_its_limit() -> None:
    rng = np.random.default_rng(3)
    for _ in range(10):
        z, r = np.sort(rng.uniform(0.0, 40.0, 12)), 100.0 + rng.uniform(0.0, 12.0, 12)
        found = cant_for_least_depth(z, r, 0.35)
        scan = min(canted(z, r, float(angle)).depth_mm for angle in np.linspace(-0.35, 0.35, 3001))
        assert found.depth_mm <= scan + 1e-12
        assert abs(found.angle_rad) <= 0.35
    assert cant_for_least_depth([0.0, 10.0], [100.0, 120.0], 0.1).angle_rad == pytest.approx(0.1)


def test_cones_through_the_apex_do_not_steer_and_straight_ones_do() -> None:
    slant = np.linspace(205.8, 265.0, 5)
    pitch = conical_pitch(slant, 50.0)
    assert steering(slant, pitch) == pytest.approx(0.0, abs=1e-15)
    assert steering(slant, 50.0) == pytest.approx((265.0 - 205.8) / (0.5 * (265.0 + 205.8)))
    assert pitch.mean() == pytest.approx(50.0)


def test_refusals() -> None:
    with pytest.raises(InputError, match="pitch radius"):
        slip_map([-60.0, 60.0], 50.0, 0.8)
    with pytest.raises(InputError, match="pitch radius"):
        slip_map([0.0, 1.0], [50.0], 0.8)
    with pytest.raises(InputError, match="height"):
        slip_map([0.0, math.nan], 50.0, 0.8)
    with pytest.raises(InputError, match="depth"):
        pitch_radius_needed(-1.0, 0.05)
    with pytest.raises(InputError, match="r is"):
        canted([0.0, 1.0], [0.0, 1.0, 2.0], 0.1)
    with pytest.raises(InputError, match="largest cant"):
        cant_for_least_depth([0.0, 1.0], [0.0, 1.0], -0.1)
