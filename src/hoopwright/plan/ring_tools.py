"""Every tool of one ring from its plan: forms, stock, heat treatment, wire path, route, cost, life. No CAD body yet."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.kernels.profile import Profile
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.sizing_set import inside_of
from hoopwright.plan.tool_making import (
    MadeTool,
    ToolRoomShelf,
    made_base,
    made_plug,
    made_rolls,
    made_set,
    made_spacers,
    made_weld,
)
from hoopwright.tools.bands import BandForm
from hoopwright.tools.base import base_form
from hoopwright.tools.fixtures import WeldFixture
from hoopwright.tools.roll_body import RollSet, roll_set
from hoopwright.tools.segment_body import BAND_DEPTH, BAND_WIDTH, LEVEL, NECK, SHOULDER, SetForm, set_form
from hoopwright.tools.set_checks import SetParts
from hoopwright.tools.spacers import spacer_form
from hoopwright.tools.strip_run import strip_passes
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.tool_solids import ToolForms
from hoopwright.tools.trim_plug import PlugForm, plug_form
from hoopwright.tools.wire_path import WirePath, wire_path

BORE_SHARE = 0.5
"""Taper bore at the base as a share of the liner's least ring radius (common practice, no source)."""
ENDS_MM, WALL_MM = 36.0, 14.5
"""Height that trims, shoulder and neck add to a ring; metal from bore to profile, groove of the upper band in it."""


@dataclass(frozen=True, slots=True, eq=False)
class RingTools:
    """All tools of a ring: `plan` they come from, their forms, and how each is made."""

    plan: RingPlan
    shelf: ToolRoomShelf
    rolls: RollSet
    parts: SetParts
    bands: tuple[BandForm, BandForm]
    plug: PlugForm
    weld: WeldFixture
    wire: WirePath
    made: tuple[MadeTool, ...]
    findings: tuple[Finding, ...]

    @property
    def forms(self) -> ToolForms:
        """What the bodies are built from."""
        ring, room = self.plan.job.ring.id, self.shelf.room
        return ToolForms(ring, self.plan.mark, room, self.rolls, self.parts, self.bands, self.plug, self.weld)

    def tool(self, tool_id: str) -> MadeTool:
        """A tool by number. Raises KeyError where there is none."""
        return next(t for t in self.made if t.id == tool_id)


def shared_bore(liner: Liner, half_angle_rad: float) -> float:
    """Radius of every set's taper bore at its base: one pin serves all sets of a liner. [mm]

    Half the least ring radius, or less where the taper would come too near the profile at the top of a tall set.
    """
    rooms = []
    for ring in liner.rings:
        x0, low, x1, _ = ring.section.bounds
        rooms.append(
            min(
                BORE_SHARE * low,
                low - ENDS_MM * math.tan(half_angle_rad) - (x1 - x0) * math.tan(half_angle_rad) - WALL_MM,
            )
        )
    return float(math.floor(min(rooms)))


def tools_of(plan: RingPlan, shelf: ToolRoomShelf) -> RingTools:
    """Forms and making of all tools of one ring.

    Raises
    ------
    GeometryError, InputError
        A tool that cannot be shaped or cut; the message names it.
    """
    ring = plan.job.ring.id
    form = set_of(plan)
    parts = SetParts(
        form,
        PinForm(f"{ring}-P", form.half_angle_rad, form.bore_mm, _stroke(form), form.height_mm, _pull(plan)),
        base_form(
            f"{ring}-B",
            form.count,
            form.tongue.width_mm,
            form.tongue.depth_mm,
            form.tongue.to_mm,
            form.bore_mm,
            shelf.room.slide_clearance_mm.value,
        ),
        spacer_form(form),
        inside_of(plan.reckoning.hoop),
        inside_of(plan.reckoning.free),
        plan.job.limits.load_clearance_mm.value,
        plan.job.limits.slot_clearance_mm.value,
    )
    rolls = _rolls(plan, shelf.room)
    plug = plug_form(f"{ring}-T", parts.released, plan.sizing.segments.needed.better.end, shelf.room.plug_fit_mm.value)
    weld = WeldFixture(f"{ring}-W", _hoop_middle(plan), plan.job.thickness_mm.value)
    wire = wire_path(form, plan.job.machines.wire, shelf.room)
    made = (
        made_rolls(plan, rolls, shelf),
        made_set(plan, parts, wire, control_radii_of(plan), shelf),
        made_base(parts.base, shelf, plan.job.machines.furnace),
        made_spacers(parts.spacer, shelf),
        made_plug(plug, shelf),
        made_weld(weld, shelf),
    )
    findings = [
        f for t in made for f in (*(t.stock.findings if t.stock else ()), *(t.order.findings if t.order else ()))
    ]
    return RingTools(plan, shelf, rolls, parts, _bands(form), plug, weld, wire, made, (*findings, *wire.findings))


