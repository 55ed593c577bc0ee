"""Kinks in hoops, zones in series, posteriors and powers against closed forms and draws."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.kernels.seam_angle import bridge_reading, estimate_kink, flats_angle, kink_harmonic, kink_peak
from hoopwright.kernels.seam_shrinkage import clamped_shrinkage, posterior
from hoopwright.kernels.seam_stats_life import claim_power
from hoopwright.kernels.seam_stats_ratio import compare, equivalence_power, mean_power
from hoopwright.kernels.seam_stats_tolerance import one_sided_factor
from hoopwright.kernels.softening import Swift, joint_proof, zone_from_proof


def test_harmonics_of_a_kink_sum_to_its_peak_and_bend_only_at_the_seam() -> None:
    phi, radius = math.radians(2.0), 125.0
    total = sum(kink_harmonic(n, phi, radius) for n in range(2, 20000))
    assert total == pytest.approx(kink_peak(phi, radius), rel=1e-4)
    # slope of the radial shape jumps by phi R at the seam: half of it on each side
    n = np.arange(2, 200_000)
    slope = -(n * phi * radius / (math.pi * (n**2 - 1.0)) * np.sin(n * 2e-3)).sum()
    assert slope == pytest.approx(-0.5 * phi * radius, rel=0.005)


def test_kink_is_found_beside_handling() -> None:
    theta = np.linspace(0.0, 2.0 * math.pi, 72, endpoint=False)
    phi, radius = 0.02, 124.0
    shape = sum(kink_harmonic(n, phi, radius) * np.cos(n * theta) for n in range(2, 9))
    trace = shape + 0.3 * np.sin(2 * theta) - 0.2 * np.cos(2 * theta) + 0.01
    found = estimate_kink(theta, trace, radius)
    assert found.angle == pytest.approx(phi, rel=1e-9)
    assert found.handling == pytest.approx((-0.2, 0.3), abs=1e-9)


def test_flats_close_what_the_weld_opens() -> None:
    assert flats_angle(5.0, 125.0) == -0.08
    assert bridge_reading(0.08, 20.0) == pytest.approx(0.4)


def test_zone_of_no_width_and_of_full_gauge() -> None:
    law = Swift(1227.0, 0.0264, 0.324)
    full = law.strength * (law.offset + 0.002) ** law.exponent
    assert joint_proof(50.0, 50.0, 0.15, law) == pytest.approx(full, rel=1e-9)
    parent = law.strength * (law.offset + 0.15 + 0.002) ** law.exponent
    assert joint_proof(0.0, 50.0, 0.15, law) == pytest.approx(parent, rel=1e-9)
    assert zone_from_proof(joint_proof(2.2, 50.0, 0.15, law), 50.0, 0.15, law) == pytest.approx(2.2, rel=1e-6)


def test_clamps_reduce_only_when_stiff_and_near() -> None:
    free = 0.05
    assert clamped_shrinkage(free, 376.0, 205e3, 2.0, 0.0) == pytest.approx(0.0073, abs=5e-5)
    assert clamped_shrinkage(free, 376.0, 205e3, 2.0, 2e-4) == free
    assert clamped_shrinkage(free, 376.0, 205e3, 30.0, 0.0) == free


def test_posterior_is_precision_weighted_and_order_free() -> None:
    found = posterior(0.12, 0.03, [0.15, 0.16, 0.12], [0.032] * 3)
    weights = np.array([0.03**-2] + [0.032**-2] * 3)
    assert found.mean == pytest.approx(float(weights @ [0.12, 0.15, 0.16, 0.12] / weights.sum()), rel=1e-12)
    assert posterior(0.12, 0.03, [0.12, 0.16, 0.15], [0.032] * 3).mean == pytest.approx(found.mean, rel=1e-12)
    assert posterior(0.12, 0.03, [], []).mean == pytest.approx(0.12, rel=1e-12)


def test_power_of_equivalence_by_drawing() -> None:
    """200 000 draws: standard error 0.0009, three of them allowed."""
    rng = np.random.default_rng(4)
    from scipy.stats import t

    logs = 0.02 * rng.normal(size=(200_000, 12))
    d = logs[:, :6].mean(axis=1) - logs[:, 6:].mean(axis=1) + math.log(0.98)
    s = np.sqrt((logs[:, :6].var(axis=1) + logs[:, 6:].var(axis=1)) * 6 / 10)
    q = float(t.ppf(0.95, 10)) * s * math.sqrt(1 / 3)
    drawn = float(((d - q >= math.log(0.95)) & (d + q <= -math.log(0.95))).mean())
    assert equivalence_power(6, 6, 0.02, 0.98) == pytest.approx(drawn, abs=0.0027)


def test_tolerance_factor_covers_as_often_as_it_says() -> None:
    rng = np.random.default_rng(5)
    draws = rng.normal(size=(100_000, 6))
    bound = draws.mean(axis=1) - one_sided_factor(6, 0.90) * draws.std(axis=1, ddof=1)
    # standard error 0.0007
    assert float((bound <= -1.2815515655).mean()) == pytest.approx(0.95, abs=0.002)


def test_powers_at_no_effect_are_the_level() -> None:
    assert mean_power(6, 6, 0.02, 0.95) == pytest.approx(0.05, abs=1e-9)
    assert claim_power(6, 0.1, 0.5) == pytest.approx(0.05, abs=1e-9)


def test_comparison_turns_round() -> None:
    a, b = [770.0, 766.0, 774.0, 768.0], [781.0, 776.0, 779.0]
    one, other = compare(a, b), compare(b, a)
    assert one.ratio * other.ratio == pytest.approx(1.0)
    assert one.lower * other.upper == pytest.approx(1.0)
