"""Press tools of the end plate: their standing checks hold, and each sees the mistake it is there for."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hoopwright.errors import InputError
from hoopwright.findings import Check
from hoopwright.kernels.profile_build import from_corners
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.plan.plate.plate_tools import PlateTools, checked_tool, plate_tools
from hoopwright.plan.tool_making import tool_room_shelf
from hoopwright.tools import solids
from hoopwright.tools.press_set import pillar_places, scalloped_volume
from hoopwright.tools.press_set_checks import check_flanges, check_pads


@pytest.fixture(scope="module")
def tools(plate_plan: PlatePlan) -> PlateTools:
    return plate_tools(plate_plan, tool_room_shelf())


def failed(checks: tuple[Check, ...]) -> str:
    return " ".join(c.name for c in checks if not c.ok)


def test_both_tools_hold(tools: PlateTools) -> None:
    assert tools.kinds == ("D", "F")
    pads, flanges = checked_tool(tools, "D"), checked_tool(tools, "F")
    assert failed(pads.checks) == "" and failed(flanges.checks) == ""
    assert pads.findings == () and flanges.findings == ()
    # die block, holder and punch plate, nine punches and plungers, four pillars and stops
    assert len(pads.bodies) == 3 + 18 + 8
    assert len(flanges.bodies) == 5
    assert all(order.findings == () for order in tools.orders)


def test_shut_faces_are_the_ones_the_plate_was_pressed_with(tools: PlateTools, plate_plan: PlatePlan) -> None:
    port = plate_plan.port
    assert port is not None and tools.pads is not None
    assert tools.pads.die is port.faces.die and tools.flanges.punch is plate_plan.faces.punch
    assert tools.pads.plunger_way_mm == port.faces.way
    # the stops end the stroke where the kernel shut the press: tops of holder plate and stops, faces of punch plate
    shut_plate = tools.pads.plate_z + tools.pads.punch_way_mm
    assert shut_plate == pytest.approx(tools.pads.holder_top_z + tools.pads.stop_height_mm)


def test_a_die_cut_too_shallow_is_seen(tools: PlateTools, plate_plan: PlatePlan) -> None:
    assert tools.pads is not None
    press, room = plate_plan.job.card.machines.press, tools.shelf.room
    shallow = replace(tools.pads, punch_way_mm=tools.pads.punch_way_mm - 0.05)
    assert "shut die and punch leave the sheet" in failed(check_pads(shallow, room, press).checks)


def test_a_tight_bore_and_a_thin_web_are_seen(tools: PlateTools, plate_plan: PlatePlan) -> None:
    assert tools.pads is not None
    press, room = plate_plan.job.card.machines.press, tools.shelf.room
    wrong = replace(tools.pads, bore_mm=tools.pads.bore_mm - 0.2, foot_from_mm=tools.pads.foot_from_mm + 5.0)
    said = failed(check_pads(wrong, room, press).checks)
    assert "plunger keeps its clearance" in said and "metal between two cavities" in said
    low = replace(press, daylight_mm=replace(press.daylight_mm, value=100.0))
    assert "goes into the press" in failed(check_pads(tools.pads, room, low).checks)


def test_a_wrong_die_is_seen(tools: PlateTools, plate_plan: PlatePlan) -> None:
    press, room = plate_plan.job.card.machines.press, tools.shelf.room
    form = tools.flanges
    low = replace(form, pad=form.pad.moved(0.3, 0.0))
    assert "pad and punch leave the sheet" in failed(check_flanges(low, room, press).checks)
    bore = form.outer_die.end[1] - 0.3
    face, deep = form.outer_die.start[0], form.outer_die.end[0]
    tight = from_corners([(face, form.outer_die.start[1]), (face, bore), (deep, bore)], [5.0])
    assert "clearance takes the sheet" in failed(check_flanges(replace(form, outer_die=tight), room, press).checks)


def test_scallop_against_its_closed_form() -> None:
    # a thin slice through a flat ring: area of a circle between two radii, here a circle wholly inside them
    whole = scalloped_volume(lambda _: 0.0, 0.0, 100.0, 50.0, 10.0, 2.0)
    assert whole == pytest.approx(math.pi * 100.0 * 2.0, rel=1e-9)
    half = scalloped_volume(lambda _: 1.0, 0.0, 100.0, 50.0, 10.0, 2.0)
    assert half == pytest.approx(0.5 * whole, rel=1e-9)


def test_pillars_stand_even() -> None:
    places = pillar_places(100.0)
    assert len(places) == 4 and all(math.hypot(x, y) == pytest.approx(100.0) for x, y in places)
    assert sum(x for x, _ in places) == pytest.approx(0.0, abs=1e-9)


def test_step_comes_back_with_its_volume(tools: PlateTools) -> None:
    import datetime as dt

    bodies = checked_tool(tools, "F").bodies
    back = solids.read_step(solids.step_bytes(bodies, "HD-420-F", dt.date(2031, 3, 1)))
    # the library integrates the faces a recess cuts through a rounded edge by its own rule: 2e-9 seen
    assert sum(solids.volume(b) for b in back) == pytest.approx(sum(solids.volume(b) for b in bodies), rel=1e-7)


def test_unknown_tool_is_refused(tools: PlateTools) -> None:
    with pytest.raises(InputError, match="HD-420-X"):
        checked_tool(tools, "X")
    with pytest.raises(InputError, match="length"):
        from hoopwright.tools.press_set import cylinder

        cylinder("bar", 1.0, 2.0, 1.0)
