"""From the steps of a schedule to ramps in kernel units. Units mm, N, MPa, K, rad."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.assemble import enclosed
from hoopwright.kernels.section.ramp import Ramp, constant
from hoopwright.kernels.section.schedule import UNKNOWNS, Drift, Lead, Step, Support, Unknown
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.shapes import Counts, Flags, Matrix
from hoopwright.kernels.section.stepping import Walk
from hoopwright.kernels.section.tool import Contact, Tool


def unknown_number(nodes: int, node: int, unknown: Unknown) -> int:
    """Place of a node's unknown in q; negative nodes count from the end."""
    place = node + nodes if node < 0 else node
    if not 0 <= place < nodes:
        raise InputError("node", node, "", f"from {-nodes} to {nodes - 1}", "count the nodes of the section")
    return 3 * place + UNKNOWNS.index(unknown)


def on_axis(section: Section) -> list[int]:
    """End nodes that lie on the axis of revolution; their radius and angle are held."""
    if section.mode != "revolution":
        return []
    ends = (0, section.x_mm.shape[0] - 1)
    return [node for node in ends if abs(float(section.y_mm[node])) < 1e-9]


def held(section: Section, walk: Walk, supports: Sequence[Support]) -> tuple[Flags, Matrix]:
    """Flags of held unknowns and their values at start and end, shape (3 n,) and (2, 3 n)."""
    nodes = section.x_mm.shape[0]
    fixed = np.zeros(3 * nodes, dtype=np.bool_)
    goal = constant(walk.sheet.q)
    for node in on_axis(section):
        fixed[3 * node + 1] = fixed[3 * node + 2] = True
    for support in supports:
        number = unknown_number(nodes, support.node, support.unknown)
        fixed[number] = True
        goal[1, number] += support.travel
    return fixed, goal


def rigid_supports(section: Section, free: Flags, curl: float) -> tuple[Support, ...]:
    """What holds a released section in place without straining it: one node's x, and in a strip its y and angle too.

    With curl held and not zero a turn of the section is a strain, so the angle is left alone.
    """
    middle = (section.x_mm.shape[0] - 1) // 2
    if section.mode == "revolution":
        return (Support(middle, "x"),)
    held_curl = not free[1] and abs(curl) > 1e-9
    angle = () if held_curl else (Support(middle, "angle"),)
    return (Support(middle, "x"), Support(middle, "y"), *angle)


def nodal(section: Section, loads: Sequence[tuple[int, Unknown, float]]) -> Vector:
    """Nodal loads in kernel units, shape (3 n,)."""
    vector = np.zeros(3 * section.x_mm.shape[0])
    for node, unknown, value in loads:
        if not np.isfinite(value):
            raise InputError("nodal load", value, "N", "finite", "enter the load")
        vector[unknown_number(section.x_mm.shape[0], node, unknown)] += value / section.extent
    return vector


def globals_of(
    section: Section, walk: Walk, drifts: tuple[Drift | None, Drift | None, Drift | None]
) -> tuple[Flags, Matrix, Matrix]:
    """Which globals are free, their values where held, their resultants where free; shapes (5,), (2, 5), (2, 5)."""
    free = np.zeros(5, dtype=np.bool_)
    target, pull = constant(walk.sheet.g), np.zeros((2, 5))
    for k, (name, drift) in enumerate(zip(("stretch", "curl", "camber"), drifts, strict=True)):
        if drift is None:
            continue
        if section.mode == "revolution":
            raise InputError(
                name, drift, "", "left out for a section of revolution", "its fibres follow from its radius"
            )
        if drift.to is not None:
            target[1, k] = drift.to
        else:
            free[k] = True
            pull[0, k], pull[1, k] = walk.resultant[k], drift.resultant
    return free, target, pull


def contact_ends(
    tools: Sequence[Tool], active: Counts, modulus: float, thickness: float, start: Contact, end: Contact
) -> tuple[Matrix, Matrix]:
    """Contact stiffness [N/mm3] and rounding [mm] of the active tools at start and end, shapes (k, 2)."""
    unit = modulus / thickness
    stiffness = np.tile([start.share * unit, end.share * unit], (active.size, 1))
    blend = np.tile([start.blend_mm, end.blend_mm], (active.size, 1))
    for place, k in enumerate(active):
        own = tools[int(k)].cushion_N_per_mm3
        if own is not None:
            stiffness[place] = own
            blend[place] = start.blend_mm
    return stiffness.reshape(-1, 2), blend.reshape(-1, 2)


