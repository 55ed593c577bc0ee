"""Every tool of one ring from its plan: forms, stock, heat treatment, wire path, route, cost, life. No CAD body yet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from hoopwright.cards.machines import Furnace
from hoopwright.cards.shop import tool_room
from hoopwright.cards.tool_steel import ToolSteel, tool_steel
from hoopwright.cards.toolroom import ToolRoom
from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import line_moments
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.sizing_set import inside_of
from hoopwright.tools.bands import BandForm
from hoopwright.tools.base import THICKNESS, BaseForm, base_form
from hoopwright.tools.fixtures import WeldFixture
from hoopwright.tools.hardening import HardeningOrder, hardening_order
from hoopwright.tools.roll_body import RollForm, RollSet, roll_set
from hoopwright.tools.segment_body import BAND_DEPTH, BAND_WIDTH, LEVEL, NECK, SHOULDER, SetForm, set_form
from hoopwright.tools.set_checks import SetParts
from hoopwright.tools.spacers import SpacerForm, spacer_form
from hoopwright.tools.stock import Stock, stock_of
from hoopwright.tools.strip_run import strip_passes
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.tool_cost import Amounts, Cost, Work, cost_of, plain_works, plate_works, roll_works, set_works
from hoopwright.tools.tool_life import ToolLife, tool_life
from hoopwright.tools.tool_solids import ToolForms
from hoopwright.tools.trim_plug import PlugForm, plug_form
from hoopwright.tools.wire_path import WirePath, wire_path

ROLL_STEEL, PIN_STEEL = "T30402", "T20813"
BORE_SHARE = 0.5
"""Taper bore at the base as a share of the liner's least ring radius (common practice, no source)."""
BASE_HRC, PIN_HRC = (46.0, 50.0), (48.0, 52.0)
"""Hardness of base and pin (common practice, no source). [HRC]"""
ENDS_MM, WALL_MM = 36.0, 14.5
"""Height that trims, shoulder and neck add to a ring; metal from bore to profile, groove of the upper band in it."""


@dataclass(frozen=True, slots=True)
class ToolRoomShelf:
    """Cards that making tools needs."""

    room: ToolRoom
    rolls: ToolSteel
    pins: ToolSteel


@dataclass(frozen=True, slots=True, eq=False)
class MadeTool:
    """One tool as the tool room makes it.

    works : its route. stock, order : None where it is not turned, not hardened.
    """

    id: str
    kind: str
    works: tuple[Work, ...]
    amounts: Amounts
    cost: Cost
    stock: Stock | None = None
    order: HardeningOrder | None = None
    life: ToolLife | None = None
    pieces: int = 1


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


def tool_room_shelf(shop_folder: Path | None = None) -> ToolRoomShelf:
    """The cards, the shop's own before ours."""
    return ToolRoomShelf(
        tool_room(shop_folder=shop_folder), tool_steel(ROLL_STEEL, shop_folder), tool_steel(PIN_STEEL, shop_folder)
    )


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
        _made_rolls(plan, rolls, shelf),
        _made_set(plan, parts, wire, shelf),
        _made_base(parts.base, shelf, plan.job.machines.furnace),
        _made_spacers(parts.spacer, shelf),
        _made_plug(plug, shelf),
        _made_weld(weld, shelf),
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


def _roll_radii(form: RollForm) -> tuple[tuple[str, float], ...]:
    _, least, _, largest = form.contour.bounds
    which = form.name.rpartition(" ")[0].rpartition(" ")[2]
    return (f"{which} roll, least", least), (f"{which} roll, largest", largest)


def _hardness(low: float, high: float) -> str:
    return f"{low:g} to {high:g}"


def _turned_cm3(stock: Stock, volume_mm3: float) -> float:
    return max(0.0, math.pi / 4.0 * stock.bar_diameter_mm**2 * stock.bar_length_mm - volume_mm3) * 1e-3


def _face_cm2(contour: Profile) -> float:
    return 2.0 * math.pi * line_moments(contour).y * 1e-2