def set_of(plan: RingPlan) -> SetForm:
    """Shape of a ring's segment set. Raises GeometryError where the taper bore comes out through the profile."""
    sizing = plan.sizing
    return set_form(
        f"{plan.job.ring.id}-S",
        sizing.surface.profile,
        sizing.segments.needed.better.end,
        sizing.segments.count,
        sizing.segments.slot_mm,
        sizing.segments.travel_mm,
        sizing.segments.edge_radius_mm,
        plan.settings.drive.half_angle_rad,
        shared_bore(plan.job.liner, plan.settings.drive.half_angle_rad),
        plan.job.thickness_mm.value,
    )


def _stroke(form: SetForm) -> float:
    return form.travel_mm / math.tan(form.half_angle_rad)


def _pull(plan: RingPlan) -> float:
    return 1e3 * max(plan.figure("press/pull").value, plan.figure("press/withdraw").value)


def _rolls(plan: RingPlan, room: ToolRoom) -> RollSet:
    shaft = plan.job.machines.roll.shaft_dia_mm.value
    return roll_set(
        f"{plan.job.ring.id}-R",
        plan.passes.rolls,
        plan.job.thickness_mm.value,
        shaft,
        room.guide_clearance_mm.value,
        room.side_clearance_mm.value,
        strip_passes(
            plan.passes.in_rolls,
            plan.passes.rolls.run_out_mm,
            plan.blank.width_mm,
            plan.job.thickness_mm.value,
            [row.share for row in plan.passes.rows],
        ),
    )


def _bands(form: SetForm) -> tuple[BandForm, BandForm]:
    """Bands in the grooves of shoulder and neck."""
    shoulder = next(s.start[1] for s in form.section.segments if abs(s.start[0] - 0.5 * (SHOULDER - BAND_WIDTH)) < 1e-9)
    top = form.profile.end[0] + LEVEL
    neck = next(s.end[1] for s in form.section.segments if abs(s.start[0] - top) < 1e-9 and abs(s.end[0] - top) < 1e-9)
    return (
        BandForm(f"{form.name} band below", 0.5 * SHOULDER, shoulder - BAND_DEPTH),
        BandForm(f"{form.name} band above", top + 0.5 * NECK, neck - BAND_DEPTH),
    )


def _hoop_middle(plan: RingPlan) -> Profile:
    """Mid-surface of the closed hoop: the drawing's section moved in by what it has still to be stretched."""
    hoop, stations = plan.reckoning.hoop, plan.job.stations
    inside = (stations.s >= 0.0) & (stations.s <= plan.job.section.length)
    lift = float(np.mean(hoop.r_mm[inside] - stations.y[inside]))
    return plan.job.section.moved(0.0, round(lift, 3))


def control_radii_of(plan: RingPlan) -> tuple[tuple[str, float], ...]:
    """Segment radius at every control size, and the largest and smallest of the profile."""
    found: dict[str, float] = {}
    for figure in plan.figures:
        place = figure.identity.rpartition("/segments/radius-")[2]
        if place != figure.identity:
            found.setdefault(place, figure.value)
    return tuple(found.items())


def liner_pin(tools: tuple[RingTools, ...], liner: Liner) -> PinForm:
    """The one pin that serves every set.

    Raises
    ------
    InputError
        No ring is planned.
    """
    if not tools:
        raise InputError("rings with tools", "none", "", "at least one", "plan a ring first")
    pins = [t.parts.pin for t in tools]
    return PinForm(
        f"{liner.id}-P",
        pins[0].half_angle_rad,
        pins[0].bore_mm,
        max(p.stroke_mm for p in pins),
        max(p.height_mm for p in pins),
        max(p.pull_N for p in pins),
    )


def pull_never_above_kN(plan: RingPlan) -> float:
    """Pin pull at which the operator stops and asks: the upper end of this ring's own band, up to a whole kN.

    Never the machine's capacity, which may be several times what the ring needs: a pull above the band means that
    something is wrong (ring not seated, pin dry, wrong set). The machine rules where it is the smaller.
    """
    pull = plan.figure("press/pull")
    own = pull.value if pull.band is None else pull.band.high
    return min(float(math.ceil(own - 1e-9)), plan.job.machines.expander.pull_max_kN.value)
