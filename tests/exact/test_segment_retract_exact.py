"""Retraction by moving the hoop over the segments in small steps and pulling them in by bisection."""

import numpy as np
import pytest

from hoopwright.kernels.segment_retract import Contour, SegmentForm, collapsed_radius, passage


def clear(segments: Contour, hoop: Contour, form: SegmentForm, sign: float, gap: float, travel: float) -> bool:
    """Whether the hoop can be shifted from its place to fully off, its inside never nearer than the gap."""
    z = np.linspace(segments.z_mm[0], segments.z_mm[-1], 401)
    outside = collapsed_radius(form, segments.at(z), travel)
    reach = float(segments.z_mm[-1] - hoop.z_mm[0] if sign > 0 else hoop.z_mm[-1] - segments.z_mm[0])
    for shift in sign * np.arange(0.0, reach + 0.1, 0.1):
        there = (z - shift >= hoop.z_mm[0]) & (z - shift <= hoop.z_mm[-1])
        if there.any() and np.any(hoop.at(z[there] - shift) < outside[there] + gap):
            return False
    return True


def stepped(segments: Contour, hoop: Contour, form: SegmentForm, sign: float, gap: float) -> float:
    low, high = 0.0, 40.0
    for _ in range(14):
        mid = 0.5 * (low + high)
        low, high = (low, mid) if clear(segments, hoop, form, sign, gap, mid) else (mid, high)
    return 0.5 * (low + high)


@pytest.mark.parametrize("seed", range(5))
def test_sweep_agrees_with_small_steps(seed: int) -> None:
    rng = np.random.default_rng(seed)
    z = np.linspace(0.0, 40.0, 9)
    segments = Contour(z, 120.0 + rng.uniform(-4.0, 4.0, 9))
    hoop = Contour(z[1:-1] + rng.uniform(-1.0, 1.0), segments.radius_mm[1:-1] + rng.uniform(-1.0, 1.0, 7))
    form = SegmentForm(int(rng.integers(6, 13)), 4.0, 1.0)
    for end, sign in (("plus", 1.0), ("minus", -1.0)):
        exact = passage(segments, hoop, form, end, 0.3).travel_mm  # type: ignore[arg-type]
        # the steps miss at most the fall of either contour over 0.1 mm of shift and of grid, and bisect to 0.0025
        assert stepped(segments, hoop, form, sign, 0.3) == pytest.approx(exact, abs=0.3)
        assert stepped(segments, hoop, form, sign, 0.3) <= exact + 0.003
