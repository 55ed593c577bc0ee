"""Story 4, sizing correction of 402-03: the stated hand method to the last printed digit, and ours beside it."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from hoopwright.correct.calibration import metal_share
from hoopwright.correct.gates import gate
from hoopwright.correct.same_ring import Hit, next_hit, next_hit_by_hand, recut_by_hand
from hoopwright.correct.trials import Station, Trial
from hoopwright.design.readings import read_readings
from hoopwright.kernels.taper_drive import TaperDrive

DEMO = Path(__file__).parents[2] / "examples" / "demo"
READ = next(s for s in read_readings(DEMO / "readings.toml").sizing if s.name == "sizing_402_03")
DRIVE = TaperDrive(8, math.radians(7.0), 0.10, 0.12)
PREDICTED_MPa, MODULUS_MPa, TURNED_MM = 648.6, 205_000.0, 123.395


def hit(free_mm: float) -> Hit:
    return Hit(READ.loaded_diameter_from_stop_mm, free_mm, 247.60, 0.10, PREDICTED_MPa, MODULUS_MPa)


def trial(free_mm: float) -> Trial:
    springback = 248.372 * PREDICTED_MPa / MODULUS_MPa
    station = Station("lip", 1.0, READ.loaded_diameter_from_stop_mm, springback, (free_mm,))
    return Trial("HD-402", READ.serial, "X0417", READ.segment_set, READ.hit, (station,))


def test_hand_method_to_the_last_digit() -> None:
    read = hit(READ.free_diameter_mm)
    assert read.springback_mm == pytest.approx(0.892, abs=5e-4)
    assert 100 * read.springback_share == pytest.approx(0.360, abs=1e-3)
    assert read.implied_stress_MPa == pytest.approx(739, abs=1)
    assert read.ratio == pytest.approx(1.14, abs=5e-3)
    found = next_hit_by_hand(read, DRIVE)
    assert found.finding is None
    assert found.stop_mm == pytest.approx(0.50, abs=1e-9)
    assert found.index_deg == 11.25  # a quarter of the pitch of 45 deg
    assert 100 * found.strain_share == pytest.approx(0.049, abs=1e-3)
    assert found.standing_mm == pytest.approx(0.061, abs=5e-4)
    assert found.lobes_mm == pytest.approx(0.005, abs=5e-4)


def test_recut_if_all_of_it_were_the_segments() -> None:
    assert recut_by_hand(TURNED_MM, hit(READ.free_diameter_mm)) == pytest.approx(0.054, abs=5e-4)
    assert TURNED_MM + recut_by_hand(TURNED_MM, hit(READ.free_diameter_mm)) == pytest.approx(123.449, abs=1e-3)


def test_second_input_is_refused_with_what_to_check() -> None:
    found = next_hit_by_hand(hit(247.20), DRIVE)
    assert hit(247.20).ratio == pytest.approx(1.50, abs=5e-3)
    assert not found.offered and found.stop_mm == 0.0
    assert found.finding is not None and found.finding.level == "stop"
    assert all(word in found.finding.remedy for word in ("seat", "stop", "hardness"))


def test_ours_reads_girth_and_counts_this_ring_s_own_uncertainty() -> None:
    """0.12 / (0.2393 x 0.983) = 0.510 of pin for the whole error; the ring's own gain of 0.96 leaves 0.490."""
    found = next_hit(hit(READ.free_diameter_mm), DRIVE, hardening_share=0.017)
    assert found.exact_stop_mm == pytest.approx(0.9615 * 0.5101, abs=5e-4)
    assert found.stop_mm == pytest.approx(0.49)


def test_ours_gates_by_distance_and_asks_for_hardness() -> None:
    """Method paper: 247.48 stands 1.24 sd from expectation (correct), 247.20 beyond the gates (no correction)."""
    good, bad = gate(trial(247.48), []), gate(trial(247.20), [])
    assert good.open and good.ask_hardness
    assert dict(good.statistics)["mean"] == pytest.approx(1.24, abs=0.25)  # the paper weighs other scatter of the stop
    assert not bad.open
    assert bad.finding is not None and bad.finding.sentence.startswith("No correction")
    assert dict(bad.statistics)["mean"] > 2.8


def test_metal_takes_the_shop_s_share_only() -> None:
    """Three casts alike: 0.054; three rings of one cast: 0.59 x 0.054 = 0.032 (method paper)."""
    error = recut_by_hand(TURNED_MM, hit(READ.free_diameter_mm))
    three_casts = metal_share(error, 0.788, casts=3, rings=3, offset_measured=True)
    one_cast = metal_share(error, 0.788, casts=1, rings=3, offset_measured=True)
    assert three_casts.recut_mm == pytest.approx(0.054, abs=5e-4)
    assert one_cast.recut_mm == pytest.approx(0.032, abs=5e-4)
    assert "1 cast" in one_cast.why
