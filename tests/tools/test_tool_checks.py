"""Standing checks: they hold on the demo's tools, and each sees the mistake it is there for."""

from __future__ import annotations

import itertools
import math
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from demo_tools import plan, solids, tools

from hoopwright.errors import GeometryError, HoopwrightError, InputError
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.ring_tools import liner_pin, tools_of
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.tool_making import made_pin, tool_room_shelf
from hoopwright.tools import solids as cad
from hoopwright.tools.roll_body import keyway_for
from hoopwright.tools.roll_checks import check_rolls
from hoopwright.tools.schedule import plan_tools
from hoopwright.tools.segment_body import corner_area
from hoopwright.tools.segment_solids import placed, rounded_segment, sharp_segment
from hoopwright.tools.set_checks import check_set
from hoopwright.tools.small_checks import check_pin, check_plug, check_weld
from hoopwright.tools.tool_solids import KINDS, solids_of

sys.path.insert(0, str(Path(__file__).parent.parent / "design"))
from random_rings import random_liner


@pytest.mark.parametrize("kind", KINDS)
def test_every_tool_of_a_ring_holds(kind: str) -> None:
    made = solids("HD-402", kind)
    assert len(made.checks) >= 4
    assert [c.name for c in made.checks if not c.ok] == []
    assert made.passed and made.findings == ()


def failed(checks) -> str:  # type: ignore[no-untyped-def]
    return " ".join(c.name for c in checks if not c.ok)


def test_a_wrong_offset_of_the_rolls_is_seen() -> None:
    """Both volumes stay right and both bodies valid: only the distance tells."""
    made = tools("HD-411")
    worn = replace(made.rolls.pair, outer=made.rolls.pair.outer.moved(0.0, 0.3))
    from hoopwright.tools.roll_body import roll_set

    rolls = made.rolls
    wrong = roll_set("wrong", worn, rolls.thickness_mm, rolls.inner.bore_mm, 0.1, rolls.side_mm, rolls.strip)
    checked = check_rolls("wrong", wrong, made.shelf.room)
    assert "closed faces stand one sheet apart" in failed(checked.checks)
    assert "volume" not in failed(checked.checks)
    assert checked.findings[0].level == "stop"


def test_collars_at_the_formed_width_are_seen() -> None:
    """Collars set to the strip as it leaves the last pass stop the flat strip of the first: by half its draw-in."""
    rolls = tools("HD-402").rolls
    from hoopwright.tools.roll_body import roll_set

    late = rolls.strip[-1:]
    tight = roll_set(
        "tight", rolls.pair, rolls.thickness_mm, rolls.inner.bore_mm, rolls.guide_mm, rolls.side_mm,
        (replace(late[0], entering_mm=late[0].leaving_mm),),
    )  # fmt: skip
    checked = check_rolls("tight", replace(tight, strip=rolls.strip), tools("HD-402").shelf.room)
    seen = next(c for c in checked.checks if "between the collars" in c.name)
    assert not seen.ok and seen.value == 0.0
    assert "pass 1: room 0.000 going in" in seen.notes[0]


@pytest.mark.parametrize("ring", ["HD-401", "HD-402", "HD-411", "HD-412"])
def test_collars_clear_the_flat_blank_by_the_cards_clearance(ring: str) -> None:
    made = tools(ring)
    low, high = made.rolls.collars_mm
    assert high - low == pytest.approx(made.plan.blank.width_mm + 2.0 * made.shelf.room.guide_clearance_mm.value)


def set_failures(**change: float) -> str:
    made = tools("HD-411")
    form = replace(made.parts.form, **change)
    parts = replace(made.parts, form=form)
    sharp = sharp_segment(form)
    return failed(check_set("wrong", parts, rounded_segment(form, sharp), sharp, made.shelf.room))


def test_too_little_travel_is_seen() -> None:
    words = set_failures(travel_mm=0.5)
    assert "takes the incoming ring on" in words


def test_too_much_travel_closes_the_slots() -> None:
    slot = tools("HD-411").parts.form.slot_mm
    words = set_failures(travel_mm=0.5 * slot / math.sin(math.pi / 8) - 0.05)
    assert "room between collapsed neighbours" in words


def test_collapsed_neighbours_are_a_gap_apart_as_whole_bodies() -> None:
    """The slow way: nearest distance of two whole segments, loaded and collapsed."""
    form = tools("HD-411").parts.form
    segment = rounded_segment(form, sharp_segment(form))
    for back in (0.0, form.travel_mm):
        near = cad.distance(placed(form, segment, 1, back), placed(form, segment, 2, back))
        assert near == pytest.approx(form.gap_mm(back), abs=1e-9)


