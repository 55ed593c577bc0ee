"""Where the strip's edges run from pass to pass."""

from __future__ import annotations

import itertools
import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.profile_build import from_corners
from hoopwright.tools.rolls import extended
from hoopwright.tools.strip_run import strip_passes

HAT = from_corners([(29, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76, 123.4)], [3, 3, 3, 4])
SHARES = (1 / 3, 2 / 3, 1.0)


def test_the_strip_enters_flat_and_leaves_as_the_section() -> None:
    """By hand: the section is 47.832 long and 47 wide; a strip of 54.5 leaves 47 + 54.5 - 47.832 = 53.668 wide."""
    rows = strip_passes(HAT, 8.0, 54.5, 0.8, SHARES)
    assert [row.number for row in rows] == [1, 2, 3]
    assert rows[0].entering_width_mm == pytest.approx(54.5, abs=1e-9)
    low, high = rows[-1].leaving_mm
    assert high - low == pytest.approx(53.668, abs=0.001)
    # level lands at both ends: the same length of strip lies beyond the section at each edge
    whole = extended(HAT, 8.0)
    middle = 0.5 * (whole.start[0] + whole.end[0])
    over = 0.5 * (54.5 - HAT.length)
    assert (low, high) == (pytest.approx(29.0 - middle - over), pytest.approx(76.0 - middle + over))


def test_the_strip_draws_in_from_pass_to_pass() -> None:
    rows = strip_passes(HAT, 8.0, 54.5, 0.8, SHARES)
    assert all(one.leaving_mm == two.entering_mm for one, two in itertools.pairwise(rows))
    widths = [rows[0].entering_width_mm, *(b - a for a, b in (row.leaving_mm for row in rows))]
    assert widths == sorted(widths, reverse=True)


def test_a_leaning_land_reaches_further_by_its_face() -> None:
    """The last land leans by 30 degrees: the corner of its face stands half a thickness times sin 30 beyond."""
    bent = from_corners([(0.0, 100.0), (20.0, 100.0), (20.0 + 20.0 * math.cos(math.pi / 6), 110.0)], [3.0])
    thin, thick = (strip_passes(bent, 5.0, bent.length, t, (1.0,))[0].leaving_mm for t in (0.4, 0.8))
    assert thick[1] - thin[1] == pytest.approx(0.5 * 0.4 * 0.5)
    assert thick[0] == pytest.approx(thin[0])


def test_a_plain_strip_stays_as_it_is() -> None:
    plain = from_corners([(0.0, 100.0), (40.0, 100.0)], [])
    row = strip_passes(plain, 5.0, 46.0, 0.8, (1.0,))[0]
    assert row.entering_mm == row.leaving_mm == (pytest.approx(-23.0), pytest.approx(23.0))


def test_refusals() -> None:
    with pytest.raises(InputError, match="width of the strip"):
        strip_passes(HAT, 8.0, 47.0, 0.8, SHARES)
    with pytest.raises(InputError, match="passes"):
        strip_passes(HAT, 8.0, 54.5, 0.8, ())
    with pytest.raises(InputError, match="share of the turn"):
        strip_passes(HAT, 8.0, 54.5, 0.8, (1.5,))
