"""The seven rings of the demonstration: every walk ends on its drawing, and the traps set on purpose are found."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hoopwright.plan.liner_plan import LinerPlan, plan_liner
from hoopwright.plan.ring_plan import RingPlan, control_limits, plan_ring
from hoopwright.plan.shelf import Shelf

RINGS = ("HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413")


def topics(plan: RingPlan) -> dict[str, str]:
    return {finding.topic: finding.level for finding in plan.findings}


def test_all_seven_are_planned(demo: LinerPlan) -> None:
    assert tuple(plan.job.ring.id for plan in demo.rings) == RINGS
    assert demo.refused == ()


@pytest.mark.parametrize("ring", RINGS)
def test_forward_walk_ends_on_the_drawing(demo: LinerPlan, ring: str) -> None:
    """On settings rounded as a shop sets them; 0.002 is what rounding the segments' corners to 0.001 may cost."""
    plan = demo.ring(ring)
    for identity, (low, high) in control_limits(plan.job, len(plan.settings.stops)).items():
        assert plan.figure(identity).value == pytest.approx(0.5 * (low + high), abs=0.002)


@pytest.mark.parametrize("ring", RINGS)
def test_least_stretch_is_the_planned_one(demo: LinerPlan, ring: str) -> None:
    assert demo.ring(ring).figure("size/hit-2/stretch").value == pytest.approx(1.5, abs=0.005)


@pytest.mark.parametrize("ring", RINGS)
def test_first_hit_stays_low_and_the_last_adds_little(demo: LinerPlan, ring: str) -> None:
    """0.20 on diameter, on a stop that moves in steps of 0.05: within half a step's 0.006; the last adds 0.20 of D."""
    plan = demo.ring(ring)
    for control in plan.job.ring.controls:
        word = control.name.split("_")[0]
        first, last = (plan.figure(f"size/hit-{k}/free-{word}-dia").value for k in (1, 2))
        assert last - first == pytest.approx(0.20, abs=0.007)


def test_steps_in_the_order_of_the_shop(demo: LinerPlan) -> None:
    kinds = [step.kind for step in demo.ring("HD-402").walk]
    assert [kind for k, kind in enumerate(kinds) if k == 0 or kinds[k - 1] != kind] == [
        "cut", "roll", "curl", "close", "weld", "size", "trim", "drill",
    ]  # fmt: skip
    closed = [step.kind for step in demo.ring("HD-404").walk]
    assert closed.index("weld") < closed.index("roll") < closed.index("size")


def test_trap_4_strip_at_the_limit_and_slip(demo: LinerPlan) -> None:
    assert topics(demo.ring("HD-412"))["strip-at-limit"] == "note"
    found = next(f for f in demo.ring("HD-401").findings if f.topic == "roll-slip")
    assert found.level == "stop"
    assert "6.10 %" in found.sentence and "61 or more" in found.remedy
    assert "roll-slip" not in topics(demo.ring("HD-402"))


def test_trap_8_the_better_end_is_found(demo: LinerPlan) -> None:
    found = next(f for f in demo.ring("HD-402").findings if f.topic == "leading-end")
    assert "aft end leading" in found.sentence
    needed = demo.ring("HD-402").sizing.segments.needed
    assert needed.better.end == "plus"
    assert needed.minus.travel_mm - needed.plus.travel_mm == pytest.approx(0.47, abs=0.03)


def test_straight_strip_or_arc_as_the_rule_says(demo: LinerPlan) -> None:
    blanks = {plan.job.ring.id: plan.reckoning.route.blank for plan in demo.rings}
    assert blanks == {ring: "arc" if ring in ("HD-403", "HD-404", "HD-413") else "strip" for ring in RINGS}


@pytest.mark.parametrize(
    ("ring", "outer", "inner"),
    [("HD-403", 593.97, 540.90), ("HD-404", 265.02, 205.80), ("HD-413", 401.18, 322.74)],
)
def test_slant_radii_of_the_arc_blanks(demo: LinerPlan, ring: str, outer: float, inner: float) -> None:
    """Figures of the demonstration's own table, which allows 0.1; the slant radii do not depend on the scale."""
    line = demo.ring(ring).reckoning.line
    ends = sorted(r / abs(line.slope) for r in (line.base_mm, line.base_mm + line.slope * line.developed_mm))
    assert ends == [pytest.approx(inner, abs=0.1), pytest.approx(outer, abs=0.1)]


def test_springback_by_the_chains_own_prior_strain(demo: LinerPlan) -> None:
    """0.24 to 0.25 % of the diameter, not the 0.316 % of a prior strain of 0.05."""
    plan = demo.ring("HD-402")
    share = plan.figure("size/hit-2/springback").value / 247.6
    assert 0.0024 <= share <= 0.0025
    assert plan.figure("weld/prior-strain").value == pytest.approx(0.0130, abs=0.0005)


def test_not_yet_proven_is_said_of_every_ring(demo: LinerPlan) -> None:
    assert all("not-yet-proven" in topics(plan) and not plan.proven for plan in demo.rings)


def test_a_given_prior_strain_rules_and_is_shown_as_given(hat: RingPlan, shelf: Shelf) -> None:
    liner = hat.job.liner
    ring = replace(hat.job.ring, prior_strain_log=0.05)
    given = plan_ring(replace(liner, rings=(ring,)), ring.id, shelf)
    shown = given.figure("size/prior-strain-given")
    assert shown.source.basis == "given" and shown.value == 0.05
    assert given.figure("weld/prior-strain").value == pytest.approx(0.05)
    more = given.figure("size/hit-2/springback").value - hat.figure("size/hit-2/springback").value
    assert more == pytest.approx(0.18, abs=0.03)


def test_a_liner_refuses_ring_by_ring(demo: LinerPlan, shelf: Shelf) -> None:
    liner = demo.liner
    broken = replace(liner.rings[0], material="N07750")
    plan = plan_liner(replace(liner, rings=(broken, liner.rings[1])), shelf)
    assert [ring.job.ring.id for ring in plan.rings] == ["HD-402"]
    assert plan.refused[0][0] == "HD-401" and "Do:" in plan.refused[0][1]


def test_same_input_same_mark_and_a_changed_one_another(hat: RingPlan, shelf: Shelf) -> None:
    again = plan_ring(hat.job.liner, "HD-402", shelf)
    assert again.mark == hat.mark
    ring = replace(hat.job.ring, thickness_mm=0.81)
    assert plan_ring(replace(hat.job.liner, rings=(ring,)), ring.id, shelf).mark != hat.mark
