"""Parts of a study: what scatters, rows of draws, the journal, what is read off a profile, the stand-in."""

from __future__ import annotations

import math
import pickle
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.plan.hooping.ask import Incoming
from hoopwright.plan.study.forward import PLACES, Ran
from hoopwright.plan.study.inputs import moved_job, moved_sizing, moves_of, scattered
from hoopwright.plan.study.journal import Journal
from hoopwright.plan.study.judged import Limit, profile_results
from hoopwright.plan.study.sampling import HELD_BACK, POPULATION, design_rows, random_rows, require_seed
from hoopwright.plan.study.study import StudyPlan
from hoopwright.plan.study.surrogate import fitted
from tests.plan.study.small_study import demo_plan, small_ask


def test_everything_on_the_card_scatters() -> None:
    plan = demo_plan()
    inputs, missing = scattered(plan.job, 8)
    keys = [one.key for one in inputs]
    assert len(keys) == len(set(keys)) == 24 and missing == ()
    assert {
        "sheet_thickness",
        "flow_stress",
        "hardening",
        "friction",
        "weld_strength",
        "weld_width",
        "segment_8",
    } <= set(keys)
    bare = replace(plan.job, spread=replace(plan.job.spread, segment_error_mm=None))
    fewer, told = scattered(bare, 8)
    assert len(fewer) == 16 and told == ("radius of single segments",)


def test_moves_reach_job_and_sizing() -> None:
    plan = demo_plan()
    inputs, _ = scattered(plan.job, 8)
    draw = np.ones(len(inputs))
    moves = moves_of(inputs, draw)
    job, shift = moved_job(plan.job, moves)
    assert job.thickness_mm.value == pytest.approx(0.8 + 0.008)
    assert job.metal.flow.stress(0.02) != pytest.approx(plan.job.metal.flow.stress(0.02), rel=0.001)
    assert job.metal.youngs_modulus_MPa == pytest.approx(1.015 * plan.job.metal.youngs_modulus_MPa)
    assert (shift.cut_length_mm, shift.shrinkage_mm) == (0.05, 0.025)
    assert job.friction.mu_pin.value == pytest.approx(plan.job.friction.mu_pin.value + 0.02)
    plain = moved_sizing(plan.job, plan.settings, plan.reckoning.hoop, Incoming(), {})
    sizing = moved_sizing(job, plan.settings, plan.reckoning.hoop, Incoming(), moves)
    assert sizing.errors_mm == (0.003,) * 8
    assert sizing.hits[-1].standing_mm == pytest.approx(0.02 * math.tan(math.radians(7.0)))
    assert sizing.seam is not None and plain.seam is not None
    assert plan.job.seam.softened_width_sd_mm is not None
    assert sizing.seam.width_mm == pytest.approx(plain.seam.width_mm + plan.job.seam.softened_width_sd_mm.value)
    assert sizing.seam.strength_ratio == pytest.approx(1.03 * plain.seam.strength_ratio)
    assert sizing.drive.friction_pin == pytest.approx(plan.settings.drive.friction_pin + 0.02)
    two = next(wave for wave in sizing.waves if wave.order == 2)
    assert two.amplitude_mm == pytest.approx(0.5 * math.sqrt(2.0)) and two.phase_rad == pytest.approx(math.pi / 8.0)
    with pytest.raises(InputError, match="row of draws"):
        moves_of(inputs, draw[:-1])


def test_an_ask_can_be_sent_to_another_process() -> None:
    again = pickle.loads(pickle.dumps(small_ask()))
    assert again.job.alloy.figure("solution_anneal_degC") == small_ask().job.alloy.figure("solution_anneal_degC")
    assert again.inputs == small_ask().inputs


def test_rows_are_the_same_however_many_are_asked_for() -> None:
    assert np.array_equal(random_rows(1, POPULATION, 0, 50, 3)[20:30], random_rows(1, POPULATION, 20, 10, 3))
    assert not np.array_equal(random_rows(1, POPULATION, 0, 5, 3), random_rows(1, HELD_BACK, 0, 5, 3))
    assert not np.array_equal(random_rows(1, POPULATION, 0, 5, 3), random_rows(2, POPULATION, 0, 5, 3))
    assert np.array_equal(design_rows(1, 40, 3), design_rows(1, 64, 3)[:40])
    draws = random_rows(1, POPULATION, 0, 4000, 2)
    assert np.abs(draws.mean(axis=0)).max() < 0.06 and np.abs(draws.std(axis=0) - 1.0).max() < 0.05
    for wrong in (-1, 2**32, 1.5, True):
        with pytest.raises(InputError, match="seed"):
            require_seed(wrong)  # type: ignore[arg-type]


