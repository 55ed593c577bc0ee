import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.cone_development import blank_on_slope, fit_blank, fit_blank_with_narrowing

S = np.linspace(0.0, 50.0, 26)


def test_a_cylinder_needs_a_strip() -> None:
    fit = fit_blank(S, np.full(26, 120.0), 0.015)
    assert fit.straight and fit.sector_rad == 0.0 and fit.slant_radii_mm == (math.inf, math.inf)
    assert fit.base_mm == pytest.approx(120.0 / 1.015)


def test_a_cone_develops_to_its_own_sector() -> None:
    half_angle = 0.3
    fit = fit_blank(S, 100.0 - math.sin(half_angle) * S, 0.0)
    assert fit.sector_rad == pytest.approx(2.0 * math.pi * math.sin(half_angle))
    assert fit.slant_radii_mm[0] - fit.slant_radii_mm[1] == pytest.approx(50.0)
    assert fit.slant_radii_mm[0] == pytest.approx(100.0 / math.sin(half_angle))


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(90.0, 130.0), min_size=4, max_size=12), st.floats(0.0, 0.05))
def test_least_stretch_is_met_and_never_undercut(radii: list[float], stretch: float) -> None:
    s = np.arange(len(radii), dtype=float) * 7.0
    fit = fit_blank(s, radii, stretch)
    strain = np.log(np.array(radii) / fit.radius(s))
    assert strain.min() == pytest.approx(math.log1p(stretch), abs=1e-12)
    assert strain.max() == pytest.approx(fit.largest_strain_log, abs=1e-12)
    straight = blank_on_slope(s, radii, 0.0, stretch)
    assert fit.spread_log <= straight.spread_log + 1e-12
    turned = fit_blank(s, radii[::-1], stretch)
    assert turned.spread_log == pytest.approx(fit.spread_log, abs=1e-12)


def test_narrowing_makes_the_blank_longer_across_and_the_sector_smaller() -> None:
    radius = 100.0 + 0.2 * S + 0.5 * np.sin(S / 5.0)
    plain, drawn = fit_blank(S, radius, 0.02), fit_blank_with_narrowing(S, radius, 0.02)
    assert plain.developed_mm * 1.01 < drawn.developed_mm < plain.developed_mm * 1.02
    assert drawn.sector_rad < plain.sector_rad
    assert fit_blank_with_narrowing(S, radius, 0.02, 0.0) == plain
    # every piece of the drawn blank keeps its volume: width by exp(e/2), thickness by the same
    cylinder = fit_blank_with_narrowing(S, np.full(26, 120.0), 0.02)
    assert cylinder.developed_mm == pytest.approx(50.0 * math.sqrt(1.02))


def test_refusals() -> None:
    with pytest.raises(InputError, match="developed distance"):
        fit_blank([0.0, 0.0], [1.0, 1.0], 0.0)
    with pytest.raises(InputError, match="radius"):
        fit_blank([0.0, 1.0], [1.0, 0.0], 0.0)
    with pytest.raises(InputError, match="radius"):
        fit_blank([0.0, 1.0], [1.0, 1.0, 1.0], 0.0)
    with pytest.raises(InputError, match="least stretch"):
        fit_blank([0.0, 1.0], [1.0, 1.0], math.nan)
    with pytest.raises(InputError, match="slope over base"):
        blank_on_slope([0.0, 10.0], [1.0, 1.0], -0.2, 0.0)
    with pytest.raises(InputError, match="narrowing share"):
        fit_blank_with_narrowing([0.0, 1.0], [1.0, 1.0], 0.0, 1.5)
