"""Coupon plans, evaluation, hardness, lives; assembly welds."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from hoopwright.cards.shop import house_limits
from hoopwright.design.demo import demo_liner
from hoopwright.desk.weld import joint_radii
from hoopwright.errors import InputError
from hoopwright.kernels.seam_stats_life import LifeTests, compare_lives
from hoopwright.kernels.strip_nest import SheetPlate
from hoopwright.plan.seam.assembly import NozzleJoint, learned_pull_in, plan_assembly, tack_order
from hoopwright.plan.seam.coupon_places import coupon_places
from hoopwright.plan.seam.evaluation import evaluate, hardness_traverse
from hoopwright.plan.seam.qualification import plan_coupons

HOUSE = house_limits("demo-house")


def test_parent_is_the_bottleneck() -> None:
    plan = plan_coupons("X-1", 0.015)
    assert plan.welds == 5 and plan.parents == 5
    said = next(f for f in plan.findings if f.topic == "coupons-parent")
    assert "With 3 parent coupons 10 weld coupons" in said.sentence
    assert {r.standard for r in plan.rows} >= {"ISO 9015-2", "ASTM E1417", "ASTM E1742"}
    assert plan_coupons("X-1", 0.2).findings[0].topic == "coupons-none"
    with pytest.raises(InputError, match="expected strength ratio"):
        plan_coupons("X-1", 0.02, 0.94)


def test_what_is_not_disproved_is_not_proved() -> None:
    found = evaluate("X-1", [770.0, 640.0], [779.0, 700.0], ["weld", "parent"])
    assert found.findings[0].topic == "qualify-mean" and found.findings[0].level == "stop"
    assert any(f.topic == "qualify-equivalence" and "no claim" in f.why for f in found.findings)
    good = evaluate("X-1", [770.0, 768.0, 772.0, 771.0], [771.0, 774.0, 769.0, 772.0], ["parent"] * 4)
    assert good.findings == () and good.comparison.equivalent
    with pytest.raises(InputError, match="two or more"):
        evaluate("X-1", [770.0], [779.0, 780.0])


def test_lives_of_weld_and_parent() -> None:
    rng = np.random.default_rng(2)
    amplitude = np.repeat([300.0, 350.0, 420.0], 4)
    parent = 10.0 ** (16.0 - 4.0 * np.log10(amplitude) + 0.1 * rng.normal(size=12))
    weld = 0.8 * 10.0 ** (16.0 - 4.0 * np.log10(amplitude) + 0.1 * rng.normal(size=12))
    life = compare_lives(LifeTests(amplitude, weld), LifeTests(amplitude, parent), 340.0)
    assert 0.6 < life.ratio < 1.1 and life.limits[0] < life.lower < life.ratio < life.limits[1]
    assert not life.outside and life.p_slopes > 0.01
    far = compare_lives(LifeTests(amplitude, weld), LifeTests(amplitude, parent), 900.0)
    found = evaluate("X-1", [770.0, 768.0, 772.0, 771.0], [771.0, 774.0, 769.0, 772.0], (), far)
    assert any(f.topic == "qualify-life-outside" for f in found.findings)
    with pytest.raises(InputError, match="two levels"):
        compare_lives(LifeTests([300.0] * 3, [1e5] * 3), LifeTests(amplitude, parent), 300.0)


def test_traverse_finds_the_soft_zone() -> None:
    x = np.linspace(-4.0, 4.0, 33)
    hardness = 240.0 - 60.0 * (np.abs(x) < 1.0)
    found = hardness_traverse(x.tolist(), hardness.tolist())
    assert (found.parent_HV, found.least_HV) == (240.0, 180.0)
    assert found.width_mm == pytest.approx(2.0, abs=0.26)
    assert found.drop_pct == pytest.approx(25.0)
    assert hardness_traverse(x.tolist(), [200.0] * 33).width_mm == 0.0
    with pytest.raises(InputError, match="9 or more"):
        hardness_traverse([0.0, 1.0], [200.0, 200.0])


def test_tacks_stand_in_opposite_pairs() -> None:
    order = tack_order(20)
    assert sorted(order) == [18.0 * k for k in range(20)]
    assert all(abs(order[k + 1] - order[k]) == 180.0 for k in range(0, 20, 2))
    with pytest.raises(InputError, match="even"):
        tack_order(7)


def test_laps_of_the_demo_from_its_datum() -> None:
    liner = demo_liner()
    plan = plan_assembly(liner, joint_radii(liner), HOUSE, free_length_mm=1.0)
    assert [lap.joint.id for lap in plan.laps] == ["J4", "J7", "J3", "J6", "J2", "J1", "J5"]
    by = {f.identity.rpartition("/")[2]: f.value for f in plan.figures}
    assert by["pull-in-of-J4-J3-J2-J1"] == pytest.approx(0.5) and by["pull-in-of-J7-J6-J5"] == pytest.approx(0.375)
    assert by["free-length"] == pytest.approx(0.5)
    assert not any(f.topic == "assembly-free-length" for f in plan.findings)
    tight = plan_assembly(liner, joint_radii(liner), HOUSE, free_length_mm=0.6)
    assert tight.findings[0].topic == "assembly-free-length"
    with pytest.raises(InputError, match="radius of joint"):
        plan_assembly(liner, {}, HOUSE)


def test_pull_in_is_learned() -> None:
    liner = demo_liner()
    readings = {joint.id: (0.16, 0.15, 0.17) for joint in liner.joints}
    plan = plan_assembly(liner, joint_radii(liner), HOUSE, readings)
    assert learned_pull_in((0.16, 0.15, 0.17)).mean == pytest.approx(0.1555, abs=5e-4)
    assert not any(f.topic == "assembly-pull-in" for f in plan.findings)


def test_joint_to_the_nozzle_ring() -> None:
    liner = demo_liner()

    def at(ring: float) -> set[str]:
        joint = NozzleJoint("N06002", "N06625", 247.0, ring)
        return {f.topic for f in plan_assembly(liner, joint_radii(liner), HOUSE, nozzle=joint).findings}

    assert at(247.2) == {"assembly-two-alloys", "assembly-pull-in"}
    assert "assembly-step" in at(246.9) and "assembly-step" in at(247.5)


def test_coupons_lie_in_the_band_in_turn() -> None:
    sheet = SheetPlate(2438.0, 1219.0, 10.0, 3.0, band_end_mm=250.0)
    places = coupon_places(sheet, 6, 5)
    assert [p.name for p in places[:4]] == ["W1", "P1", "W2", "P2"] and len(places) == 11
    assert all(p.x_mm + p.length_mm == pytest.approx(2428.0) and p.x_mm >= 2438.0 - 10.0 - 250.0 for p in places)
    gaps = [b.y_mm - a.y_mm - a.width_mm for a, b in pairwise(places)]
    assert gaps == pytest.approx([3.0] * 10)
    with pytest.raises(InputError, match="second sheet"):
        coupon_places(sheet, 40, 40)
    with pytest.raises(InputError, match="coupon band"):
        coupon_places(SheetPlate(2438.0, 1219.0, 10.0, 3.0), 2, 2)
