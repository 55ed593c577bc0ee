"""Chain kernels, warm: what a band over a ring calls some 25 times."""

from __future__ import annotations

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.kernels.chain import ContourHoop, StripRoute, contour_hoop, ring_stretched, ring_tool, strip_ring_for
from hoopwright.kernels.curl import contour_strip, curl_for
from hoopwright.kernels.flow import swift
from hoopwright.kernels.layers import bent, flat_strip, released
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.sizing import arc_strain

METAL = Metal(swift(1630.0, 0.020, 0.385), 205_000.0, 0.32)
HEIGHTS = 2.0 * np.sin(np.linspace(0.0, 3.0, 60))


def hoop() -> ContourHoop:
    """60 stations of 21 layers."""
    return contour_hoop(121.5 + HEIGHTS, np.ones(60), np.full(60, 0.8), 0.8, 21, 0.01)


def test_contoured_ring_forward(benchmark: BenchmarkFixture) -> None:
    """Bar: under 1 ms."""
    ring, tool = hoop(), 123.4 + HEIGHTS
    assert benchmark(ring_stretched, ring, tool, METAL).springback_mm > 0.0


def test_contoured_ring_inverse(benchmark: BenchmarkFixture) -> None:
    ring = hoop()
    assert benchmark(ring_tool, ring, 123.4 + HEIGHTS, METAL, "outside").springback_mm > 0.0


def test_contoured_ring_held_width(benchmark: BenchmarkFixture) -> None:
    ring = hoop()
    assert benchmark(ring_stretched, ring, 123.4 + HEIGHTS, METAL, True).springback_mm > 0.0


def test_strip_ring_inverse(benchmark: BenchmarkFixture) -> None:
    route = StripRoute(1.2, 91.0, 0.25)
    ring = benchmark(strip_ring_for, route, METAL, 280.0, stretch_log=0.02)
    assert abs(ring.released_diameter_mm - 280.0) < 1e-6


def test_bend_and_release(benchmark: BenchmarkFixture) -> None:
    def both() -> float:
        return released(bent(flat_strip(1.2), METAL, 91.0), METAL).radius_mm

    assert benchmark(both) > 91.0


def test_curl_setting(benchmark: BenchmarkFixture) -> None:
    strip = contour_strip(HEIGHTS, np.ones(60), np.full(60, 0.8), 0.8, 12)
    loaded, _ = benchmark(curl_for, strip, METAL, 122.0)
    assert loaded.neutral_radius_mm < 122.0


def test_arc_friction(benchmark: BenchmarkFixture) -> None:
    assert benchmark(arc_strain, METAL, 8, 0.1, 0.02).gap_log > 0.02
