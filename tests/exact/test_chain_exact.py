"""Chain kernels against closed forms; equilibrium, volume, work, order of convergence in layers."""

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.kernels import sizing
from hoopwright.kernels.chain import (
    ContourHoop,
    StripRoute,
    contour_hoop,
    prior_strain_map,
    ring_stretched,
    ring_tool,
    strip_ring,
    strip_ring_for,
)
from hoopwright.kernels.flow import swift
from hoopwright.kernels.layers import flat_strip, moved, released
from hoopwright.kernels.metal import HOOP, PLASTIC, Metal

E, NU = 205_000.0, 0.3
METAL = Metal(swift(1400.0, 0.012, 0.35), E, NU)


def one_fibre(radius: float = 137.0, prior: float = 0.0) -> ContourHoop:
    return contour_hoop(np.array([radius]), np.ones(1), np.array([10.0]), 1.2, 1, prior)


@pytest.mark.parametrize("stretch", [0.0005, 0.004, 0.02, 0.06])
@pytest.mark.parametrize("prior", [0.0, 0.03])
def test_one_fibre_is_the_closed_form(stretch: float, prior: float) -> None:
    loaded = 137.0 * math.exp(stretch)
    stress = sizing.hoop_stress(METAL, stretch, prior)
    plastic = stretch - stress / E
    thickness = 1.2 * math.exp(-0.5 * plastic - NU * stress / E)
    sized = ring_stretched(one_fibre(prior=prior), np.array([loaded - 0.5 * thickness]), METAL)
    assert sized.loaded.radius_mm[0] == pytest.approx(loaded, abs=1e-9)
    assert sized.released.radius_mm[0] == pytest.approx(loaded * math.exp(-stress / E), abs=3e-9)
    assert sized.hoop_tension_N == pytest.approx(stress * 12.0 * math.exp(-stretch), rel=1e-8)


def test_volume_is_kept_but_for_the_elastic_part() -> None:
    sized = ring_stretched(one_fibre(), np.array([139.5]), METAL)
    before, after = sized.incoming, sized.loaded
    ratio = (after.radius_mm * after.width_mm * after.thickness_mm) / (
        before.radius_mm * before.width_mm * before.thickness_mm
    )
    stress = after.points[0, 0, HOOP]
    assert math.log(ratio[0]) == pytest.approx((1 - 2 * NU) * stress / E, rel=1e-6)
    back = sized.released
    size = back.radius_mm * back.width_mm * back.thickness_mm
    assert size[0] == pytest.approx((before.radius_mm * before.width_mm * before.thickness_mm)[0], rel=1e-9)


def hat() -> ContourHoop:
    heights = np.array([0.0, 0.0, 1.0, 2.0, 2.0, 2.0])
    prior = prior_strain_map(np.array([0, 0.3, -0.3, 0, 0.3, 0]), 0.8, METAL.yield_strain, 0.005, 9)
    return contour_hoop(120.0 + heights, np.array([1, 0.9, 0.7, 0.9, 1, 1]), np.full(6, 4.0), 0.8, 9, prior)


def test_no_tension_is_left_whichever_way_it_is_summed() -> None:
    sized = ring_stretched(hat(), hat().radius_mm + 2.0, METAL)
    r = sized.loaded
    rho = r.radius_mm[:, None] + np.outer(r.normal_radial * r.thickness_mm, r.layers.place)
    area = np.outer(r.width_mm * r.thickness_mm, r.layers.share) * rho / (rho - sized.springback_mm)
    assert (sized.released.points[:, :, HOOP] * area).sum() == pytest.approx(0.0, abs=1e-6 * sized.hoop_tension_N)
    assert abs(sized.left_over_N) < 1e-8 * sized.hoop_tension_N


def test_section_formula_is_the_first_order_of_the_release() -> None:
    sized = ring_stretched(hat(), hat().radius_mm + 2.0, METAL)
    r = sized.loaded
    rho = r.radius_mm[:, None] + np.outer(r.normal_radial * r.thickness_mm, r.layers.place)
    area = np.outer(r.width_mm * r.thickness_mm, r.layers.share)
    first = sizing.section_springback(r.points[:, :, HOOP].ravel(), area.ravel(), rho.ravel(), E)
    # second order: half of stress/E, and the elastic growth of the area
    assert sized.springback_mm == pytest.approx(first, rel=0.003)


