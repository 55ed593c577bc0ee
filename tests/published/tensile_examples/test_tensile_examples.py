"""Worked examples of two textbooks (see SOURCE.md)."""

from __future__ import annotations

import math

import pytest

from hoopwright.cards.card import CardFlow
from hoopwright.cards.coupons.ratios import r_from_lengths
from hoopwright.cards.curves import flow_curve
from hoopwright.cards.fit import solve_law
from hoopwright.findings import Source
from hoopwright.kernels.flow import instability_strain, tensile_strength

PSI = 0.006894757  # MPa
GROUND = Source("read", "SOURCE.md")


def test_plastic_strain_ratio() -> None:
    """Length +30 %, width -16 %: printed 1.98."""
    assert r_from_lengths(1.0, 1.30, 1.0, 0.84) == pytest.approx(1.98, abs=0.005)


def test_strength_of_a_power_law() -> None:
    """200 000 psi and 0.33: printed 99 700 psi, recomputed 99 730."""
    power = CardFlow("ludwik", {"s0_MPa": 0.0, "K_MPa": 200_000.0 * PSI, "n": 0.33}, (), 0.5, GROUND)
    assert tensile_strength(flow_curve(power)) / PSI == pytest.approx(99_730.0, abs=5.0)
    assert instability_strain(flow_curve(power)) == pytest.approx(0.33, abs=1e-9)


def test_a_pre_strained_strip_necks_at_n_less_its_pre_strain() -> None:
    """n 0.245, pre-strain 0.025: 0.220; and the solver brings the law back from the three figures of its test."""
    curve = flow_curve(CardFlow("swift", {"K_MPa": 750.0, "e0_log": 0.025, "n": 0.245}, (), 0.5, GROUND))
    assert instability_strain(curve) == pytest.approx(0.220, abs=1e-9)
    back = solve_law("swift", curve.stress(0.002) * math.exp(-0.002), tensile_strength(curve), 0.220).constants
    assert back == pytest.approx({"K_MPa": 750.0, "e0_log": 0.025, "n": 0.245}, rel=1e-6)
