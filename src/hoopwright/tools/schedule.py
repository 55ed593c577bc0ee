"""Lead-time plan of many tools over the machines that make them, with what already waits there. Hours of work."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.kernels.scheduling import Schedule, Task, schedule
from hoopwright.tools.tool_cost import Work

ONE_AT_A_TIME = ("lathe", "grinder", "wire", "furnace")


@dataclass(frozen=True, slots=True)
class Row:
    """One operation in the plan, in hours from the start; critical when the end waits for it."""

    tool: str
    work: Work
    start_h: float
    end_h: float
    critical: bool


@dataclass(frozen=True, slots=True)
class ToolPlan:
    """When every tool is made. days_per : hours of a working day."""

    rows: tuple[Row, ...]
    schedule: Schedule
    day_h: float

    def ready_h(self, tool: str) -> float:
        """When a tool is done. [h]"""
        return max(row.end_h for row in self.rows if row.tool == tool)

    def day_of(self, hours: float, begin: dt.date) -> dt.date:
        """Calendar day on which an hour of work falls, five days a week."""
        days = max(0, math.ceil(hours / self.day_h - 1e-9) - 1)
        date = begin
        while date.weekday() > 4:
            date += dt.timedelta(days=1)
        for _ in range(days):
            date += dt.timedelta(days=3 if date.weekday() == 4 else 1)
        return date


def plan_tools(works: Sequence[tuple[str, tuple[Work, ...]]], room: ToolRoom, tries: int = 2000) -> ToolPlan:
    """The plan of all tools; each tool's operations follow each other, machines take one at a time."""
    tasks: list[Task] = []
    keys: list[tuple[str, Work]] = []
    for tool, steps in works:
        before: tuple[str, ...] = ()
        for work in steps:
            name = f"{tool} {work.number}"
            tasks.append(Task(name, work.hours, work.machine if work.machine in ONE_AT_A_TIME else "", before))
            keys.append((tool, work))
            before = (name,)
    busy = {
        "lathe": room.lathe_wait_h.value, "grinder": room.grinder_wait_h.value,
        "wire": room.wire_wait_h.value, "furnace": room.furnace_wait_h.value,
    }  # fmt: skip
    found = schedule(tasks, busy, tries)
    critical = set(found.critical)
    rows = tuple(
        Row(tool, work, found.start[task.name], found.start[task.name] + task.duration, task.name in critical)
        for task, (tool, work) in zip(tasks, keys, strict=True)
    )
    return ToolPlan(rows, found, room.day_h.value)
