"""Best blank against a scan over all slopes, and the alternation that proves it best."""

import math

import numpy as np
import pytest

from hoopwright.kernels.cone_development import fit_blank


def spread(s: np.ndarray, r: np.ndarray, slope: float) -> float:
    ratio = r / (1.0 + slope * s)
    return math.log(float(ratio.max() / ratio.min()))


@pytest.mark.parametrize("seed", range(6))
def test_no_slope_does_better_and_the_best_is_reached(seed: int) -> None:
    rng = np.random.default_rng(seed)
    s = np.sort(np.concatenate([[0.0], rng.uniform(1.0, 60.0, 30)]))
    r = 100.0 + rng.uniform(-0.5, 0.5) * s + 4.0 * np.cumsum(rng.normal(0.0, 0.3, 31))
    fit = fit_blank(s, r, 0.015)
    slopes = np.linspace(-0.9 / s[-1], 0.02, 40001)
    scan = min(spread(s, r, float(b)) for b in slopes)
    assert fit.spread_log <= scan + 1e-12
    # one step of the scan moves a ratio by at most step * length
    assert scan - fit.spread_log <= float(slopes[1] - slopes[0]) * s[-1] * 20.0


@pytest.mark.parametrize("seed", range(6))
def test_three_places_alternate(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    s = np.linspace(0.0, 60.0, 41)
    r = 110.0 + 0.2 * s + np.cumsum(rng.normal(0.0, 0.4, 41))
    fit = fit_blank(s, r, 0.0)
    strain = np.log(r / fit.radius(s))
    touch = [(k, 1 if strain[k] > 0.5 * fit.spread_log else -1) for k in range(41)
             if min(strain[k], fit.spread_log - strain[k]) < 1e-9]  # fmt: skip
    signs = [sign for _, sign in touch]
    assert len(touch) == 3 and signs[0] == -signs[1] == signs[2]
