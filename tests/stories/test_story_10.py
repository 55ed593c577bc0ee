"""Story 10, change B of HD-403: tools, parts, control sizes, partial report and plan as printed; and a better order."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.correct.change import Impact, impact_of
from hoopwright.design.changes import NewSize, read_changes
from hoopwright.design.demo import demo_liner
from hoopwright.design.register import Tool, read_register
from hoopwright.errors import InputError

DEMO = Path(__file__).parents[2] / "examples" / "demo"
LINER, REGISTER = demo_liner(), read_register(DEMO / "register.toml")
CHANGE = read_changes(DEMO / "changes.toml").changes[0]


@pytest.fixture(scope="module")
def impact() -> Impact:
    return impact_of(LINER, REGISTER, CHANGE)


def march(day: int) -> datetime.date:
    return datetime.date(2031, 3, day)


def test_tools_to_rework(impact: Impact) -> None:
    assert {t.tool for t in impact.tools if t.verdict == "rework"} == {"HT-403-R", "HT-404-R", "HT-403-S", "HT-404-S"}
    for roll in ("HT-403-R", "HT-404-R"):
        assert (round(impact.tool(roll).change_mm, 3), impact.tool(roll).stock_mm) == (0.4, 1.0)
    for name, changed in (("HT-403-S", "lip"), ("HT-404-S", "land")):
        found = impact.tool(name).recut
        assert found is not None and found.possible
        assert found.open_mm == pytest.approx(0.401, abs=5e-4)
        grind = dict(zip(found.stations, found.grind_mm, strict=True))
        assert grind.pop(changed) == pytest.approx(0.0, abs=1e-9)
        assert list(grind.values()) == [pytest.approx(0.401, abs=5e-4)] * 2
        assert found.lobes_mm == pytest.approx(0.031, abs=5e-4)
        assert found.limit_mm == pytest.approx(0.050, abs=5e-4)
        assert found.largest_open_mm == pytest.approx(0.657, abs=5e-4)  # method paper
    assert any("15 working days" in f.remedy for f in impact.findings)


def test_everything_else_is_unaffected(impact: Impact) -> None:
    left = {t.tool for t in impact.tools if t.verdict == "unaffected"}
    rings = {t for t in left if t.endswith(("-R", "-S", "-S0"))}
    assert rings == {f"HT-{n}-{k}" for n in (401, 402, 411, 412, 413) for k in "RS"} | {"HT-402-S0"}
    assert left - rings == {"HT-400-P", "HT-420-D", "HT-420-F", "HT-420-T", "HT-440-F", "HT-440-A"}
    assert impact.tool("HT-400-W").verdict == "note" and "in design" in impact.tool("HT-400-W").reason


def test_parts_and_sizes(impact: Impact) -> None:
    assert [(p.serial, p.zone, p.verdict) for p in impact.parts] == [
        ("403-01", "lip", "re-stretch"), ("403-02", "lip", "re-stretch"), ("404-01", "land", "re-stretch"),
    ]  # fmt: skip
    assert [round(100 * p.strain_log, 3) for p in impact.parts] == [0.344, 0.344, 0.342]
    assert {(c.part, c.name): round(c.new_mm, 2) for c in impact.controls} == {
        ("HD-403", "lip_od"): 233.60, ("HD-404", "land_id"): 233.70,
    }  # fmt: skip
    assert impact.slots == (("J4", pytest.approx(1.80, abs=1e-3), pytest.approx(1.40, abs=1e-3)),)


def test_partial_first_article(impact: Impact) -> None:
    assert set(impact.first_article) == {
        ("HD-403", "lip_od"), ("HD-403", "lip roundness"), ("HD-403", "cone profile"), ("HD-404", "land_id"),
        ("HD-404", "joggle"), ("HD-400", "J4 gap"), ("HD-400", "J4 slot"),
    }  # fmt: skip


def test_ours_finds_what_the_story_forgets(impact: Impact) -> None:
    forgotten = {(ring, item) for ring in ("HD-403", "HD-404") for item in ("arc blank", "blank cutting program")}
    assert forgotten <= {(thing, item) for thing, item, _ in impact.papers}
    assert all("J4 keeps its gap" in why for thing, _, why in impact.papers if thing == "HD-404")


def test_plan_in_the_given_order(impact: Impact) -> None:
    plan = impact.plans[0]
    assert plan.order == CHANGE.grinder_order
    assert plan.date("HT-403-S ready") == march(6)
    assert plan.date("HD-403 parts stretched") == march(7)
    assert plan.date("HT-403-R ready") == march(11)
    assert plan.date("HT-404-S ready") == march(13)
    assert plan.date("HD-404 parts stretched") == march(14)
    assert plan.date("HD-404 partial report") == march(17)
    assert plan.date("HT-404-R ready") == march(18)
    assert plan.critical[-1] == "HT-404-R ready"


def test_both_segment_sets_first_is_offered(impact: Impact) -> None:
    """Same end; the last report moves from 03-17 to 03-12. The method paper's other order has it on 03-10 for 404."""
    better = impact.plans[1]
    assert set(better.order[:2]) == {"HT-403-S", "HT-404-S"}
    assert better.end_days == impact.plans[0].end_days
    assert better.date("HT-404-R ready") == march(18)
    assert better.date("HD-404 partial report") == march(12)
    assert better.mean_finish_days < impact.plans[0].mean_finish_days
    assert any(f.topic == "better-order" for f in impact.findings)


def test_order_of_the_method_paper() -> None:
    order = ("HT-404-S", "HT-403-S", "HT-403-R", "HT-404-R")
    plan = impact_of(LINER, REGISTER, replace(CHANGE, grinder_order=order)).plans[0]
    assert plan.date("HD-404 partial report") == march(10)
    assert plan.date("HD-403 parts stretched") == march(11)
    assert plan.date("HT-404-R ready") == march(18)


def without_stock(tool: Tool) -> Tool:
    return replace(tool, note="") if tool.id in ("HT-403-R", "HT-403-S") else tool


def test_no_stock_means_replace() -> None:
    bare = replace(REGISTER, tools=tuple(without_stock(t) for t in REGISTER.tools))
    found = impact_of(LINER, bare, CHANGE)
    assert found.tool("HT-403-R").verdict == "replace" and found.tool("HT-403-S").verdict == "replace"
    assert found.tool("HT-404-S").verdict == "rework"
    dead = [f for f in found.findings if f.topic == "tool-dead"]
    assert {f.about for f in dead} == {"HT-403-R", "HT-403-S"}


def test_shrinking_a_finished_part_is_not_offered() -> None:
    smaller = replace(CHANGE, new_sizes=(NewSize("lip_mid_radius", 115.8),))
    assert {p.verdict for p in impact_of(LINER, REGISTER, smaller).parts} == {"scrap"}


@pytest.mark.parametrize("size", [NewSize("lip_mid_radius", 116.0), NewSize("crown_radius", 126.0)])
def test_what_is_no_change_is_refused(size: NewSize) -> None:
    with pytest.raises(InputError):
        impact_of(LINER, REGISTER, replace(CHANGE, new_sizes=(size,)))
