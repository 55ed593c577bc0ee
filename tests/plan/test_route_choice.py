"""Route: strip or arc by the radius range, the ways of rolling weighed, one stretch or two."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.profile_build import from_corners
from hoopwright.plan.job import ring_job, strip_stations, with_trims
from hoopwright.plan.restore import weigh_restore
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.route import choose_route
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.shelf import Shelf


def with_range(job: RingJob, percent: float) -> RingJob:
    """The job with a lip that makes ln(r_max/r_min) as wished, route left to the plan."""
    low, high = 120.0, 120.0 * math.exp(percent / 100.0)
    section = from_corners([(0.0, low), (10.0, low), (24.0, high), (40.0, high)], [6.0, 6.0])
    ring = replace(job.ring, section=section, route=None, controls=())
    return replace(job, ring=ring, section=section, stations=strip_stations(ring.id, section, 3.0))


@pytest.mark.parametrize(
    ("percent", "blank", "said"),
    [
        (3.0, "strip", None),
        (3.95, "strip", ("strip-at-limit", "note")),
        (4.05, "strip", ("strip-or-arc", "caution")),
        (5.95, "strip", ("strip-or-arc", "caution")),
        (6.05, "arc", None),
    ],
)
def test_four_percent_comfortable_six_the_end(
    hat: RingPlan, percent: float, blank: str, said: tuple[str, str] | None
) -> None:
    route = choose_route(with_range(hat.job, percent)).route
    assert route.blank == blank
    found = {(f.topic, f.level) for f in route.findings if f.topic.startswith("strip")}
    assert found == ({said} if said else set())


def test_a_strip_wished_for_a_wide_section_is_a_stop(hat: RingPlan) -> None:
    job = with_range(hat.job, 8.0)
    wished = replace(job, ring=replace(job.ring, route="straight"))
    route = choose_route(wished).route
    assert route.blank == "strip"
    assert [(f.topic, f.level) for f in route.findings] == [("strip-or-arc", "stop")]


def test_an_arc_wished_for_a_narrow_range_is_noted(hat: RingPlan) -> None:
    job = with_range(hat.job, 3.0)
    route = choose_route(replace(job, ring=replace(job.ring, route="arc"))).route
    assert route.blank == "arc" and ("strip-or-arc", "note") in {(f.topic, f.level) for f in route.findings}


def test_slip_on_straight_pitch_lines_level(hat: RingPlan) -> None:
    """Depth over pitch radius: 2.35/50 on HD-402."""
    assert hat.figure("roll/level/slip").value == pytest.approx(4.70, abs=0.005)


@pytest.mark.parametrize(("ring", "level"), [("HD-403", 20.3), ("HD-404", 47.2), ("HD-413", 23.3)])
def test_arc_blanks_slip_20_to_47_percent_level_and_another_way_is_found(
    shelf: Shelf, hat: RingPlan, ring: str, level: float
) -> None:
    """The radius range over pitch radius 50; half of what the curved blank steers comes on top."""
    route = choose_route(ring_job(hat.job.liner, ring, shelf)).route
    slips = {option.rolling: option.slip for option in route.options}
    assert list(slips) == ["level", "canted", "conical", "closed-cone"]
    height, pitch = slips["level"].inputs[0].value, slips["level"].inputs[1].value
    assert 200.0 * float(height) / float(pitch) == pytest.approx(level, abs=0.05)
    chosen = [option for option in route.options if option.chosen]
    assert len(chosen) == 1 and chosen[0].rolling == route.rolling
    assert chosen[0].slip.value < 0.6 * slips["level"].value
    assert all(option.reason for option in route.options)


def test_wide_arcs_ask_for_a_trial(demo_topics: dict[str, set[str]]) -> None:
    """Spread 6.7 and 8.7 % of hoop strain on HD-404 and HD-413, 4.6 on HD-403."""
    assert {ring for ring, topics in demo_topics.items() if "wide-arc" in topics} == {"HD-404", "HD-413"}


def test_no_anneal_in_the_trap(hat: RingPlan) -> None:
    """HD-402 is past its budget, yet a furnace would coarsen a quarter of the width."""
    restores = hat.reckoning.route.restores
    assert [restore.chosen for restore in restores] == [True, False, False]
    assert "coarse grain" in restores[1].reason and "coarse grain" in restores[2].reason


def test_anneal_is_planned_where_it_helps_and_harms_nothing(hat: RingPlan, shelf: Shelf) -> None:
    """Where an anneal is allowed from 0.1 % strain up, it is chosen, walked, and frees the budget."""
    limits = hat.job.limits
    clear = replace(limits.critical_strain_clear_log, value=0.001)
    free = replace(hat.job, limits=replace(limits, critical_strain_clear_log=clear, critical_strain_low_log=clear))
    assert weigh_restore(free, hat.reckoning).anneal
    kept = Shelf()
    kept._kept.update(shelf._kept)
    liner = hat.job.liner
    key = ("limits", liner.cards.limits, liner.id, liner.revision, liner.invented, liner.wishes)
    kept._kept[key] = free.limits
    plan = plan_ring(liner, "HD-402", kept)
    assert plan.reckoning.route.anneal
    assert [step.kind for step in plan.walk].count("anneal") == 1
    assert plan.figure("budget/worst").value < 20.0
    assert plan.figure("size/hit-2/free-lip-dia").value == pytest.approx(247.60, abs=0.002)


def test_trims_go_on_straight(hat: RingPlan) -> None:
    whole = with_trims(hat.job.section, 3.0)
    assert whole.length == pytest.approx(hat.job.section.length + 6.0)
    assert whole.start == (26.0, 123.85) and whole.end == (79.0, 123.4)
    assert with_trims(hat.job.section, 0.0) is hat.job.section


def test_stations_count_from_the_drawings_edge(hat: RingPlan) -> None:
    st = strip_stations("X", hat.job.section, 3.0)
    assert st.s[0] == pytest.approx(-2.5) and st.weight.sum() == pytest.approx(hat.job.section.length + 6.0)


def test_a_section_that_turns_back_is_refused() -> None:
    steep = from_corners([(0.0, 100.0), (10.0, 100.0), (10.0, 110.0), (20.0, 110.0)], [2.0, 2.0])
    with pytest.raises(InputError, match="pressed part"):
        strip_stations("X", steep, 3.0)
