import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.segment_slot import (
    effective_half_gap,
    flat_depth,
    gap_closing,
    least_flat,
    slot_needed,
    slot_needed_radial,
    travel_allowed,
    travel_allowed_radial,
)


def test_slot_and_travel_are_each_others_inverse() -> None:
    assert travel_allowed(8, slot_needed(8, 5.5, 0.3), 0.3) == pytest.approx(5.5)
    assert travel_allowed_radial(8, slot_needed_radial(8, 2.0, 137.0, 30.0), 137.0, 30.0) == pytest.approx(2.0)


def test_two_halves_close_by_twice_the_travel() -> None:
    assert travel_allowed(2, 4.0) == pytest.approx(2.0)


def test_one_wire_cut_is_not_a_slot() -> None:
    assert travel_allowed(8, 0.35) == pytest.approx(0.35 / (2.0 * math.sin(math.pi / 8)))
    assert travel_allowed(8, 0.35) < 0.5


def test_flat_depth_near_its_small_gap_form_and_at_its_end() -> None:
    assert flat_depth(126.0, 4.6) == pytest.approx(4.6**2 / (8.0 * 126.0), rel=1e-3)
    assert flat_depth(10.0, 20.0) == pytest.approx(10.0)
    assert flat_depth(10.0, 0.0) == 0.0


def test_the_flat_that_a_travel_costs_is_the_flat_of_the_slot_it_needs() -> None:
    assert least_flat(12, 139.2, 9.8) == pytest.approx(slot_needed(12, 9.8) ** 2 / (8.0 * 139.2))


def test_rounded_edges_widen_a_gap_and_sharp_ones_do_not_narrow_it() -> None:
    assert effective_half_gap(6.0, 2.0) == pytest.approx(3.0 + 1.9 - 0.5)
    assert effective_half_gap(6.0, 0.0) == 3.0


def test_refusals() -> None:
    with pytest.raises(InputError, match="travel"):
        gap_closing(8, -0.1)
    with pytest.raises(InputError, match="slot clearance"):
        travel_allowed(8, 0.2, 0.3)
    with pytest.raises(InputError, match="bore radius"):
        slot_needed_radial(8, 1.0, 30.0, 30.0)
    with pytest.raises(InputError, match="gap"):
        flat_depth(10.0, 20.1)
    with pytest.raises(InputError, match="edge radius"):
        effective_half_gap(3.0, math.nan)
