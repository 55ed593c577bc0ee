import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.roll_pass import (
    ForceOpening,
    bending_work,
    contact_length,
    depth_shares,
    hand_load,
    pass_load,
    relative_radius,
)


def table(opening: list[float], force: list[float]) -> ForceOpening:
    return ForceOpening(np.array(opening), np.array(force))


def test_relative_radius_of_equal_and_of_one_huge_tool() -> None:
    assert relative_radius(50.0, 50.0) == 25.0
    assert relative_radius(50.0, 1e12) == pytest.approx(50.0)


def test_an_even_force_gives_the_hand_load() -> None:
    even = pass_load(table([0.0, 2.35], [90.0, 90.0]), 25.0, 50.0)
    assert even.load_N == pytest.approx(hand_load(even.work_N, 2.35, 25.0))
    assert even.contact_mm == pytest.approx(contact_length(2.35, 25.0))
    assert even.torque_Nm == pytest.approx(even.work_N * 0.05)


def test_a_force_that_rises_at_the_end_gives_more_than_the_hand_load() -> None:
    steep = pass_load(table([0.0, 0.1, 2.35], [885.0, 349.0, 0.0]), 25.0, 50.0)
    assert steep.load_N > hand_load(steep.work_N, 2.35, 25.0)


def test_work_of_corners() -> None:
    assert bending_work([120.0, 110.0], [0.5, 0.25]) == pytest.approx(87.5)


def test_depth_is_shared_so_that_no_pass_takes_too_much() -> None:
    assert depth_shares(0.8, 0.8, 1.0) == (0.8,)
    assert len(depth_shares(0.81, 0.8, 1.0)) == 2
    assert math.fsum(depth_shares(3.05, 0.8, 0.5)) == pytest.approx(3.05)
    assert len(depth_shares(0.4, 0.8, 1.0, least=4)) == 4


def test_refusals() -> None:
    with pytest.raises(InputError, match="opening"):
        table([0.1, 1.0], [1.0, 0.0])
    with pytest.raises(InputError, match="force"):
        table([0.0, 1.0], [1.0, -1.0])
    with pytest.raises(InputError, match="force"):
        table([0.0, 1.0], [1.0, 1.0, 1.0])
    with pytest.raises(InputError, match="turn or moment"):
        bending_work([1.0], [-0.1])
    with pytest.raises(InputError, match="depth"):
        contact_length(-0.1, 25.0)
    with pytest.raises(InputError, match="new depth"):
        depth_shares(1.0, 0.8, 0.0)
