"""What the section kernel can do beside forming: holders, symmetry, heat, cuts, retraction, state in and out."""

import math

import numpy as np
import pytest

from hoopwright.kernels.flow import swift
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.section import (
    FREE,
    SOFT,
    STIFF,
    Cut,
    Drift,
    Force,
    Metal,
    Release,
    Schedule,
    Step,
    Support,
    Tool,
    clamp,
    kept,
    mesh_line,
    mesh_profile,
    node_near,
    run,
    symmetry,
)
from hoopwright.kernels.section.hoop import turned
from hoopwright.kernels.section.measure import at_material, fit_profile, start_arc_mm
from hoopwright.kernels.section.touch import deepest_between_nodes_mm

METAL = Metal(swift(550.0, 0.005, 0.22), 200e3, 0.3, expansion_per_K=15e-6)
BEAD = from_corners([(0.0, 100.0), (8.0, 100.0), (11.0, 103.0), (19.0, 103.0), (22.0, 100.0), (30.0, 100.0)], [4.0] * 4)


def cup_tools(friction=0.05, blank=60.0):
    return (
        Tool("punch", from_corners([(-40.0, 30.0), (-0.5, 30.0), (-0.5, -5.0)], [6.0]), friction),
        Tool("die", from_corners([(40.0, 31.2), (0.5, 31.2), (0.5, blank + 10.0)], [6.0]), friction),
        Tool("holder", from_corners([(-0.5, blank + 10.0), (-0.5, 38.0), (-15.0, 38.0)], [2.0]), friction),
    )


def drawn_cup(force=None, gap=0.0, depth=12.0):
    """A small cup with a holder by force [N] or at a fixed gap over the thickness."""
    disc = mesh_line((0.0, 0.0), (0.0, 50.0), 1.0, 60)
    punch, die, holder = cup_tools()
    moves = {"punch": (depth, 0.0), "die": (0.0, 0.0), "holder": (0.0, 0.0)}
    if force is None:
        tools = (punch, die, Tool("holder", holder.contour.moved(-gap, 0.0), 0.05))
        steps = [Step("draw", moves, contact=SOFT, increments=50)]
    else:
        tools = (punch, die, holder)
        grip = {"die": (0.0, 0.0), "holder": (0.0, 0.0)}
        steps = [
            Step("grip", grip, force=Force("holder", 1.0, 0.0, 0.1 * force, force), contact=SOFT, increments=4),
            Step("draw", moves, force=Force("holder", 1.0, 0.0, force, force), contact=SOFT, increments=50),
        ]
    return run(disc, Schedule((*steps, Release()), tools), METAL)


def test_holder_by_force_presses_with_that_force_throughout():
    result = drawn_cup(force=8e3)
    draw = result.step("draw")
    assert draw.push_N[2, 0] == pytest.approx(8e3, rel=1e-5)
    progress = result.history.progress
    last = progress > progress[-1] - 20.0
    drawing = result.history.force_N("holder")[last & (result.history.force_N("punch")[:, 0] > 0.0), 0]
    assert drawing == pytest.approx(8e3, rel=1e-5)
    # all three tools together leave nothing over
    assert np.sum(draw.push_N[:, 0]) == pytest.approx(0.0, abs=1e-3)
    assert abs(result.energies.gap) < 0.01


def test_more_holder_force_means_less_draw_in_and_more_punch_force():
    light, heavy = drawn_cup(force=2e3), drawn_cup(force=60e3)
    assert light.step("draw").section.y_mm[-1] < heavy.step("draw").section.y_mm[-1] - 0.05
    assert light.step("draw").push_N[0, 0] < heavy.step("draw").push_N[0, 0]


def test_holder_at_a_gap_lets_the_rim_thicken_until_it_is_closed():
    tight, open_gap = drawn_cup(gap=0.02), drawn_cup(gap=0.20)
    assert tight.step("draw").push_N[2, 0] > 10.0 * max(open_gap.step("draw").push_N[2, 0], 1.0)
    assert open_gap.section.thickness_mm[-1] > 1.02


