"""The choice of a set and its hits: order, reasons, the lowered second hit, the seam's place; pictures of it."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.desk.choosing import choose_set
from hoopwright.errors import InputError
from hoopwright.papers.drawing.svg import svg
from hoopwright.papers.hooping.choice_picture import trade_offs
from hoopwright.plan.choice.choose import Choice, choose, in_order
from hoopwright.plan.choice.options import Option, first_options, variants
from hoopwright.plan.choice.weigh import Bench, Weighed, rocking, weigh
from hoopwright.plan.ring_plan import RingPlan
from tests.plan.study.small_study import demo_plan


def short(plan: RingPlan, most: int) -> RingPlan:
    """The plan of a house that builds no more than `most` segments."""
    limits = replace(plan.job.limits, segments_max=replace(plan.job.limits.segments_max, value=float(most)))
    return replace(plan, job=replace(plan.job, limits=limits))


@pytest.fixture(scope="module")
def plan() -> RingPlan:
    return short(demo_plan(), 10)


@pytest.fixture(scope="module")
def choice(plan: RingPlan) -> Choice:
    return choose(plan.job, plan.settings, plan.reckoning)


def test_every_count_edge_and_way_is_looked_at(plan: RingPlan, choice: Choice) -> None:
    first = list(first_options(plan.job, plan.reckoning))
    assert len(first) == 2 * 3 * 4
    seen = len(choice.ranked) + len(choice.refused)
    assert seen == len(first) + 3 * len(list(variants(plan.job, choice.best.weighed.option)))


def test_best_keeps_all_and_costs_least(choice: Choice) -> None:
    best = choice.best
    assert best.fails == () and best.weighed.option.cuts == 16 and best.weighed.option.hits == "one"
    assert best.reason.startswith("keeps every limit with the fewest cuts (16)")
    order = [len(row.fails) for row in choice.ranked]
    assert order == sorted(order)
    assert all(row.reason.endswith(".") for row in choice.ranked)
    sharp = next(row for row in choice.ranked if row.weighed.option.edge_radius_mm == 0.5)
    assert "edge pressure" in sharp.fails and sharp.reason.startswith("goes beyond 1 limit")


def test_more_segments_are_rounder_and_rock_more(choice: Choice) -> None:
    by_count = {
        row.weighed.option.count: row.weighed
        for row in choice.ranked
        if (row.weighed.option.hits, row.weighed.option.edge_radius_mm, row.weighed.option.under_mm)
        == ("one", 1.0, 0.0)
        and row.weighed.option.stretch_eng == 0.015
    }
    assert by_count[10].peak_to_valley_mm < by_count[8].peak_to_valley_mm
    assert by_count[10].rocking < by_count[8].rocking == pytest.approx(1.0)


def test_a_lowered_second_hit_nulls_the_lobes(choice: Choice) -> None:
    lowered = [row.weighed for row in choice.ranked if row.weighed.option.hits == "second-lower"]
    assert lowered
    for one in lowered:
        assert abs(one.lobes_mm) <= 3e-4 and 0.0 < one.lowered_mm <= 0.12
        twice = next(row.weighed for row in choice.ranked if row.weighed.option == replace(one.option, hits="twice"))
        assert one.peak_to_valley_mm < twice.peak_to_valley_mm


def test_the_seam_keeps_off_the_slots(choice: Choice) -> None:
    """After one hit the middle of a segment is stretched least; with an index a place between slots of both hits."""
    for row in choice.ranked:
        half = 180.0 / row.weighed.option.count
        assert 0.0 <= row.weighed.seam_deg <= 0.75 * half
        assert row.weighed.seam_strain_log > 0.01


def test_a_choice_that_cannot_be_run_says_why(plan: RingPlan) -> None:
    bench = Bench(plan.job, plan.settings, plan.reckoning)
    lost = weigh(bench, Option(8, 60.0, 5.0, 60.0, 0.0, "one", 0.015))
    assert "slot width is 60" in lost.refused and math.isnan(lost.pull_kN)
    assert in_order(plan.job, plan.reckoning, [lost]) == []
    assert rocking(8, plan.settings.segments.slot_mm, bench) == pytest.approx(1.0)


def test_a_limit_passed_stands_behind(plan: RingPlan, choice: Choice) -> None:
    good: Weighed = choice.best.weighed
    bad = replace(good, pull_kN=1e3, overlap_mm=0.2)
    ranked = in_order(plan.job, plan.reckoning, [bad, good])
    assert [row.fails for row in ranked] == [(), ("pin pull", "overlap of segments at first touch")]


def test_picture_and_folder(plan: RingPlan, choice: Choice, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = svg(trade_offs(choice, 1.0))
    assert "out of round, mm" in text and "rocking stiffness" in text
    with pytest.raises(InputError, match="edge radius"):
        trade_offs(choice, 7.0)
    monkeypatch.setattr("hoopwright.desk.choosing.choose", lambda *_: choice)
    report = choose_set(plan, tmp_path / "out")
    data = json.loads((tmp_path / "out" / "HD-402-choice.json").read_text())
    assert data["schema"] == "hoopwright-choice-1" and len(data["rows"]) == len(choice.ranked)
    assert data["rows"][0]["place"] == 1 and report.rows[0].cuts == 16
    assert {path.name for path in report.files} == {"HD-402-choice.json", "HD-402-choice.svg"}
