"""Closed forms of sheet bending: ends of their ranges, refusals; values stand in tests/published/sheet_bending."""

import math
from itertools import pairwise

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels import layers_closed as closed


def test_springback_ratio_falls_to_flat_and_stays_there() -> None:
    radii = [1.0, 50.0, 200.0, 300.0, 331.0, 333.4, 5000.0]  # faces yield at 333.3
    ratios = [closed.springback_ratio(r, 1.0, 200_000.0, 300.0) for r in radii]
    assert all(a > b for a, b in pairwise(ratios[:5]))
    assert 0.0 < ratios[4] < 1e-3
    assert ratios[5:] == [0.0, 0.0]


def test_tension_moment_meets_the_plain_one_and_ends_where_the_core_meets_a_face() -> None:
    plain = closed.tension_moment(20.0, 1.0, 220_000.0, 300.0, 0.0)
    core = 20.0 / closed.yield_radius_of_sheet(1.0, 220_000.0, 300.0)
    assert plain == pytest.approx(closed.plastic_moment(1.0, 300.0) * (1 - core**2 / 3))
    with pytest.raises(InputError, match="layered kernel"):
        closed.tension_moment(20.0, 1.0, 220_000.0, 300.0, 299.0)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: closed.plane_strain_modulus(-1.0, 0.3), "Young's modulus"),
        (lambda: closed.plane_strain_modulus(1.0, 0.6), "Poisson's ratio"),
        (lambda: closed.plane_strain_yield(0.0), "yield stress"),
        (lambda: closed.springback_ratio(math.nan, 1.0, 1.0, 1.0), "radius"),
        (lambda: closed.tension_moment(20.0, 1.0, 2e5, 300.0, 300.0), "tension"),
        (lambda: closed.tension_moment(20.0, 1.0, 2e5, 300.0, -1.0), "tension"),
        (lambda: closed.power_law_moment(20.0, 1.0, 2e5, 0.0), "exponent"),
        (lambda: closed.elastic_unbending(math.inf, 1.0, 2e5), "moment"),
    ],
)
def test_what_cannot_be_is_refused(call: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert caught.value.field == field