def test_a_pin_of_another_taper_is_seen() -> None:
    made = tools("HD-411")
    parts = replace(made.parts, pin=replace(made.parts.pin, bore_mm=made.parts.pin.bore_mm + 0.2))
    sharp = sharp_segment(parts.form)
    words = failed(check_set("wrong", parts, rounded_segment(parts.form, sharp), sharp, made.shelf.room))
    assert "pin and segment do not cross, loaded" in words


def test_a_weak_stud_is_seen() -> None:
    pin = replace(tools("HD-411").parts.pin, pull_N=1e6)
    checked = check_pin("pin", pin, tools("HD-411").shelf.room)
    assert "pull stress in the stud" in failed(checked.checks)
    thread = pin.thread
    assert pin.pull_stress_MPa == pytest.approx(
        1e6 / (math.pi / 4 * (thread.nominal_mm - 0.9382 * thread.pitch_mm) ** 2)
    )


def test_a_plug_too_big_is_seen() -> None:
    made = tools("HD-411")
    big = replace(made.plug, inside=replace(made.plug.inside, radius_mm=made.plug.inside.radius_mm - 0.05))
    assert "room under the ring" in failed(check_plug("plug", big, made.shelf.room).checks)


def test_weld_bars_see_a_thicker_sheet() -> None:
    made = tools("HD-411")
    assert check_weld("weld", made.weld, made.shelf.room).findings == ()
    with pytest.raises(GeometryError):
        check_weld("weld", replace(made.weld, thickness_mm=50.0), made.shelf.room)


def test_corner_area_of_a_flat_is_the_quarter_round() -> None:
    assert corner_area(1e7, 2.0, 1.5) == pytest.approx(2.25 * (1.0 - math.pi / 4.0), rel=1e-6)
    assert corner_area(100.0, 2.0, 0.0) == 0.0


def test_keyways() -> None:
    assert (keyway_for(40.0).width_mm, keyway_for(40.0).depth_mm) == (12.0, 3.3)
    assert (keyway_for(38.0).width_mm, keyway_for(38.1).width_mm) == (10.0, 12.0)
    for shaft in (22.0, 111.0):
        with pytest.raises(InputError, match="above 22 and at most 110"):
            keyway_for(shaft)


def test_unknown_kind_is_refused() -> None:
    with pytest.raises(InputError, match="one ending in"):
        solids_of(tools("HD-411").forms, "X")


def test_a_ring_that_leads_with_its_forward_edge_stands_upside_down() -> None:
    ends = {
        plan(ring).sizing.segments.needed.better.end: tools(ring).parts.form for ring in ("HD-401", "HD-402", "HD-412")
    }
    assert set(ends) == {"minus", "plus"}
    for end, form in ends.items():
        assert form.upward == (1 if end == "plus" else -1)
        low, high = sorted(form.height_of(z) for z in (form.base_z_mm, form.base_z_mm + form.upward * form.height_mm))
        assert (low, high) == pytest.approx((0.0, form.height_mm))


def random_failures(seeds: range) -> tuple[int, list[str]]:
    """How many random rings plan, and every standing check that their tools fail."""
    shelf, rooms, planned, found = Shelf(), tool_room_shelf(), 0, []
    for seed in seeds:
        liner = random_liner(seed)
        try:
            ring = plan_ring(liner, liner.rings[0].id, shelf)
        except HoopwrightError:
            continue
        planned += 1
        made = tools_of(ring, rooms)
        for kind in KINDS:
            found += [
                f"seed {seed}: {c.name}: {c.value:.6g} against {c.limit:.6g}"
                for c in solids_of(made.forms, kind).checks
                if not c.ok
            ]
    return planned, found


def test_tools_of_random_rings_hold() -> None:
    planned, found = random_failures(range(3))
    assert planned == 3 and found == []


@pytest.mark.soak
def test_tools_of_fifty_random_rings_hold() -> None:
    planned, found = random_failures(range(52))
    assert planned >= 50
    assert found == []


def test_the_demos_tool_plan_is_proven_shortest() -> None:
    """Every tool of the seven rings over lathe, furnace, wire and grinder: the plan is as short as its bound."""
    rings = [tools(ring) for ring in ("HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413")]
    shelf = rings[0].shelf
    pin = liner_pin(tuple(rings), rings[0].plan.job.liner)
    made = [made_pin(pin, shelf, rings[0].plan.job.machines.furnace), *(tool for ring in rings for tool in ring.made)]
    found = plan_tools([(tool.id, tool.works) for tool in made], shelf.room)
    assert len(found.rows) > 200
    assert found.schedule.proven
    furnace = sorted((row for row in found.rows if row.work.machine == "furnace"), key=lambda row: row.start_h)
    assert all(one.end_h <= two.start_h + 1e-9 for one, two in itertools.pairwise(furnace))