def _made_rolls(plan: RingPlan, rolls: RollSet, shelf: ToolRoomShelf) -> MadeTool:
    room, steel, tool = shelf.room, shelf.rolls, f"{plan.job.ring.id}-R"
    both = (rolls.inner, rolls.outer)
    outer, length = max(r.section.bounds[3] for r in both), max(r.length_mm for r in both)
    stock = stock_of(tool, (*_roll_radii(rolls.inner), *_roll_radii(rolls.outer)), outer, length, steel, room)
    hardness = (room.roll_hardness_low_HRC.value, room.roll_hardness_high_HRC.value)
    mass = sum(r.volume_mm3 for r in both) * steel.density_kg_per_m3.value * 1e-9
    order = hardening_order(
        tool,
        2,
        mass,
        (2.0 * outer, 2.0 * outer, length),
        hardness,
        "on both end faces, clear of the bore",
        steel,
        plan.job.machines.furnace,
    )
    amounts = Amounts(
        sum(_turned_cm3(stock, r.volume_mm3) for r in both),
        sum(_face_cm2(r.contour) for r in both),
        0.0,
        2.0 * stock.bar_mass_kg,
    )
    works = roll_works(amounts, room, _hardness(*hardness))
    closest = plan.job.machines.roll.centre_distance_min_mm.value
    left = 0.5 * (2.0 * rolls.pair.pitch_radius_mm - closest)
    life = tool_life(room, min(r.wall_mm for r in both), left)
    return MadeTool(tool, "roll pair", works, amounts, cost_of(works, amounts, room), stock, order, life, 2)


def _made_set(plan: RingPlan, parts: SetParts, wire: WirePath, shelf: ToolRoomShelf) -> MadeTool:
    room, steel, form = shelf.room, shelf.rolls, parts.form
    section = form.section
    radii = tuple((name, value) for name, value in control_radii_of(plan))
    stock = stock_of(form.name, radii, section.bounds[3], form.height_mm + form.tongue.depth_mm, steel, room)
    hardness = (room.segment_hardness_low_HRC.value, room.segment_hardness_high_HRC.value)
    mass = form.blank_volume_mm3 * steel.density_kg_per_m3.value * 1e-9
    order = hardening_order(
        form.name,
        1,
        mass,
        (2.0 * section.bounds[3], 2.0 * section.bounds[3], form.height_mm + form.tongue.depth_mm),
        hardness,
        f"on the base of segments 1 and {1 + form.count // 2}",
        steel,
        plan.job.machines.furnace,
    )
    amounts = Amounts(
        _turned_cm3(stock, form.blank_volume_mm3), _face_cm2(form.profile), wire.face_area_cm2, stock.bar_mass_kg
    )
    works = set_works(amounts, room, _hardness(*hardness), form.slot_mm, form.count)
    return MadeTool(
        form.name,
        "segment set",
        works,
        amounts,
        cost_of(works, amounts, room),
        stock,
        order,
        tool_life(room, form.wall_mm),
    )


def control_radii_of(plan: RingPlan) -> tuple[tuple[str, float], ...]:
    """Segment radius at every control size, and the largest and smallest of the profile."""
    found: dict[str, float] = {}
    for figure in plan.figures:
        place = figure.identity.rpartition("/segments/radius-")[2]
        if place != figure.identity:
            found.setdefault(place, figure.value)
    return tuple(found.items())


def _simple(
    tool: str, kind: str, amounts: Amounts, room: ToolRoom, order: HardeningOrder | None = None, pieces: int = 1
) -> MadeTool:
    hardness = _hardness(*order.hardness_HRC) if order is not None else ""
    works = plain_works(amounts, room, kind, hardness)
    return MadeTool(tool, kind, works, amounts, cost_of(works, amounts, room), None, order, None, pieces)


def _round_bar(radius: float, length: float, volume: float, ground: float, steel: ToolSteel) -> Amounts:
    bar = math.pi * (radius + 1.5) ** 2 * (length + 3.0)
    return Amounts((bar - volume) * 1e-3, ground, 0.0, bar * steel.density_kg_per_m3.value * 1e-9)