def tool_numbers(tools: Sequence[Tool], moves: Mapping[str, tuple[float, float]]) -> tuple[Counts, Matrix]:
    """Numbers and travel of the tools that touch in a step."""
    names = [tool.name for tool in tools]
    numbers = np.array([names.index(name) for name in moves], dtype=np.int64)
    return numbers, np.array([moves[names[k]] for k in numbers], dtype=np.float64).reshape(-1, 2)


def led_by(section: Section, walk: Walk, lead: Lead) -> tuple[int, tuple[float, float]]:
    """What leads a load: the number of an unknown, or -2 with the enclosed volume at start and end (kernel units)."""
    if lead.support is not None:
        return unknown_number(section.x_mm.shape[0], lead.support.node, lead.support.unknown), (0.0, 0.0)
    if section.mode != "revolution":
        raise InputError("lead by volume", lead.volume_mm3, "mm3", "left to sections of revolution", "lead a node")
    now = float(enclosed(walk.sheet.q))
    return -2, (now, now + lead.volume_mm3 / section.extent)


def unit_weight(section: Section, walk: Walk) -> float:
    """Stiffness that weighs a missing volume like a force: E t over the square of the greatest radius. [N/mm3]"""
    return (
        float(walk.metal[0]) * float(section.thickness_start_mm.mean()) / float(np.max(np.abs(section.y_mm)) + 1.0) ** 2
    )


def step_ramp(section: Section, walk: Walk, tools: Sequence[Tool], step: Step) -> Ramp:
    """A step as a ramp that starts where the walk stands."""
    active, travel = tool_numbers(tools, step.moves)
    led = step.lead.support if step.lead is not None else None
    supports = step.supports + ((led,) if led is not None else ())
    fixed, goal = held(section, walk, supports)
    free, target, pull = globals_of(section, walk, (step.stretch, step.curl, step.camber))
    thick = float(section.thickness_start_mm.mean())
    end = step.contact_end or step.contact
    stiffness, blend = contact_ends(tools, active, float(walk.metal[0]), thick, step.contact, end)
    driven, toward = -1, np.zeros(2)
    if step.force is not None:
        driven = int(np.flatnonzero(active == [t.name for t in tools].index(step.force.tool))[0])
        toward = np.array([step.force.dx, step.force.dy]) / np.hypot(step.force.dx, step.force.dy)
        free[3] = True
        # from what it presses with now, so that nothing jumps
        pull[:, 3] = float(walk.push[active[driven]] @ toward), step.force.end_N / section.extent
    control, volume, live_pressure, live = -1, (0.0, 0.0), 0.0, np.zeros(walk.sheet.q.size)
    if step.lead is not None:
        control, volume = led_by(section, walk, step.lead)
        live_pressure, live = step.lead.per_unit_MPa, nodal(section, step.lead.loads)
        free[4] = True
    pressure = (walk.pressure, walk.pressure if step.lead is not None else step.pressure_MPa)
    if section.mode == "prism" and (pressure != (0.0, 0.0) or live_pressure != 0.0):
        raise InputError(
            f"{step.name}: pressure", step.pressure_MPa, "MPa", "0 in a strip", "use a tool or nodal loads"
        )
    dead_end = walk.dead if step.lead is not None else nodal(section, step.loads)
    warm = np.full(section.elements, float(walk.metal[6]) * step.heat_K)
    if step.free_log:
        if len(step.free_log) != section.elements:
            raise InputError(
                f"{step.name}: free_log", len(step.free_log), "", f"one of {section.elements} elements", "give each one"
            )
        warm += np.array(step.free_log)
    return Ramp(
        step.name,
        fixed,
        goal,
        free,
        target,
        pull,
        np.stack((walk.dead, dead_end)),
        live,
        pressure,
        live_pressure,
        control,
        volume,
        unit_weight(section, walk),
        warm,
        step.hold * float(walk.metal[0]) / thick,
        active,
        walk.place[active].reshape(-1, 2),
        travel,
        stiffness,
        blend,
        driven,
        toward,
        step.increments,
    )
