"""Curl of a contoured strip: limits, inverse, axis, refusals."""

import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.curl import ContourStrip, closed_hoop, contour_strip, curl_for, curled, let_go
from hoopwright.kernels.flow import swift
from hoopwright.kernels.metal import HOOP, PLASTIC, Metal

METAL = Metal(swift(1630.0, 0.020, 0.385), 205_000.0, 0.32)


def channel(shift: float = 0.0) -> ContourStrip:
    """A crown of 10 mm 2 mm above two flanges of 12 mm, walls left out."""
    heights = np.concatenate([np.zeros(12), np.full(10, 2.0), np.zeros(12)]) + shift
    return contour_strip(heights, np.ones(34), np.ones(34), 0.8, 8)


def test_let_go_leaves_nothing_but_residual_stress() -> None:
    loaded = curled(channel(), METAL, 100.0)
    free = let_go(loaded, METAL)
    areas = np.outer(free.flat_area_mm2, free.layers.share) / np.exp(free.fibre_strain_log)
    stress = free.points[:, :, HOOP]
    assert (stress * areas).sum() == pytest.approx(0.0, abs=1e-5)
    assert free.moment_Nmm == pytest.approx(0.0, abs=1e-4)
    assert np.abs(stress).max() > 50.0
    assert free.neutral_radius_mm > loaded.neutral_radius_mm


def test_an_elastic_curl_springs_straight() -> None:
    free = let_go(curled(channel(), METAL, 3000.0), METAL)
    assert free.curl_per_mm == pytest.approx(0.0, abs=1e-10)
    assert math.isfinite(free.stretch)


@pytest.mark.parametrize("shift", [-3.0, 7.0])
def test_the_level_heights_are_counted_from_does_not_matter(shift: float) -> None:
    one, two = curled(channel(), METAL, 100.0), curled(channel(shift), METAL, 100.0)
    assert two.moment_Nmm == pytest.approx(one.moment_Nmm, rel=1e-9)
    assert two.neutral_height_mm == pytest.approx(one.neutral_height_mm + shift, abs=1e-9)
    assert two.axis_radius_mm == pytest.approx(one.axis_radius_mm - shift, abs=1e-8)


@pytest.mark.parametrize("level", ["neutral", "axis"])
@pytest.mark.parametrize("wanted", [60.0, 122.0, 400.0])
def test_setting_for_a_wanted_natural_radius(level: str, wanted: float) -> None:
    loaded, free = curl_for(channel(), METAL, wanted, level)
    again = let_go(curled(channel(), METAL, loaded.neutral_radius_mm), METAL)
    reached = again.neutral_radius_mm if level == "neutral" else again.axis_radius_mm
    assert reached == pytest.approx(wanted, abs=2e-6)
    assert loaded.neutral_radius_mm < wanted
    assert free.curl_per_mm < loaded.curl_per_mm


def test_tighter_rolls_give_a_smaller_natural_radius() -> None:
    radii = [let_go(curled(channel(), METAL, r), METAL).neutral_radius_mm for r in (60.0, 90.0, 120.0, 160.0)]
    assert radii == sorted(radii)


def test_prior_strain_makes_the_curl_spring_more() -> None:
    soft = let_go(curled(channel(), METAL, 90.0), METAL).neutral_radius_mm
    base = channel()
    hard = contour_strip(base.height_mm, base.normal_radial, base.width_mm, 0.8, 8, 0.05)
    assert let_go(curled(hard, METAL, 90.0), METAL).neutral_radius_mm > soft


def test_closing_keeps_the_neutral_fibre() -> None:
    _, free = curl_for(channel(), METAL, 130.0)
    hoop = closed_hoop(free, METAL, 2 * math.pi * 122.0)
    # the neutral fibre lies between the levels of the two flats
    assert hoop.radius_mm.min() < 122.0 < hoop.radius_mm.max()
    assert np.ptp(hoop.radius_mm) == pytest.approx(2.0)
    assert hoop.points[:, :, PLASTIC].max() > 0.0


def test_width_held_needs_more_moment() -> None:
    assert curled(channel(), METAL, 90.0, True).moment_Nmm > 1.1 * curled(channel(), METAL, 90.0).moment_Nmm


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: contour_strip(np.array([]), np.ones(0), np.ones(0), 0.8), "station height"),
        (lambda: contour_strip(np.array([math.nan]), np.ones(1), np.ones(1), 0.8), "station height[0]"),
        (lambda: contour_strip(np.zeros(2), np.ones(2), np.ones(3), 0.8), "station width"),
        (lambda: contour_strip(np.zeros(2), np.ones(2), np.ones(2), -0.8), "station thickness[0]"),
        (lambda: contour_strip(np.zeros(2), np.ones(2), np.ones(2), 0.8, 4, -1.0), "prior plastic strain"),
        (lambda: contour_strip(np.zeros(2), 2 * np.ones(2), np.ones(2), 0.8), "radial part of the normal"),
        (lambda: curled(channel(), METAL, 0.0), "curl radius"),
        (lambda: curled(channel(), METAL, 0.5), "curl radius"),
        (lambda: curl_for(channel(), METAL, math.inf), "natural radius"),
        (lambda: closed_hoop(channel(), METAL, -1.0), "strip length"),
        (lambda: channel().neutral_height_mm, "curl"),
    ],
)
def test_what_cannot_be_is_refused(call: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert caught.value.field == field
