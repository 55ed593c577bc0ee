"""Tools of the demo's rings, each planned once for all tests that ask."""

from __future__ import annotations

from functools import cache

from hoopwright.design.demo import demo_liner
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.ring_tools import RingTools, tools_of
from hoopwright.plan.tool_making import tool_room_shelf
from hoopwright.tools.tool_solids import ToolSolids, solids_of


@cache
def plan(ring: str) -> RingPlan:
    return plan_ring(demo_liner(), ring)


@cache
def tools(ring: str) -> RingTools:
    return tools_of(plan(ring), tool_room_shelf())


@cache
def solids(ring: str, kind: str) -> ToolSolids:
    return solids_of(tools(ring).forms, kind)
