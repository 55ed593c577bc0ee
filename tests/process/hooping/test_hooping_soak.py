"""Long runs: every demonstration ring on its segments; the stand-in of a study against a run for every sample."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.plan.hooping.ask import Incoming, on_segments
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.study.forward import study_ask
from hoopwright.plan.study.inputs import scattered
from hoopwright.plan.study.journal import Journal
from hoopwright.plan.study.limits import limits_of
from hoopwright.plan.study.runners import runner
from hoopwright.plan.study.study import StudyPlan, study
from hoopwright.process.hooping.operation import hooped

RINGS = ("HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413")


@pytest.mark.soak
@pytest.mark.parametrize("ring", RINGS)
@pytest.mark.parametrize("amplitude", [0.0, 0.5, 2.0])
def test_every_demonstration_ring_finds_its_balance(ring: str, amplitude: float) -> None:
    plan = plan_ring(demo_liner(), ring, Shelf())
    waves = ((2, amplitude, 30.0), (3, 0.3 * amplitude, 10.0)) if amplitude else ()
    ask = on_segments(plan.job, plan.settings, plan.reckoning.hoop, Incoming(waves=waves))
    done = hooped(plan.reckoning.hoop, ask, plan.job.metal)
    assert done.result.residual_share < 1e-6
    for hit in done.hits:
        load = hit.hoop.segments
        total = np.array([np.cos(load.angle_rad), np.sin(load.angle_rad)]) @ load.force_N
        total += np.array([-np.sin(load.angle_rad), np.cos(load.angle_rad)]) @ load.side_N
        assert np.max(np.abs(total)) < 1e-4 * hit.hoop.gap_tension_N
    assert abs(done.last.added_free_mm) < 0.05
    assert done.last.hoop.free.peak_to_valley_mm < 0.8


@pytest.mark.soak
def test_stand_in_against_a_run_for_every_sample(tmp_path: Path) -> None:
    """Shares within 2 points and two standard errors of 150 samples; 5, 50 and 95 % of a size within 0.005 and the
    standard error of that percentile (0.4 of its standard deviation at 150 samples)."""
    plan = plan_ring(demo_liner(), "HD-402", Shelf())
    inputs, _missing = scattered(plan.job, plan.settings.segments.count)
    ask, limits = study_ask(plan.job, plan.settings, Incoming(), inputs), limits_of(plan.job)
    with Journal(tmp_path / "study.jsonl", "soak") as journal:
        every = study(ask, StudyPlan(150, 112, 32, 1, True, 512), limits, runner(), journal)
        stand_in = study(ask, StudyPlan(20_000, 112, 32, 1, False, 512), limits, runner(), journal)
    for real in every.told:
        guess = stand_in.of(real.result)
        if real.inside_pct is not None and guess.inside_pct is not None:
            share = 0.01 * guess.inside_pct
            error = 100.0 * (share * (1.0 - share) / every.samples) ** 0.5
            assert abs(real.inside_pct - guess.inside_pct) <= 2.0 + 2.0 * error
        if real.result.startswith("free-"):
            room = 0.005 + 0.4 * real.sd
            assert [real.low, real.middle, real.high] == pytest.approx([guess.low, guess.middle, guess.high], abs=room)
