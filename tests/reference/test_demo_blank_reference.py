"""Blanks, roll slip, travel and drive of the invented demonstration rings, by the stated hand methods (our figures)."""

import math

import numpy as np
import pytest
from demo_sections import section, stations

from hoopwright.kernels.cone_development import fit_blank
from hoopwright.kernels.corner_formulas import hand_corner
from hoopwright.kernels.flow import swift
from hoopwright.kernels.profile_integrals import line_moments
from hoopwright.kernels.roll_slip import level_pitch_height, pitch_radius_needed, slip_map
from hoopwright.kernels.segment_retract import Contour, SegmentForm, leading_end, travel_crown_throat
from hoopwright.kernels.segment_slot import flat_depth, slot_needed
from hoopwright.kernels.stop_table import girth_per_stroke
from hoopwright.kernels.strip_blank import StripRule, radius_range_log, strip_blank
from hoopwright.kernels.strip_nest import SheetPlate, nest_strips
from hoopwright.kernels.taper_drive import TaperDrive, drive_forces, drive_forces_limit

RULE = StripRule(0.015, 0.12, 25.0, 3.0, 1.0, 0.5)
LAW = swift(1630.0, 0.020, 0.385)


@pytest.mark.parametrize(
    ("ring", "developed", "mean", "length", "net", "width", "largest"),
    [
        ("HD-401", 38.529, 121.950, 742.53, 45.139, 45.5, 4.00),
        ("HD-402", 47.832, 124.196, 763.89, 54.345, 54.5, 3.38),
        ("HD-411", 42.163, 60.963, 374.51, 48.640, 49.0, 4.02),
        ("HD-412", 55.832, 59.418, 357.49, 63.056, 63.5, 5.48),
    ],
)
def test_straight_strips(
    ring: str, developed: float, mean: float, length: float, net: float, width: float, largest: float
) -> None:
    profile = section(ring)
    sums = line_moments(profile)
    _, _, r = stations(ring)
    assert profile.length == pytest.approx(developed, abs=5e-4)
    assert sums.y / sums.length == pytest.approx(mean, abs=5e-4)
    strip = strip_blank(profile.length, float(r.min()), sums.y / sums.length, float(r.max()), 0.8, RULE)
    assert strip.hoop_length_mm == pytest.approx(length, abs=0.005)
    assert strip.width_net_mm == pytest.approx(net, abs=1e-3)
    assert strip.width_mm == width
    assert 100.0 * strip.largest_strain_log == pytest.approx(largest, abs=0.005)


def test_strip_of_402_to_the_sheet() -> None:
    """Story figures: cut 764.01, rough 815, mean strain 2.13 %, thickness 0.7915, 20 x 2 strips, 0.292 kg."""
    strip = strip_blank(47.832, 123.4, 124.196, 125.75, 0.8, RULE)
    assert strip.cut_length_mm == pytest.approx(764.01, abs=0.005)
    assert strip.rough_length_mm == 815.0
    assert 100.0 * strip.mean_strain_log == pytest.approx(2.13, abs=0.005)
    assert strip.sized_thickness_mm == pytest.approx(0.7915, abs=5e-5)
    assert strip.mass_kg(0.8, 8220.0) == pytest.approx(0.292, abs=5e-4)
    assert 100.0 * radius_range_log(123.4, 125.75) == pytest.approx(1.89, abs=0.005)
    nest = nest_strips(SheetPlate(2438.0, 1219.0, 10.0, 3.0), strip.rough_length_mm, strip.width_mm)
    assert (nest.rows, nest.columns, nest.count) == (20, 2, 40)


@pytest.mark.parametrize(
    ("ring", "first", "last", "sector", "largest"),
    [
        ("HD-403", 593.97, 540.90, 74.19, 6.07),
        ("HD-404", 265.02, 205.80, 156.38, 8.17),
        ("HD-413", 322.74, 401.18, 59.67, 10.22),
    ],
)
def test_arc_blanks(ring: str, first: float, last: float, sector: float, largest: float) -> None:
    """Allowed 0.1 mm, 0.05 degrees, 0.02 %; reached 0.01 mm, 0.005 degrees, 0.005 %: held to that."""
    s, _, r = stations(ring)
    fit = fit_blank(s, r, 0.015)
    assert fit.slant_radii_mm == pytest.approx((first, last), abs=0.015)
    assert math.degrees(fit.sector_rad) == pytest.approx(sector, abs=0.006)
    assert 100.0 * fit.least_strain_log == pytest.approx(1.49, abs=0.005)
    assert 100.0 * fit.largest_strain_log == pytest.approx(largest, abs=0.006)