def test_half_a_section_with_a_plane_of_symmetry_equals_the_whole():
    half_line = from_corners([(0.0, 100.0), (8.0, 100.0), (11.0, 103.0), (15.0, 103.0)], [4.0, 4.0])
    mandrel = from_corners([(-9.0, 99.5), (8.0, 99.5), (11.0, 102.5), (40.0, 102.5)], [4.5, 3.5])
    whole_mandrel = from_corners(
        [(-9.0, 99.5), (8.0, 99.5), (11.0, 102.5), (19.0, 102.5), (22.0, 99.5), (39.0, 99.5)], [4.5, 3.5, 3.5, 4.5]
    )
    half = run(
        mesh_profile(half_line, 1.0, 40),
        Schedule(
            (Step("size", {"m": (0.0, 1.5)}, supports=symmetry(-1), increments=20), Release(supports=symmetry(-1))),
            (Tool("m", mandrel, 0.1),),
        ),
        METAL,
    )
    whole = run(
        mesh_profile(BEAD, 1.0, 80),
        Schedule(
            (Step("size", {"m": (0.0, 1.5)}, supports=(Support(40, "x"),), increments=20), Release()),
            (Tool("m", whole_mandrel, 0.1),),
        ),
        METAL,
    )
    assert half.section.y_mm == pytest.approx(whole.section.y_mm[:41], abs=1e-6)
    assert 2.0 * half.steps[0].push_N[0, 1] == pytest.approx(whole.steps[0].push_N[0, 1], rel=1e-6)


def test_free_heat_expands_without_stress_and_held_heat_stresses():
    ring = mesh_profile(BEAD, 1.0, 40)
    free = run(ring, Schedule((Step("heat", heat_K=200.0, supports=(Support(20, "x"),), increments=4),)), METAL)
    grown = math.exp(15e-6 * 200.0)
    assert free.section.y_mm == pytest.approx(ring.y_mm * grown, abs=5e-6)
    assert free.section.thickness_mm == pytest.approx(ring.thickness_mm * grown, rel=1e-6)
    assert np.abs(free.section.layers[:, :, :2]).max() < 0.5
    strip = mesh_line((0.0, 0.0), (20.0, 0.0), 1.0, 4, "prism")
    held = run(strip, Schedule((Step("heat", heat_K=50.0, supports=clamp(0), increments=2),)), METAL)
    assert held.section.layers[:, :, 1] == pytest.approx(-200e3 * 15e-6 * 50.0, rel=1e-3)


def test_a_cut_ring_springs_by_its_locked_stress():
    # a tube with a hoop stress that runs from edge to edge: each half, cut out, keeps the mean of its own part
    tube = mesh_line((0.0, 100.0), (40.0, 100.0), 1.0, 80)
    layers = tube.layers.copy()
    centre = (0.5 * (tube.x_mm[1:] + tube.x_mm[:-1]) - 20.0) / 20.0
    layers[:, :, 1] = 100.0 * np.cos(math.pi * centre)[:, None]
    object.__setattr__(tube, "layers", layers)
    settled = run(tube, Schedule((Release(),)), METAL)
    strip = run(settled.section, Schedule((Cut(39, 41),)), METAL)
    before = settled.section.layers[39:41, :, 1].mean()
    change = math.log(strip.section.y_mm.mean() / settled.section.y_mm[39:42].mean())
    assert change == pytest.approx(-before / 200e3, rel=1e-3)
    assert np.abs(strip.section.layers[:, :, 1].mean()) < 1e-3 * before


def test_cutting_stress_free_metal_moves_nothing():
    ring = mesh_profile(BEAD, 1.0, 60)
    cut = run(ring, Schedule((Cut(10, -11),)), METAL).section
    assert cut.elements == 40
    assert cut.y_mm == pytest.approx(ring.y_mm[10:-10], abs=1e-10)
    assert cut.volume_start_mm3() == pytest.approx(float(np.sum(ring.weight_mm3[10:-10])) * 2.0 * math.pi)


def test_a_node_can_be_put_where_the_cut_will_be():
    ring = mesh_profile(BEAD, 1.0, 60, nodes_at_mm=(7.3, 25.0))
    node, place = node_near(ring, 7.3)
    assert place == pytest.approx(7.3, abs=1e-3)
    part = kept(ring, node, -1)
    assert part.arc_mm()[-1] == pytest.approx(ring.arc_mm()[-1] - 7.3, abs=1e-3)