def test_work_of_the_tool_is_elastic_plus_dissipated() -> None:
    """2 pi times the tension over the way outward, in 400 hits without release, against the energy of all layers."""
    hoop, work, last = hat(), 0.0, 0.0
    for step in range(400):
        before = hoop
        target = hat().radius_mm - 0.5 * 0.8 * hat().normal_radial + 2.4 * (step + 1) / 400
        sized = ring_stretched(hoop, target, METAL)
        hoop = sized.loaded
        # mean way of the section: each fibre does its own work, so the tension is shared by station
        way = hoop.radius_mm - before.radius_mm
        pull = hoop.mean_stress_MPa * hoop.width_mm * hoop.thickness_mm
        was = before.mean_stress_MPa * before.width_mm * before.thickness_mm
        work += math.pi * float((pull + was) @ way)
        last = sized.hoop_tension_N
    start = hat()
    rho = start.radius_mm[:, None] + np.outer(start.normal_radial * start.thickness_mm, start.layers.place)
    volume = 2 * math.pi * rho * np.outer(start.width_mm * start.thickness_mm, start.layers.share)
    stress, p0, p1 = hoop.points[:, :, HOOP], start.points[:, :, PLASTIC], hoop.points[:, :, PLASTIC]
    energy = stress**2 / (2 * E) + 1400.0 / 1.35 * ((0.012 + p1) ** 1.35 - (0.012 + p0) ** 1.35)
    assert last > 5000.0
    # true area against volume-true stress: the elastic growth of volume, 0.1 %
    assert work == pytest.approx(float((energy * volume).sum()), rel=1.5e-3)


def test_scatter_of_the_incoming_ring_is_cut_to_the_tangent_ratio() -> None:
    """d R_rel / d R_in = (Et/E)(R_rel/R_in) at a fixed loaded radius: the closed form of the residual ratio."""
    loaded = 137.0 * math.exp(0.02)

    def off(radius: float) -> float:
        stress = sizing.hoop_stress(METAL, math.log(loaded / radius))
        thickness = 1.2 * math.exp(-0.5 * (math.log(loaded / radius) - stress / E) - NU * stress / E)
        return float(ring_stretched(one_fibre(radius), np.array([loaded - thickness / 2]), METAL).released.radius_mm[0])

    slope = (off(137.05) - off(136.95)) / 0.1
    assert slope == pytest.approx(sizing.hoop_tangent(METAL, 0.02) / E * off(137.0) / 137.0, rel=1e-4)


def test_a_locally_sharper_bend_is_cut_to_the_residual_ratio() -> None:
    """Stretch a strip that starts too sharply curved onto the tool and let it off: Et/E of the excess stays."""

    def after(excess: float) -> float:
        start = replace(flat_strip(1.2, 41), curvature_per_mm=1 / 137.0 + excess)
        on = moved(start, METAL, stretch_log=0.02, curvature_per_mm=1 / 139.77, across="free", steps=50)
        return released(on, METAL, across="free").curvature_per_mm

    kept = (after(5e-5) - after(0.0)) / 5e-5
    ratio = sizing.residual_ratio(METAL, 0.02) * math.exp(-2 * 0.02)  # the exponent is the growth of the radius
    assert kept == pytest.approx(ratio, rel=0.03)


def test_layers_converge_at_second_order() -> None:
    """Springback with a prior map that has a kink in the sheet; batches of counts, since single ratios scatter."""

    def springback(count: int) -> float:
        prior = prior_strain_map(np.array([0.25]), 0.8, METAL.yield_strain, 0.0, count)
        hoop = contour_hoop(np.array([120.0]), np.ones(1), np.ones(1), 0.8, count, prior)
        return ring_tool(hoop, np.array([122.0]), METAL).springback_mm

    exact = springback(8001)

    def batch(counts: range) -> float:
        misses = [springback(n) - exact for n in counts]
        assert all(abs(miss) < 0.15 / n**2 for miss, n in zip(misses, counts, strict=True))
        return float(np.sqrt(np.mean(np.square(misses))))

    assert math.log(batch(range(7, 15)) / batch(range(28, 60, 4))) / math.log(4) > 1.7
    # 21 layers, the usual count, leave 0.0001 mm in a corner of R = 5 t
    assert abs(springback(21) - exact) < 2e-4


def test_strip_chain_converges_in_steps() -> None:
    """Released diameter of the worked ring: first order in the steps, 0.0001 mm from 20 on."""
    base = StripRoute(1.2, 91.0, 0.25, layers=21)
    design = strip_ring_for(base, METAL, 280.0, stretch_log=0.02)
    runs = [
        strip_ring(replace(base, steps=n), METAL, design.cut_length_mm, design.tool_radius_mm).released_diameter_mm
        for n in (10, 20, 40, 80, 160)
    ]
    gaps = np.abs(np.diff(runs))
    assert np.all(gaps[1:] < gaps[:-1])
    assert abs(runs[1] - runs[-1]) < 1e-4


def test_released_hoop_is_in_balance_and_its_moment_locked_in() -> None:
    ring = strip_ring_for(StripRoute(1.2, 91.0), METAL, 280.0, stretch_log=0.02)
    off = ring.off_tool
    assert off.tension_N_per_mm == pytest.approx(0.0, abs=1e-7)
    assert off.width_force_N_per_mm == pytest.approx(0.0, abs=1e-7)
    assert off.points[:, HOOP] @ off.weights() == pytest.approx(0.0, abs=1e-7)
    # the stretch leaves a hundredth of the moment that held the strip closed
    assert 0.0 < abs(off.moment_N) < 0.1 * ring.closing_moment_N
