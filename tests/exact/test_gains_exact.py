"""Stop gains and aim against simulation and numerical optimum; corners, friction against their own equations."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize, special

from hoopwright.errors import InputError
from hoopwright.kernels.stop_table import girth_per_stroke
from hoopwright.kernels.taper_drive import TaperDrive, drive_forces
from hoopwright.kernels.wayback.corners import corner_factor
from hoopwright.kernels.wayback.friction import friction_from_pulls, pull_ratio
from hoopwright.kernels.wayback.gains import (
    aim,
    best_steady_gain,
    opening_gains,
    same_ring_gain,
    steady_rms,
    stop_change,
)


def simulated_rms(gain: float, p: float, m: float, q: float) -> float:
    rng = np.random.default_rng(1)
    shops, rings = 4000, 120
    state = np.zeros(shops)
    total = 0.0
    for k in range(rings):
        state += q * rng.standard_normal(shops)
        size = state + p * rng.standard_normal(shops)
        if k >= 60:
            total += float((size**2).mean()) / (rings - 60)
        state -= gain * (size + m * rng.standard_normal(shops))
    return math.sqrt(total)


@pytest.mark.parametrize(("gain", "drift"), [(1.0, 0.002), (0.5, 0.002), (0.3, 0.010), (0.2, 0.010)])
def test_steady_scatter_is_that_of_a_simulated_stop(gain: float, drift: float) -> None:
    # 240 000 correlated rings: two standard errors are 0.3 %
    assert steady_rms(gain, 0.02, 0.015, drift) == pytest.approx(simulated_rms(gain, 0.02, 0.015, drift), rel=4e-3)


@pytest.mark.parametrize("drift", [0.002, 0.010])
def test_best_gain_is_the_numerical_one(drift: float) -> None:
    best = optimize.minimize_scalar(lambda g: steady_rms(g, 0.02, 0.015, drift), bounds=(0.01, 1.5), method="bounded")
    assert best_steady_gain(0.02, 0.015, drift) == pytest.approx(best.x, abs=2e-4)


def test_opening_gains_fall_like_one_over_n() -> None:
    gains = opening_gains(50, 0.06, 0.02, 0.015, 0.0)
    ratio = (0.02**2 + 0.015**2) / 0.06**2
    assert gains[:4] == pytest.approx([1 / (k + ratio) for k in range(1, 5)])
    assert opening_gains(200, 0.06, 0.02, 0.015, 0.002)[-1] == pytest.approx(
        best_steady_gain(0.02, 0.015, 0.002), abs=0.01
    )


@pytest.mark.parametrize("sd", [0.02, 0.03, 0.05])
def test_aim_is_the_numerical_optimum(sd: float) -> None:
    t, ratio = 0.10, 20.0

    def loss(offset: float) -> float:
        return float(ratio * special.ndtr((offset - t) / sd) + special.ndtr((-t - offset) / sd))

    best = optimize.minimize_scalar(loss, bounds=(-t, t), method="bounded", options={"xatol": 1e-9})
    assert aim(sd, t, ratio).offset == pytest.approx(best.x, abs=2e-4)
    assert aim(sd, t, ratio).loss == pytest.approx(best.fun, rel=1e-4)


def test_last_hit_aims_at_the_target() -> None:
    assert aim(0.05, 0.1, 20.0, last_hit=True).offset == 0.0


def test_stop_change_agrees_with_the_stop_table() -> None:
    drive = TaperDrive(8, math.radians(7.0), 0.1)
    assert stop_change(0.12, math.radians(7.0), 8) == pytest.approx(0.12 / girth_per_stroke(drive), rel=1e-14)
    assert stop_change(0.12, math.radians(7.0), 8, girth=False) == pytest.approx(0.12 / drive.diameter_per_stroke)


@pytest.mark.parametrize("mu", [0.02, 0.06, 0.10])
def test_friction_comes_back_from_the_drive_s_own_forces(mu: float) -> None:
    forces = drive_forces(TaperDrive(8, math.radians(7.0), mu, 1.2 * mu), 25_000.0)
    assert friction_from_pulls(forces.pull_N, forces.hold_N, math.radians(7.0)) == pytest.approx(mu, abs=1e-10)
    assert forces.pull_N / forces.hold_N == pytest.approx(pull_ratio(math.radians(7.0), mu, 1.2 * mu))


def test_friction_refuses_pulls_that_no_friction_explains() -> None:
    with pytest.raises(InputError, match="starts back"):
        friction_from_pulls(1000.0, 2000.0, math.radians(7.0))
    with pytest.raises(InputError):
        pull_ratio(math.radians(5.0), 0.12, 0.1)


def test_same_ring_is_corrected_nearly_in_full() -> None:
    assert same_ring_gain(0.075, 0.015) == pytest.approx(0.9615, abs=1e-4)


def test_corner_factor_of_one_part_without_doubt_in_it() -> None:
    found = corner_factor(2.9, [3.0] * 400, 3.0, 3.0)
    assert found.factor == pytest.approx(1.0, abs=1e-9)
    assert found.next_roll_radius == pytest.approx(2.9, abs=1e-9)
    with pytest.raises(InputError, match="measure it again"):
        corner_factor(2.9, [2.8], 3.0, 3.0)
