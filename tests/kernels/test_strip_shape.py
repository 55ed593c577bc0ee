import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.strip_shape import (
    camber_curvature,
    camber_sagitta,
    free_curl,
    twist_rate_limit,
    twist_threshold,
)


def test_camber_keeps_its_sign() -> None:
    assert camber_curvature(-1e-4, 54.49) == -camber_curvature(1e-4, 54.49)
    assert camber_sagitta(1e-4, 54.49, 815.0) == pytest.approx(1e-4 / 54.49 * 815.0**2 / 8.0)


def test_sagitta_is_that_of_the_arc() -> None:
    radius = 1.0 / camber_curvature(1e-4, 54.49)
    half_turn = 0.5 * 815.0 / radius
    assert camber_sagitta(1e-4, 54.49, 815.0) == pytest.approx(radius * (1.0 - math.cos(half_turn)), rel=1e-6)


def test_a_strip_that_is_tight_at_its_edges_does_not_twist() -> None:
    assert twist_rate_limit(-1e-3, 27.0) == 0.0
    assert twist_rate_limit(2e-3, 27.0) == pytest.approx(math.sqrt(4e-3) / 27.0)


def test_free_curl_bounds_order_and_scale() -> None:
    curl = free_curl(10.0, 1.0)
    assert curl.untouched_above_mm == 1.5 * curl.lost_below_mm
    assert free_curl(20.0, 1.0).lost_below_mm == pytest.approx(4.0 * curl.lost_below_mm)
    assert free_curl(20.0, 2.0).lost_below_mm == pytest.approx(2.0 * curl.lost_below_mm)


def test_refusals() -> None:
    with pytest.raises(InputError, match="edge strain difference"):
        camber_curvature(math.nan, 50.0)
    with pytest.raises(InputError, match="Poisson"):
        twist_threshold(27.0, 0.8, -0.1)
    with pytest.raises(InputError, match="flange"):
        free_curl(0.0, 0.8)
