"""A run in stages: every stage is run, each is timed, and the closing summary says which failed."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from house.say import Missing, line


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage: the word a person uses for it, what it shows, and the work; the work returns whether it passed."""

    name: str
    shows: str
    work: Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a stage ended."""

    name: str
    passed: bool
    seconds: float


def run_stages(stages: Sequence[Stage], clock: Callable[[], float] = time.perf_counter) -> tuple[Outcome, ...]:
    """Run every stage, also after one has failed, so that a person sees everything at once."""
    outcomes = []
    for stage in stages:
        line(f"\n── {stage.name}: {stage.shows}")
        begin = clock()
        try:
            passed = stage.work()
        except Missing as missing:
            line(str(missing))
            passed = False
        outcomes.append(Outcome(stage.name, passed, clock() - begin))
    return tuple(outcomes)


def summary(outcomes: Sequence[Outcome]) -> str:
    """The closing lines: one for each stage and one for the whole."""
    width = max((len(outcome.name) for outcome in outcomes), default=0)
    rows = [f"  {o.name:<{width}}  {'passed' if o.passed else 'FAILED'}  {o.seconds:7.1f} s" for o in outcomes]
    failed = [o.name for o in outcomes if not o.passed]
    total = sum(o.seconds for o in outcomes)
    end = f"FAILED: {', '.join(failed)}" if failed else "everything passed" if outcomes else "FAILED: no stage was run"
    return "\n".join(["", "── summary", *rows, f"  {end}, {total:.1f} s"])


def exit_code(outcomes: Sequence[Outcome]) -> int:
    """0 where at least one stage was run and all passed."""
    return 0 if outcomes and all(outcome.passed for outcome in outcomes) else 1
