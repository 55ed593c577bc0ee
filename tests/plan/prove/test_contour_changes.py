"""A roll contour by its changes: nothing changes nothing, each change does what it says, what cannot be is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile_build import from_corners
from hoopwright.plan.prove.contour import changed, changes_of
from hoopwright.plan.prove.start import anchor

HAT = from_corners(
    [(29, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76, 123.4)], [3.0, 3.0, 3.0, 4.0]
)
JOGGLE = from_corners([(4, 119.95), (13, 119.95), (21, 123), (42, 123)], [4.0, 4.0])
TUBE = from_corners([(0, 50), (30, 50)], [])


def test_what_can_be_changed():
    kinds = [change.kind for change in changes_of(HAT, False)]
    assert kinds == ["turn"] * 4 + ["hollow"]
    assert len(changes_of(HAT, True)) == 4 + 1 + 2 + 3 + 4
    assert [c.kind for c in changes_of(JOGGLE, False)] == ["turn", "turn"]
    assert changes_of(TUBE, True) == ()


def test_the_crown_is_held_and_a_joggle_by_its_flank():
    assert anchor(HAT) == pytest.approx(0.5 * (HAT.breaks[4] + HAT.breaks[5]))
    assert anchor(JOGGLE) == pytest.approx(0.5 * (JOGGLE.breaks[2] + JOGGLE.breaks[3]))
    assert anchor(TUBE) == pytest.approx(15.0)


@pytest.mark.parametrize("section", [HAT, JOGGLE])
def test_no_change_is_the_section(section):
    changes = changes_of(section, True)
    same = changed(section, changes, np.zeros(len(changes)), 1.6, anchor(section))
    for s in np.linspace(0.0, section.length, 40):
        assert same.point_at(float(s)) == pytest.approx(section.point_at(float(s)), abs=1e-9)


def test_each_change_does_what_it_says_and_keeps_the_held_place():
    changes, held = changes_of(HAT, True), anchor(HAT)
    for k, change in enumerate(changes):
        values = np.zeros(len(changes))
        values[k] = change.step
        other = changed(HAT, changes, values, 1.6, held)
        one, two = HAT.segments[change.segment], other.segments[change.segment]
        if change.kind == "turn":
            assert abs(two.sweep) == pytest.approx(abs(one.sweep) + math.copysign(change.step, one.sweep))
            assert two.length == pytest.approx(one.length)
        elif change.kind == "hollow":
            assert two.curvature == pytest.approx(change.step)
        elif change.kind == "straight":
            assert two.length == pytest.approx(one.length + change.step)
        else:
            assert (two.radius, abs(two.sweep)) == pytest.approx((one.radius + change.step, abs(one.sweep)))
        number = int(np.searchsorted(HAT.breaks, held, side="right")) - 1
        share = (held - HAT.breaks[number]) / HAT.segments[number].length
        place = other.segments[number].point_at(share * other.segments[number].length)
        assert place == pytest.approx(HAT.point_at(held), abs=1e-9)


@pytest.mark.parametrize(("kind", "size", "field"), [("turn", 1.0, "turn"), ("radius", 2.0, "radius"),
                                                     ("straight", 9.0, "straight")])  # fmt: skip
def test_what_cannot_be_drawn_is_refused(kind, size, field):
    changes = changes_of(HAT, True)
    values = np.array([-size * math.copysign(1.0, HAT.segments[c.segment].sweep) if c.kind == "turn" == kind
                       else -size if c.kind == kind else 0.0 for c in changes])  # fmt: skip
    with pytest.raises(GeometryError, match=field):
        changed(HAT, changes, values, 1.6, anchor(HAT))
