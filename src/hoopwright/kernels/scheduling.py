"""Tasks on machines, each machine doing one at a time, with an order between tasks: when each begins.

Times in any one unit [1].

Serial generation: tasks in an order of rank, each set at its earliest gap on its machine. The first order comes from
the longest tail, from the latest start where there are due dates, or from the machine that binds, planned alone, with
everything else in time for it. Where nothing is due and the first plan is longer than its bound, plans are searched
exactly (`schedule_exact`), up to a number of nodes.

What that leaves open is climbed: a few tasks are given new places and an order no worse is kept, with shaken starts and
restarts from the best. Half the moves set a task right before or after one of the critical chain on its machine, and a
task that goes ahead takes along what must be done before it: without that nothing moves past its own forerunner.

Same input, same plan: the dice are seeded. Checked in tests/exact against every order of small cases, and in
tests/published against the six by six case of Fisher and Thompson.
"""

from __future__ import annotations

import random
from bisect import insort
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hoopwright.kernels.schedule_exact import shortest
from hoopwright.kernels.schedule_problem import Task, Work, broken_off, checked, in_line, length_bound

__all__ = ["Schedule", "Task", "broken_off", "schedule"]

IDLE_TRIES = 400
SHAKE_EVERY = 8


@dataclass(frozen=True, slots=True)
class Schedule:
    """When each task begins. length : of the whole. bound : no plan is shorter. lateness : weighted sum over due dates.

    critical : a chain of tasks, each of which ends where the next begins, that makes the length.
    """

    start: Mapping[str, float]
    length: float
    bound: float
    lateness: float
    mean_end: float
    critical: tuple[str, ...]
    tries: int

    @property
    def proven(self) -> bool:
        """Whether no shorter plan exists."""
        return self.length <= self.bound + 1e-9


def schedule(
    tasks: Sequence[Task],
    busy: Mapping[str, float] | None = None,
    tries: int = 2000,
    seed: int = 1,
    nodes: int = 1500,
) -> Schedule:
    """A short plan, late as little as may be.

    Parameters
    ----------
    busy : how long each machine is taken from the start. tries : orders tried. seed : of the dice. nodes : of the exact
    search, which is made where nothing is due.

    Raises
    ------
    InputError
        No task, a doubled or unknown name, a negative duration, or a circle, whose tasks are named.
    """
    work = checked(tasks, busy or {})
    dice = random.Random(seed)
    due = any(task.due is not None for task in tasks)
    bound, binding = length_bound(work)
    firsts = [_first_rank(work, due)]
    if not due and binding:
        firsts.append(_rank_about(work, binding, bound))
    order = min((_ranked(work, rank) for rank in firsts), key=lambda tried: _value(work, tried))
    best = _value(work, order)
    if not due and best[1] > bound + 1e-9:
        search = shortest(work, best[1], nodes)
        if search.start is not None:
            order = _ranked(work, search.start)
            best = _value(work, order)
        if search.whole:
            bound = best[1]
    best_order, now, at = order, best, 0
    held: list[int] | None = None
    count = 0
    for count in range(1, tries + 1):
        if best[0] <= 1e-9 and best[1] <= bound + 1e-9:
            break
        if at > IDLE_TRIES:
            order, now, at, held = best_order, best, 0, None
        if held is None:
            held = _critical_on_machines(work, order)
        tried = _shaken(work, order, held, dice, due, count, tries)
        value = _value(work, tried)
        if value <= now:
            order, now, held = tried, value, None
        at = 0 if value < best else at + 1
        if value < best:
            best, best_order = value, tried
    start = _placed(work, best_order)
    names = {task.name: start[k] for k, task in enumerate(tasks)}
    return Schedule(names, best[1], bound, best[0], best[2], _critical(work, start), count)


def _first_rank(work: Work, due: bool) -> list[float]:
    if not due:
        return [-(work.tail[k] + task.duration) for k, task in enumerate(work.tasks)]
    latest = [task.due if task.due is not None else float("inf") for task in work.tasks]
    for k in reversed(in_line(work)):
        for f in work.follow[k]:
            latest[k] = min(latest[k], latest[f] - work.tasks[f].duration)
    return [late - task.duration for late, task in zip(latest, work.tasks, strict=True)]


