"""Figures of the method paper on the axisymmetric shell, reached again. Tolerances as the paper's proof asks:
forces 1 %, strains 0.002, radii 0.005 mm, the joggled plate 0.1 mm (it is ill-conditioned)."""

import math

import numpy as np
import pytest

from hoopwright.kernels.flow import swift
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.section import (
    STIFF,
    Lead,
    Metal,
    Schedule,
    Step,
    Support,
    Tool,
    clamp,
    mesh_line,
    mesh_profile,
    run,
)
from tests.reference.section_cases import bead, cup, hole_flange, joggled_plate, radii, ring

RADII = 0.005


def test_corrugated_ring_stretched_and_released():
    result = ring(bead(6.0, 8.0), 60)
    loaded = result.steps[0].section
    assert radii(loaded) == pytest.approx([142.794, 142.794, 142.809, 146.507, 148.794], abs=RADII)
    assert radii(result.section) == pytest.approx([142.436, 142.436, 142.449, 146.135, 148.425], abs=RADII)
    assert result.steps[0].push_N[0, 1] == pytest.approx(238.8e3, rel=0.01)
    assert np.ptp(loaded.x_mm) == pytest.approx(59.441, abs=0.002)
    assert np.ptp(result.section.x_mm) == pytest.approx(59.494, abs=0.002)
    thick = result.section.thickness_mm
    assert (thick.min(), thick.max()) == pytest.approx((1.1889, 1.1897), abs=1e-4)
    assert result.steps[0].deepest_mm < 0.003
    assert abs(result.volume_gap) < 1e-3
    assert abs(result.energies.gap) < 0.01


@pytest.mark.parametrize(
    ("friction", "force", "height", "width"), [(0.0, 237.4e3, 5.990, 59.483), (0.3, 240.8e3, 5.987, 59.513)]
)
def test_friction_on_the_corrugated_ring(friction, force, height, width):
    result = ring(bead(6.0, 8.0), 60, friction=friction)
    assert result.steps[0].push_N[0, 1] == pytest.approx(force, rel=0.01)
    first, *_rest, crest = radii(result.section)
    assert crest - first == pytest.approx(height, abs=0.001)
    assert np.ptp(result.section.x_mm) == pytest.approx(width, abs=0.002)


@pytest.mark.parametrize(
    ("elements", "land", "flank", "crest", "height", "width", "force"),
    [
        (64, 142.4698, 143.307, 148.3661, 5.8963, 58.657, 247.60e3),
        (120, 142.4696, 143.302, 148.3657, 5.8961, 58.659, 247.58e3),
    ],
)
def test_ring_formed_while_sized(elements, land, flank, crest, height, width, force):
    result = ring(bead(4.0, 6.0), 240, elements)
    released = radii(result.section)
    assert released[[0, 2, 4]] == pytest.approx([land, flank, crest], abs=0.001)
    assert released[4] - released[0] == pytest.approx(height, abs=0.001)
    assert np.ptp(result.section.x_mm) == pytest.approx(width, abs=0.002)
    assert result.steps[0].push_N[0, 1] == pytest.approx(force, rel=0.001)
    assert result.section.thickness_mm.min() == pytest.approx(1.179, abs=0.001)


@pytest.mark.soak
def test_formed_ring_converges_in_elements_and_layers():
    coarse, fine, finest = (radii(ring(bead(4.0, 6.0), 240, n).section) for n in (120, 240, 480))
    assert coarse[[0, 4]] == pytest.approx(fine[[0, 4]], abs=0.002)
    assert coarse[2] == pytest.approx(fine[2], abs=0.010)
    assert finest[[0, 2, 4]] == pytest.approx([142.4686, 143.294, 148.3657], abs=0.001)
    layers = radii(ring(bead(4.0, 6.0), 240, 120, points_per_half=8).section)
    assert layers == pytest.approx(coarse, abs=0.0005)
    assert radii(ring(bead(4.0, 6.0), 60).section)[[0, 4]] == pytest.approx([142.4661, 148.3658], abs=0.001)
    assert radii(ring(bead(4.0, 6.0), 960).section)[[0, 4]] == pytest.approx([142.4705, 148.3657], abs=0.001)


def test_hole_flange():
    result = hole_flange()
    edge = result.section.y_mm[0]
    assert edge == pytest.approx(25.344, abs=RADII)
    assert math.log(edge / 15.0) == pytest.approx(0.5245, abs=0.002)
    assert result.history.force_N("punch")[:, 0].max() == pytest.approx(7830.0, rel=0.01)
    # the edge is in uniaxial tension; the edge element's middle lies half an element inside it
    thin = result.section.strains()[2]
    edge_thin = thin[0] + 0.5 * (thin[0] - thin[1])
    assert edge_thin == pytest.approx(-0.262, abs=0.003)
    assert abs(result.energies.gap) < 0.01


