"""Layered bending against closed forms; equilibrium, work, volume, order of convergence in layers and in steps."""

import math

import numpy as np
import pytest

from hoopwright.kernels import layers_closed as closed
from hoopwright.kernels.flow import swift, voce
from hoopwright.kernels.layers import bent, flat_strip, moved, released
from hoopwright.kernels.metal import HOOP, PLASTIC, SECTION, Metal

FLOW = swift(1400.0, 0.012, 0.35)
E, NU = 205_000.0, 0.3
METAL = Metal(FLOW, E, NU)


def test_perfectly_plastic_uniaxial_bend_is_the_cubic() -> None:
    """k_free/k = 1 - 3 x + 4 x^3; 801 layers leave 1e-5, ln(1 + y k) for y k another (t/2R)^2."""
    metal = Metal(voce(300.0, 0.0, 1.0), 200_000.0, 0.3)
    for radius in (60.0, 120.0, 250.0):
        free = released(bent(flat_strip(1.0, 801), metal, radius, across="free"), metal, across="free")
        ratio = closed.springback_ratio(radius, 1.0, 200_000.0, 300.0)
        assert free.curvature_per_mm * radius == pytest.approx(ratio, abs=1e-4)


def test_moment_of_a_swift_sheet_is_the_integral_of_its_curve() -> None:
    """Uniaxial, N = 0: integrate the curve over the thickness by adaptive-order quadrature, outside the kernel."""
    radius, t = 91.0, 1.2
    nodes, weights = np.polynomial.legendre.leggauss(40)

    def stress(strain: float) -> float:
        size, p = abs(strain), 0.0
        if E * size > FLOW.stress(0.0):
            for _ in range(100):
                p += (E * (size - p) - FLOW.stress(p)) / (E + FLOW.slope(p))
        return math.copysign(E * (size - p), strain)

    core = FLOW.stress(0.0) / E * radius
    moment = 0.0
    for low, high in ((-t / 2, -core), (-core, core), (core, t / 2)):
        for x, w in zip(nodes, weights, strict=True):
            y = 0.5 * (low + high) + 0.5 * (high - low) * x
            moment += 0.5 * (high - low) * w * y * stress(y / radius)
    strip = bent(flat_strip(t, 1601), METAL, radius, across="free")
    # the kernel's ln(1 + y k) and lever y/(1 + y k) differ from y k and y by (y k)^2 = 4e-5
    assert strip.moment_N == pytest.approx(moment, rel=1e-4)


def test_layers_converge_at_second_order() -> None:
    """Kinks at first yield move between layers and single ratios scatter: root mean squares of batches are judged."""
    exact = bent(flat_strip(1.2, 10001), METAL, 30.0, across="free", steps=1).moment_N

    def batch(counts: range) -> float:
        runs = [bent(flat_strip(1.2, n), METAL, 30.0, across="free", steps=1).moment_N / exact - 1 for n in counts]
        assert all(abs(miss) < 0.8 / n**2 for miss, n in zip(runs, counts, strict=True))
        return float(np.sqrt(np.mean(np.square(runs))))

    order = math.log(batch(range(17, 33)) / batch(range(68, 132, 4))) / math.log(4)
    assert 1.7 < order < 2.3


def test_a_free_bend_needs_no_steps_and_a_wide_one_is_first_order_in_them() -> None:
    one = bent(flat_strip(1.2), METAL, 91.0, across="free", steps=1)
    many = bent(flat_strip(1.2), METAL, 91.0, across="free", steps=100)
    assert one.moment_N == pytest.approx(many.moment_N, rel=1e-11)
    wide = [bent(flat_strip(1.2), METAL, 91.0, steps=n).moment_N for n in (20, 40, 80, 160)]
    steps = np.diff(wide)
    assert np.all(steps[:-1] / steps[1:] > 1.6)
    assert abs(wide[1] - wide[-1]) / wide[-1] < 1e-4


@pytest.mark.parametrize("across", ["free", "uniform", "held"])
def test_equilibrium_and_width_balance(across: str) -> None:
    strip = moved(flat_strip(1.2), METAL, tension_N_per_mm=100.0, curvature_per_mm=1 / 60.0, across=across)
    stress, weights = strip.points[:, HOOP], strip.weights()
    assert stress @ weights == pytest.approx(100.0, abs=1e-8)
    y = strip.offsets()
    assert stress @ (weights * y / (1 + y / 60.0)) == pytest.approx(strip.moment_N, rel=1e-12)
    if across == "uniform":
        assert strip.points[:, SECTION] @ weights == pytest.approx(0.0, abs=1e-7)


def energy(strip: object) -> float:
    """Elastic energy and dissipated work in all layers, per mm2 of mid-surface (isotropic Swift metal)."""
    h, s, p = (strip.points[:, k] for k in (HOOP, SECTION, PLASTIC))  # type: ignore[attr-defined]
    elastic = (h * h + s * s - 2 * NU * h * s) / (2 * E)
    plastic = 1400.0 / 1.35 * ((0.012 + p) ** 1.35 - 0.012**1.35)
    return float((elastic + plastic) @ strip.weights())  # type: ignore[attr-defined]


def test_work_balances_over_bend_release_and_stretch() -> None:
    """External work = elastic + plastic: free across to 1e-5 (trapezoids), wide with an error that falls with steps."""

    def gap(across: str, steps: int) -> float:
        first = bent(flat_strip(1.2), METAL, 60.0, across=across, steps=steps)
        second = released(first, METAL, across=across, steps=steps)
        third = moved(second, METAL, stretch_log=0.02, curvature_per_mm=1 / 140.0, across=across, steps=steps)
        work = first.work_N_per_mm + second.work_N_per_mm + third.work_N_per_mm
        return (work - energy(third)) / energy(third)

    assert abs(gap("free", 400)) < 1e-5
    coarse, fine = gap("uniform", 50), gap("uniform", 200)
    assert abs(fine) < 5e-4
    assert abs(coarse) > 2.5 * abs(fine)


def test_plastic_volume_is_kept() -> None:
    """Sum of log strains = (1 - 2 nu)/E times the sum of stresses, layer by layer."""
    strip = moved(flat_strip(1.2), METAL, stretch_log=0.03, curvature_per_mm=1 / 50.0)
    hoop = 0.03 + np.log(1 + strip.offsets() / 50.0)
    volume = hoop + strip.width_strain_log + strip.thins_log
    stress = strip.points[:, HOOP] + strip.points[:, SECTION]
    assert volume == pytest.approx((1 - 2 * NU) / E * stress, abs=1e-12)


def test_rigid_plane_strain_bend_meets_the_two_over_root_three_integral() -> None:
    """R/t = 5, elastic part made small by a modulus of 100 E: moment is the integral of the 2/sqrt3 curve."""
    radius, t, root = 5.0, 1.0, 2 / math.sqrt(3)
    y = (np.arange(20000) + 0.5) / 20000 * t / 2
    outer = root * 1400.0 * (0.012 + root * np.log1p(y / radius)) ** 0.35
    inner = root * 1400.0 * (0.012 - root * np.log1p(-y / radius)) ** 0.35
    rigid = float(outer @ (y / (1 + y / radius)) + inner @ (y / (1 - y / radius))) * t / 2 / 20000
    stiff = Metal(FLOW, 100 * E, NU)
    strip = moved(flat_strip(t, 801), stiff, stretch_log=0.0, curvature_per_mm=1 / radius, across="held", steps=200)
    # a hundredth of the 1.5 % that the true modulus takes off
    assert strip.moment_N == pytest.approx(rigid, rel=3e-4)
