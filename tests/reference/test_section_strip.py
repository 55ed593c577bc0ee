"""Figures of the method paper on rolling in prism mode, reached again. Tolerances as its proof asks: forces 1 %,
strains 0.002, lengths 0.02 mm at 320 elements, angles 0.15 degrees; released radii of short bends scatter by 0.1."""

import math

import numpy as np
import pytest

from hoopwright.kernels.flow import swift, tabulated
from hoopwright.kernels.section import FREE, Metal, Release, Support, mesh_line, mesh_profile
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.hoop import centroid_mm, closed_hoop, curl_radius_mm
from hoopwright.kernels.section.measure import bends, fit_profile, width_mm
from tests.reference.section_cases import (
    MARGIN,
    MIDLINE,
    SHEET,
    STRIP_METAL,
    curled,
    depths,
    flat_strip,
    heights,
    pass_sequence,
    roll_pass,
    size_hoop,
    stress_free_hoop,
    v_bend,
)

ANGLE, LENGTH = 0.15, 0.02
NOMINAL = extended(MIDLINE, 10.0)
SIGNS = np.array([1.0, -1.0, -1.0, 1.0])


def read(result):
    """Turns [deg], radii, depths of land and lip, greatest and rms deviation of the released section."""
    bent, fit = bends(result.section, MIDLINE, MARGIN), fit_profile(result.section, NOMINAL)
    turns = np.degrees(bent.turn_rad) * SIGNS
    return turns, bent.radius_mm, depths(result.section, fit), fit.greatest_mm, fit.rms_mm


@pytest.fixture(scope="module")
def rolled():
    """The base case: clear 0.02, one pass, 320 elements."""
    return roll_pass(*flat_strip(320))


def test_one_pass_without_curl(rolled):
    turns, bend_radii, depth, greatest, rms = read(rolled)
    assert turns == pytest.approx([28.31, 28.42, 22.28, 21.73], abs=ANGLE)
    assert bend_radii == pytest.approx([3.17, 3.06, 3.42, 4.50], abs=0.15)
    assert depth == pytest.approx((2.200, 2.517), abs=LENGTH)
    assert (greatest, rms) == pytest.approx((0.19, 0.079), abs=0.005)
    assert rolled.step("shut").push_N[0, 1] == pytest.approx(885.0, rel=0.01)
    assert rolled.section.thickness_mm.min() == pytest.approx(0.7946, abs=0.0003)
    assert width_mm(rolled.section) == pytest.approx(53.67, abs=0.01)
    assert abs(rolled.section.curl_per_mm) < 1e-5


def test_plastic_strain_by_layer_and_on_average(rolled):
    p = rolled.section.plastic_strain
    s = np.cumsum(rolled.section.length_start_mm) - MARGIN
    corner = (s > MIDLINE.breaks[1] + 0.4) & (s < MIDLINE.breaks[2] - 0.4)
    layers = p[corner].mean(axis=0)
    # printed from the inner to the outer face of the corner; faces differ by the place the corner is read at
    printed = np.array([0.149, 0.112, 0.061, 0.021, 0.000, 0.040, 0.098, 0.145])
    found = layers[::-1] if layers[0] < layers[-1] else layers
    assert np.sort(found) == pytest.approx(np.sort(printed), abs=0.02)
    assert p.mean() == pytest.approx(0.0093, abs=0.0005)


def test_work_of_the_run(rolled):
    energies = rolled.energies
    assert energies.dissipated == pytest.approx(199.0, rel=0.01)
    assert abs(energies.gap) < 0.01


def test_line_force_while_closing(rolled):
    history = rolled.history
    closed = rolled.step("shut").travel_mm[1, 1]
    opening = history.travel_mm[:, 1, 1] - closed
    force = history.force_N("lower")[:, 1]
    done = int(np.argmax(opening <= 1e-9)) + 1
    at = np.interp([-0.5, -0.2, -0.1, -0.05], -opening[:done], force[:done])
    # read between two steps of 0.01 to 0.02 mm, while the force climbs 10 % in 0.01 mm
    assert at == pytest.approx([100.0, 253.0, 349.0, 489.0], rel=0.06)


def load_and_work(result):
    """Roll load [kN] and work per metre [J] from the line force: P = integral F ds, s = sqrt(2 Re opening), Re 25."""
    history = result.history
    opening = history.travel_mm[:, 1, 1] - result.step("shut").travel_mm[1, 1]
    shut = int(np.argmax(opening <= 1e-9)) + 1
    force, opening = history.force_N("lower")[:shut, 1], np.maximum(opening[:shut], 0.0)
    return -np.trapezoid(force, np.sqrt(50.0 * opening)) / 1e3, -np.trapezoid(force, opening)


