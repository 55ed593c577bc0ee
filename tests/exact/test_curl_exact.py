"""Curl of a contoured strip against closed forms; balance, work, order of convergence in layers."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from hoopwright.kernels.curl import contour_strip, curled, let_go
from hoopwright.kernels.flow import swift, voce
from hoopwright.kernels.layers import bent, flat_strip, released
from hoopwright.kernels.metal import HOOP, PLASTIC, Metal
from hoopwright.kernels.sizing import hoop_stress

E = 205_000.0
METAL = Metal(swift(1400.0, 0.012, 0.35), E, 0.3)


def test_two_far_flanges() -> None:
    """Areas A at heights +-h, solved by hand: force balance gives b; then M, and stress/(E B) each springs back."""
    h, radius, area = 2.0, 100.0, 0.1
    k = 1 / radius

    def stresses(b: float) -> tuple[float, float]:
        return hoop_stress(METAL, math.log(b - k * h)), hoop_stress(METAL, math.log(b + k * h))

    def force(b: float) -> float:
        low, high = stresses(b)
        return area * (low / (b - k * h) + high / (b + k * h))

    b = brentq(force, 0.99, 1.01, xtol=1e-15)
    low, high = stresses(b)
    loaded = curled(contour_strip(np.array([-h, h]), np.ones(2), np.full(2, 10.0), 0.01, 1), METAL, radius)
    assert loaded.stretch == pytest.approx(b, abs=1e-12)
    moment = area * h * (high / (b + k * h) - low / (b - k * h))
    assert loaded.moment_Nmm == pytest.approx(moment, rel=1e-10)
    free = let_go(loaded, METAL)
    # two fibres carry no residual stress: each goes back by its own elastic strain
    ends = (b - k * h) * math.exp(-low / E), (b + k * h) * math.exp(-high / E)
    assert free.stretch == pytest.approx(0.5 * (ends[0] + ends[1]), abs=1e-11)
    assert free.curl_per_mm == pytest.approx((ends[1] - ends[0]) / (2 * h), rel=1e-9)


def test_little_hardening_is_no_hindrance() -> None:
    soft = Metal(voce(300.0, 30.0, 5.0), E, 0.3)
    loaded = curled(hat(), soft, 90.0)  # type: ignore[arg-type]
    assert 0.0 < loaded.moment_Nmm < curled(hat(), METAL, 90.0).moment_Nmm  # type: ignore[arg-type]
    assert loaded.neutral_radius_mm == pytest.approx(90.0)


def test_a_section_without_contour_is_the_strip_of_free_layers() -> None:
    strip = contour_strip(np.zeros(3), np.ones(3), np.full(3, 10.0), 1.2, 41)
    loaded = curled(strip, METAL, 91.0)
    free = let_go(loaded, METAL)
    plain = bent(flat_strip(1.2, 41), METAL, 91.0, across="free")
    # areas after thinning here, before there: (t/R)^2 in the moment
    assert loaded.moment_Nmm / 30.0 == pytest.approx(plain.moment_N, rel=3e-4)
    assert free.axis_radius_mm == pytest.approx(released(plain, METAL, across="free").radius_mm, rel=3e-4)


def hat(layers: int = 8) -> object:
    heights = np.concatenate([np.zeros(8), np.linspace(0.2, 1.8, 5), np.full(10, 2.0), np.full(12, -0.4)])
    slope = np.concatenate([np.ones(8), np.full(5, 0.9), np.ones(22)])
    return contour_strip(heights, slope, np.ones(35), 0.8, layers)


def test_force_and_moment_vanish_after_release() -> None:
    free = let_go(curled(hat(), METAL, 90.0), METAL)  # type: ignore[arg-type]
    area = np.outer(free.flat_area_mm2, free.layers.share) / np.exp(free.fibre_strain_log)
    pull = free.points[:, :, HOOP] * area
    assert pull.sum() == pytest.approx(0.0, abs=1e-5)
    assert (pull * free.fibre_height_mm).sum() == pytest.approx(0.0, abs=1e-4)


def test_work_of_the_moment_is_elastic_plus_dissipated() -> None:
    """M dk over 300 parts of the curl; N = 0 does no work."""
    strip = hat()
    work, moment, curl = 0.0, 0.0, 0.0
    for k in np.linspace(0.0, 1 / 90.0, 301)[1:]:
        strip = curled(strip, METAL, 1 / k)  # type: ignore[arg-type]
        work += 0.5 * (moment + strip.moment_Nmm) * (k - curl)
        moment, curl = strip.moment_Nmm, k
    stress, p = strip.points[:, :, HOOP], strip.points[:, :, PLASTIC]  # type: ignore[attr-defined]
    energy = stress**2 / (2 * E) + 1400.0 / 1.35 * ((0.012 + p) ** 1.35 - 0.012**1.35)
    area = np.outer(strip.flat_area_mm2, strip.layers.share)  # type: ignore[attr-defined]
    assert work == pytest.approx(float((energy * area).sum()), rel=1e-4)


def test_one_step_and_many_agree() -> None:
    """Fibres are loaded one way, so the path in parts ends where one step does (the neutral fibre hardly moves)."""
    strip = hat()
    for radius in (400.0, 200.0, 120.0, 90.0):
        strip = curled(strip, METAL, radius)  # type: ignore[arg-type]
    assert strip.moment_Nmm == pytest.approx(curled(hat(), METAL, 90.0).moment_Nmm, rel=1e-3)  # type: ignore[arg-type]


def test_layers_converge_at_second_order() -> None:
    exact = curled(hat(641), METAL, 120.0).moment_Nmm  # type: ignore[arg-type]

    def batch(counts: range) -> float:
        runs = [curled(hat(n), METAL, 120.0).moment_Nmm / exact - 1 for n in counts]  # type: ignore[arg-type]
        return float(np.sqrt(np.mean(np.square(runs))))

    coarse, fine = batch(range(4, 12)), batch(range(16, 48, 4))
    assert 1.5 < math.log(coarse / fine) / math.log(4) < 2.6
    assert fine < 5e-4