def test_roll_pair_of_402_and_401() -> None:
    _, _, r = stations("HD-402")
    middle = level_pitch_height(r)
    slips = slip_map(r - middle, 50.0, 0.8)
    assert middle == pytest.approx(124.575, abs=5e-4)
    assert slips.worst == pytest.approx(0.0470, abs=5e-5)
    crown, lip = int(np.argmax(r)), int(np.argmin(r))
    assert (slips.inner_radius_mm[crown], slips.inner_radius_mm[lip]) == pytest.approx((50.775, 48.425), abs=5e-4)
    assert (slips.outer_radius_mm[crown], slips.outer_radius_mm[lip]) == pytest.approx((48.425, 50.775), abs=5e-4)
    _, _, wide = stations("HD-401")
    assert slip_map(wide - level_pitch_height(wide), 50.0, 0.8).worst == pytest.approx(0.0610, abs=5e-5)
    assert pitch_radius_needed(float(np.ptp(wide)), 0.05) == pytest.approx(61.0, abs=0.05)


@pytest.mark.parametrize(
    ("radius", "turn", "tool", "over"),
    [(3.0, 28.50, 2.909, 29.39), (3.0, 21.39, 2.909, 22.06), (4.0, 21.39, 3.852, 22.21)],
)
def test_hand_corners(radius: float, turn: float, tool: float, over: float) -> None:
    hand = hand_corner(LAW, 205000.0, 0.32, 0.8, radius, math.radians(turn))
    assert hand.tool_radius_mm == pytest.approx(tool, abs=5e-4)
    assert math.degrees(hand.tool_turn_rad) == pytest.approx(over, abs=0.005)


def test_travel_of_402_by_hand_and_by_the_hull() -> None:
    """By hand 5.08 / 3.25, the other end 4.63 / 2.80; the sweep finds that other end and asks for more at both."""
    crown, lip, land = 125.752, 123.395, 123.846
    shift = 123.4 - 763.89 / (2.0 * math.pi)
    half, sized = 0.4, 0.5 * 0.7915
    assert travel_crown_throat(crown, 123.4 - shift - half, 0.5) == pytest.approx(5.08, abs=0.01)
    assert travel_crown_throat(crown, 123.4 - sized, 0.5) == pytest.approx(3.25, abs=0.01)
    assert travel_crown_throat(crown, 123.85 - shift - half, 0.5) == pytest.approx(4.63, abs=0.01)
    assert travel_crown_throat(crown, 123.85 - sized, 0.5) == pytest.approx(2.80, abs=0.01)
    _, z, r = stations("HD-402")
    segments = Contour(z, r + (crown - 125.75))
    found = leading_end(segments, Contour(z, r - shift - half), Contour(z, r - sized), SegmentForm(8, 4.6), 0.5)
    assert found.better.end == "plus"
    assert (found.better.load.segment_z_mm, found.better.load.hoop_z_mm) == pytest.approx((39.26, 29.0), abs=0.01)
    arc = math.pi / 8 - math.asin(4.6 / (2.0 * crown))
    for way, hand in ((found.minus.load, 5.08), (found.minus.unload, 3.25), (found.plus.load, 4.63)):
        # the 1/cos rule is the first term; the sweep's square root adds half a per cent here
        assert way.travel_mm == pytest.approx(hand / math.cos(arc), rel=0.01)
    # the strip's neutral fibre keeps its length, so the incoming lip is 0.3 to 0.8 smaller in radius still
    tight = leading_end(segments, Contour(z, r - shift - half - 0.8), Contour(z, r - sized), SegmentForm(8, 4.6), 0.5)
    assert 5.4 <= found.minus.load.travel_mm < tight.minus.load.travel_mm == pytest.approx(6.3, abs=0.05)
    assert lip < land < crown


def test_drive_of_402_by_hand_and_with_eight_segments() -> None:
    """Flow stress 648.6 on 53.8 mm of section gives 27.6 kN; the hand sum is 2 pi T = 174 kN, pull 40.3 kN."""
    drive = TaperDrive(8, math.radians(7.0), 0.10, 0.12)
    hand = drive_forces_limit(drive, 27650.0)
    assert hand.radial_sum_N == pytest.approx(174000.0, abs=500.0)
    assert hand.pull_N == pytest.approx(40300.0, abs=50.0)
    assert 1.0 - drive_forces(drive, 27650.0).pull_N / hand.pull_N == pytest.approx(0.026, abs=5e-4)
    assert drive.stroke(5.5) == pytest.approx(44.8, abs=0.05)
    assert math.degrees(drive.release_margin_rad) == pytest.approx(1.29, abs=0.005)
    assert drive.diameter_per_stroke == pytest.approx(0.2456, abs=5e-5)
    assert girth_per_stroke(drive) == pytest.approx(0.2393, abs=5e-5)
    assert slot_needed(8, 5.5, 0.3) == pytest.approx(4.51, abs=0.005)
    assert flat_depth(125.752, 4.6) == pytest.approx(0.021, abs=5e-4)
