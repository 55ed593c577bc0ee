"""Bodies of a ring's tools with their standing checks. The first call brings the CAD library in."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.findings import Check, Finding
from hoopwright.plan.ring_tools import RingTools
from hoopwright.tools.roll_body import guide_plates
from hoopwright.tools.segment_solids import rounded_segment, sharp_segment, whole_set
from hoopwright.tools.solids import Body
from hoopwright.tools.standing_checks import (
    Checked,
    check_base,
    check_plug,
    check_rolls,
    check_set,
    check_weld,
    volume_check,
)

KINDS = ("R", "S", "B", "T", "W")
"""Endings of a ring's tools with bodies: roll pair, segment set, base, trim plug, weld bars."""


@dataclass(frozen=True, slots=True, eq=False)
class ToolSolids:
    """Bodies of one tool to be written, and the checks they passed or not. files : file stem and bodies."""

    tool: str
    files: tuple[tuple[str, tuple[Body, ...]], ...]
    checks: tuple[Check, ...]
    findings: tuple[Finding, ...]

    @property
    def passed(self) -> bool:
        """Whether every standing check holds."""
        return all(check.ok for check in self.checks)


def solids_of(tools: RingTools, kind: str) -> ToolSolids:
    """Bodies of one tool.

    Raises
    ------
    InputError
        No such tool, or the CAD library is not installed.
    GeometryError
        The CAD library cannot build it; the message names part, operation and remedy.
    """
    tool = f"{tools.plan.job.ring.id}-{kind}"
    if kind == "S":
        return _set(tool, tools)
    room = tools.shelf.room
    if kind == "R":
        checked = check_rolls(tool, tools.rolls, room)
        bodies = (*checked.bodies, *guide_plates(tools.rolls))
        return ToolSolids(tool, ((tool, bodies),), checked.checks, checked.findings)
    makers = {
        "B": lambda: check_base(tool, tools.parts.base, room),
        "T": lambda: check_plug(tool, tools.plug),
        "W": lambda: check_weld(tool, tools.weld, room),
    }
    if kind not in makers:
        raise InputError("tool", tool, "", f"one ending in {', '.join(KINDS)}", "name a tool of the ring")
    return _plain(makers[kind]())


def _plain(checked: Checked) -> ToolSolids:
    return ToolSolids(checked.tool, ((checked.tool, checked.bodies),), checked.checks, checked.findings)


def _set(tool: str, tools: RingTools) -> ToolSolids:
    """Segments loaded and collapsed, with pin, bands and spacers about them."""
    parts, form = tools.parts, tools.parts.form
    sharp = sharp_segment(form)
    segment = rounded_segment(form, sharp)
    bands = tuple(band.body() for band in tools.bands)
    checks = [
        *check_set(tool, parts, segment, sharp, tools.shelf.room),
        *(volume_check(tool, body, band.volume_mm3) for body, band in zip(bands, tools.bands, strict=True)),
    ]
    spacers = tuple(parts.spacer.placed(form, k) for k in range(1, form.count + 1))
    checked = Checked(tool, (), tuple(checks))
    files = (
        (f"{tool}-loaded", (*whole_set(form, segment), *bands)),
        (f"{tool}-collapsed", whole_set(form, segment, form.travel_mm)),
        (f"{tool}-as-ground", (*whole_set(form, sharp), *spacers)),
    )
    return ToolSolids(tool, files, checked.checks, checked.findings)
