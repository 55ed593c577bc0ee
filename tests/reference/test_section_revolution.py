"""Figures of the method paper on the axisymmetric shell, reached again. Tolerances as the paper's proof asks:
forces 1 %, strains 0.002, radii 0.005 mm, the joggled plate 0.1 mm (it is ill-conditioned)."""

import math

import numpy as np
import pytest

from hoopwright.kernels.section import STIFF
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
    # the paper prints 0.81 edge to edge, tilts +90.7 and +64.9 mrad, edges 60.584 and 109.708; the flank's place and the
    # material are not printed: bends from r 80 on and the ring's curve reproduce it
    section = joggled_plate().section
    assert section.x_mm[-1] - section.x_mm[0] == pytest.approx(0.81, abs=0.1)
    tilts = 1e3 * (section.angle_rad[[0, -1]] - 0.5 * math.pi)
    assert tilts == pytest.approx([90.7, 64.9], abs=3.0)
    assert section.y_mm[[0, -1]] == pytest.approx([60.584, 109.708], abs=0.02)
