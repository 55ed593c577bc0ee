"""The hoop on a round tool against the chain on 180 segments, and against the one-fibre closed form."""

from __future__ import annotations

import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.hoop import flat_section
from hoopwright.kernels.hoop.round_tool import round_hits
from hoopwright.kernels.sizing_springback import hoop_stress, released_radius
from tests.kernels.hoop_cases import END, METAL, RADIUS, STRIP, sized


def test_as_the_chain_on_many_segments() -> None:
    """0.0003 on D and 2e-5 on tension are what the chain's mesh and contact leave (docs/theory/hoop.md)."""
    even = round_hits(STRIP, RADIUS, [END], [False])[0]
    run = sized(count=180, friction=0.0, standing=0.0, slot=0.02, edge=0.05)
    assert 2.0 * even.free_radius_mm == pytest.approx(run.free.mean_diameter_mm, abs=3e-4)
    assert 2.0 * even.loaded_radius_mm == pytest.approx(run.loaded.mean_diameter_mm, abs=3e-4)
    assert even.tension_N == pytest.approx(run.hits[0].gap_tension_N, rel=2e-5)


def test_a_thin_strip_is_the_one_fibre() -> None:
    """A thousandth of the thickness: the closed form of one fibre."""
    thin = flat_section(0.0012, 1.0, METAL, 3)
    even = round_hits(thin, RADIUS, [END], [False])[0]
    stress = hoop_stress(METAL, even.strain_log)
    assert even.free_radius_mm == pytest.approx(released_radius(even.loaded_radius_mm, stress, 205_000.0), rel=1e-8)


def test_twice_to_one_place_is_once() -> None:
    once, again = round_hits(STRIP, RADIUS, [END, END], [False, False])
    assert again.free_radius_mm == pytest.approx(once.free_radius_mm, abs=1e-6)
    assert again.tension_N == pytest.approx(once.tension_N, rel=1e-4)


def test_an_anneal_between_lowers_the_springback() -> None:
    """1 % + anneal + to the 2 % position: springback 0.501 on D instead of 0.559 (method paper, section 3)."""
    first = RADIUS * math.exp(0.01) - STRIP.axis_height_mm
    plain = round_hits(STRIP, RADIUS, [first, END], [False, False])[1]
    soft = round_hits(STRIP, RADIUS, [first, END], [False, True])[1]
    back = [2.0 * (hit.loaded_radius_mm - hit.free_radius_mm) for hit in (plain, soft)]
    assert back == pytest.approx([0.559, 0.501], abs=1e-3)


def test_a_hoop_of_no_size_is_refused() -> None:
    with pytest.raises(InputError, match="radius of the hoop"):
        round_hits(STRIP, 0.0, [END], [False])
