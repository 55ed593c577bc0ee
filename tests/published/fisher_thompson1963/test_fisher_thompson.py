"""Six jobs on six machines, shortest length 55 (source beside this file). Whole numbers, so no tolerance."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.kernels.scheduling import Task, schedule

SHORTEST = 55.0


def tasks() -> list[Task]:
    found = []
    for job, line in enumerate(Path(__file__).with_name("jobs.csv").read_text(encoding="utf-8").split()):
        row = [int(x) for x in line.split(",")]
        for k, (machine, time) in enumerate(zip(row[::2], row[1::2], strict=True)):
            before = (f"{job}.{k - 1}",) if k else ()
            found.append(Task(f"{job}.{k}", float(time), f"m{machine}", before))
    return found


@pytest.mark.parametrize("seed", range(3))
def test_shortest_length_is_found(seed: int) -> None:
    work = tasks()
    assert len(work) == 36 and sum(t.duration for t in work) == 197.0
    plan = schedule(work, tries=2000, seed=seed)
    assert plan.length == SHORTEST
    assert plan.proven and plan.bound == SHORTEST
    # one machine alone says less
    assert schedule(work, tries=1, nodes=0).bound < SHORTEST
