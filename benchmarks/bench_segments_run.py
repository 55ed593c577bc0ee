"""Processor time of a ring on its segments: one sizing, one choice, one run of a study, HD-402, warm."""

from __future__ import annotations

import time

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.plan.choice.options import Option
from hoopwright.plan.choice.weigh import Bench, weigh
from hoopwright.plan.hooping.ask import Incoming, on_segments
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.study.forward import forward, study_ask
from hoopwright.plan.study.inputs import scattered
from hoopwright.plan.study.sampling import random_rows
from hoopwright.process.hooping.operation import hooped

pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def plan() -> RingPlan:
    return plan_ring(demo_liner(), "HD-402")


def test_size_with_seam_and_oval(plan: RingPlan) -> None:
    """Two hits of the whole ring: 0.9 s measured, 2.5 s a hit allowed."""
    ask = on_segments(plan.job, plan.settings, plan.reckoning.hoop, Incoming(waves=((2, 0.5, 30.0),)))
    hooped(plan.reckoning.hoop, ask, plan.job.metal)
    begin = time.process_time()
    hooped(plan.reckoning.hoop, ask, plan.job.metal)
    taken = time.process_time() - begin
    print(f"size HD-402, two hits: {taken:.2f} s of processor")
    assert taken < 5.0


def test_one_choice(plan: RingPlan) -> None:
    """Half a pitch, one hit: 0.15 s allowed."""
    bench, option = Bench(plan.job, plan.settings, plan.reckoning), Option(8, 4.2, 5.0, 1.0, 0.0, "one", 0.015)
    weigh(bench, option)
    begin = time.process_time()
    weigh(bench, option)
    taken = time.process_time() - begin
    print(f"one choice: {taken:.3f} s of processor")
    assert taken < 0.3


def test_runs_of_a_study(plan: RingPlan) -> None:
    """2000 samples on two cores in ten minutes: 352 runs for the stand-in leave 3.4 s of processor a run."""
    inputs, _missing = scattered(plan.job, plan.settings.segments.count)
    ask = study_ask(plan.job, plan.settings, Incoming(), inputs)
    forward(ask, 0, np.zeros(len(inputs)))
    begin = time.process_time()
    rows = random_rows(1, 2, 0, 6, len(inputs))
    assert not any(forward(ask, k, row).refused for k, row in enumerate(rows))
    taken = (time.process_time() - begin) / len(rows)
    print(f"one run of a study: {taken:.2f} s of processor")
    assert taken < 3.4
