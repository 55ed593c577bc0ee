"""Standing checks of press tools of an end plate: volumes, faces one sheet apart when shut, room, metal, daylight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from hoopwright.cards.machines import Press
from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check
from hoopwright.tools import solids
from hoopwright.tools.press_set_flanges import FlangeSet
from hoopwright.tools.press_set_pads import PadSet
from hoopwright.tools.solids import Body
from hoopwright.tools.standing_checks import (
    GAP_MM,
    HERE,
    Checked,
    at_least,
    same,
    sound,
    volume_check,
)

OVER_SHEET_MM = 0.02
TURN_RAD = 0.02
SCALLOP_SHARE = 1e-6
ROOM_MM = 0.3
"""Least room between parts that pass each other (common practice, no source)."""


def _volumes(tool: str, parts: Mapping[str, Body], wanted: Mapping[str, float]) -> list[Check]:
    checks = [volume_check(tool, parts[name], volume) for name, volume in wanted.items()]
    # a recess through the pad's rounded edge leaves faces the library integrates by its own rule: 1.4e-7 seen
    wider = [replace(c, limit=SCALLOP_SHARE) if " pad is " in c.name else c for c in checks]
    return [sound(tool, parts.values()), *wider]


def _daylight(tool: str, height: float, open_by: float, press: Press) -> Check:
    return Check(
        f"{tool}: the open tool goes into the press",
        height + open_by,
        press.daylight_mm.value,
        "<=",
        "mm",
        press.daylight_mm.source,
        "stop",
        "make plates thinner, or take a larger press",
        tool,
    )


def check_pads(tool: PadSet, room: ToolRoom, press: Press) -> Checked:
    """The tool for pads and lips."""
    name, t = tool.name, tool.thickness_mm
    parts = tool.parts()
    checks = _volumes(name, parts, tool.volumes())
    down, up = tool.punch_way_mm, tool.plunger_way_mm
    die = solids.surface("die face", tool.die, TURN_RAD)
    punch = solids.moved(solids.surface("punch face", tool.punch, TURN_RAD), 0.0, 0.0, down)
    plunger = solids.moved(parts["plunger"], 0.0, 0.0, up)
    checks += [
        at_least(
            name,
            "shut die and punch leave the sheet and 0.02",
            solids.distance(die, punch),
            t + OVER_SHEET_MM - 1e-4,
            HERE,
            "shorten the punch or the stroke",
        ),
        same(
            name,
            "plunger keeps its clearance in the punch's bore",
            solids.distance(plunger, punch),
            tool.bore_mm - tool.plunger.start[1],
            GAP_MM,
            "mm",
            "check plunger and bore",
        ),
        at_least(
            name,
            "plunger runs free in the die block",
            tool.mouth_mm - tool.plunger.start[1],
            ROOM_MM,
            HERE,
            "widen the bore of the die block",
        ),
        at_least(
            name,
            "holder plate runs free of the punches",
            tool.holder_from_mm - tool.punch.end[1],
            ROOM_MM,
            HERE,
            "make the punches slimmer",
        ),
        at_least(
            name,
            "metal between two cavities of the die block",
            tool.circle.chord_mm - 2.0 * tool.foot_from_mm,
            room.wall_min_mm.value,
            room.wall_min_mm.source,
            "fewer ports, or inserts in place of one block",
        ),
        at_least(
            name,
            "metal between two holes of the holder plate",
            tool.circle.chord_mm - 2.0 * (tool.holder_from_mm + tool.holder_edge_mm),
            room.wall_min_mm.value,
            room.wall_min_mm.source,
            "make the holes smaller",
        ),
        _daylight(name, tool.shut_height_mm, -tool.punch_way_mm + 0.5 * tool.shut_height_mm, press),
    ]
    return Checked(name, tool.shut(parts), tuple(checks))


def check_flanges(tool: FlangeSet, room: ToolRoom, press: Press) -> Checked:
    """The tool for the flanges."""
    name, t = tool.name, tool.thickness_mm
    parts = tool.parts()
    checks = _volumes(name, parts, tool.volumes())
    shut = dict(zip(parts, tool.shut(parts), strict=True))
    pad = solids.moved(solids.surface("pad face", tool.pad, TURN_RAD), 0.0, 0.0, -tool.way_mm)
    punch = solids.moved(solids.surface("punch face", tool.punch, TURN_RAD), 0.0, 0.0, -tool.way_mm)
    outer = tool.outer_die.end[1] - tool.punch.end[1]
    inner = tool.punch.start[1] - tool.inner_die.start[1]
    gaps = (
        ("outer die keeps its clearance", solids.distance(shut["punch"], shut["outer die"]), outer),
        ("inner die keeps its clearance", solids.distance(shut["punch"], shut["inner die"]), inner),
        ("pad and punch leave the sheet and 0.02", solids.distance(pad, punch), t + OVER_SHEET_MM),
    )
    checks += [same(name, what, got, wanted, GAP_MM, "mm", "check both faces") for what, got, wanted in gaps]
    checks += [
        at_least(name, "clearance takes the sheet", min(outer, inner), t, HERE, "widen the clearance"),
        _daylight(name, tool.shut_height_mm, tool.way_mm + 0.5 * tool.shut_height_mm, press),
    ]
    if tool.circle is not None:
        web = tool.circle.chord_mm - 2.0 * tool.foot_room_mm
        least = room.wall_min_mm
        remedy = "take less room round the ports"
        checks.append(at_least(name, "metal of the pad between two ports", web, least.value, least.source, remedy))
    return Checked(name, tuple(shut.values()), tuple(checks))
