"""Bars on time, in processor time: a history of 10 000 steps and 60 stations, 100 000 stack samples."""

import time

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.kernels.stack_variation import sampled
from hoopwright.plan.hot.gaps import courses, extremes, neighbours, refined
from hoopwright.plan.hot.history import History, with_history
from hoopwright.plan.hot.job import HotJob, hot_job
from hoopwright.plan.hot.joints import plan_joints
from hoopwright.plan.hot.model import hot_model
from hoopwright.plan.hot.stacks import plan_stacks

STEPS, STATIONS, LIMIT_S = 10_000, 60, 2.0


@pytest.fixture(scope="module")
def job() -> HotJob:
    return hot_job(demo_liner())


def long_history(job: HotJob) -> History:
    """60 columns: eight places on each ring, the plate, groove and casing; a start, a load change, a stop."""
    times = np.linspace(0.0, 3600.0, STEPS)
    wave = np.clip(times / 60.0, 0.0, 1.0) * np.where(times < 1800.0, 0.9, 1.0)
    wave = np.where(times > 3300.0, np.exp(-(times - 3300.0) / 40.0), wave)
    columns = {}
    for ring in job.liner.rings:
        for z in np.linspace(ring.section.bounds[0] + 1.0, ring.section.bounds[2] - 1.0, 8):
            columns[f"{ring.id}@{z:.2f}"] = 20.0 + (ring.metal_degC - 20.0) * wave
    for name, level in (("HD-420", 620.0), ("groove", 650.0), ("casing", 235.0), ("casing_mean", 250.0)):
        columns[name] = 20.0 + (level - 20.0) * wave**2
    return History("made", times, columns)


def test_long_history(job: HotJob) -> None:
    history = long_history(job)
    assert len(history.columns) == STATIONS
    begin = time.process_time()
    given = with_history(job, history)
    model, met = hot_model(given.job), neighbours(job)
    whole = refined(model, given, met)
    told = [extremes(whole.times, gap.values) for gap in courses(model, whole, met)]
    spent = time.process_time() - begin
    print(f"{STEPS} steps, {STATIONS} stations: {spent:.2f} s of processor time")
    assert len(told) == 4
    assert spent < LIMIT_S


def test_stack_samples(job: HotJob) -> None:
    joints = plan_joints(hot_model(job), neighbours(job), None)
    begin = time.process_time()
    told = plan_stacks(job, joints)
    spent = time.process_time() - begin
    print(f"two stacks of 100 000 samples, corners and mends: {spent:.2f} s of processor time")
    assert len(told.stacks) == 2
    assert spent < LIMIT_S
    assert sampled(lambda x: x.sum(axis=1), told.stacks[0].inputs, 100_000, 1).size == 100_000


def test_extremes_between_rows_are_found(job: HotJob) -> None:
    """Three rows only: what lies between them is sought by halving, and more rows change it by less than 2 um."""
    level = {r.id: r.metal_degC for r in job.liner.rings} | {"HD-420": 620.0, "groove": 650.0, "casing": 235.0}
    level["casing_mean"] = 250.0
    slow = {"groove", "casing", "casing_mean"}
    shares = {c: np.array([0.0, 0.35 if c in slow else 1.0, 1.0]) for c in level}
    times = np.array([0.0, 60.0, 600.0])

    def least(at: np.ndarray) -> float:
        columns = {c: np.interp(at, times, 20.0 + (v - 20.0) * shares[c]) for c, v in level.items()}
        given = with_history(job, History("made", at, columns))
        model, met = hot_model(given.job), neighbours(job)
        found = courses(model, refined(model, given, met), met)
        return min(float(g.values.min()) for g in found if g.closes)

    assert least(times) == pytest.approx(least(np.linspace(0.0, 600.0, 6001)), abs=2e-3)
