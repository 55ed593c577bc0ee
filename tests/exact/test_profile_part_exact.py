"""A contour on its way from flat, against closed forms: lengths kept, a joggle's width and rise at any share."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_part import part_turned

HAT = from_corners([(29, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76, 123.4)], [3, 3, 3, 4])


def joggle(land: float, radius: float, turn: float, slope: float) -> Profile:
    """Land, arc up, slope, arc down, land: level at both ends."""
    a = (land, 0.0)
    b = (a[0] + radius * math.sin(turn), radius * (1.0 - math.cos(turn)))
    c = (b[0] + slope * math.cos(turn), b[1] + slope * math.sin(turn))
    d = (c[0] + radius * math.sin(turn), c[1] + radius * (1.0 - math.cos(turn)))
    return Profile((
        line((0.0, 0.0), a), arc(a, b, (a[0], radius), True), line(b, c), arc(c, d, (d[0], d[1] - radius), False),
        line(d, (d[0] + land, d[1])),
    ))  # fmt: skip


@given(st.floats(0.05, 1.0), st.floats(0.2, 1.2), st.floats(1.0, 6.0), st.floats(0.5, 8.0))
@settings(max_examples=30, deadline=None)
def test_width_and_rise_of_a_joggle(share: float, turn: float, radius: float, slope: float) -> None:
    """Two lands, two arcs of R/f and f a, a slope: 2 c + 2 (R/f) sin(f a) + m cos(f a), rise likewise."""
    made = part_turned(joggle(5.0, radius, turn, slope), share)
    a = share * turn
    width = 10.0 + 2.0 * radius / share * math.sin(a) + slope * math.cos(a)
    rise = 2.0 * radius / share * (1.0 - math.cos(a)) + slope * math.sin(a)
    assert made.end == (pytest.approx(width, abs=1e-9), pytest.approx(rise, abs=1e-9))


@pytest.mark.parametrize("share", [0.0, 1e-3, 0.5, 1.0])
def test_lengths_are_kept_at_every_share(share: float) -> None:
    assert part_turned(HAT, share).length == pytest.approx(HAT.length, abs=1e-9)


def test_ends_of_the_range() -> None:
    flat = part_turned(HAT, 0.0)
    assert flat.end == (pytest.approx(29.0 + HAT.length), 123.85) and len(flat) == 1
    whole = part_turned(HAT, 1.0)
    for mine, given_ in zip(whole, HAT, strict=True):
        assert mine.end == (pytest.approx(given_.end[0], abs=1e-9), pytest.approx(given_.end[1], abs=1e-9))
    almost = part_turned(HAT, 1e-6)
    assert almost.end == (pytest.approx(flat.end[0], abs=1e-6), pytest.approx(flat.end[1], abs=1e-3))


def test_a_contour_that_runs_backward_keeps_to_its_own_level() -> None:
    """Directions near half a turn are taken about the level given, not about the axis."""
    back = HAT.reversed()
    made = part_turned(back, 0.5, math.pi)
    assert made.end[0] < made.start[0] - 47.0 and made.length == pytest.approx(HAT.length)


@pytest.mark.parametrize("share", [-0.1, 1.1, math.nan])
def test_refusals(share: float) -> None:
    with pytest.raises(InputError, match="share of the turn"):
        part_turned(HAT, share)
