"""The dependencies of one liner: rings and plate, mates across laps, blanks, tools, programs, papers, parts, gauges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hoopwright.correct.change_walk import Edge, Effect, Node, same
from hoopwright.correct.fits import lap_control
from hoopwright.design.register import Register
from hoopwright.design.shapes import ControlSize, Joint, Liner, Ring
from hoopwright.errors import InputError

ENDS = ("land", "lip")


def zone_of(liner: Liner, part: str, control: ControlSize) -> str:
    """Which end of a part a control size belongs to: "land" forward, "lip" aft."""
    controls = sorted(
        liner.ring(part).controls if any(r.id == part for r in liner.rings) else _plate_controls(liner),
        key=lambda c: c.z_mm,
    )
    if len(controls) < 2:
        return "lip"
    return "land" if control.name == controls[0].name else "lip"


def _plate_controls(liner: Liner) -> tuple[ControlSize, ...]:
    return liner.end_plate.controls if liner.end_plate is not None else ()


def zone_control(liner: Liner, ring: Ring, zone: str) -> ControlSize:
    """The control size of a ring's land or lip."""
    if zone not in ENDS:
        raise InputError("zone", zone, "", "land or lip", "name the end that changes")
    controls = sorted(ring.controls, key=lambda c: c.z_mm)
    if len(controls) < 2:
        raise InputError(f"{ring.id} controls", len(controls), "", "one a side", "add the control size to the liner")
    return controls[0] if zone == "land" else controls[-1]


def _mates(liner: Liner) -> Iterator[Edge]:
    """A lap keeps its gap: its mate moves by the same radius, and the slot beside it closes by as much."""
    rings = {r.id for r in liner.rings}
    for joint in liner.joints:
        zones = {p: zone_of(liner, p, lap_control(liner, p, joint)) for p in (joint.outer, joint.inner)}
        for one, two in ((joint.outer, joint.inner), (joint.inner, joint.outer)):
            if one in rings and two in rings:
                why = f"{joint.id} keeps its gap, so {two} {zones[two]} moves with {one} {zones[one]}"
                yield Edge((one, zones[one]), (two, zones[two]), _stays_in_lap, why)
        if joint.inner in rings:
            start = (joint.inner, zones[joint.inner])
            yield Edge(start, (joint.id, "slot"), lambda c: -c, f"the slot above {joint.id} closes by the lip's growth")
            yield Edge(start, (joint.id, "gap"), same, f"{joint.id} is made by both new sizes")


def _stays_in_lap(change: float) -> float | None:
    return change if abs(change) > 1e-9 else None


def edges_of(liner: Liner, register: Register, finished: Sequence[str]) -> tuple[Edge, ...]:
    """Every dependency of the liner as edges."""
    found = list(_mates(liner))
    for ring in liner.rings:
        for zone in ENDS if len(ring.controls) > 1 else ("lip",):
            start = (ring.id, zone)
            for end, effect, why in _of_a_zone(liner, register, ring, zone, finished):
                found.append(Edge(start, end, effect, why))
    return tuple(found)


def _of_a_zone(
    liner: Liner, register: Register, ring: Ring, zone: str, finished: Sequence[str]
) -> Iterator[tuple[Node, Effect, str]]:
    size = zone_control(liner, ring, zone)
    yield (ring.id, f"control {size.name}"), lambda c: 2.0 * c, f"{ring.id} {size.name} is twice its radius"
    for tool in register.tools:
        if tool.serves == ring.id and tool.kind in ("roll pair", "segment set"):
            yield (tool.id, zone), same, f"{tool.kind} {tool.id} forms {ring.id} {zone}"
        elif tool.serves == liner.id and "weld" in tool.kind:
            yield (tool.id, f"seat of {ring.id} {zone}"), same, f"{tool.id} seats {ring.id} by its {zone}"
    for serial in finished:
        if serial.split("-")[0] == ring.id.split("-")[-1]:
            yield (serial, zone), same, f"serial {serial} is a finished {ring.id}"
    if (zone == "lip" and ring.route == "arc") or (zone == "land" and ring.route == "arc"):
        yield (ring.id, "arc blank"), same, f"{ring.id} is cut from an arc blank whose slants follow its radii"
        yield (ring.id, "blank cutting program"), same, f"the program cuts the arc blank of {ring.id}"
        yield (ring.id, "nest"), same, f"the nest holds the blank of {ring.id}"
    else:
        yield (ring.id, "strip length"), same, f"the strip of {ring.id} is cut to its girth"
    yield (ring.id, "drawing"), same, f"the drawing of {ring.id} states the size"
    yield (ring.id, "segment grind program"), same, f"the grind program of {ring.id}'s segments holds the contour"
    yield (ring.id, "wire program"), same, f"the wire program of {ring.id}'s segments holds the contour"
    yield (ring.id, f"gauge of {size.name}"), same, f"the gauge is set to {size.name}"
    yield (ring.id, f"first article {size.name}"), same, f"the first article lists {size.name}"
    shape = "lip roundness" if zone == "lip" else "joggle"
    yield (ring.id, f"first article {shape}"), same, f"the changed {zone} is shaped anew"
    if zone == "lip" and ring.route == "arc":
        yield (ring.id, "first article cone profile"), same, "the cone runs to the new lip"
    yield (ring.id, "walk sheet"), same, f"the walk sheet of {ring.id} prints the size"


def slot_height(liner: Liner, joint: Joint) -> float | None:
    """Radial height between the outer part's crown (inside) and the inner part's lip (outside) at a lap. [mm]"""
    rings = {r.id: r for r in liner.rings}
    if joint.outer not in rings or joint.inner not in rings or rings[joint.outer].side != "outer":
        return None
    outer, inner = rings[joint.outer], rings[joint.inner]
    crown = outer.section.bounds[3] - 0.5 * outer.thickness_mm
    lip = zone_control(liner, inner, "lip")
    return crown - 0.5 * lip.diameter_mm
