"""Image series against its limits and itself; moving-frame scheme against the series, its power and its steps."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.kernels.heat_limits import line_source_chord, line_source_width, point_source_width
from hoopwright.kernels.heat_metal import HeatMetal, heat_metal
from hoopwright.kernels.heat_moving_frame import Beam, steady_field
from hoopwright.kernels.heat_series import depth, depth_factor, rise, width
from hoopwright.plan.seam.heat_card import heat_card


@pytest.fixture(scope="module")
def metal() -> HeatMetal:
    return heat_card(alloy("N06625")).metal


def test_small_beam_and_full_column_is_the_line_source(metal: HeatMetal) -> None:
    m = metal.melt()
    load = 380.0 / (m.heat * 0.8)
    found = width(m.rise, 0.4, load, 40.0, m.diffusivity, 0.8, 1e-3, 0.0, 0.8)
    assert found == pytest.approx(line_source_width(380.0, 40.0, 0.8, m), rel=1e-6)


def test_thick_plate_and_face_heat_is_the_point_source(metal: HeatMetal) -> None:
    m = metal.melt()
    found = width(m.rise, 0.0, 380.0 / (m.heat * 20.0), 40.0, m.diffusivity, 20.0, 1e-3, 1.0, 20.0)
    assert found == pytest.approx(point_source_width(380.0, 40.0, m), rel=1e-5)


@pytest.mark.parametrize("z", [0.0, 0.3, 0.8])
@pytest.mark.parametrize("d", [0.2, 0.8])
def test_images_and_series_meet_where_one_hands_over(z: float, d: float) -> None:
    a, t = 3.6, 0.8
    tau = 0.08 * t * t / (math.pi**2 * a)
    below, above = (depth_factor(tau * (1.0 + s), z, a, t, 0.3, d) for s in (-1e-9, 1e-9))
    assert below == pytest.approx(above, rel=1e-7)


def test_depth_factor_has_mean_one() -> None:
    z = np.linspace(0.0, 0.8, 4001)
    for tau in (1e-4, 1e-3, 1e-2):
        values = np.array([depth_factor(tau, float(v), 3.6, 0.8, 0.4, 0.5) for v in z])
        assert float(((values[1:] + values[:-1]) / 2.0).mean()) == pytest.approx(1.0, abs=1e-6)


def test_rise_is_proportional_to_power_and_falls_with_distance() -> None:
    one = rise(0.5, 0.2, 0.0, 100.0, 40.0, 3.6, 0.8, 0.15, 0.3, 0.8)
    assert rise(0.5, 0.2, 0.0, 250.0, 40.0, 3.6, 0.8, 0.15, 0.3, 0.8) == pytest.approx(2.5 * one, rel=1e-12)
    assert rise(0.5, 0.4, 0.0, 100.0, 40.0, 3.6, 0.8, 0.15, 0.3, 0.8) < one


def test_far_behind_the_heat_of_the_metal_is_the_power(metal: HeatMetal) -> None:
    """Across the sheet behind the beam, v rho c int(T - T0) dA is the power, less what is conducted along."""
    y = np.linspace(-14.0, 14.0, 561)
    v, a, x = 40.0, 3.6, 20.0
    line = np.array([rise(x, float(s), 0.0, 1.0, v, a, 0.8, 0.15, 0.3, 0.8) for s in y])
    ahead = np.array([rise(x + 0.01, float(s), 0.0, 1.0, v, a, 0.8, 0.15, 0.3, 0.8) for s in y])
    step = y[1] - y[0]
    carried = v * line.sum() * step - a * (ahead - line).sum() / 0.01 * step
    assert carried == pytest.approx(1.0, abs=2e-4)


def test_depth_stops_at_the_sheet_and_grows_with_power(metal: HeatMetal) -> None:
    m = metal.melt()
    deep = [depth(m.rise, p / (m.heat * 0.8), 40.0, m.diffusivity, 0.8, 0.15, 0.6, 0.5) for p in (60, 120, 200, 600)]
    assert deep == sorted(deep) and deep[-1] == 0.8


def test_chord_runs_over_from_the_slow_limit() -> None:
    # the slow limit is exact to 2e-4 of Y at X 0.9
    assert line_source_chord(0.8999) == pytest.approx(line_source_chord(0.9001), rel=2e-3)


def constant(conductivity: float = 20.0, heat: float = 600.0) -> HeatMetal:
    """A metal of constant properties whose latent heat is next to nothing."""
    flat = (np.array([20.0, 1000.0]), np.array([1.0, 1.0]))
    return heat_metal(
        (flat[0], conductivity * flat[1]), (flat[0], heat * flat[1]), 8400.0, 1290.0, 1291.0, 1e-6, heat, conductivity
    )


def test_scheme_at_constant_properties_is_the_series_and_closes_its_power() -> None:
    m = constant()
    field = steady_field(m, Beam(220.0, 40.0, 0.15, 0.3, 0.8), 0.8, 0.1)
    assert field.closure == pytest.approx(1.0, abs=5e-3)
    s = m.secant(900.0)
    for level, z in (("face", 0.0), ("root", 0.8)):
        mine = width(s.rise, z, 220.0 / (s.heat * 0.8), 40.0, s.diffusivity, 0.8, 0.15, 0.3, 0.8)
        # cells of 0.1 mm under a beam of 0.15 mm radius: 1 % on the face, 1.5 % at the root
        assert field.width(900.0, level) == pytest.approx(mine, rel=0.015)


def test_scheme_closes_its_power_with_real_properties_at_low_speed(metal: HeatMetal) -> None:
    """The outlet's conduction is counted; 0.5 % is asked for."""
    field = steady_field(metal, Beam(150.0, 20.0, 0.15, 0.3, 0.5), 0.5, 0.12)
    assert field.conducted > 5e-4
    assert field.closure == pytest.approx(1.0, abs=5e-3)


@pytest.mark.soak
def test_scheme_converges(metal: HeatMetal) -> None:
    """Widths at steps of 0.1, 0.067 and 0.05 mm; the finest two differ by less than the coarse ones do from the end."""
    found = [steady_field(metal, Beam(380.0, 40.0, 0.15, 0.3, 0.8), 0.8, h) for h in (0.1, 0.0667, 0.05)]
    root = [f.width(metal.melt_edge, "root") for f in found]
    hot = [f.width(900.0, "face") for f in found]
    assert abs(root[1] - root[2]) < 0.5 * abs(root[0] - root[2])
    assert hot == pytest.approx([1.472] * 3, abs=0.002)
    assert all(f.closure == pytest.approx(1.0, abs=5e-3) for f in found)
