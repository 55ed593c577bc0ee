"""How each tool of a ring is made: stock, heat treatment, route, amounts, cost, life, from its form and the cards."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from hoopwright.cards.machines import Furnace
from hoopwright.cards.shop import tool_room
from hoopwright.cards.tool_steel import ToolSteel, tool_steel
from hoopwright.cards.toolroom import ToolRoom
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import line_moments
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.tools.base import THICKNESS, BaseForm
from hoopwright.tools.fixtures import WeldFixture
from hoopwright.tools.hardening import HardeningOrder, hardening_order
from hoopwright.tools.roll_body import RollForm, RollSet
from hoopwright.tools.set_checks import SetParts
from hoopwright.tools.spacers import SpacerForm
from hoopwright.tools.stock import Stock, stock_of
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.tool_cost import Amounts, Cost, Work, cost_of, plain_works, plate_works, roll_works, set_works
from hoopwright.tools.tool_life import ToolLife, tool_life
from hoopwright.tools.trim_plug import PlugForm
from hoopwright.tools.wire_path import WirePath

ROLL_STEEL, PIN_STEEL = "T30402", "T20813"
BASE_HRC, PIN_HRC = (46.0, 50.0), (48.0, 52.0)
"""Hardness of base and pin (common practice, no source). [HRC]"""


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


def tool_room_shelf(shop_folder: Path | None = None) -> ToolRoomShelf:
    """The cards, the shop's own before ours."""
    return ToolRoomShelf(
        tool_room(shop_folder=shop_folder), tool_steel(ROLL_STEEL, shop_folder), tool_steel(PIN_STEEL, shop_folder)
    )


def made_rolls(plan: RingPlan, rolls: RollSet, shelf: ToolRoomShelf) -> MadeTool:
    """How the roll pair is made."""
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


def made_set(
    plan: RingPlan,
    parts: SetParts,
    wire: WirePath,
    radii: tuple[tuple[str, float], ...],
    shelf: ToolRoomShelf,
) -> MadeTool:
    """How the segment set is made; `radii` those that are turned, by name."""
    room, steel, form = shelf.room, shelf.rolls, parts.form
    section = form.section
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


def made_base(base: BaseForm, shelf: ToolRoomShelf, furnace: Furnace) -> MadeTool:
    """How the base is made."""
    top = math.pi * (base.radius_mm**2 - base.bore_mm**2) * 1e-2
    amounts = _round_bar(base.radius_mm, THICKNESS, base.volume_mm3, top, shelf.pins)
    size = (2.0 * base.radius_mm, 2.0 * base.radius_mm, THICKNESS)
    mass = _mass(base.volume_mm3, shelf.pins)
    order = hardening_order(base.name, 1, mass, size, BASE_HRC, "on the underside", shelf.pins, furnace)
    return _simple(base.name, "base", amounts, shelf.room, order)


def made_spacers(spacer: SpacerForm, shelf: ToolRoomShelf) -> MadeTool:
    """How the set of spacers is made."""
    face = spacer.height_mm * (spacer.to_mm - spacer.from_mm) * 1e-2
    amounts = Amounts(0.0, 2.0 * face * spacer.count, 0.0, _mass(spacer.count * spacer.volume_mm3, shelf.pins))
    works = plate_works(amounts, shelf.room, f"{spacer.count} spacers", shelf.room.spacer_tolerance_mm.value)
    cost = cost_of(works, amounts, shelf.room)
    return MadeTool(f"{spacer.name}s", "set of spacers", works, amounts, cost, pieces=spacer.count)


def made_plug(plug: PlugForm, shelf: ToolRoomShelf) -> MadeTool:
    """How the trim plug and its arbor are made."""
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


def made_weld(weld: WeldFixture, shelf: ToolRoomShelf) -> MadeTool:
    """How the weld bars are made."""
    volume = weld.backing_volume_mm3 + weld.clamp_volume_mm3
    amounts = Amounts(volume * 1e-3, 0.0, 0.0, 2.0 * _mass(volume, shelf.pins))
    return _simple(weld.name, "weld bars", amounts, shelf.room, pieces=2)


def made_pin(pin: PinForm, shelf: ToolRoomShelf, furnace: Furnace) -> MadeTool:
    """How the pin is made."""
    x0, _, x1, y1 = pin.section.bounds
    ground = math.pi * (pin.small_end_mm + pin.large_end_mm) * (x1 - x0) * 1e-2
    amounts = _round_bar(y1, x1 - x0, pin.volume_mm3, ground, shelf.pins)
    size, mass = (x1 - x0, 2.0 * y1, 2.0 * y1), _mass(pin.volume_mm3, shelf.pins)
    order = hardening_order(pin.name, 1, mass, size, PIN_HRC, "on the head", shelf.pins, furnace)
    return _simple(pin.name, "taper pin", amounts, shelf.room, order)


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
