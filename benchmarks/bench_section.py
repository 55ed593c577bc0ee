"""Section kernel, warm, one core: the bars of ring, flange, cup and roll pass, and how cost grows.

120 elements and 8 layers unless said otherwise. Times are processor time: one thread works, and a busy machine must not
fail a bar.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.kernels.section import Result
from tests.reference.section_cases import (
    bead,
    cup,
    flat_strip,
    hole_flange,
    ring,
    roll_pass,
    size_hoop,
    stress_free_hoop,
)

pytestmark = pytest.mark.benchmark(timer=time.process_time)

CASES: dict[str, tuple[Callable[[], Result], float]] = {
    "ring stretched and released": (lambda: ring(bead(6.0, 8.0), 60), 0.3),
    "ring formed while sized": (lambda: ring(bead(4.0, 6.0), 240), 1.2),
    "hole flange": (hole_flange, 0.5),
    "cup": (cup, 2.0),
    "roll pass, 160 elements": (lambda: roll_pass(*flat_strip(160)), 0.8),
    "coarse ring for a first look": (lambda: ring(bead(6.0, 8.0), 30, elements=64), 0.1),
}


@pytest.mark.parametrize("name", CASES)
def test_bar(benchmark: BenchmarkFixture, name: str) -> None:
    case, bar = CASES[name]
    result = benchmark.pedantic(case, rounds=3, warmup_rounds=1)
    assert result.converged
    assert benchmark.stats.stats.min < bar, f"{name}: bar {bar} s"


def test_second_pass_with_curl(benchmark: BenchmarkFixture) -> None:
    strip, node = flat_strip(160)
    first = roll_pass(strip, node)
    benchmark.pedantic(lambda: roll_pass(first.section, node, curl=1.0 / 100.5), rounds=3, warmup_rounds=1)


def test_sizing_of_a_rolled_ring(benchmark: BenchmarkFixture) -> None:
    hoop = stress_free_hoop()
    benchmark.pedantic(lambda: size_hoop(hoop), rounds=3, warmup_rounds=1)


def seconds(elements: int, points_per_half: int) -> float:
    """Least time of three for a ring stretched and released. [s]"""
    best = 1e9
    for _ in range(3):
        start = time.process_time()
        ring(bead(6.0, 8.0), 60, elements, points_per_half)
        best = min(best, time.process_time() - start)
    return best


def test_cost_grows_no_faster_than_elements_and_layers(benchmark: BenchmarkFixture) -> None:
    seconds(32, 4)
    base, more_elements, more_layers = seconds(120, 4), seconds(480, 4), seconds(120, 16)
    benchmark.extra_info["four times the elements"] = round(more_elements / base, 2)
    benchmark.extra_info["four times the layers"] = round(more_layers / base, 2)
    benchmark.pedantic(lambda: ring(bead(6.0, 8.0), 60), rounds=1)
    # a quarter of slack for a shared machine and a few iterations more on a finer mesh
    assert more_elements < 1.25 * 4.0 * base
    assert more_layers < 1.25 * 4.0 * base