def _rank_about(work: Work, machine: str, bound: float) -> list[float]:
    """Ranks from a plan of one machine alone: its tasks in turn, the most urgent of those ready, all else in time."""
    open_ = set(work.mates[machine])
    turn: dict[int, float] = {}
    time = 0.0
    while open_:
        time = max(time, min(work.head[k] for k in open_))
        k = max((k for k in open_ if work.head[k] <= time), key=lambda k: (work.tail[k], -k))
        turn[k] = time
        time += work.tasks[k].duration
        open_.remove(k)
    rank = [0.0] * len(work.tasks)
    for k in reversed(in_line(work)):
        latest = min((rank[f] for f in work.follow[k]), default=bound - work.tail[k]) - work.tasks[k].duration
        rank[k] = turn.get(k, latest)
    return rank


def _ranked(work: Work, rank: Sequence[float]) -> list[int]:
    """Tasks by rank, each after those it needs."""
    open_ = [len(b) for b in work.before]
    ready = sorted((rank[k], k) for k, count in enumerate(open_) if count == 0)
    order: list[int] = []
    while ready:
        _, k = ready.pop(0)
        order.append(k)
        for f in work.follow[k]:
            open_[f] -= 1
            if open_[f] == 0:
                insort(ready, (rank[f], f))
    return order


def _placed(work: Work, order: Sequence[int]) -> list[float]:
    """Start of every task: each in turn at its earliest gap."""
    start = [0.0] * len(work.tasks)
    taken: dict[str, list[tuple[float, float]]] = {m: [(0.0, t)] for m, t in work.busy.items() if t > 0.0}
    for k in order:
        task = work.tasks[k]
        ready = max((start[b] + work.tasks[b].duration for b in work.before[k]), default=0.0)
        if not task.machine:
            start[k] = ready
            continue
        spans = taken.setdefault(task.machine, [])
        at = ready
        for begin, end in spans:
            if at + task.duration <= begin + 1e-12:
                break
            at = max(at, end)
        start[k] = at
        if task.duration > 0.0:
            insort(spans, (at, at + task.duration))
    return start


def _value(work: Work, order: Sequence[int]) -> tuple[float, float, float]:
    """Weighted lateness, length, mean end."""
    start = _placed(work, order)
    ends = [s + task.duration for s, task in zip(start, work.tasks, strict=True)]
    pairs = zip(ends, work.tasks, strict=True)
    late = sum(t.weight * max(0.0, e - t.due) for e, t in pairs if t.due is not None)
    return late, max(ends), sum(ends) / len(ends)


def _shaken(
    work: Work, order: Sequence[int], held: Sequence[int], dice: random.Random, due: bool, count: int, tries: int
) -> list[int]:
    """One to three tasks in new places; every eighth try the whole order a little shaken. held : critical tasks."""
    n = len(order)
    if count % SHAKE_EVERY == 0:
        if count < tries / 3:
            rank = _first_rank(work, due)
            spread = max(t.duration for t in work.tasks) or 1.0
            return _ranked(work, [r + dice.uniform(-spread, spread) for r in rank])
        rank = [0.0] * n
        for place, k in enumerate(order):
            rank[k] = place + dice.uniform(-3.0, 3.0)
        return _ranked(work, rank)
    rank = [0.0] * n
    for place, k in enumerate(order):
        rank[k] = float(place)
    for _ in range(dice.randint(1, 3)):
        if held and dice.random() < 0.5:
            critical = dice.choice(held)
            moved, there = (
                dice.choice(work.mates[work.tasks[critical].machine]),
                rank[critical] + dice.choice((-0.5, 0.5)),
            )
        else:
            moved, there = dice.randrange(n), dice.uniform(-0.5, n - 0.5)
        rank[moved] = there
        for k in work.earlier[moved]:
            rank[k] = min(rank[k], there)
    return _ranked(work, rank)


def _critical_on_machines(work: Work, order: Sequence[int]) -> list[int]:
    """Tasks of the critical chain that hold a machine."""
    number = {task.name: k for k, task in enumerate(work.tasks)}
    chain = (number[name] for name in _critical(work, _placed(work, order)))
    return [k for k in chain if work.tasks[k].machine]


def _critical(work: Work, start: Sequence[float]) -> tuple[str, ...]:
    """A chain from the last end back to the start, over what each task waited for."""
    ends = [s + t.duration for s, t in zip(start, work.tasks, strict=True)]
    k: int | None = max(range(len(ends)), key=lambda j: (ends[j], -j))
    chain: list[int] = []
    while k is not None:
        chain.append(k)
        at, task = start[k], work.tasks[k]
        mates = [j for j, t in enumerate(work.tasks) if t.machine == task.machine and task.machine and j not in chain]
        waited = [j for j in (*work.before[k], *mates) if abs(ends[j] - at) < 1e-9 and j not in chain]
        k = waited[0] if waited and at > 1e-9 else None
    return tuple(work.tasks[j].name for j in reversed(chain))
