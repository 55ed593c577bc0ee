"""Story 8, a port lip that splits: by its stated hand rules, by those made to agree, and by the section kernel."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.cards.shop import house_limits
from hoopwright.correct.port_lips import lip_statement
from hoopwright.design.demo import demo_liner, demo_text
from hoopwright.design.readings import PortLips, read_readings
from hoopwright.plan.plate import lip_offers
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.plan.plate.port_shape import PortShape, port_shape

LIMITS = house_limits("demo-house")


@pytest.fixture(scope="module")
def shape() -> PortShape:
    plate = demo_liner().end_plate
    assert plate is not None and plate.port is not None
    return port_shape(plate.port.section, plate.thickness_mm, plate.id)


@pytest.fixture(scope="module")
def lips() -> PortLips:
    return read_readings(demo_text("readings.toml"), "readings.toml").port_lips[0]


def test_hole_by_constant_length(shape: PortShape) -> None:
    rule = lip_offers.by_length(shape)
    assert 2.0 * rule.hole_radius == pytest.approx(17.717, abs=5e-4)
    assert rule.expansion_pct == pytest.approx(24.2, abs=0.05)
    assert rule.strain_log == pytest.approx(0.2165, abs=5e-5)
    assert rule.edge_thickness == pytest.approx(0.897, abs=5e-4)


def test_the_two_hand_rules_made_to_agree(shape: PortShape) -> None:
    """Constant length and plain-pull thinning contradict each other; with volume kept the hole is smaller."""
    rule = lip_offers.by_volume(shape)
    assert 2.0 * rule.hole_radius == pytest.approx(17.45, abs=5e-3)
    assert rule.strain_log == pytest.approx(0.232, abs=5e-4)


def test_the_kernel_stands_with_the_second(shape: PortShape, plate_plan: PlatePlan) -> None:
    """The drawn lip from repeated press runs: hole 17.35, edge 0.232 and 0.894 thick (the story measured 0.894)."""
    rule = lip_offers.by_volume(shape)
    kernel = plate_plan.figure("port/pre-hole-dia").value
    assert kernel == pytest.approx(2.0 * rule.hole_radius, abs=0.15)
    assert kernel < 2.0 * lip_offers.by_length(shape).hole_radius - 0.2
    assert plate_plan.figure("port/lip-edge-strain").value == pytest.approx(rule.strain_log, abs=0.003)
    assert plate_plan.figure("port/lip-edge-thickness").value == pytest.approx(0.894, abs=0.003)
    shown = [plate_plan.figure(f"port/pre-hole-{w}-dia").value for w in ("by-length", "by-volume")]
    assert shown == pytest.approx([17.717, 17.447], abs=5e-4)


def test_edge_allowance(shape: PortShape) -> None:
    strain = lip_offers.by_length(shape).strain_log
    assert strain > LIMITS.edge_strain_laser_as_cut_log.value == 0.18
    assert 100.0 * strain / LIMITS.edge_strain_deburred_reamed_log.value == pytest.approx(72.0, abs=0.5)


def test_measured_lips(lips: PortLips, shape: PortShape) -> None:
    strain = lip_offers.by_length(shape).strain_log
    said = lip_statement(lips, LIMITS.edge_strain_laser_as_cut_log, strain, LIMITS.edge_strain_deburred_reamed_log)
    assert said.mean_mm == pytest.approx(0.894, abs=5e-4)
    assert said.split_thinner_mm == pytest.approx(0.027, abs=5e-4)
    assert said.leading == 3, "three-fold, not the two-fold of a rolling direction"
    assert said.orders_mm[2] > 2.0 * said.orders_mm[1]
    split, order = said.findings
    assert split.level == "stop" and "2, 5, 8" in split.sentence and "72 % used" in split.remedy
    assert split.remedy.startswith("ream and deburr") and "no change of the press tool" in split.remedy
    assert "three supports of the holder" in order.remedy


def test_offer_b_a_larger_hole(shape: PortShape) -> None:
    hole, straight = lip_offers.shorter_lip(shape, 0.18)
    assert 2.0 * hole == pytest.approx(18.376, abs=5e-4)
    assert straight == pytest.approx(0.670, abs=5e-4)


@pytest.mark.parametrize("order", [1, 2, 3, 4])
def test_orders_are_told_apart(order: int, lips: PortLips) -> None:
    from dataclasses import replace

    theta = 2.0 * math.pi * np.arange(9) / 9
    made = replace(lips, lip_edge_thickness_mm=tuple(0.9 + 0.02 * np.cos(order * theta)), split_ports=(1,))
    said = lip_statement(made, LIMITS.edge_strain_laser_as_cut_log, 0.1, LIMITS.edge_strain_deburred_reamed_log)
    assert said.leading == order and said.orders_mm[order - 1] == pytest.approx(0.02)
    assert [f.topic for f in said.findings] == ["lips-order"]
