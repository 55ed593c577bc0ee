"""Heat of welds and the trial planner, warm: line and point source 1 ms, image series 10 ms, scheme 5 s at most."""

from __future__ import annotations

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.cards.alloy import alloy
from hoopwright.kernels.heat_absorbed import Absorption, Shot, section_of
from hoopwright.kernels.heat_limits import line_source_width, point_source_width
from hoopwright.kernels.heat_moving_frame import Beam, steady_field
from hoopwright.kernels.melt_trial import TrialPrior, melt_at, trial_metal
from hoopwright.kernels.seam_trials import final_setting, next_trial, starting_trials
from hoopwright.kernels.seam_window import Trials, WeldLimits, WeldScatter, fit_window
from hoopwright.plan.seam.heat_card import heat_card

METAL = heat_card(alloy("N06625")).metal
LOW, HIGH = np.array([130.0, 10.0, -2.5, 0.0]), np.array([790.0, 80.0, 2.5, 0.12])


def worst(benchmark: BenchmarkFixture) -> float:
    """Median of the rounds. [s]"""
    return float(benchmark.stats.stats.median)  # type: ignore[union-attr]


def test_line_source(benchmark: BenchmarkFixture) -> None:
    assert benchmark(line_source_width, 380.0, 40.0, 0.8, METAL.melt()) > 0.0
    assert worst(benchmark) < 1e-3


def test_point_source(benchmark: BenchmarkFixture) -> None:
    assert benchmark(point_source_width, 380.0, 40.0, METAL.melt()) > 0.0
    assert worst(benchmark) < 1e-3


def test_image_series_face_root_depth(benchmark: BenchmarkFixture) -> None:
    shot = Shot(300.0, 50.0, 0.15, 0.8)
    section_of(shot, Absorption(), METAL)
    assert benchmark(section_of, shot, Absorption(), METAL).face > 0.0
    assert worst(benchmark) < 10e-3


def test_moving_frame_scheme(benchmark: BenchmarkFixture) -> None:
    beam = Beam(380.0, 40.0, 0.15, 0.3, 0.8)
    steady_field(METAL, beam, 0.8, 0.14)
    field = benchmark.pedantic(steady_field, (METAL, beam, 0.8, 0.1), rounds=2)
    assert abs(field.closure - 1.0) < 5e-3
    assert worst(benchmark) < 5.0


def test_planner_step(benchmark: BenchmarkFixture) -> None:
    metal, prior = trial_metal(METAL, 0.8), TrialPrior()
    made = starting_trials(metal, prior, LOW, HIGH, 1, 20)
    melt = melt_at(made, np.array(prior.mean), metal)
    readings = np.column_stack([melt.root, melt.face, np.full(20, 0.02), np.full(20, -0.4)])
    trials = Trials(made, readings, np.zeros(20, dtype=bool))

    def step() -> float:
        window = fit_window(trials, metal, WeldLimits(0.4, 1.62, 0.04), WeldScatter(), LOW, HIGH)
        next_trial(window, made, 3)
        return final_setting(window, made, 3).lower

    step()
    assert np.isfinite(benchmark(step))
