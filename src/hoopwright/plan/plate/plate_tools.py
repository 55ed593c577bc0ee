"""The press tools of an end plate from its plan: for pads and lips, and for the flanges. No CAD body yet. mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.plan.plate.flange_press import HOLDER_EDGE_MM, PAD_BACK_MM
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.plan.plate.port_press import CLEAR_MM, EDGE_T, shut_gap
from hoopwright.plan.tool_making import ToolRoomShelf
from hoopwright.tools.hardening import HardeningOrder, hardening_order
from hoopwright.tools.press_set import RIM, Circle
from hoopwright.tools.press_set_checks import check_flanges, check_pads
from hoopwright.tools.press_set_flanges import FlangeSet
from hoopwright.tools.press_set_pads import PadSet
from hoopwright.tools.standing_checks import Checked

INNER_RIM, DIE_WALL = 12.0, 25.0
"""Metal inside the feet of the ports, and round the outer die (common practice, no source)."""
LIP_ROOM, LIP_DEPTH_ROOM, FOOT_ROOM = 1.5, 1.0, 0.5
"""Room round and under a lip in the flange punch, and round and over a pad in its pad."""
KINDS = ("D", "F")
"""Endings of a plate's press tools: pads and lips, flanges."""


@dataclass(frozen=True, slots=True, eq=False)
class PlateTools:
    """Tools of a plate. pads : None where the plate has no ports. orders : heat treatment of the working parts."""

    plan: PlatePlan
    shelf: ToolRoomShelf
    pads: PadSet | None
    flanges: FlangeSet
    orders: tuple[HardeningOrder, ...]
    findings: tuple[Finding, ...]

    @property
    def kinds(self) -> tuple[str, ...]:
        """Endings of the tools there are."""
        return KINDS if self.pads is not None else KINDS[1:]


def plate_tools(plan: PlatePlan, shelf: ToolRoomShelf) -> PlateTools:
    """Forms of both tools.

    Raises
    ------
    GeometryError
        A tool that cannot be shaped.
    """
    pads, flanges = _pads(plan), _flanges(plan)
    orders = _orders(plan, shelf, pads, flanges)
    return PlateTools(plan, shelf, pads, flanges, orders, tuple(f for order in orders for f in order.findings))


def _circle(plan: PlatePlan) -> Circle | None:
    liner = plan.job.liner
    if plan.port is None:
        return None
    return Circle(liner.ports, liner.port_pitch_radius_mm, math.radians(liner.first_port_theta_deg))


def _pads(plan: PlatePlan) -> PadSet | None:
    port, shape, circle = plan.port, plan.job.port, _circle(plan)
    if port is None or shape is None or circle is None:
        return None
    setting, faces = port.solved.setting, port.faces
    flat = plan.flanges.setting
    return PadSet(
        name=f"{plan.job.plate.id}-D",
        thickness_mm=shape.thickness,
        circle=circle,
        die=faces.die,
        punch=faces.punch,
        plunger=faces.plunger,
        holder=faces.holder,
        mouth_mm=setting.plunger_radius + CLEAR_MM,
        bore_mm=faces.bore,
        nose_mm=faces.nose,
        foot_from_mm=shape.foot_from,
        holder_from_mm=faces.holder_from,
        holder_edge_mm=EDGE_T * shape.thickness,
        inner_mm=min(flat.blank_inner, circle.radius_mm - faces.holder_from) - INNER_RIM,
        outer_mm=max(flat.blank_outer, circle.radius_mm + faces.holder_from) + RIM,
        punch_way_mm=shut_gap(shape) - setting.pad_height,
        plunger_way_mm=faces.way,
    )


def _flanges(plan: PlatePlan) -> FlangeSet:
    setting, faces, shape = plan.flanges.setting, plan.faces, plan.job.port
    t = plan.job.plate.thickness_mm
    lip = foot = (0.0, 0.0)
    if shape is not None:
        lip = (shape.lip_rho + 0.5 * t + LIP_ROOM, max(0.0, shape.lip_end_x - 0.5 * t) + LIP_DEPTH_ROOM)
        foot = (shape.foot_from + FOOT_ROOM, max(shape.pad_height, PAD_BACK_MM) + FOOT_ROOM)
    bore = faces.outer_die.end[1]
    return FlangeSet(
        name=f"{plan.job.plate.id}-F",
        thickness_mm=t,
        circle=_circle(plan),
        punch=faces.punch,
        outer_die=faces.outer_die,
        inner_die=faces.inner_die,
        pad=faces.pad,
        holder=faces.holder,
        pad_edge_mm=PAD_BACK_MM,
        lip_room_mm=lip[0],
        lip_depth_mm=lip[1],
        foot_room_mm=foot[0],
        foot_depth_mm=foot[1],
        inner_mm=setting.blank_inner - INNER_RIM,
        outer_mm=max(bore + DIE_WALL, faces.holder_from + HOLDER_EDGE_MM + 8.0, setting.blank_outer + 10.0),
        way_mm=faces.way,
    )


def _orders(
    plan: PlatePlan, shelf: ToolRoomShelf, pads: PadSet | None, flanges: FlangeSet
) -> tuple[HardeningOrder, ...]:
    """Heat treatment of the parts that work: die block, punches, plungers, flange punch and dies."""
    room, steel, furnace = shelf.room, shelf.rolls, plan.job.card.machines.furnace
    hardness = (room.roll_hardness_low_HRC.value, room.roll_hardness_high_HRC.value)
    density = steel.density_kg_per_m3.value * 1e-9
    rows: list[tuple[str, int, float, tuple[float, float, float]]] = []
    if pads is not None:
        volumes, count = pads.volumes(), pads.circle.count
        wide = 2.0 * pads.outer_mm
        rows.append((f"{pads.name} die block", 1, volumes["die block"], (wide, wide, pads.face_z - pads.bottom_z)))
        for part, section in (("pad punch", pads.punch_section()), ("plunger", pads.plunger_section())):
            x0, _, x1, y1 = section.bounds
            rows.append((f"{pads.name} {part}", count, volumes[part], (x1 - x0, 2.0 * y1, 2.0 * y1)))
    volumes = flanges.volumes()
    for part in ("punch", "outer die", "inner die"):
        x0, _, x1, y1 = flanges.sections()[part].bounds
        rows.append((f"{flanges.name} {part}", 1, volumes[part], (2.0 * y1, 2.0 * y1, x1 - x0)))
    return tuple(
        hardening_order(
            name, pieces, pieces * volume * density, size, hardness, "on a face that does not work", steel, furnace
        )
        for name, pieces, volume, size in rows
    )


def checked_tool(tools: PlateTools, kind: str) -> Checked:
    """Bodies of one tool, shut, with their standing checks.

    Raises
    ------
    InputError
        No such tool, or the CAD library is not installed.
    GeometryError
        The CAD library cannot build it.
    """
    press = tools.plan.job.card.machines.press
    if kind == "F":
        return check_flanges(tools.flanges, tools.shelf.room, press)
    if kind == "D" and tools.pads is not None:
        return check_pads(tools.pads, tools.shelf.room, press)
    raise InputError(
        "tool",
        f"{tools.plan.job.plate.id}-{kind}",
        "",
        f"one ending in {', '.join(tools.kinds)}",
        "name a press tool of the plate",
    )
