"""Signed distance to tool contours, first touch, and contours that are refused."""

import math

import pytest

from hoopwright.errors import GeometryError, InputError
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.section import Tool, mesh_line
from hoopwright.kernels.section.contour import check_contour, extended, nearest, packed
from hoopwright.kernels.section.touch import deepest_between_nodes_mm, first_touch_mm, gap_mm

BUMP = from_corners([(0.0, 0.0), (10.0, 0.0), (15.0, 5.0), (30.0, 5.0)], [4.0, 4.0])


def place(contour, x, y):
    rows = packed(contour)
    return nearest(rows, 0, rows.shape[0], x, y)


def test_line_left_is_positive():
    flat = Profile((line((0.0, 0.0), (10.0, 0.0)),))
    d, nx, ny, bend = place(flat, 4.0, 1.5)
    assert (d, nx, ny, bend) == pytest.approx((1.5, 0.0, 1.0, 0.0))
    assert place(flat, 4.0, -0.25)[0] == pytest.approx(-0.25)


def test_beyond_an_end_the_end_point_counts_from_outside():
    flat = Profile((line((0.0, 0.0), (10.0, 0.0)),))
    d, nx, ny, bend = place(flat, 13.0, -4.0)
    assert (d, nx, ny, bend) == pytest.approx((5.0, 0.6, -0.8, 0.2))


@pytest.mark.parametrize(("ccw", "d"), [(False, 1.0), (True, -1.0)])
def test_arc_is_convex_when_it_turns_clockwise(ccw, d):
    start, end = ((-5.0, 0.0), (5.0, 0.0)) if not ccw else ((5.0, 0.0), (-5.0, 0.0))
    dome = Profile((arc(start, end, (0.0, 0.0), ccw),))
    distance, _nx, ny, bend = place(dome, 0.0, 6.0)
    assert distance == pytest.approx(d)
    assert ny == pytest.approx(1.0 if not ccw else -1.0)
    assert bend == pytest.approx((1.0 if not ccw else -1.0) / 6.0)


def test_normal_turns_as_bend_says():
    for x, y in [(9.0, 0.3), (12.0, 2.0), (16.0, 5.2), (13.0, 4.0)]:
        _d, nx, ny, bend = place(BUMP, x, y)
        tx, ty, step = ny, -nx, 1e-6
        _d2, mx, my, _b = place(BUMP, x + step * tx, y + step * ty)
        assert ((mx - nx) / step, (my - ny) / step) == pytest.approx((bend * tx, bend * ty), abs=1e-5)


def test_distance_has_unit_gradient_along_the_normal():
    for x, y in [(2.0, 0.7), (10.5, 0.5), (14.0, 4.5), (20.0, 5.6)]:
        d, nx, ny, _ = place(BUMP, x, y)
        assert place(BUMP, x + 0.1 * nx, y + 0.1 * ny)[0] == pytest.approx(d + 0.1, abs=1e-9)


def test_extended_adds_straights_in_line():
    longer = extended(BUMP, 7.0)
    assert longer.length == pytest.approx(BUMP.length + 14.0)
    assert longer.start == pytest.approx((-7.0, 0.0))
    assert longer.end == pytest.approx((37.0, 5.0))


def test_contours_a_sheet_cannot_follow_are_refused():
    with pytest.raises(GeometryError, match=r"radius of segment 1.*at least the sheet thickness 5"):
        check_contour("punch", BUMP, 5.0)
    kinked = Profile((line((0.0, 0.0), (5.0, 0.0)), line((5.0, 0.0), (9.0, 3.0))))
    with pytest.raises(GeometryError, match=r"kink after segment 0.*fillet"):
        check_contour("die", kinked, 1.0)
    points = [(0.0, 0.0), (10.0, 0.0), (10.0, 6.0), (4.0, 6.0), (4.0, -4.0)]
    with pytest.raises(GeometryError, match="crossing itself"):
        check_contour("die", from_corners(points, [1.0, 1.0, 1.0]), 0.5)
    check_contour("good", BUMP, 1.0)


def test_first_touch_of_a_ball_on_a_disc():
    disc = mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, 40)
    radius = 10.0
    ball = Profile((arc((-30.0 - radius, radius), (-30.0, 0.0), (-30.0 - radius, 0.0), False),))
    tool = Tool("ball", ball, 0.0)
    # the pole stands 30 below the middle plane, the face half a millimetre nearer
    assert first_touch_mm(disc, tool, (1.0, 0.0)) == pytest.approx(29.5, abs=1e-6)
    assert first_touch_mm(disc, tool, (1.0, 0.0), (29.9, 0.0)) == pytest.approx(-0.4, abs=1e-6)
    assert gap_mm(disc, tool, (20.0, 0.0)) == pytest.approx(9.5, abs=1e-9)
    assert deepest_between_nodes_mm(disc, tool, (29.6, 0.0)) == pytest.approx(0.1, abs=1e-9)


def test_a_tool_that_meets_no_sheet_is_refused():
    disc = mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, 40)
    tool = Tool("flat", Profile((line((-5.0, 60.0), (-5.0, 50.0)),)))
    with pytest.raises(InputError, match="meets no sheet"):
        first_touch_mm(disc, tool, (1.0, 0.0), reach_mm=100.0)
    with pytest.raises(InputError, match="direction"):
        first_touch_mm(disc, tool, (0.0, 0.0))
    assert math.isfinite(gap_mm(disc, tool))
