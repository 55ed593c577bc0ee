"""Strip to ring: forward, inverse, what each setting does, refusals."""

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.chain import StripRoute, contour_hoop, ring_stretched, strip_ring, strip_ring_at, strip_ring_for
from hoopwright.kernels.flow import swift
from hoopwright.kernels.metal import Metal

METAL = Metal(swift(1400.0, 0.012, 0.35), 205_000.0, 0.3)
ROUTE = StripRoute(1.2, 91.0, 0.25, layers=21, steps=20)


def test_inverse_then_forward_comes_back() -> None:
    for wanted in ({"stretch_log": 0.02}, {"cut_length_mm": 862.0}):
        ring = strip_ring_for(ROUTE, METAL, 280.0, **wanted)
        assert ring.released_diameter_mm == pytest.approx(280.0, abs=1e-7)
        made = strip_ring(ROUTE, METAL, ring.cut_length_mm, ring.tool_radius_mm)
        assert made.released_diameter_mm == pytest.approx(280.0, abs=1e-6)
        assert made.stretch_log == pytest.approx(ring.stretch_log, abs=1e-9)


def test_states_hang_together() -> None:
    ring = strip_ring_for(ROUTE, METAL, 280.0, stretch_log=0.015)
    assert ring.in_rolls is not None
    assert ring.in_rolls.radius_mm == pytest.approx(91.0)
    assert ring.natural_radius_mm > ring.closed_radius_mm > 91.0
    assert ring.closing_moment_N > 0.0
    assert ring.closed.radius_mm == pytest.approx(ring.closed_radius_mm)
    assert ring.on_tool.radius_mm == pytest.approx(ring.loaded_radius_mm)
    assert ring.off_tool.radius_mm == pytest.approx(ring.released_radius_mm)
    assert ring.springback_diameter_mm == pytest.approx(2 * ring.loaded_radius_mm - 280.0)
    assert ring.tension_N_per_mm == pytest.approx(ring.nominal_tension_N_per_mm / ring.on_tool.stretch)
    assert abs(ring.off_tool.tension_N_per_mm) < 1e-6
    length = ring.cut_length_mm * ring.closed.stretch - 0.25
    assert length == pytest.approx(2 * math.pi * ring.closed_radius_mm, abs=1e-9)


def test_without_a_bend_it_is_the_contoured_kernel_of_one_station() -> None:
    """Two kernels, one physics: uniaxial layers, no history."""
    route = StripRoute(1.2, None, layers=21, across="free", steps=1)
    ring = strip_ring_for(route, METAL, 280.0, stretch_log=0.02)
    assert (ring.natural_radius_mm, ring.bend_moment_N) == (math.inf, 0.0)
    hoop = contour_hoop(np.array([ring.closed_radius_mm]), np.ones(1), np.ones(1), 1.2, 21)
    sized = ring_stretched(hoop, np.array([ring.tool_radius_mm]), METAL)
    # layers keep their first offset here, follow the thinning there
    assert 2 * sized.released.radius_mm[0] == pytest.approx(280.0, abs=1e-6)
    assert sized.hoop_tension_N == pytest.approx(ring.tension_N_per_mm, rel=1e-6)


def test_held_width_agrees_with_the_contoured_kernel() -> None:
    route = StripRoute(1.2, None, layers=11, sizing_across="held", steps=80)
    ring = strip_ring_for(route, METAL, 280.0, stretch_log=0.02)
    hoop = contour_hoop(np.array([ring.closed_radius_mm]), np.ones(1), np.ones(1), 1.2, 11)
    sized = ring_stretched(hoop, np.array([ring.tool_radius_mm]), METAL, width_held=True)
    # 8 steps there, 80 here
    assert 2 * sized.released.radius_mm[0] == pytest.approx(280.0, abs=5e-4)


def test_a_tighter_bend_leaves_more_strain_and_more_springback() -> None:
    tight, wide = (
        strip_ring_for(replace(ROUTE, bend_radius_mm=r), METAL, 280.0, stretch_log=0.02) for r in (50.0, 100.0)
    )
    assert tight.bend_plastic_strain > wide.bend_plastic_strain
    assert tight.springback_diameter_mm > wide.springback_diameter_mm


def test_prior_strain_of_the_strip_counts() -> None:
    hard = strip_ring_for(replace(ROUTE, prior_plastic_strain=0.05), METAL, 280.0, stretch_log=0.02)
    soft = strip_ring_for(ROUTE, METAL, 280.0, stretch_log=0.02)
    assert hard.springback_diameter_mm > soft.springback_diameter_mm + 0.1


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: StripRoute(0.0, 91.0), "thickness"),
        (lambda: StripRoute(1.2, -91.0), "bend radius"),
        (lambda: StripRoute(1.2, 91.0, -0.1), "weld shrinkage"),
        (lambda: StripRoute(1.2, 91.0, release_modulus_MPa=0.0), "Young's modulus on release"),
        (lambda: strip_ring_at(ROUTE, METAL, 140.0, 139.0), "loaded radius"),
        (lambda: strip_ring(ROUTE, METAL, 900.0, 139.0), "loaded radius"),
        (lambda: strip_ring(ROUTE, METAL, math.nan, 139.0), "cut length"),
        (lambda: strip_ring_for(ROUTE, METAL, 280.0), "stretch and cut length"),
        (lambda: strip_ring_for(ROUTE, METAL, 280.0, stretch_log=0.02, cut_length_mm=1.0), "stretch and cut length"),
        (lambda: strip_ring_for(ROUTE, METAL, -280.0, stretch_log=0.02), "released diameter"),
    ],
)
def test_what_cannot_be_is_refused(call: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert caught.value.field == field