def test_roll_load_and_work(rolled):
    load, work = load_and_work(rolled)
    assert load == pytest.approx(2.29, rel=0.01)
    assert work == pytest.approx(220.0, rel=0.01)


@pytest.mark.soak
@pytest.mark.parametrize(("clear", "printed"), [(0.0, 3.12), (0.05, 1.89), (0.10, 1.53)])
def test_roll_load_by_clearance(clear, printed):
    assert load_and_work(roll_pass(*flat_strip(320), clear=clear))[0] == pytest.approx(printed, rel=0.01)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("count", "depth", "force"), [(1, (2.202, 2.516), 889.0), (2, (2.202, 2.516), 889.0), (4, (2.200, 2.516), 888.0)]
)
def test_number_of_passes_does_not_matter(count, depth, force):
    result = pass_sequence(count, 240)
    assert read(result)[2] == pytest.approx(depth, abs=LENGTH)
    assert read(result)[0] == pytest.approx([28.33, 28.43, 22.32, 21.74], abs=ANGLE)
    assert result.step("shut").push_N[0, 1] == pytest.approx(force, rel=0.01)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("strength", "young", "depth", "greatest", "force"),
    [(1793.0, 205e3, 2.231, 0.213, 957.0), (1630.0, 188.6e3, 2.227, 0.210, 872.0)],
)
def test_strength_and_modulus(strength, young, depth, greatest, force):
    metal = Metal(swift(strength, 0.020, 0.385), young, 0.32)
    result = pass_sequence(4, 240, metal)
    found = read(result)
    assert found[2][0] == pytest.approx(depth, abs=LENGTH)
    assert found[3] == pytest.approx(greatest, abs=0.01)
    assert result.step("shut").push_N[0, 1] == pytest.approx(force, rel=0.01)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("back", "rate", "depth", "greatest"), [(150.0, 60.0, 2.144, 0.146), (300.0, 30.0, 2.092, 0.107)]
)
def test_back_stress_brings_the_depth_down(back, rate, depth, greatest):
    # the study's law is not printed in full (it lies up to 7 and 14 % below the Swift curve near yield); here back
    # stress and isotropic part together follow the curve exactly
    p = np.concatenate((np.linspace(0.0, 0.05, 101), np.linspace(0.055, 1.0, 190)))
    isotropic = 1630.0 * (0.020 + p) ** 0.385 - back * (1.0 - np.exp(-rate * p))
    metal = Metal(tabulated(p, isotropic), 205e3, 0.32, kinematic_MPa=back * rate, recovery=rate)
    found = read(pass_sequence(1, 240, metal))
    assert found[2][0] == pytest.approx(depth, abs=LENGTH)
    assert found[3] == pytest.approx(greatest, abs=0.01)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("settings", "turns", "depth", "greatest", "force"),
    [
        ({"friction": 0.0}, (28.38, 28.50, 22.40, 21.78), (2.217, None), 0.202, 875.0),
        ({"friction": 0.2}, (28.29, 28.39, 22.20, 21.75), (2.177, None), 0.175, 899.0),
        ({"clear": 0.0}, (28.30, 28.57, 22.63, 22.23), (2.142, 2.492), 0.159, 1902.0),
        ({"clear": 0.01}, (28.35, 28.63, 22.67, 22.01), (2.213, 2.521), 0.210, 1232.0),
        ({"clear": 0.05}, (27.97, 27.68, 21.38, 21.56), (2.123, 2.504), 0.122, 577.0),
        ({"clear": 0.10}, (26.31, 26.50, 20.57, 20.05), (2.221, 2.520), 0.203, 387.0),
        ({"clear": 0.20}, (22.5, 24.2, 19.1, 17.4), (2.373, 2.544), 0.398, 266.0),
    ],
)
def test_what_moves_the_rolled_section(settings, turns, depth, greatest, force):
    result = roll_pass(*flat_strip(320), **settings)
    found = read(result)
    assert found[0] == pytest.approx(turns, abs=ANGLE)
    for value, printed in zip(found[2], depth, strict=True):
        assert printed is None or value == pytest.approx(printed, abs=LENGTH)
    assert found[3] == pytest.approx(greatest, abs=0.015)
    # 2 %: the line force doubles over the last 0.05 mm, so that 0.4 um of contact depth is 1 % of it
    assert result.step("shut").push_N[0, 1] == pytest.approx(force, rel=0.02)


