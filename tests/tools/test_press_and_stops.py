"""Pin stops, segment choice and profile at their edges."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.segment_hull import SegmentCircle
from hoopwright.kernels.segment_retract import Contour
from hoopwright.kernels.taper_drive import TaperDrive
from hoopwright.tools.expander import rounded_to, shims_about, stop_for_girth, stop_rows
from hoopwright.tools.segment_contour import FacePoints, segment_contour
from hoopwright.tools.segments import SegmentRule, choose_set

DRIVE = TaperDrive(8, math.radians(7.0), 0.10, 0.12)


def test_stop_for_a_change_of_girth() -> None:
    """0.20 low at 0.2393 a mm is 0.836 of pin; on steps of 0.05: 0.85, segments 0.85 tan 7 deg = 0.104 short."""
    stop = stop_for_girth(DRIVE, 44.79, -0.20, 0.05)
    assert stop.stop_mm == pytest.approx(43.95)
    assert stop.standing_mm == pytest.approx(-0.85 * math.tan(math.radians(7.0)))
    assert stop.girth_change_mm(8) == pytest.approx(-0.2034, abs=0.0001)


def test_rounding_of_a_stop() -> None:
    assert rounded_to(0.074, 0.05) == 0.05
    assert rounded_to(-0.836, 0.05) == -0.85


def test_rows_hold_full_size_and_first_hit() -> None:
    shims = shims_about(0.05, -0.85)
    assert 0.0 in shims and -0.85 in shims and list(shims) == sorted(shims)
    rows = stop_rows(DRIVE, 44.8, (248.2,), (247.6,), 0.99, SegmentCircle(8, 123.3, 0.0, 4.2), shims)
    full = next(row for row in rows if row.shim_mm == 0.0)
    assert full.loaded_mm == (248.2,) and full.free_mm == (247.6,)
    low = next(row for row in rows if row.shim_mm == -0.85)
    assert low.free_mm[0] - 247.6 == pytest.approx(0.99 * (low.loaded_mm[0] - 248.2))


RULE = SegmentRule(8, 16, 1.0, 0.5, 0.3, 0.5, 0.1, 0.15, 0.33)


def ring(radii: list[float]) -> Contour:
    return Contour(np.linspace(0.0, 10.0 * (len(radii) - 1), len(radii)), np.array(radii))


def test_plain_ring_needs_growth_and_clearance() -> None:
    """Segments 100, ring 98 before and 99.7 after: (2 + 0.5)/cos of half an arc, between 2.5 and 2.75."""
    found = choose_set(ring([100.0, 100.0]), ring([98.0, 98.0]), ring([99.7, 99.7]), RULE)
    assert 2.5 < found.needed.better.load.travel_mm < 2.75
    assert found.travel_mm == 3.0 and found.count == 8
    assert found.hand_load_mm == pytest.approx(2.5)


def test_a_ring_that_no_travel_frees_is_refused() -> None:
    """A throat of 20 under a belly of 100: collapsed edges never pass it."""
    with pytest.raises(InputError, match="let the ring off"):
        choose_set(ring([20.0, 100.0, 20.0]), ring([19.0, 98.0, 19.0]), ring([19.9, 99.7, 19.9]), RULE)


def face(points: int, curve: float) -> tuple[FacePoints, object]:
    """Exact inside face of a hat of even thickness, lifted by 0.3, with a bow of `curve`."""
    section = from_corners([(0.0, 100.0), (15.0, 100.0), (25.0, 104.0), (45.0, 104.0)], [4.0, 4.0])
    st = section.stations(45.0 / points)
    radius = st.y - 0.4 * np.cos(st.angle) + 0.3
    place = st.x + 0.4 * np.sin(st.angle)
    bow = curve * (place - 22.5) ** 2
    return FacePoints(place, radius + bow, np.full(place.size, 0.8), st.segment), section


def test_even_sheet_gives_the_exact_offset() -> None:
    points, section = face(60, 0.0)
    found = segment_contour(section, points)
    exact = offset(section, -0.4).moved(0.0, 0.3)
    assert found.exact
    for mine, theirs in zip(found.profile, exact, strict=True):
        assert mine.start == (pytest.approx(theirs.start[0], abs=0.002), pytest.approx(theirs.start[1], abs=0.001))
    assert np.max(np.abs(found.miss_mm)) < 0.001


def test_a_bow_is_left_as_miss_and_held_at_a_control_size() -> None:
    points, section = face(60, 1e-4)
    free, held = segment_contour(section, points), segment_contour(section, points, (5.0,))
    assert np.max(np.abs(free.miss_mm)) > 0.005
    there = float(np.interp(5.0, points.z_mm, points.radius_mm))
    assert float(held.radius_at(np.array([5.0]))[0]) == pytest.approx(there, abs=0.0006)


def test_a_section_that_begins_with_an_arc_is_offset_whole() -> None:
    from hoopwright.kernels.profile import Profile, arc, line

    section = Profile((arc((0.0, 100.0), (5.0, 105.0), (5.0, 100.0), False), line((5.0, 105.0), (20.0, 105.0))))
    st = section.stations(1.0)
    keep = np.cos(st.angle) > 0.05
    points = FacePoints(
        (st.x + 0.4 * np.sin(st.angle))[keep],
        (st.y - 0.4 * np.cos(st.angle) + 0.25)[keep],
        np.full(int(keep.sum()), 0.8),
        st.segment[keep],
    )
    found = segment_contour(section, points)
    assert not found.exact
    assert float(found.radius_at(np.array([15.0]))[0]) == pytest.approx(105.0 - 0.4 + 0.25, abs=0.01)
