"""Line-and-arc contours against closed forms and against an independent polygon library (shapely)."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Profile, Segment, arc, line
from hoopwright.kernels.profile_build import closed_up, from_corners
from hoopwright.kernels.profile_crossing import clearance, crossings, distance, levels_at, self_crossings
from hoopwright.kernels.profile_integrals import line_moments, region, sheet_section
from hoopwright.kernels.profile_offset import offset

HAT = from_corners(
    [(29, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76, 123.4)], [3, 3, 3, 4], "hat"
)


def circle(radius: float, x: float = 0.0, y: float = 0.0, ccw: bool = True) -> Profile:
    left, right = (x - radius, y), (x + radius, y)
    return Profile((arc(right, left, (x, y), ccw), arc(left, right, (x, y), ccw)))


def test_developed_length_of_a_hat_section_is_sum_of_straights_and_arcs() -> None:
    turn_1, turn_2 = math.atan2(1.9, 3.5), math.atan2(2.35, 6.0)
    t1, t2, t3, t4 = (r * math.tan(a / 2) for r, a in ((3, turn_1), (3, turn_1), (3, turn_2), (4, turn_2)))
    straights = (6 - t1) + (math.hypot(3.5, 1.9) - t1 - t2) + (9.5 - t2 - t3) + (math.hypot(6, 2.35) - t3 - t4)
    straights += 22 - t4
    assert HAT.length == pytest.approx(straights + 6 * turn_1 + 7 * turn_2, abs=1e-12)


def test_torus_volume_and_area_by_pappus() -> None:
    ring = region(circle(2.0, 0.0, 10.0))
    assert ring.area == pytest.approx(4 * math.pi, rel=1e-14)
    assert ring.revolved_volume == pytest.approx(2 * math.pi * 10 * 4 * math.pi, rel=1e-14)
    backward = region(circle(2.0, 0.0, 10.0, ccw=False))
    assert (backward.area, backward.centroid_y) == pytest.approx((ring.area, 10.0), rel=1e-14)


def test_sheet_along_a_half_circle_equals_the_half_annulus() -> None:
    # half annulus radii 4..6 standing on the axis: area pi/2 (36-16), centroid 4/(3 pi) (6^3-4^3)/(6^2-4^2)
    bow = Profile((arc((5.0, 0.0), (-5.0, 0.0), (0.0, 0.0), True),))
    sheet = sheet_section(bow, 2.0)
    assert sheet.area == pytest.approx(math.pi / 2 * 20, rel=1e-14)
    centroid = 4 / (3 * math.pi) * (216 - 64) / (36 - 16)
    assert sheet.centroid_y == pytest.approx(centroid, rel=1e-13)
    about_axis = math.pi / 8 * (6**4 - 4**4)
    assert sheet.second_moment == pytest.approx(about_axis - sheet.area * centroid**2, rel=1e-12)
    assert sheet.second_moment_about_axis == pytest.approx(about_axis, rel=1e-13)
    assert sheet.revolved_volume == pytest.approx(4 / 3 * math.pi * (216 - 64), rel=1e-13)


def test_sheet_of_a_cylinder_wall_has_the_volume_of_a_tube() -> None:
    wall = Profile((line((0.0, 50.0), (30.0, 50.0)),))
    assert sheet_section(wall, 0.8).revolved_volume == pytest.approx(math.pi * (50.4**2 - 49.6**2) * 30, rel=1e-13)


def test_offset_region_against_shapely_buffer() -> None:
    outline = closed_hat(HAT, 0.4)
    fine = Polygon(outline.polyline(1e-6))
    assert fine.area == pytest.approx(region(outline).area, rel=1e-6)  # chords of 1e-6 mm sagitta
    assert region(outline).area == pytest.approx(HAT.length * 0.8, rel=1e-12)
    assert fine.centroid.y == pytest.approx(region(outline).centroid_y, abs=1e-6)
    assert sheet_section(HAT, 0.8).centroid_y == pytest.approx(region(outline).centroid_y, rel=1e-12)


def closed_hat(middle: Profile, half: float) -> Profile:
    outer, inner = offset(middle, half), offset(middle, -half).reversed()
    return Profile(
        (*outer.segments, line(outer.end, inner.start), *inner.segments, line(inner.end, outer.start)), "band"
    )


def test_offset_there_and_back_is_the_same_contour() -> None:
    back = offset(offset(HAT, 1.3), -1.3)
    assert all(
        math.dist(a.start, b.start) < 1e-12 and math.dist(a.end, b.end) < 1e-12 for a, b in zip(HAT, back, strict=True)
    )


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.floats(-1.2, 1.2), min_size=1, max_size=5),
    st.lists(st.floats(0.5, 3.0), min_size=5, max_size=5),
    st.floats(-40, 40),
    st.floats(-40, 40),
)
def test_length_survives_moving_turning_round_and_the_band_keeps_its_area(
    turns: list[float], radii: list[float], dx: float, dy: float
) -> None:
    points = [(0.0, 50.0)]
    heading = 0.0
    for turn in [0.0, *turns]:
        heading = max(-1.4, min(1.4, heading + turn))
        points.append((points[-1][0] + 12 * math.cos(heading), points[-1][1] + 12 * math.sin(heading)))
    contour = from_corners(points, radii[: len(points) - 2])
    assert contour.moved(dx, dy).length == pytest.approx(contour.length, rel=1e-12)
    assert contour.reversed().length == pytest.approx(contour.length, rel=1e-14)
    assert region(closed_hat(contour, 0.3)).area == pytest.approx(0.6 * contour.length, rel=1e-10)
    assert sheet_section(contour, 0.6).second_moment == pytest.approx(
        sheet_section(contour.reversed(), 0.6).second_moment, rel=1e-9
    )


def test_stations_converge_with_second_order() -> None:
    # one arc, since errors of neighbouring lines and arcs have opposite signs and half cancel
    bow = Profile((arc((5.0, 20.0), (0.0, 25.0), (0.0, 20.0), True),))
    exact = line_moments(bow).yy
    errors = []
    for points in (4, 8, 16):
        st_ = bow.stations(100.0, arc_points=points)
        errors.append(abs(float(np.sum(st_.weight * st_.y**2)) - exact))
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.02)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.02)
    assert float(HAT.stations(0.7).weight.sum()) == pytest.approx(HAT.length, rel=1e-14)


def test_rounded_file_coordinates_are_closed_up_within_their_rounding() -> None:
    printed = Profile(
        (
            line((29.0, 123.85), (34.2382, 123.85)),
            arc((34.2382, 123.85), (35.6695, 124.2134), (34.2382, 126.85), True),
            line((35.6695, 124.2134), (37.8305, 125.3866)),
        )
    )
    mended = closed_up(printed)
    bow = mended.segments[1]
    assert bow.centre is not None
    assert math.dist(bow.start, bow.centre) == pytest.approx(math.dist(bow.end, bow.centre), abs=1e-12)
    assert bow.radius == pytest.approx(3.0, abs=3e-4)  # coordinates are printed to 1e-4
    assert abs(bow.sweep) < 0.6


def test_crossings_levels_and_distance() -> None:
    bow = arc((5.0, 0.0), (-5.0, 0.0), (0.0, 0.0), True)
    assert crossings(line((-9.0, 3.0), (9.0, 3.0)), bow) == [pytest.approx((-4.0, 3.0)), pytest.approx((4.0, 3.0))]
    assert crossings(line((-9.0, -3.0), (9.0, -3.0)), bow) == []
    assert levels_at(HAT, 44.0) == [pytest.approx(125.75)]
    assert distance(HAT, (44.0, 127.75)) == pytest.approx(2.0)
    assert clearance(HAT, HAT.moved(0.0, 5.0)) == pytest.approx(
        5.0 * math.cos(math.atan2(1.9, 3.5)), abs=0.3
    )  # near the steepest flank; the exact figure is taken at the flank only when both run parallel there
    loop = Profile((line((0.0, 0.0), (4.0, 0.0)), line((4.0, 0.0), (4.0, 3.0)), line((4.0, 3.0), (2.0, -3.0))))
    assert [(i, j) for i, j, _ in self_crossings(loop)] == [(0, 2)]
    assert self_crossings(HAT) == []


def test_turning_a_contour_keeps_its_length_and_band() -> None:
    turned = HAT.turned(0.3, (10.0, 100.0))
    assert turned.length == pytest.approx(HAT.length, rel=1e-13)
    assert turned.angle_at(20.0) == pytest.approx(HAT.angle_at(20.0) + 0.3)
    back = turned.turned(-0.3, (10.0, 100.0))
    assert math.dist(back.point_at(33.0), HAT.point_at(33.0)) < 1e-11


def test_bounds_include_the_crown_of_an_arc() -> None:
    assert Profile((arc((5.0, 0.0), (-5.0, 0.0), (0.0, 0.0), True),)).bounds == pytest.approx((-5.0, 0.0, 5.0, 5.0))


def test_refusals_name_the_place() -> None:
    with pytest.raises(GeometryError, match="straight between corners 0 and 1"):
        from_corners([(0, 0), (1, 0), (1, 1)], [5.0])
    with pytest.raises(GeometryError, match="radius of arc 1"):
        offset(from_corners([(0, 0), (9, 0), (9, 9)], [1.0]), 1.5)
    with pytest.raises(GeometryError, match="kink after segment 0"):
        offset(from_corners([(0, 0), (9, 0), (9, 9)], [0.0]), 0.1)
    with pytest.raises(GeometryError, match="gap after segment 0"):
        Profile((line((0, 0), (1, 0)), line((1.1, 0), (2, 0))))
    with pytest.raises(GeometryError, match="longer than 0"):
        Profile((Segment((0, 0), (0, 0)),))
