"""Roll contours against the hand figures of a hat section at a pitch radius of 50, and the gap between closed rolls."""

import math

import pytest

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_crossing import clearance, levels_at
from hoopwright.tools.rolls import chord_cant, extended, roll_pair

HAT = from_corners([(29, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76, 123.4)], [3, 3, 3, 4])
CONE = from_corners([(102, 116.85), (107, 116.85), (110.3, 118.6), (115.5, 118.6), (141, 95), (152, 95)], [3, 3, 3, 8])


def test_roll_radii_at_crown_and_lip() -> None:
    # worked by hand: pitch line at mid-depth 124.575; faces half a thickness off the mid-surface
    pair = roll_pair(HAT, 0.8, 50.0, 5.0)
    assert pair.pitch_height_mm == pytest.approx(124.575)
    middle = 0.5 * (29 + 76)
    crown, lip = 43.0 - middle, 66.0 - middle
    assert levels_at(pair.inner, crown) == [pytest.approx(50.775)]
    assert levels_at(pair.inner, lip) == [pytest.approx(48.425)]
    assert levels_at(pair.outer, crown) == [pytest.approx(48.425)]
    assert levels_at(pair.outer, lip) == [pytest.approx(50.775)]


def test_closed_rolls_stand_one_thickness_apart_everywhere() -> None:
    pair = roll_pair(HAT, 0.8, 50.0, 5.0)
    facing = pair.outer.mirrored_y().moved(0.0, 100.0)
    assert clearance(pair.inner, facing) == pytest.approx(0.8, abs=1e-6)


def test_a_canted_section_stands_level_and_shallower() -> None:
    cant = chord_cant(CONE)
    pair = roll_pair(CONE, 0.8, 50.0, 5.0, cant)
    level = roll_pair(CONE, 0.8, 50.0, 5.0)
    depth = pair.inner.bounds[3] - pair.inner.bounds[1]
    assert depth < 0.6 * (level.inner.bounds[3] - level.inner.bounds[1])
    assert pair.cant_deg == pytest.approx(math.degrees(math.atan2(118.6 - 95 - 1.75, 50)), abs=0.1)


def test_conical_rolls_meet_on_the_pitch_cone_and_keep_the_gap() -> None:
    slant = 235.0
    pair = roll_pair(CONE, 0.8, 50.0, 5.0, chord_cant(CONE), slant)
    tilt = math.asin(50.0 / slant)
    assert pair.cone_deg == pytest.approx(math.degrees(tilt))
    # undo each tilt about the pitch point: the faces stand one thickness apart again
    inner = pair.inner.turned(tilt, (0.0, 50.0))
    outer = pair.outer.mirrored_y().moved(0.0, 100.0).turned(-tilt, (0.0, 50.0))
    assert clearance(inner, outer) == pytest.approx(0.8, abs=1e-6)
    assert pair.inner.start[1] > pair.inner.end[1]


def test_an_apex_forward_tilts_the_rolls_the_other_way() -> None:
    aft = roll_pair(HAT, 0.8, 50.0, 5.0, 0.0, 235.0)
    forward = roll_pair(HAT, 0.8, 50.0, 5.0, 0.0, -235.0)
    assert forward.cone_deg == pytest.approx(-aft.cone_deg) and aft.cone_deg > 0.0
    for pair in (aft, forward):
        tilt, pitch = math.radians(pair.cone_deg), (0.0, 50.0)
        inner = pair.inner.turned(tilt, pitch)
        outer = pair.outer.mirrored_y().moved(0.0, 100.0).turned(-tilt, pitch)
        assert clearance(inner, outer) == pytest.approx(0.8, abs=1e-6)


def test_run_out_adds_its_length_at_both_ends() -> None:
    assert extended(HAT, 5.0).length == pytest.approx(HAT.length + 10.0)
    assert extended(HAT, 0.0) is HAT


def test_refusals() -> None:
    with pytest.raises(GeometryError, match="least radius of the inner roll"):
        roll_pair(CONE, 0.8, 13.0, 0.0)
    with pytest.raises(GeometryError, match="slant radius"):
        roll_pair(CONE, 0.8, 50.0, 0.0, 0.0, 40.0)
