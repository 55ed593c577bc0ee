"""Story 5, roundness of 402-01: harmonics, what is left of them, the lobes, and the wrong segment set behind them."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from hoopwright.correct.change import refuse_superseded
from hoopwright.correct.lobes import LobeDiagnosis, diagnose_lobes
from hoopwright.design.readings import read_readings
from hoopwright.design.register import read_register
from hoopwright.kernels.circles.orders import fit_orders
from hoopwright.measure.roundness import Roundness, RoundnessSettings, evaluate_roundness

DEMO = Path(__file__).parents[2] / "examples" / "demo"
READ = next(r for r in read_readings(DEMO / "readings.toml").roundness if r.name == "roundness_402_01")
REGISTER = read_register(DEMO / "register.toml")
ANGLES = [READ.step_deg * k for k in range(len(READ.deviation_mm))]
NEEDED_MM = 123.395


@pytest.fixture(scope="module")
def roundness() -> Roundness:
    return evaluate_roundness(ANGLES, READ.deviation_mm, RoundnessSettings(8, 123.8))


@pytest.fixture(scope="module")
def lobes(roundness: Roundness) -> LobeDiagnosis:
    return diagnose_lobes(roundness, REGISTER, READ.ring, "HT-402-S", NEEDED_MM)


def test_harmonics_by_the_stated_method() -> None:
    found = fit_orders(np.deg2rad(ANGLES), READ.deviation_mm, tuple(range(1, 13)))
    printed = {1: 0.181, 2: 0.240, 3: 0.029, 8: 0.057}
    for order, amplitude in printed.items():
        assert found.order(order).amplitude == pytest.approx(amplitude, abs=5e-4)
    assert max(o.amplitude for o in found.orders if o.order not in printed) < 0.005


def test_what_is_left_and_the_limits(roundness: Roundness) -> None:
    assert roundness.left_after("0") == pytest.approx(0.85, abs=5e-3)
    assert roundness.left_after("1") == pytest.approx(0.577, abs=5e-4)
    assert roundness.left_after("1,2") == pytest.approx(0.170, abs=5e-4)
    assert roundness.left_after("1,2,N") == pytest.approx(0.074, abs=5e-4)
    assert roundness.left_after("1") <= 0.80  # free: pass
    assert roundness.left_after("1,2") > 0.15  # estimate of restrained: fail


def test_minimum_zone_is_smaller(roundness: Roundness) -> None:
    """0.577 is about the least-squares circle; the minimum zone is 0.551 (method paper: 0.5509)."""
    assert roundness.least_squares.zone == pytest.approx(0.577, abs=5e-4)
    assert roundness.minimum_zone.zone == pytest.approx(0.5509, abs=5e-5)


def test_orders_with_their_doubt() -> None:
    """Method paper: 0.1808, 0.2398, 0.0294, 0.0566 at -0.29 deg (sd 0.0015; 0.19 deg), a16 0.0032, a4 0.0004."""
    found = fit_orders(np.deg2rad(ANGLES), READ.deviation_mm, (1, 2, 3, 4, 8, 16))
    amplitudes = [found.order(k).amplitude for k in (1, 2, 3, 8, 16, 4)]
    assert amplitudes == [pytest.approx(a, abs=5e-5) for a in (0.1808, 0.2398, 0.0294, 0.0566, 0.0032, 0.0004)]
    eight = found.order(8)
    assert math.degrees(eight.crest_rad) == pytest.approx(-0.29, abs=5e-3)
    assert eight.sd == pytest.approx(0.0015, abs=5e-5)
    assert math.degrees(eight.crest_sd_rad) == pytest.approx(0.19, abs=6e-3)
    assert found.order(16).p_value == pytest.approx(0.11, abs=0.015)


def test_lobes_name_the_superseded_set(lobes: LobeDiagnosis) -> None:
    assert lobes.crest == "segment centre"
    # 1.83 by least squares; the prior of the robust fit takes 0.3 % off
    assert lobes.standing_mm == pytest.approx(1.83, abs=0.01)
    assert [tool.id for tool in lobes.explained_by] == ["HT-402-S0"]
    finding = lobes.findings[0]
    assert finding.topic == "wrong-segment-set" and "superseded" in finding.sentence and "1.825" in finding.sentence
    assert "no tool change" in finding.remedy


def test_a_card_for_the_press_refuses_the_superseded_set() -> None:
    refusal = refuse_superseded(REGISTER, "HT-402-S0")
    assert refusal is not None and refusal.level == "stop" and "HT-402-S" in refusal.remedy
    assert refuse_superseded(REGISTER, "HT-402-S") is None
