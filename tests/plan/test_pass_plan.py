"""Pass schedule, roll load and machine limits on the demonstration's rings."""

from dataclasses import replace

import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.findings import Figure
from hoopwright.plan.passes import plan_passes
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.shelf import Shelf

LINER, SHELF = demo_liner(), Shelf()


@pytest.fixture(scope="module")
def plan() -> RingPlan:
    return plan_ring(LINER, "HD-402", SHELF)


def with_value(figure: Figure, value: float) -> Figure:
    return replace(figure, value=value)


def test_the_load_range_holds_the_section_kernels_reference_runs(plan: RingPlan) -> None:
    # method study, one section: 2.29 kN in one pass at clear .02, last of four passes 2.08 kN
    band = plan.figure("roll/load").band
    assert band is not None
    assert band.low <= 2.08 and band.high >= 2.29


def test_work_of_the_corners_is_the_reference_figure(plan: RingPlan) -> None:
    # method study: sum of M theta 210 N (with full plastic moments of its own curve), torque 220 N * 50 mm = 11 Nm
    assert plan.figure("roll/torque").value == pytest.approx(11.0, abs=0.5)


def test_set_gap_is_the_running_gap_less_the_spring(plan: RingPlan) -> None:
    gap = plan.figure("roll/running-gap").value - plan.figure("roll/spring").value
    assert plan.figure("roll/set-gap").value == pytest.approx(gap, abs=1e-9)


def test_depth_of_the_passes_rises_to_the_depth_of_the_section(plan: RingPlan) -> None:
    depths = [row.depth_mm for row in plan.passes.rows]
    assert depths == sorted(depths)
    assert depths[-1] == pytest.approx(125.75 - 123.40, abs=1e-3)
    per_pass = plan.job.limits.roll_depth_per_pass_max_t.value * 0.8
    assert max(row.new_depth_mm for row in plan.passes.rows) <= per_pass


def test_transition_zone_of_the_land_is_the_method_studys(plan: RingPlan) -> None:
    # run 5.02, land 8.57 (edge trim on), lift 1.90: 22 long and .0148 in one pass; our trim is 3.0, not 3.33
    land = next(zone for zone in plan.passes.zones if zone.end == "forward")
    assert (land.run_mm, land.height_mm) == (pytest.approx(5.02, abs=0.01), pytest.approx(1.90, abs=1e-3))
    assert land.zone.length_mm == pytest.approx(22.0, abs=0.6)
    assert land.zone.edge_strain_log == pytest.approx(0.0148, abs=6e-4)


@pytest.mark.parametrize(
    ("name", "value", "topic", "word"),
    [
        ("centre_distance_max_mm", 95.0, "roll-centres", "opens to 95"),
        ("centre_distance_min_mm", 105.0, "roll-centres", "closes to 105"),
        ("shaft_span_mm", 60.0, "roll-width", "bearings stand 60"),
        ("load_max_kN", 1.0, "roll-load", "gives 1 kN"),
        ("torque_max_Nm", 5.0, "roll-torque", "gives 5 Nm"),
        ("second_closing", 0.0, "free-curl", "goes over"),
    ],
)
def test_every_limit_of_the_machine_stops(plan: RingPlan, name: str, value: float, topic: str, word: str) -> None:
    roll = plan.job.machines.roll
    machine = replace(roll, **{name: with_value(getattr(roll, name), value)})
    job = replace(plan.job, machines=replace(plan.job.machines, roll=machine))
    found = [f for f in plan_passes(job, plan.reckoning).findings if f.topic == topic and f.level == "stop"]
    assert found and word in found[0].sentence
    assert not [f for f in plan.findings if f.topic == topic and f.level == "stop"]


def test_an_exit_roll_only_names_both_bounds_for_both_flanges(plan: RingPlan) -> None:
    roll = plan.job.machines.roll
    assert roll.second_closing is not None
    machine = replace(roll, second_closing=with_value(roll.second_closing, 0.0))
    job = replace(plan.job, machines=replace(plan.job.machines, roll=machine))
    found = [f for f in plan_passes(job, plan.reckoning).findings if f.topic == "free-curl"]
    # sqrt3 c^2 / t and 1.5 times that, c with the edge trim on: 24.245 for the lip
    assert any("1273" in f.sentence and "1909" in f.sentence for f in found)
