import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.segment_hull import (
    SegmentCircle,
    envelope_harmonic,
    flat_harmonic,
    girth_factor,
    hull_harmonic,
    hull_radius,
    lobe_factor,
)


def test_a_set_that_stands_as_turned_is_a_circle_with_flats() -> None:
    circle = SegmentCircle(8, 140.0, 0.0, 4.0)
    assert circle.gap_mm == 4.0
    assert circle.middle_radius_mm == circle.edge_radius_mm == 140.0
    assert circle.peak_to_valley_mm == pytest.approx(140.0 - math.sqrt(140.0**2 - 4.0), abs=1e-12)


def test_hull_radius_runs_through_its_named_radii_and_repeats() -> None:
    circle = SegmentCircle(8, 137.0, 2.0, 3.0)
    edge, half = circle.edge_polar_rad, circle.half_pitch_rad
    values = hull_radius(circle, [0.0, edge, half, half + 1e-12, 2.0 * half, -edge, 5.0 * 2.0 * half])
    expected = [139.0, circle.edge_radius_mm, circle.chord_distance_mm, circle.chord_distance_mm, 139.0,
                circle.edge_radius_mm, 139.0]  # fmt: skip
    assert values == pytest.approx(expected, abs=1e-9)


def test_opened_slots_wider_than_the_slot_as_turned() -> None:
    assert SegmentCircle(8, 140.0, 2.0, 3.0).gap_mm == pytest.approx(3.0 + 4.0 * math.sin(math.pi / 8))


@settings(max_examples=30, deadline=None)
@given(count=st.integers(3, 24), standing=st.floats(-3.0, 6.0), slot=st.floats(6.5, 9.0), radius=st.floats(60.0, 200.0))
def test_chord_is_inside_and_a_tape_never_reads_more_than_the_widest(
    count: int, standing: float, slot: float, radius: float
) -> None:
    if standing < 0.0 and slot + 2.0 * standing * math.sin(math.pi / count) < 0.0:
        return
    circle = SegmentCircle(count, radius, standing, slot)
    assert circle.chord_distance_mm <= circle.edge_radius_mm
    assert circle.mean_radius_mm <= max(circle.middle_radius_mm, circle.edge_radius_mm)
    scaled = SegmentCircle(count, 3.0 * radius, 3.0 * standing, 3.0 * slot)
    assert scaled.peak_to_valley_mm == pytest.approx(3.0 * circle.peak_to_valley_mm, rel=1e-9, abs=1e-12)
    assert scaled.hull_length_mm == pytest.approx(3.0 * circle.hull_length_mm, rel=1e-12)


def test_first_order_harmonic_alternates_and_falls() -> None:
    values = [envelope_harmonic(8, 2.0, k) for k in (1, 2, 3)]
    assert values[0] > 0.0 > values[1] and values[2] > 0.0
    assert abs(values[0]) > abs(values[1]) > abs(values[2])
    assert envelope_harmonic(8, -2.0) == -envelope_harmonic(8, 2.0)


def test_exact_harmonic_holds_lobes_and_flats_together() -> None:
    lobes = hull_harmonic(SegmentCircle(8, 140.0, 2.0, 0.0), 1)
    flats = hull_harmonic(SegmentCircle(8, 140.0, 0.0, 4.0), 1)
    assert lobes > envelope_harmonic(8, 2.0)
    assert flats == pytest.approx(flat_harmonic(8, 140.0, 2.0), rel=2e-3)


def test_factors() -> None:
    assert girth_factor(8) == pytest.approx(math.sin(math.pi / 8) / (math.pi / 8))
    assert [round(lobe_factor(n), 3) for n in (6, 8, 10, 12)] == [0.134, 0.076, 0.049, 0.034]


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        ((1, 140.0), "number of segments"),
        ((8.5, 140.0), "number of segments"),
        ((True, 140.0), "number of segments"),
        ((8, -1.0), "turned radius"),
        ((8, math.nan), "turned radius"),
        ((8, 140.0, 0.0, -0.1), "slot"),
        ((8, 140.0, 0.0, 107.2), "slot"),
        ((8, 140.0, -2.0, 1.0), "standing"),
        ((8, 140.0, math.inf, 1.0), "standing"),
        ((2, 10.0, -50.0, 19.0), "standing"),
    ],
)
def test_refusals(arguments: tuple[float, ...], word: str) -> None:
    with pytest.raises(InputError, match=word):
        SegmentCircle(*arguments)  # type: ignore[arg-type]


def test_angle_list_is_checked() -> None:
    with pytest.raises(InputError, match="angle"):
        hull_radius(SegmentCircle(8, 140.0), [0.0, np.nan])
    with pytest.raises(InputError, match="half gap"):
        flat_harmonic(8, 10.0, 10.0)