def test_hole_flange_stiff_and_settled_agree():
    settled = hole_flange(settle=True).section.y_mm[0]
    stiff = hole_flange(contact=STIFF)
    assert settled == pytest.approx(25.384, abs=RADII)
    assert stiff.section.y_mm[0] == pytest.approx(25.384, abs=RADII)
    assert stiff.history.force_N("punch")[:, 0].max() == pytest.approx(7870.0, rel=0.01)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("elements", "thick"), [(25, 0.7862), (50, 0.7784), (100, 0.7743), (200, 0.7722), (400, 0.7711)]
)
def test_hole_flange_edge_element(elements, thick):
    assert hole_flange(elements).section.thickness_mm[0] == pytest.approx(thick, abs=0.0015)


def test_cup():
    result = cup()
    thick = result.section.thickness_mm
    assert thick.min() == pytest.approx(0.9595, abs=0.001)
    assert thick[0] == pytest.approx(0.9916, abs=0.001)
    assert thick[-1] == pytest.approx(1.158, abs=0.001)
    assert result.section.y_mm[-1] == pytest.approx(67.07, abs=0.01)
    assert result.history.force_N("punch")[:, 0].max() == pytest.approx(72.8e3, rel=0.01)
    assert result.section.volume_mm3() / result.section.volume_start_mm3() == pytest.approx(1.0004, abs=1e-4)
    # elements that began at r 37.5, 45, ... 82.5, 0.75 mm each
    began = thick[[50, 60, 70, 80, 90, 100, 110]]
    assert np.log(began) == pytest.approx(np.log([0.991, 0.960, 0.965, 0.985, 1.034, 1.116, 1.151]), abs=0.002)


def test_cup_settled():
    assert cup(settle=True).section.y_mm[-1] == pytest.approx(67.03, abs=0.015)


@pytest.mark.soak
@pytest.mark.parametrize(
    ("elements", "thin", "force"),
    [(45, 0.9555, 73.25e3), (90, 0.9598, 72.92e3), (180, 0.9595, 72.79e3), (360, 0.9595, 72.79e3)],
)
def test_cup_converges(elements, thin, force):
    result = cup(elements)
    assert result.section.thickness_mm.min() == pytest.approx(thin, abs=0.001)
    assert result.history.force_N("punch")[:, 0].max() == pytest.approx(force, rel=0.003)


def test_joggled_plate_dishes():
    # the flank's place and the material are not printed; bends from r 80 on and the ring's curve reproduce the figures
    section = joggled_plate().section
    assert section.x_mm[-1] - section.x_mm[0] == pytest.approx(0.81, abs=0.1)
    tilts = 1e3 * (section.angle_rad[[0, -1]] - 0.5 * math.pi)
    assert tilts == pytest.approx([90.7, 64.9], abs=3.0)
    assert section.y_mm[[0, -1]] == pytest.approx([60.584, 109.708], abs=0.02)


ELASTIC = Metal(swift(1e9, 1.0, 0.2), 200e3, 0.3)
POWER_METAL = Metal(swift(1000.0, (1000.0 / 200e3) ** 1.25, 0.2), 200e3, 0.3)


@pytest.mark.parametrize(
    ("load", "deflections"),
    [(1.0, (0.17197, 0.16907, 0.16835)), (5.0, (0.69285, 0.68314, 0.68071)), (10.0, (1.07032, 1.05693, 1.05358))],
)
def test_clamped_plate_by_element_count(load, deflections):
    # the prototype ran these with a correction of shear that the paper then leaves out (10 elements: 1.0 % instead of
    # 2.4 % too soft); at 20 and 40 elements the two agree within 0.2 %
    found = []
    for elements in (10, 20, 40):
        step = Step("press", supports=clamp(-1), pressure_MPa=load * 200e3 / 50.0**4, increments=5)
        plate = mesh_line((0.0, 0.0), (0.0, 50.0), 1.0, elements)
        found.append(-run(plate, Schedule((step,)), ELASTIC).section.x_mm[0])
    assert found[1:] == pytest.approx(deflections[1:], rel=0.002)
    exact = {1.0: 0.16803, 5.0: 0.67960, 10.0: 1.05196}[load]
    assert found[0] == pytest.approx(exact, rel=0.015)
    assert found[2] == pytest.approx(exact, rel=0.003)


