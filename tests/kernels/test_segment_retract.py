import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.segment_retract import (
    Contour,
    SegmentForm,
    collapsed_radius,
    leading_end,
    passage,
    travel_crown_throat,
)

Z = np.array([0.0, 10.0, 20.0, 30.0])
CROWNED = Contour(Z, np.array([100.0, 102.0, 102.0, 99.0]))


def test_a_loose_hoop_needs_no_travel() -> None:
    assert passage(CROWNED, Contour(Z, np.full(4, 102.5)), SegmentForm(8), "plus").travel_mm == 0.0


def test_very_many_segments_need_crown_less_throat() -> None:
    throat = Contour(Z, np.array([100.0, 102.0, 102.0, 99.0]))
    got = passage(CROWNED, throat, SegmentForm(400), "minus")
    assert got.travel_mm == pytest.approx(travel_crown_throat(102.0, 99.0), rel=1e-4)


def test_few_segments_need_more_because_their_edges_stick_out() -> None:
    got = passage(CROWNED, CROWNED, SegmentForm(8), "minus")
    assert got.travel_mm == pytest.approx(3.0 / math.cos(math.pi / 8), rel=4e-3)
    assert got.segment_z_mm == pytest.approx(10.0) and got.hoop_z_mm == pytest.approx(30.0)


def test_only_what_really_passes_counts() -> None:
    # towards plus the narrow end at z = 30 never passes over the crown
    assert passage(CROWNED, CROWNED, SegmentForm(8), "plus").hoop_z_mm == pytest.approx(0.0)
    assert passage(CROWNED, CROWNED, SegmentForm(8), "plus").travel_mm < 2.3


def test_slots_and_rounded_edges_reduce_the_travel_and_clearance_adds_to_it() -> None:
    sharp = passage(CROWNED, CROWNED, SegmentForm(8), "minus").travel_mm
    assert passage(CROWNED, CROWNED, SegmentForm(8, 5.0), "minus").travel_mm < sharp
    assert passage(CROWNED, CROWNED, SegmentForm(8, 0.0, 2.0), "minus").travel_mm < sharp
    assert passage(CROWNED, CROWNED, SegmentForm(8), "minus", 0.5).travel_mm > sharp + 0.5


def test_travel_found_brings_the_segment_to_the_free_passage() -> None:
    form = SegmentForm(6, 3.0, 1.5)
    travel = passage(CROWNED, CROWNED, form, "minus", 0.4).travel_mm
    assert collapsed_radius(form, [102.0], travel)[0] == pytest.approx(99.0 - 0.4, abs=1e-9)


def test_no_travel_lets_two_wide_halves_through_a_narrow_throat() -> None:
    narrow = Contour(Z, np.full(4, 60.0))
    assert passage(CROWNED, narrow, SegmentForm(2), "plus").travel_mm == math.inf


def test_better_end_and_loading_above_unloading() -> None:
    incoming = Contour(Z, CROWNED.radius_mm - 2.0)
    both = leading_end(CROWNED, incoming, CROWNED, SegmentForm(8, 5.0, 1.0), 0.5)
    assert both.better.end == "plus"
    assert both.plus.load.travel_mm > both.plus.unload.travel_mm
    assert both.plus.travel_mm == both.plus.load.travel_mm < both.minus.travel_mm


def test_mirrored_contours_exchange_the_ends() -> None:
    mirrored = Contour(-Z[::-1], CROWNED.radius_mm[::-1])
    one = passage(CROWNED, CROWNED, SegmentForm(8), "minus", 0.2)
    two = passage(mirrored, mirrored, SegmentForm(8), "plus", 0.2)
    assert one.travel_mm == two.travel_mm and one.hoop_z_mm == -two.hoop_z_mm


def test_a_hoop_shorter_or_longer_than_its_segments() -> None:
    short = Contour(np.array([12.0, 18.0]), np.array([101.0, 101.0]))
    assert passage(CROWNED, short, SegmentForm(400), "plus").travel_mm == pytest.approx(1.0, rel=1e-3)
    long = Contour(np.array([-50.0, 80.0]), np.array([101.0, 101.0]))
    assert passage(CROWNED, long, SegmentForm(400), "plus").travel_mm == pytest.approx(1.0, rel=1e-3)


def test_refusals() -> None:
    with pytest.raises(InputError, match="axial stations"):
        Contour(np.array([0.0, 0.0]), np.array([1.0, 1.0]))
    with pytest.raises(InputError, match="radii"):
        Contour(Z, np.array([1.0, 2.0]))
    with pytest.raises(InputError, match="radii"):
        Contour(Z, np.array([1.0, 2.0, -1.0, 3.0]))
    with pytest.raises(InputError, match="clearance"):
        passage(CROWNED, CROWNED, SegmentForm(8), "plus", -0.1)
    with pytest.raises(InputError, match="end"):
        passage(CROWNED, CROWNED, SegmentForm(8), "aft")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="slot and edge radius"):
        passage(CROWNED, CROWNED, SegmentForm(8, 5.0, 60.0), "plus")
    with pytest.raises(InputError, match="edge radius"):
        SegmentForm(8, 1.0, -1.0)
    with pytest.raises(InputError, match="travel"):
        collapsed_radius(SegmentForm(8), [100.0], -1.0)
