"""Tools of a whole liner: every ring's, the one pin, and when they can be made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hoopwright.errors import HoopwrightError
from hoopwright.findings import Finding
from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.ring_tools import RingTools, liner_pin, tools_of
from hoopwright.plan.tool_making import MadeTool, ToolRoomShelf, made_pin, tool_room_shelf
from hoopwright.tools.schedule import ToolPlan, plan_tools
from hoopwright.tools.taper_pin import PinForm


@dataclass(frozen=True, slots=True, eq=False)
class LinerTools:
    """Tools of every ring that has a plan. refused : ring and reason where a tool cannot be shaped."""

    plan: LinerPlan
    shelf: ToolRoomShelf
    rings: tuple[RingTools, ...]
    pin: PinForm | None
    made: tuple[MadeTool, ...]
    schedule: ToolPlan | None
    refused: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]

    @property
    def hours(self) -> float:
        """Work in all tools. [h]"""
        return sum(made.cost.hours for made in self.made)

    @property
    def cost(self) -> float:
        """Cost of all tools, in the shop's own unit."""
        return sum(made.cost.total for made in self.made)


def tools_of_liner(
    plan: LinerPlan,
    shop_folder: Path | None = None,
    tell: Callable[[str], None] | None = None,
    scheduled: bool = True,
) -> LinerTools:
    """Shape and schedule the tools of every planned ring; a ring whose tools cannot be shaped stands in `refused`."""
    shelf = tool_room_shelf(shop_folder)
    rings: list[RingTools] = []
    refused: list[tuple[str, str]] = []
    for ring in plan.rings:
        if tell is not None:
            tell(f"{ring.job.ring.id}: tools")
        try:
            rings.append(tools_of(ring, shelf))
        except HoopwrightError as refusal:
            refused.append((ring.job.ring.id, str(refusal)))
    if not rings:
        return LinerTools(plan, shelf, (), None, (), None, tuple(refused), ())
    pin = liner_pin(tuple(rings), plan.liner)
    own = made_pin(pin, shelf, rings[0].plan.job.machines.furnace)
    made = (own, *(tool for ring in rings for tool in ring.made))
    findings = tuple(finding for ring in rings for finding in ring.findings)
    schedule = plan_tools([(tool.id, tool.works) for tool in made], shelf.room) if scheduled else None
    return LinerTools(plan, shelf, tuple(rings), pin, made, schedule, tuple(refused), findings)
