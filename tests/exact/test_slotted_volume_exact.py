"""Volume of a slotted ring against its closed form, and the limits: no slots, one slot, refusals."""

from __future__ import annotations

import math

import pytest

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.slotted_volume import slotted_volume, strip_in_circle


def ring(inner: float, outer: float, length: float) -> Profile:
    corners = [(0.0, inner), (0.0, outer), (length, outer), (length, inner)]
    return Profile(tuple(line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)))


@pytest.mark.parametrize(("count", "slot"), [(8, 4.2), (5, 1.0), (1, 3.0)])
def test_straight_ring(count: int, slot: float) -> None:
    """What a slot takes of a ring is what it takes of the big disc less what it takes of the small one."""
    half = 0.5 * slot
    taken = strip_in_circle(60.0, half) - strip_in_circle(25.0, half)
    wanted = (math.pi * (60.0**2 - 25.0**2) - count * taken) * 30.0
    assert slotted_volume(ring(25.0, 60.0, 30.0), count, slot) == pytest.approx(wanted, rel=1e-13)


def test_strip_in_circle_fills_a_half_disc() -> None:
    assert strip_in_circle(7.0, 7.0) == pytest.approx(0.5 * math.pi * 49.0, rel=1e-15)


def test_no_slots_is_pappus() -> None:
    bow = arc((0.0, 20.0), (10.0, 20.0), (5.0, 20.0), False)
    body = Profile(
        (bow, line((10.0, 20.0), (10.0, 12.0)), line((10.0, 12.0), (0.0, 12.0)), line((0.0, 12.0), (0.0, 20.0)))
    )
    assert slotted_volume(body, 0, 0.0) == pytest.approx(region(body).revolved_volume, rel=1e-13)
    thin = slotted_volume(body, 6, 1e-6)
    assert thin == pytest.approx(region(body).revolved_volume - 6e-6 * region(body).area, rel=1e-12)


def test_cone_by_adding_slices() -> None:
    """A tapered bore against ten thousand thin straight rings (midpoint rule, error of the order of the square)."""
    body = Profile(
        tuple(
            line(a, b) for a, b in [((0, 20), (0, 50)), ((0, 50), (40, 50)), ((40, 50), (40, 25)), ((40, 25), (0, 20))]
        )
    )
    parts, half = 10_000, 1.5
    total = 0.0
    for k in range(parts):
        r = 20.0 + 5.0 * (k + 0.5) / parts
        total += (
            (math.pi * (2500.0 - r * r) - 8 * (strip_in_circle(50.0, half) - strip_in_circle(r, half))) * 40.0 / parts
        )
    assert slotted_volume(body, 8, 3.0) == pytest.approx(total, rel=1e-9)


@pytest.mark.parametrize(("count", "slot"), [(8, 20.0), (3, -1.0)])
def test_refused(count: int, slot: float) -> None:
    with pytest.raises(GeometryError):
        slotted_volume(ring(25.0, 60.0, 30.0), count, slot)
