"""Plan of a change: inspect, grind, inspect each tool, stretch finished parts again, report; one grinder; alternatives.

Grinder orders are enumerated up to seven tools, so the plan offered is proven best; more go to the scheduler's search.
"""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hoopwright.correct.working_days import date_of
from hoopwright.design.changes import Durations
from hoopwright.errors import InputError
from hoopwright.kernels.scheduling import Schedule, Task, schedule

MOST_ENUMERATED = 7


@dataclass(frozen=True, slots=True)
class ToolWork:
    """A tool to be ground: its kind sets the days. rings : whose finished parts wait for it."""

    tool: str
    kind: str
    ring: str


@dataclass(frozen=True, slots=True)
class PartWork:
    """Finished parts of one ring that are stretched again once its segment set is ready."""

    ring: str
    serials: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Milestone:
    """A dated step."""

    name: str
    date: datetime.date
    day: float


@dataclass(frozen=True, slots=True)
class ChangePlan:
    """order of the grinder; milestones; end [working days]; mean_finish : of tools, parts and reports [working
    days]."""

    order: tuple[str, ...]
    milestones: tuple[Milestone, ...]
    end_days: float
    mean_finish_days: float
    critical: tuple[str, ...]

    def date(self, name: str) -> datetime.date:
        """Date of a milestone."""
        for milestone in self.milestones:
            if milestone.name == name:
                return milestone.date
        raise InputError("milestone", name, "", ", ".join(m.name for m in self.milestones), "name one of these")


def _days(durations: Durations, name: str) -> float:
    value = getattr(durations, name)
    if value is None:
        raise InputError(f"durations.{name}", "missing", "d", "working days", "enter it in the change's file")
    return float(value)


def _tasks(tools: Sequence[ToolWork], parts: Sequence[PartWork], d: Durations, order: Sequence[str]) -> list[Task]:
    """Tasks of the plan; the grinder takes tools in the given order."""
    tasks = []
    before: tuple[str, ...] = ()
    for name in order:
        work = next(t for t in tools if t.tool == name)
        grind = _days(d, "segment_regrind_days" if work.kind == "segment set" else "roll_regrind_days")
        tasks.append(Task(f"inspect {name} before", _days(d, "inspect_before_days")))
        tasks.append(Task(f"grind {name}", grind, "grinder", (f"inspect {name} before", *before)))
        tasks.append(Task(f"{name} ready", _days(d, "inspect_after_days"), "", (f"grind {name}",)))
        before = (f"grind {name}",)
    for part in parts:
        sets = [t.tool for t in tools if t.ring == part.ring and t.kind == "segment set"]
        after = tuple(f"{s} ready" for s in sets)
        tasks.append(Task(f"{part.ring} parts stretched", _days(d, "restretch_days"), "", after))
        report = (f"{part.ring} parts stretched",)
        tasks.append(Task(f"{part.ring} partial report", _days(d, "partial_fai_days"), "", report))
    return tasks


def plan_in_order(
    tools: Sequence[ToolWork], parts: Sequence[PartWork], durations: Durations, start: datetime.date,
    order: Sequence[str], closed: Sequence[datetime.date] = (),
) -> ChangePlan:  # fmt: skip
    """The plan with the grinder taking tools in this order."""
    if sorted(order) != sorted(t.tool for t in tools):
        raise InputError(
            "grinder_order", ", ".join(order), "", "every tool once: " + ", ".join(t.tool for t in tools), "correct it"
        )
    tasks = _tasks(tools, parts, durations, order)
    if not tasks:
        return ChangePlan((), (), 0.0, 0.0, ())
    found: Schedule = schedule(tasks, tries=0)
    ends = {t.name: found.start[t.name] + t.duration for t in tasks}
    shown = [n for n in ends if n.endswith((" ready", " stretched"))]
    # the report of the change as a whole waits for the last stretched part
    reports = [n for n in ends if n.endswith(" report")]
    rows = [Milestone(n, date_of(start, ends[n], closed), ends[n]) for n in (*shown, *reports)]
    means = [ends[n] for n in (*shown, *reports)]
    rows.sort(key=lambda m: m.day)
    return ChangePlan(tuple(order), tuple(rows), found.length, sum(means) / len(means), found.critical)


def best_plans(
    tools: Sequence[ToolWork], parts: Sequence[PartWork], durations: Durations, start: datetime.date,
    given: Sequence[str] = (), closed: Sequence[datetime.date] = (),
) -> tuple[ChangePlan, ...]:  # fmt: skip
    """The plan in the given order first (where there is one), then the proven best: soonest end, then mean finish.

    Raises
    ------
    InputError
        More tools than can be enumerated.
    """
    names = [t.tool for t in tools]
    if len(names) > MOST_ENUMERATED:
        raise InputError("tools to grind", len(names), "", f"at most {MOST_ENUMERATED}", "plan them in two lots")
    every = [plan_in_order(tools, parts, durations, start, order, closed) for order in itertools.permutations(names)]
    best = min(every, key=lambda p: (p.end_days, p.mean_finish_days))
    if not given:
        return (best,)
    first = plan_in_order(tools, parts, durations, start, given, closed)
    better = (best.end_days, best.mean_finish_days) < (first.end_days - 1e-9, 0.0) or (
        best.end_days <= first.end_days + 1e-9 and best.mean_finish_days < first.mean_finish_days - 1e-9
    )
    return (first, best) if better else (first,)


def kinds_of(tools: Sequence[ToolWork]) -> Mapping[str, str]:
    """Tool to kind."""
    return {t.tool: t.kind for t in tools}
