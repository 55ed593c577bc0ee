"""Small plans against every possible order; each plan keeps its rules."""

from __future__ import annotations

import itertools
import random

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.scheduling import Schedule, Task, broken_off, schedule


def shortest_by_all_orders(tasks: list[Task], busy: dict[str, float]) -> float:
    """Length of the shortest of all semi-active plans: tasks appended to their machines in every order."""
    number = {t.name: k for k, t in enumerate(tasks)}
    best = float("inf")
    for order in itertools.permutations(range(len(tasks))):
        done: dict[int, float] = {}
        free = dict(busy)
        for k in order:
            task = tasks[k]
            if any(number[b] not in done for b in task.after):
                break
            start = max([done[number[b]] for b in task.after] + [free.get(task.machine, 0.0) if task.machine else 0.0])
            done[k] = start + task.duration
            if task.machine:
                free[task.machine] = done[k]
        else:
            best = min(best, max(done.values()))
    return best


def random_tasks(seed: int, count: int) -> tuple[list[Task], dict[str, float]]:
    dice = random.Random(seed)
    tasks: list[Task] = []
    for k in range(count):
        after = tuple(t.name for t in tasks if dice.random() < 0.3)
        tasks.append(Task(f"t{k}", float(dice.randint(1, 9)), dice.choice(("a", "b", "")), after))
    return tasks, {"a": float(dice.randint(0, 3))}


def keeps_its_rules(tasks: list[Task], busy: dict[str, float], plan: Schedule) -> None:
    ends = {t.name: plan.start[t.name] + t.duration for t in tasks}
    for task in tasks:
        assert all(ends[b] <= plan.start[task.name] + 1e-9 for b in task.after)
    for machine in {t.machine for t in tasks if t.machine}:
        spans = sorted((plan.start[t.name], ends[t.name]) for t in tasks if t.machine == machine)
        assert spans[0][0] >= busy.get(machine, 0.0) - 1e-9
        assert all(a[1] <= b[0] + 1e-9 for a, b in itertools.pairwise(spans))
    assert plan.length == max(ends.values())


@pytest.mark.parametrize("seed", range(24))
def test_shortest_of_all_orders(seed: int) -> None:
    tasks, busy = random_tasks(seed, 7)
    plan = schedule(tasks, busy)
    keeps_its_rules(tasks, busy, plan)
    wanted = shortest_by_all_orders(tasks, busy)
    assert plan.length == wanted
    assert plan.proven and plan.bound == pytest.approx(wanted, abs=1e-9)
    # without the exact search the bound is one machine's, and never above
    assert schedule(tasks, busy, nodes=0).bound <= wanted + 1e-9


def test_critical_path_has_no_gap() -> None:
    tasks, busy = random_tasks(3, 7)
    plan = schedule(tasks, busy)
    ends = {t.name: plan.start[t.name] + t.duration for t in tasks}
    assert ends[plan.critical[-1]] == plan.length
    for one, two in itertools.pairwise(plan.critical):
        assert ends[one] == pytest.approx(plan.start[two])


def test_late_work_weighs() -> None:
    tasks = [Task("long", 8.0, "a", (), 8.0, 1.0), Task("short", 2.0, "a", (), 2.0, 5.0)]
    plan = schedule(tasks)
    assert plan.start == {"long": 2.0, "short": 0.0}
    assert plan.lateness == pytest.approx(2.0)


def test_same_input_same_plan() -> None:
    tasks, busy = random_tasks(8, 7)
    assert schedule(tasks, busy).start == schedule(tasks, busy).start


@pytest.mark.parametrize(
    ("tasks", "words"),
    [
        ([], "at least one"),
        ([Task("a", 1.0), Task("a", 2.0)], "named once"),
        ([Task("a", -1.0)], "0 or more"),
        ([Task("a", 1.0, "", ("b",))], "a task of this plan"),
        ([Task("a", 1.0, "", ("b",)), Task("b", 1.0, "", ("a",)), Task("c", 1.0)], "a, b"),
        ([Task("a", float("nan"))], "finite"),
    ],
)
def test_refused(tasks: list[Task], words: str) -> None:
    with pytest.raises(InputError, match=words):
        schedule(tasks)


@pytest.mark.parametrize("seed", range(20))
def test_one_machine_broken_off_is_the_worst_of_all_sets(seed: int) -> None:
    """Least head + load + least tail, largest over every set of the tasks: the length when tasks may be broken off."""
    dice = random.Random(seed)
    tasks = [tuple(float(dice.randint(0, 12)) for _ in range(3)) for _ in range(8)]
    tasks = [(head, duration + 1.0, tail) for head, duration, tail in tasks]
    sets = (some for size in range(1, 9) for some in itertools.combinations(tasks, size))
    wanted = max(min(t[0] for t in some) + sum(t[1] for t in some) + min(t[2] for t in some) for some in sets)
    assert broken_off(tasks) == pytest.approx(wanted, abs=1e-12)


def flow_shop(seed: int, tools: int) -> tuple[list[Task], dict[str, float]]:
    """Tools that go over lathe, furnace and grinder, the furnace the slowest by far."""
    dice = random.Random(seed)
    tasks: list[Task] = []
    for tool in range(tools):
        before: tuple[str, ...] = ()
        for step, (machine, most) in enumerate((("lathe", 4), ("furnace", 20), ("", 3), ("grinder", 12), ("", 2))):
            tasks.append(Task(f"{tool}-{step}", round(dice.uniform(1.0, most), 2), machine, before))
            before = (tasks[-1].name,)
    return tasks, {"grinder": 16.0, "lathe": dice.uniform(0.0, 10.0)}


@pytest.mark.parametrize("seed", range(6))
def test_a_shop_with_one_slow_machine_is_proven_shortest(seed: int) -> None:
    tasks, busy = flow_shop(seed, 40)
    plan = schedule(tasks, busy)
    keeps_its_rules(tasks, busy, plan)
    assert plan.proven and plan.length >= plan.bound - 1e-9


def test_what_a_short_search_leaves_open_is_small_and_said() -> None:
    """200 tasks whose first charges wait for the lathe: three in a thousand, an observed figure, not a promise."""
    tasks, busy = flow_shop(6, 40)
    plan = schedule(tasks, busy, tries=200, nodes=100)
    keeps_its_rules(tasks, busy, plan)
    assert not plan.proven and plan.bound < plan.length < 1.003 * plan.bound


def test_a_plan_that_is_not_proven_says_so() -> None:
    """Both tasks want the machine at the start and neither may be broken off: 2 longer than the bound."""
    tasks = [
        Task("wait", 1.0),
        Task("long", 10.0, "a"),
        Task("urgent", 2.0, "a", ("wait",)),
        Task("t", 9.0, "", ("urgent",)),
    ]
    plan = schedule(tasks, nodes=0)
    assert plan.length == 13.0 and plan.bound == 12.0 and not plan.proven
    searched = schedule(tasks)
    assert searched.length == 13.0 and searched.proven
