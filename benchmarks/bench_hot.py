"""The hot build: whole liner, histories, stacks, leak, spring plate. Bars stand in the docstrings."""

from __future__ import annotations

import math

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.design.demo import demo_liner
from hoopwright.kernels.gap_flow import ring_gap
from hoopwright.kernels.gas import air
from hoopwright.kernels.spring_plate import rim_spring
from hoopwright.kernels.spring_plate_mesh import RimShape
from hoopwright.kernels.stack_variation import Varies, sampled
from hoopwright.plan.hot.gaps import courses, extremes, neighbours
from hoopwright.plan.hot.history import History, with_history
from hoopwright.plan.hot.hot_plan import plan_hot
from hoopwright.plan.hot.job import hot_job
from hoopwright.plan.hot.model import hot_model

LINER = demo_liner()


def long_history(steps: int, places: int) -> History:
    """Places spread over the seven rings and the plate; each warms and cools over the cycle."""
    columns: dict[str, np.ndarray] = {}
    times = np.linspace(0.0, 3600.0, steps)
    wave = 0.5 * (1.0 - np.cos(2.0 * np.pi * times / 3600.0)) * (1.0 + 0.02 * np.sin(times))
    each = math.ceil((places - 4) / 7)
    for ring in LINER.rings:
        z0, z1 = ring.section.bounds[0] + 1.0, ring.section.bounds[2] - 1.0
        for z in np.linspace(z0, z1, each):
            columns[f"{ring.id}@{z:.2f}"] = 20.0 + (ring.metal_degC - 20.0) * np.clip(wave, 0.0, 1.0)
    columns["HD-420"] = 20.0 + 600.0 * np.clip(wave, 0.0, 1.0)
    for name, level in (("groove", 650.0), ("casing", 235.0), ("casing_mean", 250.0)):
        columns[name] = 20.0 + (level - 20.0) * np.clip(wave, 0.0, 1.0)
    return History("made", times, columns)


def test_history_of_10000_steps_and_60_stations(benchmark: BenchmarkFixture) -> None:
    """Bar: under 2 s, model of the history's own places included."""
    history = long_history(10_000, 60)
    assert len(history.columns) >= 60
    job = hot_job(LINER)
    met = neighbours(job)

    def whole() -> float:
        given = with_history(job, history)
        gaps = courses(hot_model(given.job), given, met)
        return min(extremes(given.times, g.values).least for g in gaps)

    assert np.isfinite(benchmark(whole))
    assert benchmark.stats["mean"] < 2.0


def test_100000_stack_samples(benchmark: BenchmarkFixture) -> None:
    """Bar: under 2 s."""
    inputs = tuple(Varies(f"x{k}", 1.0, 0.1, 0.1) for k in range(8))
    drawn = benchmark(sampled, lambda x: x.prod(axis=1), inputs, 100_000, 1)
    assert drawn.size == 100_000
    assert benchmark.stats["mean"] < 2.0


def test_whole_liner_shell(benchmark: BenchmarkFixture) -> None:
    job = hot_job(LINER)
    assert benchmark(hot_model, job).stack.nodes > 500


def test_whole_hot_plan(benchmark: BenchmarkFixture) -> None:
    assert benchmark(plan_hot, LINER).figures


def test_leak_of_one_gap(benchmark: BenchmarkFixture) -> None:
    assert benchmark(ring_gap, 17.05, 0.0625, 1.5, 0.45, 0.4365, air(220.0)).flow > 0.0


def test_spring_plate(benchmark: BenchmarkFixture) -> None:
    turn = tuple(math.radians(a) for a in (0.0, 90.0, 180.0, 270.0))
    legs = tuple(math.radians(a) for a in (45.0, 135.0, 225.0, 315.0))
    shape = RimShape(25.5, 29.0, 5.0, 10.5, turn, legs, 6.0)
    assert benchmark(rim_spring, shape, 213.7e3, 0.29, 0.4, 4.3).stiffness > 0.0
