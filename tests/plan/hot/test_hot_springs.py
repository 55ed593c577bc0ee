"""Dished rims, sets, wear and what the search shows."""

from dataclasses import replace
from typing import Any

import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.plan.hot.job import hot_job
from hoopwright.plan.hot.spring_search import spring_alternatives
from hoopwright.plan.hot.springs import Springs, plan_springs


def sprung(**changes: Any) -> Springs:
    liner = demo_liner()
    assert liner.spring_plate is not None
    return plan_springs(hot_job(replace(liner, spring_plate=replace(liner.spring_plate, **changes))))


def value(told: Springs, end: str) -> float:
    return next(f.value for f in told.figures if f.identity.endswith(f"spring/{end}"))


def topics(told: Springs) -> set[str]:
    return {f.topic for f in told.findings}


def test_dished_rim() -> None:
    """Rim 58/51, t 0.4, our own study: h 0.6 gives 41.1 N at half its height and 45.1 at three quarters."""
    told = sprung(rim_dish_mm=0.6, preload_deflection_mm=0.45, preload_deflection_tolerance_mm=0.05)
    assert value(told, "load-cold") == pytest.approx(45.1, abs=0.2)
    assert value(told, "load-hot-worst") < value(told, "load-hot") < value(told, "load-cold")
    assert value(told, "stress") < value(told, "stress-worst")
    assert value(told, "set") == 0.0
    assert value(told, "test-low") < value(told, "load-cold") < value(told, "test-high")
    assert "spring-load" not in topics(told)
    assert told.curve[0] == (0.0, 0.0, 0.0)
    # the hot curve starts where the set has been taken up
    assert told.curve[1][2] == 0.0


def test_a_rim_pressed_past_flat_is_stopped() -> None:
    told = sprung(rim_dish_mm=0.5)
    assert topics(told) == {"rim-flat"}
    assert told.findings[0].level == "stop"
    assert "dish the rim deeper" in told.findings[0].remedy


def test_a_deep_rim_falls_and_sets() -> None:
    told = sprung(rim_dish_mm=1.2, preload_deflection_mm=0.6)
    assert {"rim-snaps", "spring-set", "spring-stress"} <= topics(told)
    assert 0.0 < value(told, "set") < 0.05
    shallow = sprung(rim_dish_mm=0.3, preload_deflection_mm=0.2, preload_deflection_tolerance_mm=0.05)
    assert not {"rim-snaps", "spring-set"} & topics(shallow)


def test_load_at_the_worst_corner_is_below_every_corner_of_the_rim() -> None:
    told = sprung(rim_dish_mm=0.6, preload_deflection_mm=0.35, preload_deflection_tolerance_mm=0.1)
    worst = value(told, "load-hot-worst")
    for d in (0.25, 0.35, 0.45):
        for t in (0.38, 0.40, 0.42):
            one = sprung(
                rim_dish_mm=0.6, preload_deflection_mm=d, preload_deflection_tolerance_mm=0.0, thickness_mm=t,
                thickness_tolerance_mm=0.0,
            )  # fmt: skip
            assert value(one, "load-hot") > worst - 0.1


def test_fingers_bent_past_yield_take_a_set() -> None:
    """Clamped hard by wide legs behind the fingers, pressed deep: a set, then a hinge that is stopped."""
    mild = sprung(leg_width_mm=16.0, legs_theta_local_deg=(0.0, 90.0, 180.0, 270.0), preload_deflection_mm=0.55)
    assert value(mild, "set") == 0.0
    deep = sprung(leg_width_mm=16.0, legs_theta_local_deg=(0.0, 90.0, 180.0, 270.0), preload_deflection_mm=1.4)
    assert value(deep, "set") > 0.0
    assert "spring-set" in topics(deep)
    hinge = sprung(leg_width_mm=16.0, legs_theta_local_deg=(0.0, 90.0, 180.0, 270.0), preload_deflection_mm=4.0)
    assert "spring-hinge" in topics(hinge)


def test_wear_allowance() -> None:
    assert "wear-short" in topics(sprung(wear_allowance_mm=0.1))
    stiff = sprung(wear_allowance_mm=0.05, thickness_mm=0.8)
    assert "wear-short" not in topics(stiff)
    assert value(stiff, "wear-margin") > 0.05


def test_every_alternative_holds_at_its_worst_corner() -> None:
    liner = demo_liner()
    job = hot_job(liner)
    found = spring_alternatives(job)
    assert found
    for one in found:
        assert one.load_hot_worst_N >= 20.0
        assert one.load_hot_N > one.load_hot_worst_N
        assert one.stress_worst_MPa <= 0.8 * 800.0
    assert any("legs behind the fingers" in " ".join(one.changes) for one in found)
    dished = found[-1]
    assert dished.changes[0].startswith("dished rim")
    # the same rim planned by itself
    height = float(dished.changes[0].split()[2])
    alone = sprung(rim_dish_mm=height, thickness_mm=dished.form.thickness_mm)
    assert value(alone, "load-hot-worst") == pytest.approx(dished.load_hot_worst_N, rel=0.01)
    assert value(alone, "stress-worst") == pytest.approx(dished.stress_worst_MPa, rel=0.01)
