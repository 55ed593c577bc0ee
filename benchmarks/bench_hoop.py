"""Hoop kernel, warm, one core: the bars of half pitch, quarter and full ring. Processor time: one thread works."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.kernels.hoop import Harmonic, HoopResult, InitialShape
from tests.kernels.hoop_cases import RADIUS, random_ring, sized, weld_of

pytestmark = pytest.mark.benchmark(timer=time.process_time)

OVAL = InitialShape(RADIUS, (Harmonic(2, 1.0),))
CASES: dict[str, tuple[Callable[[], HoopResult], str, float]] = {
    "half pitch, regular": (sized, "half pitch", 0.15),
    "quarter, oval": (lambda: sized(shape=OVAL), "quarter", 0.3),
    "half, oval and weld on the axis": (lambda: sized(shape=OVAL, weld=weld_of(0.9, 0.0)), "half", 1.5),
    "full, oval and weld anywhere": (lambda: sized(shape=OVAL, weld=weld_of(0.9, 0.4)), "full", 2.5),
}


@pytest.mark.parametrize("name", CASES)
def test_bar(benchmark: BenchmarkFixture, name: str) -> None:
    run, kind, bar = CASES[name]
    run()
    result = benchmark.pedantic(run, rounds=3, iterations=1)
    assert result.symmetry == kind
    assert benchmark.stats.stats.median < bar


def test_random_full_rings(benchmark: BenchmarkFixture) -> None:
    """24 random full rings: median below 2.5 s each."""
    random_ring(7, 0)
    numbers = iter(range(24))
    benchmark.pedantic(lambda: random_ring(7, next(numbers)), rounds=24, iterations=1)
    assert benchmark.stats.stats.median < 2.5
    assert math.isfinite(benchmark.stats.stats.max)