@pytest.mark.parametrize(
    ("outer", "inner", "t", "height", "nu", "ratios"),
    [
        (100.0, 50.0, 2.0, 0.8, 0.3, (0.932, 0.935, 0.937, 0.939)),
        (100.0, 50.0, 2.0, 2.6, 0.3, (0.898, 0.907, 0.919, 0.933)),
        (60.0, 30.0, 0.8, 1.5, 0.3, (0.885, 0.895, 0.909, 0.932)),
        (100.0, 50.0, 2.0, 0.8, 0.0, (0.9996, 1.002, 1.004, 1.005)),
        (100.0, 50.0, 2.0, 2.6, 0.0, (0.973, 0.981, 0.990, 1.001)),
        (60.0, 30.0, 0.8, 1.5, 0.0, (0.963, 0.972, 0.984, 1.002)),
    ],
)
def test_disc_spring_over_the_shallow_formula(outer, inner, t, height, nu, ratios):
    disc = mesh_line((height, 0.5 * inner), (0.0, 0.5 * outer), t, 40)
    lead = Lead(Support(0, "x", -height), loads=((0, "x", -1.0),))
    step = Step("press", supports=(Support(-1, "x"),), lead=lead, increments=20)
    load = run(disc, Schedule((step,)), Metal(swift(1e9, 1.0, 0.2), 206e3, nu)).history.load[[4, 9, 14, 19]]
    s = height * np.array([0.25, 0.5, 0.75, 1.0])
    d = outer / inner
    k1 = ((d - 1.0) / d) ** 2 / ((d + 1.0) / (d - 1.0) - 2.0 / math.log(d)) / math.pi
    formula = 4.0 * 206e3 / (1.0 - nu**2) * t**3 * s / (k1 * outer**2)
    formula *= (height / t - s / t) * (height / t - 0.5 * s / t) + 1.0
    # 0.5 % between 10 elements and many
    assert load / formula == pytest.approx(ratios, abs=0.005)


@pytest.mark.parametrize(
    ("n", "strains", "pressures"),
    [
        (0.1, (0.0706, 0.1635, 0.298), (3.784, 5.481, 6.615)),
        (0.2, (0.0645, 0.1479, 0.2669), (2.800, 4.415, 5.663)),
        (0.4, (0.0578, 0.1301, 0.2306), (1.516, 2.815, 4.059)),
    ],
)
def test_hydraulic_bulge(n, strains, pressures):
    metal = Metal(swift(700.0, (700.0 / 200e3) ** (1.0 / (1.0 - n)), n), 200e3, 0.3)
    pinned = (Support(-1, "x"), Support(-1, "y"))
    rise = Lead(Support(0, "x", 10.0), per_unit_MPa=-1.0)
    steps = tuple(Step(f"h {k}", supports=pinned, lead=rise, increments=20) for k in range(1, 5))
    result = run(mesh_line((0.0, 0.0), (0.0, 100.0), 1.0, 80), Schedule(steps), metal)
    polar = [-end.section.strains()[2][0] for end in result.steps[1:]]
    assert polar == pytest.approx(strains, abs=0.002)
    assert np.cumsum([end.load for end in result.steps])[1:] == pytest.approx(pressures, rel=0.01)


def test_ring_force_leaves_out_the_radial_stress():
    # thin or thick, the shell's force is flow stress times section: the method paper finds that t/(4 r) too high
    for share in (0.01, 0.1):
        tube = mesh_line((0.0, 100.0), (2.0, 100.0), 100.0 * share, 2)
        led = tuple(Support(node, "y", 2.0) for node in range(3)) + tuple(Support(node, "angle") for node in range(3))
        step = Step("stretch", supports=(*led, Support(0, "x")), increments=30)
        end = run(tube, Schedule((step,)), POWER_METAL).steps[0]
        force = end.outer_N[1::3].sum() / (2.0 * math.pi)
        strain, plastic, stress = math.log(1.02), 0.02, 0.0
        for _ in range(100):
            stress = POWER_METAL.curve.stress(plastic)
            plastic = strain - stress / 200e3
        section = 2.0 * 100.0 * share * math.exp(-strain + (1.0 - 0.6) * stress / 200e3)
        assert force == pytest.approx(stress * section, rel=0.002)


@pytest.mark.parametrize(("friction", "ratio"), [(0.0, 1.0024), (0.1, 1.1731), (0.2, 1.3729), (0.3, 1.6066)])
def test_capstan(friction, ratio):
    # a strip bent beforehand round a quarter of a drum, one end held, the other led; its tails are straight
    bend = from_corners([(-40.0, 50.25), (50.25, 50.25), (50.25, -40.0)], [50.25])
    drum = from_corners([(-45.0, 50.0), (50.0, 50.0), (50.0, -45.0)], [50.0])
    strip = mesh_profile(bend, 0.5, 120, "prism")
    ends = (*clamp(0), Support(-1, "x"), Support(-1, "angle"), Support(-1, "y", -0.4))
    step = Step("pull", {"drum": (0.0, 0.0)}, supports=ends, contact=STIFF, increments=40)
    result = run(strip, Schedule((step,), (Tool("drum", drum, friction),)), ELASTIC)
    outer = result.steps[0].outer_N
    pulled, held = -outer[-2], -outer[0]
    # friction itself is right to 0.1 %; the frictionless case shows what the nodes' chords and bending are worth
    assert pulled / held == pytest.approx(math.exp(0.5 * math.pi * friction), rel=0.004)
    assert pulled / held == pytest.approx(ratio, rel=0.004)
