"""A whole study: its figures, the stand-in's error, a kill in the middle, several processes, hosts of a scheduler."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import distributed
import numpy as np
import pytest

from hoopwright.errors import InputError, NotConverged
from hoopwright.plan.study.forward import StudyAsk, forward
from hoopwright.plan.study.inputs import Scattered
from hoopwright.plan.study.journal import Journal
from hoopwright.plan.study.limits import limits_of, name_of, unit_of
from hoopwright.plan.study.runners import here, on_cluster, on_cores, runner
from hoopwright.plan.study.study import Study, planned_rows, study
from tests.plan.study.small_study import SMALL, small_ask

ROOT = Path(__file__).resolve().parents[3]

WORKER = """
from pathlib import Path
from hoopwright.plan.study.journal import Journal
from hoopwright.plan.study.limits import limits_of
from hoopwright.plan.study.runners import here
from hoopwright.plan.study.study import study
from tests.plan.study.small_study import SMALL, small_ask
import sys
ask = small_ask()
with Journal(Path(sys.argv[1]), "small") as journal:
    study(ask, SMALL, limits_of(ask.job), here, journal)
"""


@pytest.fixture(scope="module")
def whole() -> Study:
    ask = small_ask()
    return study(ask, SMALL, limits_of(ask.job), here, Journal(None, "small"))


def test_figures_of_a_study(whole: Study) -> None:
    """Size follows the flow stress, pull friction and flow stress; the thickness goes with the sheet."""
    lip = whole.of("free-lip-dia")
    assert lip.inside_pct is not None and 80.0 < lip.inside_pct <= 100.0
    assert lip.low < lip.middle < lip.high
    matters = dict(zip(whole.groups, lip.total, strict=True))
    assert max(matters, key=lambda name: matters[name]) == "flow stress (yield)"
    thin = dict(zip(whole.groups, whole.of("thinnest").total, strict=True))
    assert thin["sheet thickness"] > 0.9
    pull = dict(zip(whole.groups, whole.of("pull").total, strict=True))
    assert pull["friction"] > 0.3
    assert sum(lip.first) == pytest.approx(1.0, abs=0.15)
    assert sum(lip.counts) == SMALL.samples
    assert not whole.refused and whole.inside_pct <= min(t.inside_pct for t in whole.told if t.inside_pct is not None)
    assert all(name_of(one.result) and unit_of(one.result) in ("mm", "kN", "pct") for one in whole.told)


def test_the_stand_in_keeps_its_bars(whole: Study) -> None:
    """Size within 0.005 mm, lobes within 5 %, shares within 2 points, on runs it has not seen."""
    for size in ("free-lip-dia", "free-land-dia"):
        assert whole.of(size).error_most < 0.005
    lobes = whole.of("lobes")
    assert lobes.error < 0.05 * lobes.middle
    assert all(abs(one.share_error_pct) <= 2.0 for one in whole.told if one.share_error_pct is not None)


def test_a_killed_study_goes_on_and_ends_the_same(tmp_path: Path, whole: Study) -> None:
    """Killed without warning in the middle."""
    path = tmp_path / "study.jsonl"
    worker = subprocess.Popen([sys.executable, "-c", WORKER, str(path)], cwd=ROOT)
    limit = time.monotonic() + 240.0
    while time.monotonic() < limit and worker.poll() is None:
        if path.exists() and path.read_bytes().count(b"\n") > 6:
            break
        time.sleep(0.01)
    os.kill(worker.pid, signal.SIGKILL)
    assert worker.wait() == -signal.SIGKILL
    ask = small_ask()
    with Journal(path, "small") as journal:
        assert 6 <= len(journal.done) < SMALL.runs + SMALL.held_back
        again = study(ask, SMALL, limits_of(ask.job), here, journal)
    for ours, theirs in zip(again.told, whole.told, strict=True):
        assert (ours.low, ours.middle, ours.high, ours.total) == (theirs.low, theirs.middle, theirs.high, theirs.total)


def test_processes_and_hosts_give_the_same_runs() -> None:
    """Two processes of this host, and two worker processes behind a scheduler's address."""
    ask, rows = small_ask(), planned_rows(SMALL, len(small_ask().inputs))[:4]
    plain = {run.number: run for run in here(ask, rows)}
    pooled = {run.number: run for run in on_cores(2, ask, rows)}
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
    ) as cluster:
        spread = {run.number: run for run in on_cluster(cluster.scheduler_address, ask, rows)}
    for others in (pooled, spread):
        assert sorted(others) == sorted(plain)
        for number, run in plain.items():
            assert others[number].values == run.values
            assert np.array_equal(others[number].profile_mm, run.profile_mm)


def test_every_sample_can_be_a_run() -> None:
    ask = small_ask()
    from hoopwright.plan.study.study import StudyPlan

    small = StudyPlan(samples=100, runs=24, held_back=16, seed=3, sensitivity=512, every_run=True)
    few = planned_rows(small, len(ask.inputs))
    assert len(few) == 140
    assert few[40][0] // 10_000_000 == 3


def test_a_run_that_finds_no_answer_is_counted() -> None:
    """A flow stress a thousand times off refuses by name; a study of many such ends."""
    ask = small_ask()
    wild = tuple(Scattered(one.key, one.name, 400.0 * one.sd, one.figure) for one in ask.inputs)
    lost = forward(StudyAsk(ask.job, ask.settings, ask.incoming, wild), 7, np.full(len(wild), -1.0))
    assert lost.refused and not lost.values

    def none(given: StudyAsk, rows: object) -> object:
        for number, _draw in rows:  # type: ignore[attr-defined]
            yield type(lost)(number, {}, lost.profile_mm, "no answer")

    with pytest.raises(NotConverged, match="40 of 40 runs"):
        study(ask, SMALL, (), none, Journal(None, "x"))  # type: ignore[arg-type]


def test_runners_are_refused() -> None:
    for wrong in (0, -1, 2.5, True):
        with pytest.raises(InputError, match="processes"):
            runner(wrong)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="address of a running scheduler"):
        list(on_cluster("tcp://127.0.0.1:1", small_ask(), [], patience_s=0.5))
