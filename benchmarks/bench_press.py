"""Pressing, warm, one core: a press run of a port and of the flanges, the whole plan of the demonstration plate.

Times are processor time: one thread works, and a busy machine must not fail a bar.
"""

from __future__ import annotations

import time

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.design.demo import demo_liner
from hoopwright.plan.plate import plate_plan
from hoopwright.plan.plate.flange_press import form_flanges
from hoopwright.plan.plate.plate_plan import PlatePlan, plan_plate
from hoopwright.plan.plate.port_press import form_port

pytestmark = pytest.mark.benchmark(timer=time.process_time)


@pytest.fixture(scope="module")
def plan() -> PlatePlan:
    return plan_plate(demo_liner())


def test_one_port(benchmark: BenchmarkFixture, plan: PlatePlan) -> None:
    port, shape = plan.port, plan.job.port
    assert port is not None and shape is not None
    setting = port.solved.setting
    benchmark.pedantic(lambda: form_port("HD-420", shape, setting, 9, plan.job.card), rounds=3, warmup_rounds=1)
    assert benchmark.stats.stats.min < 1.0


def test_both_flanges(benchmark: BenchmarkFixture, plan: PlatePlan) -> None:
    setting = plan.flanges.setting
    benchmark.pedantic(
        lambda: form_flanges("HD-420", plan.job.shape, setting, plan.job.card), rounds=3, warmup_rounds=1
    )
    assert benchmark.stats.stats.min < 2.0


def test_whole_plate(benchmark: BenchmarkFixture, plan: PlatePlan) -> None:
    asked = plate_plan._ByMark("anew", plan.job)
    benchmark.pedantic(lambda: plate_plan._planned.__wrapped__(asked), rounds=2, warmup_rounds=0)
    assert benchmark.stats.stats.min < 12.0
