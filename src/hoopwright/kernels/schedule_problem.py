"""Tasks on machines by number: what must be done before what, heads and tails, and a bound on the length of any plan.

Times in any one unit [1].

The bound: on each machine alone, with the time each task needs before it and after it, the plan in which a task may be
broken off for a more urgent one (largest tail first) is the shortest of all (Jackson's rule, Carlier 1982), and no real
plan is shorter; nor is one shorter than the longest chain.

References
----------
J. Carlier, The one-machine sequencing problem, European Journal of Operational Research 11 (1982), 42 to 47 (from
memory).
"""

from __future__ import annotations

import heapq
from bisect import insort
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from hoopwright.errors import InputError, require_finite


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of work. machine : "" where none is held (waiting, cooling). after : names of what must be done before.

    due : when it should be done; None for no date. weight : of a unit of lateness.
    """

    name: str
    duration: float
    machine: str = ""
    after: tuple[str, ...] = ()
    due: float | None = None
    weight: float = 1.0


@dataclass(slots=True)
class Work:
    """The problem by number.

    before, follow : tasks right before and after each. head, tail : least time before a task and after it. earlier :
    all that must be done before it. mates : tasks of a machine.
    """

    tasks: Sequence[Task]
    before: list[list[int]]
    follow: list[list[int]]
    busy: Mapping[str, float]
    head: list[float] = field(default_factory=list)
    tail: list[float] = field(default_factory=list)
    earlier: list[frozenset[int]] = field(default_factory=list)
    mates: dict[str, list[int]] = field(default_factory=dict)


def checked(tasks: Sequence[Task], busy: Mapping[str, float]) -> Work:
    """Tasks by number with heads and tails.

    Raises
    ------
    InputError
        No task, a doubled or unknown name, a negative duration, or a circle, whose tasks are named.
    """
    if not tasks:
        raise InputError("tasks", "none", "", "at least one", "name the work")
    number = {task.name: k for k, task in enumerate(tasks)}
    if len(number) != len(tasks):
        doubled = next(t.name for k, t in enumerate(tasks) if number[t.name] != k)
        raise InputError("task", doubled, "", "named once", "give each task its own name")
    before: list[list[int]] = []
    follow: list[list[int]] = [[] for _ in tasks]
    for k, task in enumerate(tasks):
        if require_finite(f"{task.name}: duration", task.duration) < 0.0:
            raise InputError(f"{task.name}: duration", task.duration, "", "0 or more", "enter a length of time")
        unknown = [name for name in task.after if name not in number]
        if unknown:
            raise InputError(f"{task.name}: after", unknown[0], "", "a task of this plan", "name a task that is there")
        before.append([number[name] for name in task.after])
        for name in task.after:
            follow[number[name]].append(k)
    for machine, taken in busy.items():
        if require_finite(f"{machine}: busy", taken) < 0.0:
            raise InputError(f"{machine}: busy", taken, "", "0 or more", "enter how long it is taken")
    work = Work(tasks, before, follow, busy)
    line = in_line(work)
    work.head = [0.0] * len(tasks)
    ahead: list[frozenset[int]] = [frozenset()] * len(tasks)
    for k in line:
        ready = max((work.head[b] + tasks[b].duration for b in before[k]), default=0.0)
        work.head[k] = max(ready, busy.get(tasks[k].machine, 0.0) if tasks[k].machine else 0.0)
        nearer = frozenset(before[k])
        ahead[k] = nearer.union(*(ahead[b] for b in nearer))
    work.earlier = ahead
    for k, task in enumerate(tasks):
        if task.machine:
            work.mates.setdefault(task.machine, []).append(k)
    work.tail = [0.0] * len(tasks)
    for k in reversed(line):
        work.tail[k] = max((work.tail[f] + tasks[f].duration for f in follow[k]), default=0.0)
    return work


def in_line(work: Work) -> list[int]:
    """An order in which each task comes after those it needs; a circle is refused by name."""
    open_ = [len(b) for b in work.before]
    ready = [k for k, count in enumerate(open_) if count == 0]
    line: list[int] = []
    while ready:
        k = ready.pop(0)
        line.append(k)
        for f in work.follow[k]:
            open_[f] -= 1
            if open_[f] == 0:
                insort(ready, f)
    if len(line) < len(work.tasks):
        left = [work.tasks[k].name for k in range(len(work.tasks)) if open_[k] > 0]
        raise InputError("order of the tasks", ", ".join(left), "", "free of circles", "take one of these orders away")
    return line


def length_bound(work: Work) -> tuple[float, str]:
    """No plan is shorter: the longest chain, every machine alone with what stands before and after; which one binds."""
    longest = max(h + t.duration + e for h, t, e in zip(work.head, work.tasks, work.tail, strict=True))
    binding = ""
    for machine, own in work.mates.items():
        alone = broken_off([(work.head[k], work.tasks[k].duration, work.tail[k]) for k in own])
        if alone > longest + 1e-9:
            longest, binding = alone, machine
    return longest, binding


def broken_off(tasks: Sequence[tuple[float, float, float]]) -> float:
    """Shortest length of one machine's tasks (head, duration, tail) when each may be broken off and taken up again.

    The task with the largest tail of those ready goes first, at every moment.

    >>> broken_off([(0.0, 4.0, 0.0), (1.0, 2.0, 7.0)])
    10.0
    """
    coming = sorted(tasks)
    waiting: list[list[float]] = []
    time, next_, longest = 0.0, 0, 0.0
    while next_ < len(coming) or waiting:
        if not waiting:
            time = max(time, coming[next_][0])
        while next_ < len(coming) and coming[next_][0] <= time:
            heapq.heappush(waiting, [-coming[next_][2], coming[next_][1]])
            next_ += 1
        urgent = waiting[0]
        until = coming[next_][0] if next_ < len(coming) else float("inf")
        if time + urgent[1] <= until:
            time += urgent[1]
            longest = max(longest, time - heapq.heappop(waiting)[0])
        else:
            urgent[1] -= until - time
            time = until
    return longest
