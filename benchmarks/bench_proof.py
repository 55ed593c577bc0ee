"""Proof runs, warm, processor time: one ring, all seven, and a proof read back.

Bars: all seven in under 150 s on two cores, 300 s of processor time in two even halves; from the disk under 1 s.
"""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.design.demo import demo_liner
from hoopwright.desk.proving import keep_proof, proofs_of
from hoopwright.plan.liner_plan import plan_liner
from hoopwright.plan.prove.key import proof_key
from hoopwright.plan.prove.prove import prove_ring
from hoopwright.plan.shelf import Shelf

pytestmark = pytest.mark.benchmark(timer=time.process_time)

SHELF = Shelf()


def test_one_ring(benchmark: BenchmarkFixture) -> None:
    plan = plan_liner(demo_liner(), SHELF, ["HD-411"]).rings[0]
    assert benchmark.pedantic(prove_ring, (plan, "bench"), rounds=1, warmup_rounds=1).holds


def test_all_seven_rings_then_from_the_disk(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    liner = demo_liner()
    plans = plan_liner(liner, SHELF).rings
    begin = time.process_time()
    for plan in plans:
        keep_proof(tmp_path, prove_ring(plan, proof_key(plan.mark)))
    spent = time.process_time() - begin
    benchmark.extra_info["all seven, processor time, s"] = round(spent, 1)
    assert spent < 300.0
    wanted = [ring.id for ring in liner.rings]
    found = benchmark.pedantic(proofs_of, (liner, SHELF, wanted, tmp_path), rounds=3)
    assert found.kept == 7
    assert benchmark.stats.stats.min < 1.0
