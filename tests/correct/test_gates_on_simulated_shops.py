"""Gates on simulated shops with a fault put in: caught shares; a gated trial widened, absorbed or thrown away.

Method paper (caught after 0 / 1 / 3 good rings): none 0.05 / 0.03 / 0.05; cast +15 % 0.17 / 0.95 / 0.99; tilt 0.08
1.00 each; one reading off 0.10 0.96 / 0.97 / 0.98; stop off 0.10 0.09 / 0.81 / 0.94. Ours besides the gates holds the
house window of +-15 % on the implied stress.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from shop_simulator import LIP_402, Shop, shops
from test_calibration_on_simulated_shops import as_trial

from hoopwright.correct.gates import admitted, gate, implied_ratio
from hoopwright.correct.trials import Trial, all_readings
from hoopwright.kernels.wayback.levels import posterior

FAULTS = {
    "none": {}, "cast": {"cast_shift": 0.15}, "tilt": {"tilt_shift": 0.08}, "reading": {"reading_shift": 0.10},
    "stop": {"stop_shift": 0.10},
}  # fmt: skip
PAPER = {
    "none": (0.05, 0.03, 0.05), "cast": (0.17, 0.95, 0.99), "tilt": (1.00, 1.00, 1.00), "reading": (0.96, 0.97, 0.98),
    "stop": (0.09, 0.81, 0.94),
}  # fmt: skip
GOOD = (0, 1, 3)
COUNT = 60


def faulty(shop: Shop, good: int, fault: str) -> tuple[list[Trial], Trial]:
    """Good rings of the first cast, then one ring with the fault; hardness read where a cast is to be told by it."""
    earlier = [as_trial(shop.trial(0)) for _ in range(good)]
    return earlier, as_trial(shop.trial(0, LIP_402, **FAULTS[fault]))


@pytest.mark.parametrize("fault", list(FAULTS))
def test_share_caught(fault: str) -> None:
    for good, printed in zip(GOOD, PAPER[fault], strict=True):
        caught = 0
        for shop in shops(COUNT, False, seed=99):
            earlier, trial = faulty(shop, good, fault)
            found = gate(trial, earlier)
            # the window on implied stress is a rule of its own; the paper's gates are counted without it
            by_window = not found.open and found.statistics[-1][0] == "implied stress over prediction"
            caught += not found.open and not by_window
        share = caught / COUNT
        slack = 2.0 * math.sqrt(max(printed * (1.0 - printed), 0.02) / COUNT)
        if fault == "none":
            assert share <= printed + slack, (good, share)
        else:
            assert share >= printed - slack, (good, share)


def next_error(trials: list[Trial], shop: Shop) -> float:
    then = shop.trial(0)
    ask = as_trial(then)
    mean = float(posterior(all_readings(trials), [ask.place(ask.stations[2])]).mean[0])
    return float(then.true_free_mm[2] + LIP_402.springback_mm[2]) - mean


@pytest.mark.parametrize("fault", ["cast", "stop"])
def test_gated_trial_is_widened_not_thrown_away_and_not_absorbed(fault: str) -> None:
    """After one good ring: widened beats absorbed (paper: cast +15 % 0.067 absorbed, 0.029 gated)."""
    absorbed, widened = [], []
    for way, errors in (("absorbed", absorbed), ("widened", widened)):
        for shop in shops(COUNT, False, seed=99):
            earlier, trial = faulty(shop, 1, fault)
            kept = trial if way == "absorbed" else admitted(trial, earlier)
            errors.append(next_error([*earlier, kept], shop))
    assert float(np.sqrt(np.mean(np.square(widened)))) < float(np.sqrt(np.mean(np.square(absorbed))))


def test_first_ring_gated_still_teaches() -> None:
    """With no other ring a gated trial must not be thrown away (paper: 0.084-0.091 without it, 0.029-0.038 with it)."""
    without, widened = [], []
    for keep, errors in ((False, without), (True, widened)):
        for shop in shops(COUNT, False, seed=7):
            _, trial = faulty(shop, 0, "tilt")
            errors.append(next_error([admitted(trial, [])] if keep else [], shop))
    assert float(np.sqrt(np.mean(np.square(widened)))) < 0.6 * float(np.sqrt(np.mean(np.square(without))))


def test_hardness_is_asked_for_on_the_first_ring_of_a_cast() -> None:
    shop = shops(1, False)[0]
    first, second = as_trial(shop.trial(0)), as_trial(shop.trial(0))
    assert gate(first, []).ask_hardness
    assert not gate(second, [first]).ask_hardness


def test_window_alone_cries_wolf() -> None:
    """It lumps the stop offset into stress: on good first rings, by the stop's size, one in six (paper 0.17)."""
    out = 0
    for shop in shops(200, False, seed=3):
        trial = as_trial(shop.trial(0))
        bare = Trial(
            trial.ring, trial.serial, trial.cast, trial.segment_set, trial.hit,
            tuple(type(s)(s.name, s.axis, s.loaded_mm, s.springback_mm, s.free_mm) for s in trial.stations),
        )  # fmt: skip
        out += abs(implied_ratio(bare) - 1.0) > 0.15
    assert out / 200 == pytest.approx(0.17, abs=2 * math.sqrt(0.17 * 0.83 / 200))
