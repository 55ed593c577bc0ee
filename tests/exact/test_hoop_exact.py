"""The hoop kernel against closed forms, balances and its own order of convergence."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from scipy.optimize import brentq

from hoopwright.kernels.flow import Vector, swift
from hoopwright.kernels.hoop import Fineness, Harmonic, Hit, HoopResult, HoopSection, InitialShape, flat_section
from hoopwright.kernels.hoop.arrays import Matrix, copied
from hoopwright.kernels.hoop.build import build
from hoopwright.kernels.hoop.symmetry import Part
from hoopwright.kernels.hoop.walk import Walk, scales_of
from hoopwright.kernels.metal import Metal, uniaxial_update
from hoopwright.kernels.segment_hull import SegmentCircle, girth_factor, hull_harmonic
from hoopwright.kernels.sizing_friction import arc_strain
from hoopwright.kernels.sizing_round import residual_ratio
from hoopwright.kernels.sizing_weld import weld_strain
from tests.kernels.hoop_cases import END, METAL, RADIUS, ROUND, YOUNG, position, sized, weld_of

ELASTIC = flat_section(1.2, 1.0, Metal(swift(1e9, 1.0, 0.5), YOUNG, 0.3), layers=3)
OVAL = InitialShape(RADIUS, (Harmonic(2, 1.0),))


@cache
def plain() -> HoopResult:
    return sized()


# elastic ring under two opposite loads
# Closed form, thin inextensible ring: change of the loaded and of the cross diameter (pi/4 - 2/pi) and (2/pi - 1/2)
# times P R^3/(E I). Handbook of stress formulas, circular ring under two loads; from memory.
LOADED, CROSS = math.pi / 4.0 - 2.0 / math.pi, 2.0 / math.pi - 0.5


def pinched(edges: int) -> tuple[float, float]:
    """Both changes of diameter over P R^3/(E I), mean of a small pull and push; a quarter with 2 dof a node."""
    part = Part("quarter", 0.0, 0.5 * math.pi, 4)
    chain, state = build(ELASTIC, ROUND, None, part, np.linspace(0.0, 0.5 * math.pi, edges + 1))
    bend = YOUNG * ELASTIC.bending_mm4
    load = 1e-5 * bend / RADIUS**2
    changes = []
    for sign in (1.0, -1.0):
        walk = Walk(chain, scales_of(chain, ELASTIC, False), copied(state), np.zeros(6), np.zeros(1), (1.0,))
        walk.scales.force = 0.0
        walk.figures[1] = RADIUS
        dead: Matrix = np.zeros_like(state.x)
        dead[0, 0] = 0.5 * sign * load
        found = walk.try_from(state.x, walk.tool(RADIUS, 0.0), dead, 0.0)
        assert found is not None
        move = (found.x - state.x) * sign
        changes.append((2.0 * move[0, 0], -2.0 * move[-1, 1]))
    return tuple(float(v) for v in np.mean(changes, axis=0) / (load * RADIUS**3 / bend))  # type: ignore[return-value]


def test_pinched_ring_tends_to_the_closed_form_at_second_order() -> None:
    errors = []
    for edges in (20, 40, 80):
        loaded, cross = pinched(edges)
        errors.append((loaded / LOADED - 1.0, cross / CROSS - 1.0))
    # what stays is the ring's stretch, of order I/(A R^2), below 1e-4 here
    assert abs(errors[-1][0]) < 5e-4 and abs(errors[-1][1]) < 5e-4
    for k in range(2):
        steps = [errors[i][k] - errors[i + 1][k] for i in range(2)]
        assert math.log2(steps[0] / steps[1]) == pytest.approx(2.0, abs=0.1)


# uniform limit
def closed_release(section: HoopSection, incoming: float, loaded: float) -> tuple[float, float, Vector]:
    """Released radius, tension and fibre stresses of an evenly stretched hoop: fibre by fibre, elastic way back."""
    y, area = np.array(section.offsets_mm), np.array(section.areas_mm2)
    law, packed = section.metal.law(), section.metal.vector()
    strain = np.log((loaded + y) / (incoming + y))
    rows = section.fibre_state().rows().T
    stress = np.array([uniaxial_update(e, *row, law, packed)[0] for e, row in zip(strain, rows, strict=True)])

    def tension(radius: float) -> float:
        left = stress - YOUNG * np.log((loaded + y) / (radius + y))
        return float(np.sum(left * area * (incoming + y) / (radius + y)))

    return float(brentq(tension, 0.99 * loaded, loaded, xtol=1e-12)), tension(loaded), stress


@pytest.mark.parametrize("kinematic", [0.0, 1.0])
@pytest.mark.parametrize("deep", [False, True])
def test_many_segments_without_friction_give_the_uniform_hoop(deep: bool, kinematic: float) -> None:
    metal = Metal(swift(1400.0, 0.012, 0.35), YOUNG, 0.3, 1.0, kinematic)
    section = flat_section(1.2, 46.0, metal)
    if deep:
        points, weights = np.polynomial.legendre.leggauss(6)
        section = HoopSection(tuple(4.0 * points), tuple(27.6 * weights), metal, 1.2, 0.6, 46.0)
    result = sized(count=180, friction=0.0, standing=0.0, slot=0.02, edge=0.05, section=section)
    hit = result.hits[0]
    loaded = hit.loaded.mean_diameter_mm / 2.0
    released, tension, stress = closed_release(section, RADIUS, loaded)
    # the wanted radius is the segments' less thinning; the contact spring gives 0.0001
    assert loaded == pytest.approx(END + 0.6 - 0.6 * (1.0 - math.exp(-0.01)), abs=2e-4)
    assert result.free.mean_diameter_mm == pytest.approx(2.0 * released, abs=3e-4)
    assert hit.gap_tension_N == pytest.approx(tension, rel=2e-5)
    gained = np.array(hit.state_after.stress_MPa) - stress
    fibre = -YOUNG * np.log((loaded + np.array(section.offsets_mm)) / (released + np.array(section.offsets_mm)))
    assert gained == pytest.approx(fibre, abs=0.3)


# friction, lobes, out-of-round, weld
@pytest.mark.parametrize(("count", "friction"), [(6, 0.2), (8, 0.1), (8, 0.15), (12, 0.1), (24, 0.2)])
def test_friction_starves_the_middles_as_the_rope_does(count: int, friction: float) -> None:
    hit = sized(count=count, friction=friction, standing=0.0, slot=0.2, edge=0.2).hits[0]
    rope = arc_strain(METAL, count, friction, math.log(hit.loaded.mean_diameter_mm / (2.0 * RADIUS)))
    strain = hit.loaded.strain_log
    middle = strain[np.argmin(np.abs(hit.loaded.angle_rad))]
    # within 1 % of the strains: the first edge is up to 2 mm long and takes the mean over it
    assert middle == pytest.approx(rope.middle_log, abs=2e-4)
    assert strain.max() == pytest.approx(rope.gap_log, abs=2e-4)
    assert hit.loaded.tension_N.min() / hit.gap_tension_N == pytest.approx(rope.tension_ratio, abs=2e-3)


@pytest.mark.parametrize(("count", "standing"), [(6, 4.0), (8, 2.0), (12, 2.0), (16, 1.0)])
def test_lobes_are_those_of_a_string_round_the_segments(count: int, standing: float) -> None:
    ring = sized(count=count, friction=0.0, standing=standing).loaded
    circle = SegmentCircle(count, END + 0.594 - standing, standing_mm=standing, slot_mm=1.0)
    assert ring.lobe_mm == pytest.approx(hull_harmonic(circle, 1), rel=0.01)
    assert ring.wave(2 * count) == pytest.approx(abs(hull_harmonic(circle, 2)), rel=0.03)
    # bending rounds the corners of the string: 3 %, and 0.001
    assert ring.peak_to_valley_mm == pytest.approx(circle.peak_to_valley_mm, rel=0.03, abs=1e-3)
    lost = 2.0 * standing * (1.0 - girth_factor(count))
    assert 2.0 * (END + 0.594) - ring.mean_diameter_mm == pytest.approx(lost, abs=1e-3)


@pytest.mark.parametrize("strain", [0.0012, 0.003, 0.005, 0.01, 0.02, 0.03])
@pytest.mark.parametrize(("order", "amplitude"), [(2, 1.0), (4, 0.3)])
def test_stretch_leaves_the_tangent_share_of_an_oval(strain: float, order: int, amplitude: float) -> None:
    shape = InitialShape(RADIUS, (Harmonic(order, amplitude),))
    result = sized(
        count=24, friction=0.0, standing=0.0, slot=0.3, edge=0.2, shape=shape, end=position(strain),
        fineness=Fineness(edge_mm=0.6, steps=15),
    )  # fmt: skip
    assert result.symmetry == "quarter"
    left = result.free.wave(order) / amplitude
    # the elastic row needs every fibre to stay elastic; the others are 1 % apart from a formula of first order
    assert left == pytest.approx(residual_ratio(METAL, strain), rel=0.012, abs=3e-5 / amplitude)


@pytest.mark.parametrize("share", [0.9, 0.95, 1.05, 1.1])
def test_weld_takes_the_strain_that_its_strength_gives_it(share: float) -> None:
    hit = sized(
        count=24, friction=0.0, standing=0.0, slot=0.3, edge=0.2, weld=weld_of(share, 0.0),
        fineness=Fineness(edge_mm=0.4, steps=15),
    ).hits[0]  # fmt: skip
    ring = hit.loaded
    parent = float(ring.strain_log[np.argmin(np.abs(np.abs(ring.angle_rad) - 2.0))])
    assert ring.weld_strain_log == pytest.approx(weld_strain(METAL, parent, share), rel=0.01)
    assert np.ptp(hit.loaded.tension_N) < 1e-3 * hit.gap_tension_N


# balances
@cache
def welded_oval() -> HoopResult:
    return sized(count=10, friction=0.1, shape=InitialShape(RADIUS, (Harmonic(3, 1.0),)), weld=weld_of(0.9, 0.4))


@pytest.mark.parametrize("make", [plain, welded_oval])
def test_segment_force_is_that_of_the_two_tensions_beside_it(make: object) -> None:
    """Fr = 2 T sin(pi/N) with the mean tension of its two gaps, whatever the friction: chords are square to slots."""
    result = make()  # type: ignore[operator]
    hit = result.hits[0]
    tension = hit.history.gap_tension_N[-1]
    beside = 0.5 * (tension + np.roll(tension, 1))
    count = tension.size
    wanted = 2.0 * beside * math.sin(math.pi / count)
    # a chord that is not quite square to its slot (oval and seam) brings shear in: 0.1 %
    assert hit.segments.force_N == pytest.approx(wanted, rel=1e-6 if make is plain else 2e-3)


def test_forces_of_the_segments_balance() -> None:
    """The hoop hangs on nothing else: radial and sideways forces of all segments together are nil."""
    result = welded_oval()
    load = result.hits[0].segments
    co, si = np.cos(load.angle_rad), np.sin(load.angle_rad)
    total = [load.force_N @ co - load.side_N @ si, load.force_N @ si + load.side_N @ co]
    assert np.max(np.abs(load.side_N)) > 0.3
    # 560 nodes, each within the residual
    assert np.max(np.abs(total)) < 1e-5 * result.hits[0].gap_tension_N


@pytest.mark.parametrize("make", [plain, welded_oval])
def test_equilibrium_is_reached(make: object) -> None:
    result = make()  # type: ignore[operator]
    assert result.converged and result.residual_share < 1e-6
    assert result.residual_N < max(1e-6 * result.hits[0].gap_tension_N, 2.0 * result.residual_floor_N)
    assert np.max(np.abs(result.free.tension_N)) < 2e-4 * result.hits[0].gap_tension_N


def test_free_ring_holds_no_moment_about_itself() -> None:
    """Free: tension nil and moment the same all round, as no force acts across."""
    ring = welded_oval().free
    assert np.ptp(ring.moment_Nmm) < 0.01 * np.ptp(welded_oval().loaded.moment_Nmm)


def test_work_of_the_segments_is_found_again() -> None:
    work = plain().hits[0].work
    assert work.plastic > 0.9 * work.tools > 0.0 and work.friction > 0.01 * work.tools
    assert abs(work.left) < 2e-5 * work.tools
    other = welded_oval().hits[0].work
    assert abs(other.left) < 1e-3 * other.tools


def test_work_balance_improves_with_the_steps() -> None:
    left = []
    for steps in (10, 20, 40):
        work = sized(friction=0.0, slot=2.0, fineness=Fineness(steps=steps)).hits[0].work
        left.append(abs(work.left) / work.tools)
    assert left[0] > 2.0 * left[1] > 4.0 * left[2] or left[0] < 1e-6


def test_plastic_work_is_the_area_under_the_flow_curve() -> None:
    # the step in which the metal first yields is booked by the trapezoid over it: many steps
    many = Fineness(steps=400)
    hit = sized(count=60, friction=0.0, standing=0.0, slot=0.2, edge=0.2, fineness=many).hits[0]
    # p from total strain, then integral of K (e0 + p)^n
    stress = hit.gap_tension_N * math.exp(hit.loaded.strain_log.mean()) / 1.2
    plastic = hit.loaded.strain_log.mean() - stress / YOUNG
    spent = 1400.0 / 1.35 * ((0.012 + plastic) ** 1.35 - 0.012**1.35)
    volume = 2.0 * math.pi * RADIUS * 1.2
    assert hit.work.plastic == pytest.approx(spent * volume, rel=2e-3)
    assert hit.work.stored == pytest.approx(0.5 * stress**2 / YOUNG * volume, rel=2e-3)
    assert hit.work.guide < 1e-4 * hit.work.tools


# convergence
def test_figures_converge_in_edges_and_fibres() -> None:
    base, fine = plain(), sized(fineness=Fineness(edge_mm=0.06, far_mm=0.8))
    assert base.free.mean_diameter_mm == pytest.approx(fine.free.mean_diameter_mm, abs=2e-4)
    assert base.free.lobe_mm == pytest.approx(fine.free.lobe_mm, rel=2e-3)
    assert base.free.peak_to_valley_mm == pytest.approx(fine.free.peak_to_valley_mm, rel=5e-3)
    coarse = sized(fineness=Fineness(edge_mm=1.2, far_mm=1.2))
    assert abs(coarse.free.peak_to_valley_mm - fine.free.peak_to_valley_mm) > 4.0 * abs(
        base.free.peak_to_valley_mm - fine.free.peak_to_valley_mm
    )
    for layers in (3, 11):
        other = sized(section=flat_section(1.2, 1.0, METAL, layers))
        assert other.free.lobe_mm == pytest.approx(base.free.lobe_mm, rel=2e-3)
        assert other.free.mean_diameter_mm == pytest.approx(base.free.mean_diameter_mm, abs=1e-4)


def test_width_only_scales_the_forces() -> None:
    wide = sized(section=flat_section(1.2, 40.0, METAL))
    assert wide.free.mean_diameter_mm == pytest.approx(plain().free.mean_diameter_mm, abs=1e-6)
    assert wide.hits[0].gap_tension_N == pytest.approx(40.0 * plain().hits[0].gap_tension_N, rel=1e-6)
    assert wide.hits[0].segments.pressure_MPa == pytest.approx(plain().hits[0].segments.pressure_MPa, rel=1e-5)


def test_index_by_a_whole_pitch_is_no_index() -> None:
    turned = sized(hits=(Hit(END, math.pi / 4),))
    assert turned.free.lobe_mm == pytest.approx(plain().free.lobe_mm, abs=1e-9)