@pytest.mark.soak
def test_rolled_section_converges_in_elements():
    coarse, fine, finest = (read(roll_pass(*flat_strip(n))) for n in (160, 320, 640))
    assert coarse[0] == pytest.approx(fine[0], abs=ANGLE)
    assert fine[0] == pytest.approx(finest[0], abs=0.06)
    assert coarse[2] == pytest.approx(fine[2], abs=LENGTH)
    assert fine[2] == pytest.approx(finest[2], abs=0.006)


@pytest.fixture(scope="module")
def second():
    """A second closing pass with the curl, 160 elements, loaded centroid radius 100.8."""
    strip, node = flat_strip(160)
    first = roll_pass(strip, node)
    return roll_pass(first.section, node, curl=1.0 / 100.504)


def test_curl_in_a_second_closing_pass(second):
    loaded = second.step("shut")
    assert curl_radius_mm(loaded.section) == pytest.approx(100.8, abs=0.05)
    assert loaded.resultant[1] == pytest.approx(15.3e3, rel=0.01)
    # height 0 of the paper is the crown's mid-line, 1.9 above ours
    assert loaded.section.stretch + 1.9 * loaded.section.curl_per_mm == pytest.approx(1.019, abs=0.005)
    assert curl_radius_mm(second.section) == pytest.approx(122.0, rel=0.01)
    turns, _radii, depth, greatest, rms = read(second)
    assert turns == pytest.approx([28.83, 28.20, 21.47, 21.37], abs=ANGLE)
    assert depth == pytest.approx((1.926, 2.358), abs=LENGTH)
    assert (greatest, rms) == pytest.approx((0.030, 0.013), abs=0.003)


@pytest.mark.soak
def test_curl_after_closing_with_the_rolls_shut():
    result = roll_pass(*flat_strip(160), curl=1.0 / 99.721, after=True)
    loaded = result.step("curl")
    assert curl_radius_mm(loaded.section) == pytest.approx(100.0, abs=0.05)
    assert loaded.resultant[1] == pytest.approx(15.9e3, rel=0.01)
    assert curl_radius_mm(result.section) == pytest.approx(123.9, rel=0.01)
    turns, _radii, depth, greatest, rms = read(result)
    assert turns == pytest.approx([29.07, 28.54, 21.92, 21.72], abs=ANGLE)
    assert depth == pytest.approx((1.934, 2.365), abs=LENGTH)
    assert (greatest, rms) == pytest.approx((0.038, 0.014), abs=0.003)


@pytest.mark.soak
def test_curl_while_closing():
    # how the curl was raised over the travel is not printed; raised in line with it, depth and deviation agree, the
    # moment comes out 3.6 % lower and the first turn 0.43 degrees smaller than printed (8.7 N m, 28.24), and the
    # radius it keeps is 1.3 % smaller
    result = roll_pass(*flat_strip(160), curl=1.0 / 104.604)
    assert curl_radius_mm(result.step("shut").section) == pytest.approx(105.0, abs=0.05)
    assert result.step("shut").resultant[1] == pytest.approx(8.7e3, rel=0.045)
    assert curl_radius_mm(result.section) == pytest.approx(122.0, rel=0.015)
    turns, _radii, depth, greatest, rms = read(result)
    assert turns[1:] == pytest.approx([28.90, 22.36, 22.61], abs=0.2)
    assert depth == pytest.approx((2.117, 2.482), abs=LENGTH)
    assert (greatest, rms) == pytest.approx((0.132, 0.060), abs=0.005)


@pytest.mark.soak
def test_camber_left_free_makes_a_cone():
    held = roll_pass(*flat_strip(160), curl=1.0 / 104.604)
    assert abs(held.step("shut").resultant[2]) == pytest.approx(151e3, rel=0.01)
    result = roll_pass(*flat_strip(160), curl=1.0 / 104.604, camber=FREE)
    section = result.section
    assert section.camber_per_mm / section.curl_per_mm == pytest.approx(0.021, abs=0.001)


