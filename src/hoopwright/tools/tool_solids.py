"""Bodies of a ring's tools with their standing checks. The first call brings the CAD library in."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.errors import InputError
from hoopwright.findings import Check, Finding
from hoopwright.tools.bands import BandForm
from hoopwright.tools.fixtures import WeldFixture
from hoopwright.tools.roll_body import RollSet, guide_plates
from hoopwright.tools.roll_checks import check_rolls
from hoopwright.tools.segment_solids import rounded_segment, sharp_segment, whole_set
from hoopwright.tools.set_checks import SetParts, check_set
from hoopwright.tools.small_checks import check_base, check_plug, check_weld
from hoopwright.tools.solids import Body
from hoopwright.tools.standing_checks import Checked, volume_check
from hoopwright.tools.trim_plug import PlugForm

KINDS = ("R", "S", "B", "T", "W")
"""Endings of a ring's tools with bodies: roll pair, segment set, base, trim plug, weld bars."""


@dataclass(frozen=True, slots=True, eq=False)
class ToolForms:
    """Forms of all tools of a ring, all that its bodies are built and checked from. mark : of the plan behind them."""

    ring: str
    mark: str
    room: ToolRoom
    rolls: RollSet
    parts: SetParts
    bands: tuple[BandForm, BandForm]
    plug: PlugForm
    weld: WeldFixture


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


def solids_of(forms: ToolForms, kind: str) -> ToolSolids:
    """Bodies of one tool.

    Raises
    ------
    InputError
        No such tool, or the CAD library is not installed.
    GeometryError
        The CAD library cannot build it; the message names part, operation and remedy.
    """
    tool, room = f"{forms.ring}-{kind}", forms.room
    if kind == "S":
        return _set(tool, forms)
    if kind == "R":
        checked = check_rolls(tool, forms.rolls, room)
        bodies = (*checked.bodies, *guide_plates(forms.rolls))
        return ToolSolids(tool, ((tool, bodies),), checked.checks, checked.findings)
    makers = {
        "B": lambda: check_base(tool, forms.parts.base, room),
        "T": lambda: check_plug(tool, forms.plug, room),
        "W": lambda: check_weld(tool, forms.weld, room),
    }
    if kind not in makers:
        raise InputError("tool", tool, "", f"one ending in {', '.join(KINDS)}", "name a tool of the ring")
    checked = makers[kind]()
    return ToolSolids(tool, ((tool, checked.bodies),), checked.checks, checked.findings)


def _set(tool: str, forms: ToolForms) -> ToolSolids:
    """Segments loaded and collapsed, with pin, bands and spacers about them."""
    parts, form = forms.parts, forms.parts.form
    sharp = sharp_segment(form)
    segment = rounded_segment(form, sharp)
    bands = tuple(band.body() for band in forms.bands)
    checks = [
        *check_set(tool, parts, segment, sharp, forms.room),
        *(volume_check(tool, body, band.volume_mm3) for body, band in zip(bands, forms.bands, strict=True)),
    ]
    spacers = tuple(parts.spacer.placed(form, k) for k in range(1, form.count + 1))
    checked = Checked(tool, (), tuple(checks))
    files = (
        (f"{tool}-loaded", (*whole_set(form, segment), *bands)),
        (f"{tool}-collapsed", whole_set(form, segment, form.travel_mm)),
        (f"{tool}-as-ground", (*whole_set(form, sharp), *spacers)),
    )
    return ToolSolids(tool, files, checked.checks, checked.findings)