def ran(number: int) -> Ran:
    return Ran(number, {"pull": 30.0 + number}, np.sin(np.arange(PLACES) * 0.01 * number))


def test_journal_comes_back_whole(tmp_path: Path) -> None:
    path = tmp_path / "folder" / "a.jsonl"
    with Journal(path, "mark one") as journal:
        for number in range(3):
            journal.add(ran(number))
    with Journal(path, "mark one") as journal:
        assert sorted(journal.done) == [0, 1, 2]
        assert journal.done[2].values == {"pull": 32.0}
        assert np.array_equal(journal.done[2].profile_mm, ran(2).profile_mm)


@pytest.mark.parametrize("cut", [1, 40, 200])
def test_a_line_cut_off_by_a_kill_is_dropped(tmp_path: Path, cut: int) -> None:
    path = tmp_path / "a.jsonl"
    with Journal(path, "mark") as journal:
        journal.add(ran(1))
        journal.add(ran(2))
    content = path.read_bytes()
    path.write_bytes(content[:-cut])
    with Journal(path, "mark") as journal:
        assert sorted(journal.done) == [1]
        journal.add(ran(2))
    assert path.read_bytes() == content


def test_a_journal_of_another_study_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.jsonl"
    Journal(path, "mark one").close()
    with pytest.raises(InputError, match="of this very study"):
        Journal(path, "mark two")
    path.write_text("a diary\n")
    with pytest.raises(InputError, match="hoopwright-study-1"):
        Journal(path, "mark one")
    assert path.read_text() == "a diary\n"


def test_profile_results() -> None:
    angle = np.arange(PLACES) * (2.0 * np.pi / PLACES)
    profile = 0.3 * np.cos(angle) + 0.05 * np.cos(2.0 * angle - 0.4) + 0.01 * np.cos(8.0 * angle)
    found = profile_results(np.vstack((profile, -profile)), 8)
    assert found["wave-2"] == pytest.approx([0.05, 0.05])
    assert found["lobes"] == pytest.approx([0.01, 0.01])
    assert found["held-peak-to-valley"] == pytest.approx([0.02, 0.02], rel=1e-3)
    centred = profile - 0.3 * np.cos(angle)
    assert found["peak-to-valley"] == pytest.approx([np.ptp(centred)] * 2)


def test_stand_in_of_a_polynomial_is_exact() -> None:
    draws = random_rows(1, POPULATION, 0, 60, 4)

    def truth(z: np.ndarray) -> list[Ran]:
        found = []
        for k, (a, b, c, d) in enumerate(z):
            value = 2.0 + a - 0.5 * b * b + 0.3 * a * c
            found.append(Ran(k, {"x": float(value)}, np.full(PLACES, d + c * c)))
        return found

    stand_in = fitted(truth(draws), draws)
    fresh = random_rows(1, HELD_BACK, 0, 20, 4)
    values, profile = stand_in.predict(fresh)
    assert values[:, 0] == pytest.approx([run.values["x"] for run in truth(fresh)], abs=1e-9)
    assert profile[:, 7] == pytest.approx(fresh[:, 3] + fresh[:, 2] ** 2, abs=1e-9)
    with pytest.raises(InputError, match="18 or more"):
        fitted(truth(draws[:10]), draws[:10])
    with pytest.raises(InputError, match="draws"):
        stand_in.predict(fresh[:, :3])


def test_limits_and_counts() -> None:
    limit = Limit("x", 1.0, 2.0, "drawing")
    assert limit.inside(np.array([0.9, 1.0, 2.0, 2.1])).tolist() == [False, True, True, False]
    for wrong in ({"samples": 10}, {"runs": 2.5}, {"held_back": True}, {"sensitivity": 0}):
        with pytest.raises(InputError, match="whole number"):
            StudyPlan(**wrong)  # type: ignore[arg-type]
