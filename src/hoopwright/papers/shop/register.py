"""All sheets of a ring by name."""

from __future__ import annotations

from collections.abc import Callable

from hoopwright.errors import InputError
from hoopwright.papers.shop import after, heat_treat, material, rolling, segment_sheets, sizing, small_tools
from hoopwright.papers.shop.kit import Paper
from hoopwright.plan.ring_tools import RingTools

PAPERS: dict[str, Callable[[RingTools], Paper]] = {
    "definition": material.definition,
    "blank-nest": material.blank_and_nest,
    "pass-card": rolling.pass_card,
    "roll-pair": rolling.roll_pair_paper,
    "heat-treat": heat_treat.heat_treat,
    "set-blank": segment_sheets.set_blank,
    "set-wire": segment_sheets.set_wire,
    "set-ground": segment_sheets.set_ground,
    "small-tools": small_tools.small_tools,
    "machine-card": sizing.machine_card,
    "route-card": after.route_card,
    "tool-labels": after.tool_labels,
    "trim-holes": after.trim_and_holes,
    "inspection": after.inspection,
    "try-out": sizing.try_out,
    "sizing-record": sizing.sizing_record,
}
"""Sheet by name, in the order of use."""


def paper_of(tools: RingTools, name: str) -> Paper:
    """A sheet by name.

    Raises
    ------
    InputError
        No such sheet.
    """
    if name not in PAPERS:
        raise InputError("paper", name, "", f"one of {', '.join(PAPERS)}", "name one of these")
    return PAPERS[name](tools)
