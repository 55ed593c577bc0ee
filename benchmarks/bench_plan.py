"""The reckoning of whole rings, warm: all seven of the demonstration with bands, one ring after one changed value."""

from __future__ import annotations

from dataclasses import replace
from itertools import count

from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.design.demo import demo_liner
from hoopwright.design.shapes import Liner
from hoopwright.plan.as_json import json_text
from hoopwright.plan.liner_plan import plan_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.shelf import Shelf

SHELF = Shelf()


def changed(liner: Liner, ring_id: str, number: int) -> Liner:
    """The liner with one ring's sheet a hair thicker, each time another."""
    ring = liner.ring(ring_id)
    other = replace(ring, thickness_mm=ring.thickness_mm + 1e-5 * number)
    return replace(liner, rings=tuple(other if one.id == ring_id else one for one in liner.rings))


def test_all_seven_rings_with_bands(benchmark: BenchmarkFixture) -> None:
    """Bar: under 3 s on two cores (one is used)."""
    liner = demo_liner()
    plan_liner(liner, SHELF)
    assert len(benchmark(plan_liner, liner, SHELF).rings) == 7


def test_strip_ring_after_one_changed_value(benchmark: BenchmarkFixture) -> None:
    """Bar: under 100 ms."""
    liner, numbers = demo_liner(), count(1)
    plan_ring(liner, "HD-402", SHELF)
    assert benchmark(lambda: plan_ring(changed(liner, "HD-402", next(numbers)), "HD-402", SHELF)).walk


def test_arc_ring_after_one_changed_value(benchmark: BenchmarkFixture) -> None:
    """Bar: under 100 ms."""
    liner, numbers = demo_liner(), count(1)
    plan_ring(liner, "HD-413", SHELF)
    assert benchmark(lambda: plan_ring(changed(liner, "HD-413", next(numbers)), "HD-413", SHELF)).walk


def test_plan_as_json(benchmark: BenchmarkFixture) -> None:
    plan = plan_liner(demo_liner(), SHELF)
    assert benchmark(json_text, plan)