def test_rolled_state_carried_into_the_hoop(second):
    closed = closed_hoop(second.section, STRIP_METAL, 763.89)
    assert closed.section.mode == "revolution"
    # the fibre that keeps its length lies within half a millimetre of the centroid
    assert centroid_mm(closed.section)[1] == pytest.approx(763.89 / (2.0 * math.pi), abs=0.5)
    assert np.array_equal(closed.section.weight_mm3, second.section.weight_mm3)
    sized = size_hoop(closed.section)
    # printed at 320 elements; 160 are within 3 um by the paper's own convergence
    assert heights(sized.section) == pytest.approx([123.922, 125.777, 123.499], abs=0.005)
    assert sized.steps[0].push_N[0, 1] == pytest.approx(140.4e3, rel=0.01)
    assert sized.section.thickness_mm.min() == pytest.approx(0.7805, abs=0.001)
    unstressed = size_hoop(closed.section.without_stress())
    assert heights(unstressed.section) == pytest.approx([123.923, 125.777, 123.498], abs=0.005)


@pytest.mark.parametrize(
    ("prior", "radii", "force", "thin"),
    [(0.0, (123.967, 125.861, 123.516), 123.0e3, 0.7932), (0.05, (123.859, 125.751, 123.408), 171.5e3, 0.7936)],
)
def test_stress_free_hoop_sized(prior, radii, force, thin):
    result = size_hoop(stress_free_hoop().with_plastic_strain(prior))
    assert heights(result.section) == pytest.approx(radii, abs=0.005)
    assert result.steps[0].push_N[0, 1] == pytest.approx(force, rel=0.01)
    assert result.section.thickness_mm.min() == pytest.approx(thin, abs=2e-4)


def test_v_bend():
    result = v_bend()
    force = [2.0 * end.push_N[0, 1] for end in result.steps[:-1]]
    assert force == pytest.approx([15.546, 17.758, 20.284, 21.492, 21.678], rel=0.01)
    turn = math.degrees(result.steps[-2].section.angle_rad[-1] - result.section.angle_rad[-1])
    assert turn == pytest.approx(3.364, abs=ANGLE)


@pytest.mark.parametrize(
    ("radius", "flat", "moment", "natural"), [(60.0, True, 68.9, 104.2), (60.0, False, 67.6, 102.5)]
)
def test_flat_strip_curled(radius, flat, moment, natural):
    strip = mesh_line((0.0, 0.0), (54.5, 0.0), SHEET, 60, "prism")
    middle = (Support(30, "x"),)
    if flat:
        hold = (*middle, *(Support(k, unknown) for k in range(61) for unknown in ("y", "angle")))
    else:
        hold = (*middle, Support(30, "y"))
    result = curled(strip, radius, hold, release=Release(supports=hold, held=("camber",)) if flat else None)
    assert result.steps[0].resultant[1] / 54.5 == pytest.approx(moment, rel=0.01)
    assert curl_radius_mm(result.section) == pytest.approx(natural, rel=0.005)


@pytest.mark.soak
@pytest.mark.parametrize(("radius", "moment", "natural"), [(90.0, 14258.0, 107.9), (122.0, 13533.0, 154.4)])
def test_section_held_in_its_shape_and_curled(radius, moment, natural):
    section = mesh_profile(extended(MIDLINE, MARGIN), SHEET, 160, "prism")
    nodes = section.x_mm.size
    hold = (Support(nodes // 2, "x"), *(Support(k, unknown) for k in range(nodes) for unknown in ("y", "angle")))
    result = curled(section, radius, hold, release=Release(supports=hold, held=("camber",)))
    assert result.steps[0].resultant[1] == pytest.approx(moment, rel=0.01)
    assert curl_radius_mm(result.section) == pytest.approx(natural, rel=0.005)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("radius", "land", "lip"), [(90.0, 0.52, 1.48), (122.0, 0.82, 1.69), (300.0, 1.56, 2.15), (600.0, 1.82, 2.32)]
)
def test_a_free_section_collapses_when_curled(radius, land, lip):
    # depths after release; the paper's fit is not described for so large a change, hence 0.1 instead of 0.02
    section = mesh_profile(extended(MIDLINE, MARGIN), SHEET, 160, "prism")
    middle = section.x_mm.size // 2
    result = curled(section, radius, (Support(middle, "x"), Support(middle, "y")))
    found = depths(result.section, fit_profile(result.section, NOMINAL))
    assert found == pytest.approx((land, lip), abs=0.1)


def test_a_section_curled_gently_keeps_its_shape():
    section = mesh_profile(extended(MIDLINE, MARGIN), SHEET, 120, "prism")
    middle = section.x_mm.size // 2
    result = curled(section, 1000.0, (Support(middle, "x"), Support(middle, "y")), increments=30)
    assert fit_profile(result.section, NOMINAL).greatest_mm < 0.004
    assert centroid_mm(result.section)[0] == pytest.approx(centroid_mm(section)[0], abs=0.01)
