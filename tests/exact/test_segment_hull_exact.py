"""The string hull against a convex hull made of points, and its harmonics against a Fourier sum."""

import math

import numpy as np
import pytest
from shapely.geometry import MultiPoint

from hoopwright.kernels.segment_hull import SegmentCircle, girth_factor, hull_harmonic, hull_radius

CASES = [
    SegmentCircle(8, 137.0, 2.0, 3.0),
    SegmentCircle(8, 137.0, -2.0, 3.0),
    SegmentCircle(5, 80.0, 4.0, 0.0),
    SegmentCircle(3, 60.0, -1.5, 9.0),
    SegmentCircle(24, 140.0, 0.0, 2.0),
]


def points_on_segments(circle: SegmentCircle, each: int = 4001) -> np.ndarray:
    """Points on the faces of all segments, placed one by one."""
    local = np.linspace(-circle.half_arc_rad, circle.half_arc_rad, each)
    face = np.column_stack(
        [
            circle.standing_mm + circle.turned_radius_mm * np.cos(local),
            circle.turned_radius_mm * np.sin(local),
        ]
    )
    rows = []
    for k in range(circle.count):
        turn = 2.0 * math.pi * k / circle.count
        c, s = math.cos(turn), math.sin(turn)
        rows.append(face @ np.array([[c, s], [-s, c]]))
    return np.vstack(rows)


@pytest.mark.parametrize("circle", CASES)
def test_hull_length_is_that_of_the_convex_hull(circle: SegmentCircle) -> None:
    hull = MultiPoint(points_on_segments(circle)).convex_hull
    # 4001 points a segment leave a chord error of length * step^2/24
    assert hull.exterior.length == pytest.approx(circle.hull_length_mm, rel=5e-8)


@pytest.mark.parametrize("circle", CASES)
def test_hull_radius_lies_on_the_convex_hull(circle: SegmentCircle) -> None:
    hull = MultiPoint(points_on_segments(circle)).convex_hull
    theta = np.linspace(0.0, 4.0 * math.pi / circle.count, 201)
    radius = hull_radius(circle, theta)
    spots = np.column_stack([radius * np.cos(theta), radius * np.sin(theta)])
    far = max(hull.exterior.distance(spot) for spot in MultiPoint(spots).geoms)
    assert far < 1e-5


@pytest.mark.parametrize("circle", CASES)
@pytest.mark.parametrize("order", [1, 2, 3])
def test_harmonics_are_the_fourier_sum(circle: SegmentCircle, order: int) -> None:
    samples = circle.count * 16384
    theta = np.arange(samples) * (2.0 * math.pi / samples)
    spectrum = np.fft.rfft(hull_radius(circle, theta)) * (2.0 / samples)
    # corners of the hull leave a sum of this many samples 1e-9 off
    assert hull_harmonic(circle, order) == pytest.approx(float(spectrum[order * circle.count].real), abs=2e-8)


@pytest.mark.parametrize("count", [6, 8, 12])
def test_a_change_of_standing_changes_the_girth_by_the_girth_factor(count: int) -> None:
    one, two = SegmentCircle(count, 137.0, 0.3, 3.0), SegmentCircle(count, 137.0, 1.7, 3.0)
    assert two.mean_radius_mm - one.mean_radius_mm == pytest.approx(1.4 * girth_factor(count), rel=1e-12)
