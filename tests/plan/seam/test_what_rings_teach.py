"""Angle and shrinkage learned from rings: factors of a setting, kink of a traced hoop, and its card."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.shop import house_limits, machines
from hoopwright.errors import FileFaults, InputError
from hoopwright.kernels.seam_angle import KP_MEDIAN, kink_harmonic, learned_angle_factor
from hoopwright.plan.seam.heat_card import heat_card
from hoopwright.plan.seam.kink_read import kink_card, read_kink, read_trace
from hoopwright.plan.seam.machine import WeldSetting
from hoopwright.plan.seam.settings import SeamPlan, plan_setting
from hoopwright.plan.seam.settings_shape import RingsRead
from hoopwright.plan.shelf import Shelf

CARD, LASER, HOUSE = heat_card(alloy("N06002")), machines().laser, house_limits("demo-house")


def planned(read: RingsRead) -> SeamPlan:
    return plan_setting("X-1", WeldSetting(600.0, 40.0, 0.3), 0.8, CARD, LASER, HOUSE, radius_mm=124.0, read=read)


def test_shrinkages_of_rings_teach_the_factor() -> None:
    before, after = planned(RingsRead()), planned(RingsRead((0.060, 0.055, 0.058)))
    assert after.numbers.shrinkage_sd_mm < before.numbers.shrinkage_sd_mm
    assert before.numbers.shrinkage_mm < after.numbers.shrinkage_mm < 0.0577
    assert after.figure("/shrinkage").inputs[0].source.basis == "measured"


def test_angles_of_rings_teach_theirs() -> None:
    before = planned(RingsRead())
    usual = before.figure("/weld/angle")
    read = 1.5 * usual.value
    after = planned(RingsRead((), (read,) * 4)).figure("/weld/angle")
    assert usual.value < after.value < read
    assert after.band is not None and usual.band is not None
    assert after.band.high / after.band.low < usual.band.high / usual.band.low
    assert after.inputs[0].symbol == "kp" and after.inputs[0].source.basis == "measured"
    with pytest.raises(InputError, match="angle across the seam"):
        planned(RingsRead((), (-0.5,)))


def test_posterior_of_the_angle_factor_is_the_normal_one() -> None:
    """ln kp: prior ln 0.5, 0.6; four readings of ln 0.75 with 0.25."""
    median, sd = learned_angle_factor([0.75] * 4, [1.0] * 4)
    weight = 1 / 0.36 + 4 / 0.0625
    expected = (math.log(KP_MEDIAN) / 0.36 + 4 * math.log(0.75) / 0.0625) / weight
    assert (math.log(median), sd) == pytest.approx((expected, weight**-0.5))


def trace(angle: float, oval: float, noise: float, places: int = 72) -> tuple[np.ndarray, np.ndarray]:
    theta = np.linspace(0.0, 2.0 * math.pi, places, endpoint=False)
    shape = sum(kink_harmonic(n, angle, 124.0) * np.cos(n * theta) for n in range(2, 30))
    rng = np.random.default_rng(3)
    return theta, shape + oval * np.cos(2.0 * theta - 1.0) + 0.02 * np.cos(theta) + noise * rng.normal(size=places)


def test_a_dented_hoop_is_read_and_its_card_taken(tmp_path: Path) -> None:
    found = read_kink(trace(-0.02, 0.10, 0.005), 124.0, "N06002-0.80")
    assert found.estimate.angle == pytest.approx(-0.02, abs=3.0 * found.estimate.angle_sd)
    assert found.estimate.angle_sd < 0.002 and "is dented" in found.sentence
    (tmp_path / "seam.toml").write_text(kink_card(found, "N06002", 0.8, Shelf().seam("N06002", 0.8)), encoding="utf-8")
    card = Shelf(tmp_path).seam("N06002", 0.8)
    assert card.angle_deg.value == pytest.approx(math.degrees(found.estimate.angle), abs=1e-4)
    assert card.angle_deg.source.basis == "measured" and card.angle_sd_deg is not None


def test_what_is_not_clear_is_said() -> None:
    unclear = read_kink(trace(0.0005, 0.5, 0.05), 124.0, "X")
    assert {f.topic for f in unclear.findings} == {"kink-unclear", "kink-handling"}
    with pytest.raises(InputError, match="at least 17 angles"):
        read_kink(trace(0.02, 0.0, 0.0, 12), 124.0, "X")
    with pytest.raises(InputError, match="hoop radius"):
        read_kink(trace(0.02, 0.0, 0.0), 0.0, "X")


def test_trace_file(tmp_path: Path) -> None:
    path = tmp_path / "trace.csv"
    path.write_text("theta_deg,deviation_mm\n0,-0.4\n5,-0.3\n", encoding="utf-8")
    theta, deviation = read_trace(path)
    assert theta[1] == pytest.approx(math.radians(5.0)) and deviation[0] == -0.4
    path.write_text("theta_deg,deviation_mm\n0,-0.4\n720,-0.3\n5,nan\n", encoding="utf-8")
    with pytest.raises(FileFaults) as caught:
        read_trace(path)
    assert [(f.key, f.line) for f in caught.value.faults] == [("deviation_mm", 4), ("theta_deg", 3)]
