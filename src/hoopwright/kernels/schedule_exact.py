"""Shortest plan of tasks on machines by branching and bounding, proven where the search ends before its limit of nodes.

Times in any one unit [1].

Active plans are enumerated after Giffler and Thompson (1960): of the tasks still to be placed, the one that could end
first says which machine is decided next and by when; every task of that machine that could begin before then is tried
as its next one. A branch is left when no plan in it can be shorter than the best known (`schedule_problem`: heads as
they have become, each machine alone), or when the same tasks have been placed before with nothing later and nothing
longer. Depth first, most promising branch first; same input, same search.

References
----------
B. Giffler, G. L. Thompson, Algorithms for solving production-scheduling problems, Operations Research 8 (1960), 487 to
503 (from memory). Checked against every order of small cases in tests/exact and against the published length of the six
by six case of Fisher and Thompson.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.kernels.schedule_problem import Work, broken_off, in_line

NEAR = 1e-9
KEPT = 40
"""Placed states kept for each set of tasks: more cost more to look through than they cut off."""


@dataclass(frozen=True, slots=True)
class Search:
    """What a search found. start : of every task in a shorter plan; None where there is none. whole : all searched."""

    start: tuple[float, ...] | None
    whole: bool
    nodes: int


@dataclass(slots=True)
class _State:
    """The search: order of the tasks for reckoning heads, and the best so far."""

    work: Work
    line: Sequence[int]
    length: list[float]
    best: float


def shortest(work: Work, upper: float, limit: int) -> Search:
    """Plans shorter than `upper`, down to the shortest, in at most `limit` nodes."""
    state = _State(work, in_line(work), [task.duration for task in work.tasks], upper)
    open_ = sum(1 << k for own in work.mates.values() for k in own)
    head = list(work.head)
    stack = [(_lower(state, head, open_), head, open_)]
    placed: dict[int, list[tuple[float, ...]]] = {}
    found: tuple[float, ...] | None = None
    nodes = 0
    while stack:
        lower, head, open_ = stack.pop()
        if lower >= state.best - NEAR:
            continue
        nodes += 1
        if nodes > limit:
            return Search(found, False, limit)
        if not open_:
            found, state.best = tuple(head), _end(state, head)
            continue
        if not _seen(state, placed, head, open_):
            stack += _branches(state, head, open_)
    return Search(found, True, nodes)


def _end(state: _State, head: Sequence[float]) -> float:
    return max(h + p for h, p in zip(head, state.length, strict=True))


def _lower(state: _State, head: Sequence[float], open_: int) -> float:
    """No plan with these heads is shorter; no more is reckoned than is needed to leave the branch."""
    work, length = state.work, state.length
    bound = max(h + p + q for h, p, q in zip(head, length, work.tail, strict=True))
    for own in work.mates.values():
        if bound >= state.best - NEAR:
            break
        left = [(head[k], length[k], work.tail[k]) for k in own if open_ >> k & 1]
        bound = max(bound, broken_off(left))
    return bound


def _seen(state: _State, placed: dict[int, list[tuple[float, ...]]], head: Sequence[float], open_: int) -> bool:
    """Whether the same tasks were placed before with no head later and no end later; if not, it is noted down."""
    mine = range(len(head))
    done = max((head[k] + state.length[k] for k in mine if not open_ >> k & 1), default=0.0)
    machine = state.work.tasks
    front = (done, *(head[k] for k in mine if open_ >> k & 1 or not machine[k].machine))
    before = placed.setdefault(open_, [])
    if any(all(a <= b + 1e-12 for a, b in zip(old, front, strict=True)) for old in before):
        return True
    if len(before) < KEPT:
        before.append(front)
    return False


def _branches(state: _State, head: list[float], open_: int) -> list[tuple[float, list[float], int]]:
    """Every task that may be next on the machine to decide, the most promising last."""
    work, length = state.work, state.length
    ready = [k for own in work.mates.values() for k in own if open_ >> k & 1]
    first = min(ready, key=lambda k: (head[k] + length[k], k))
    own = work.mates[work.tasks[first].machine]
    by = head[first] + length[first]
    made = []
    for k in own:
        if open_ >> k & 1 and (head[k] < by - 1e-12 or k == first):
            later, rest = _after(state, head, k, own, open_), open_ & ~(1 << k)
            lower = _lower(state, later, rest)
            if lower < state.best - NEAR:
                made.append((lower, -work.tail[k], k, later, rest))
    made.sort(key=lambda one: one[:3], reverse=True)
    return [(lower, later, rest) for lower, _, _, later, rest in made]


def _after(state: _State, head: list[float], placed: int, own: Sequence[int], open_: int) -> list[float]:
    """Heads when a task is the next on its machine."""
    later = head[:]
    end = head[placed] + state.length[placed]
    for k in own:
        if k != placed and open_ >> k & 1 and later[k] < end:
            later[k] = end
    for k in state.line:
        for b in state.work.before[k]:
            end = later[b] + state.length[b]
            if end > later[k]:
                later[k] = end
    return later