def _mass(volume: float, steel: ToolSteel) -> float:
    return volume * steel.density_kg_per_m3.value * 1e-9


def _made_base(base: BaseForm, shelf: ToolRoomShelf, furnace: Furnace) -> MadeTool:
    top = math.pi * (base.radius_mm**2 - base.bore_mm**2) * 1e-2
    amounts = _round_bar(base.radius_mm, THICKNESS, base.volume_mm3, top, shelf.pins)
    size = (2.0 * base.radius_mm, 2.0 * base.radius_mm, THICKNESS)
    mass = _mass(base.volume_mm3, shelf.pins)
    order = hardening_order(base.name, 1, mass, size, BASE_HRC, "on the underside", shelf.pins, furnace)
    return _simple(base.name, "base", amounts, shelf.room, order)


def _made_spacers(spacer: SpacerForm, shelf: ToolRoomShelf) -> MadeTool:
    face = spacer.height_mm * (spacer.to_mm - spacer.from_mm) * 1e-2
    amounts = Amounts(0.0, 2.0 * face * spacer.count, 0.0, _mass(spacer.count * spacer.volume_mm3, shelf.pins))
    works = plate_works(amounts, shelf.room, f"{spacer.count} spacers", shelf.room.spacer_tolerance_mm.value)
    cost = cost_of(works, amounts, shelf.room)
    return MadeTool(f"{spacer.name}s", "set of spacers", works, amounts, cost, pieces=spacer.count)


def _made_plug(plug: PlugForm, shelf: ToolRoomShelf) -> MadeTool:
    x0, _, x1, y1 = plug.section.bounds
    sleeve = _round_bar(y1, x1 - x0, plug.volume_mm3, _face_cm2(plug.contour), shelf.pins)
    a0, _, a1, b1 = plug.arbor_section.bounds
    arbor = _round_bar(b1, a1 - a0, plug.arbor_volume_mm3, _face_cm2(plug.arbor_section), shelf.pins)
    amounts = Amounts(
        sleeve.turned_cm3 + arbor.turned_cm3,
        sleeve.ground_cm2 + arbor.ground_cm2,
        0.0,
        sleeve.steel_kg + arbor.steel_kg,
    )
    return _simple(plug.name, "trim plug", amounts, shelf.room, pieces=2)


def _made_weld(weld: WeldFixture, shelf: ToolRoomShelf) -> MadeTool:
    volume = weld.backing_volume_mm3 + weld.clamp_volume_mm3
    amounts = Amounts(volume * 1e-3, 0.0, 0.0, 2.0 * _mass(volume, shelf.pins))
    return _simple(weld.name, "weld bars", amounts, shelf.room, pieces=2)


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


def made_pin(pin: PinForm, shelf: ToolRoomShelf, furnace: Furnace) -> MadeTool:
    """How the pin is made."""
    x0, _, x1, y1 = pin.section.bounds
    ground = math.pi * (pin.small_end_mm + pin.large_end_mm) * (x1 - x0) * 1e-2
    amounts = _round_bar(y1, x1 - x0, pin.volume_mm3, ground, shelf.pins)
    size, mass = (x1 - x0, 2.0 * y1, 2.0 * y1), _mass(pin.volume_mm3, shelf.pins)
    order = hardening_order(pin.name, 1, mass, size, PIN_HRC, "on the head", shelf.pins, furnace)
    return _simple(pin.name, "taper pin", amounts, shelf.room, order)


def pull_never_above_kN(plan: RingPlan) -> float:
    """Pin pull at which the operator stops and asks: the upper end of this ring's own band, up to a whole kN.

    Never the machine's capacity, which may be several times what the ring needs: a pull above the band means that
    something is wrong (ring not seated, pin dry, wrong set). The machine rules where it is the smaller.
    """
    pull = plan.figure("press/pull")
    own = pull.value if pull.band is None else pull.band.high
    return min(float(math.ceil(own - 1e-9)), plan.job.machines.expander.pull_max_kN.value)