def sized_ring(release):
    mandrel = from_corners(
        [(-9.0, 99.5), (8.0, 99.5), (11.0, 102.5), (19.0, 102.5), (22.0, 99.5), (39.0, 99.5)], [4.5, 3.5, 3.5, 4.5]
    )
    step = Step("size", {"m": (0.0, 1.5)}, supports=(Support(40, "x"),), increments=20)
    return run(mesh_profile(BEAD, 1.0, 80), Schedule((step, release), (Tool("m", mandrel, 0.1),)), METAL)


def test_retracting_the_tool_gives_the_same_ring_as_fading_its_force():
    faded = sized_ring(Release())
    retracted = sized_ring(Release(retract={"m": (0.0, -1.0)}, supports=(Support(40, "x"),)))
    assert retracted.section.y_mm == pytest.approx(faded.section.y_mm, abs=2e-5)


def test_a_walk_in_two_runs_is_the_walk_in_one():
    # what a section remembers is all there is: stop after the stretch, start again from its section, release
    whole = sized_ring(Release())
    again = run(whole.steps[0].section, Schedule((Release(),)), METAL)
    assert again.section.y_mm == pytest.approx(whole.section.y_mm, abs=1e-9)
    assert again.section.layers == pytest.approx(whole.section.layers, abs=1e-6)


def test_the_sized_ring_stays_out_of_its_tool():
    result = sized_ring(Release())
    end = result.steps[0]
    mandrel = from_corners(
        [(-9.0, 99.5), (8.0, 99.5), (11.0, 102.5), (19.0, 102.5), (22.0, 99.5), (39.0, 99.5)], [4.5, 3.5, 3.5, 4.5]
    )
    deep = deepest_between_nodes_mm(end.section, Tool("m", mandrel), tuple(end.travel_mm[0]))
    assert end.deepest_mm < 0.004
    assert deep < 0.01


def test_soft_contact_hardens_over_a_step():
    mandrel = from_corners([(-9.0, 99.5), (39.0, 99.5)], [])
    step = Step("size", {"m": (0.0, 1.5)}, contact=SOFT, contact_end=STIFF, supports=(Support(20, "x"),), increments=20)
    tube = mesh_line((0.0, 100.0), (30.0, 100.0), 1.0, 40)
    result = run(tube, Schedule((step,), (Tool("m", mandrel, 0.1),)), METAL)
    assert result.steps[0].deepest_mm < 0.002
    assert result.history.energy[2, 7] > 0.002


def test_strip_bent_with_curl_follows_the_plane_section_law():
    # prism fibres: B = b0 + kr y + kz x; a curled strip keeps its section flat if it is held flat
    strip = mesh_line((-10.0, 0.0), (10.0, 0.0), 0.5, 8, "prism")
    hold = (Support(4, "x"), *(Support(k, u) for k in range(9) for u in ("y", "angle")))
    step = Step("curl", supports=hold, stretch=FREE, curl=Drift(1e-4), camber=FREE, increments=2)
    result = run(strip, Schedule((step,)), METAL)
    stiffness = 200e3 / 0.91 * 0.5**3 / 12.0 * 20.0
    assert result.steps[0].resultant[1] == pytest.approx(stiffness * 1e-4, rel=0.02)
    assert result.steps[0].resultant[[0, 2]] == pytest.approx([0.0, 0.0], abs=1e-4)
    frame = turned(result.section, 0.3)
    assert frame.fibres() == pytest.approx(result.section.fibres(), rel=1e-12)


def test_a_formed_section_laid_on_itself_fits():
    ring = mesh_profile(BEAD, 1.0, 60)
    fit = fit_profile(ring, BEAD, edge_mm=2.0)
    assert fit.greatest_mm < 1e-9
    shifted = fit_profile(turned(mesh_profile(BEAD, 1.0, 60, "prism").moved(0.3, -0.2), 0.01), BEAD, edge_mm=2.0)
    assert shifted.greatest_mm < 1e-6
    assert shifted.turn_rad == pytest.approx(-0.01, abs=1e-6)
    x, y, angle = at_material(ring, start_arc_mm(ring)[30])
    assert (x, y, angle) == pytest.approx((15.0, 103.0, 0.0), abs=1e-3)
