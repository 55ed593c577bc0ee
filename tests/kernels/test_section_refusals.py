"""What the section kernel refuses, by field, reason and remedy; and how it stops when it cannot go on."""

import math

import numpy as np
import pytest

from hoopwright.errors import GeometryError, InputError, NotConverged
from hoopwright.kernels.flow import ludwik, swift
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.section import (
    SOFT,
    Contact,
    Cut,
    Drift,
    Force,
    Lead,
    Metal,
    Release,
    Result,
    Schedule,
    Step,
    Support,
    Tool,
    clamp,
    mesh_line,
    mesh_points,
    mesh_profile,
    run,
)
from hoopwright.kernels.section.hoop import closed_hoop, cone_half_angle_rad, turned

METAL = Metal(swift(550.0, 0.005, 0.22), 200e3, 0.3)
DISC = mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, 20)
FACE = Profile((line((-0.5, 50.0), (-0.5, -5.0)),))


def press(contour, travel, name="punch", **settings):
    return Schedule((Step("press", {name: travel}, **settings),), (Tool(name, contour),))


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"young_MPa": 0.0}, "young_MPa"),
        ({"young_MPa": math.nan}, "young_MPa"),
        ({"poisson": 0.5}, "poisson"),
        ({"poisson": -0.1}, "poisson"),
        ({"anisotropy_r": 0.0}, "anisotropy_r"),
        ({"kinematic_MPa": -1.0}, "kinematic_MPa"),
        ({"recovery": math.inf}, "recovery"),
    ],
)
def test_metal(changes, field):
    with pytest.raises(InputError, match=field):
        Metal(**({"curve": swift(550.0, 0.005, 0.22), "young_MPa": 200e3, "poisson": 0.3} | changes))


def test_a_curve_that_starts_at_nothing_is_refused_with_the_way_out():
    with pytest.raises(InputError, match=r"flow curve at zero plastic strain.*Swift"):
        Metal(ludwik(0.0, 500.0, 0.2), 200e3, 0.3)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: mesh_line((0.0, 0.0), (0.0, 40.0), -1.0), "thickness_mm"),
        (lambda: mesh_line((0.0, 0.0), (0.0, 40.0), math.nan), "thickness_mm"),
        (lambda: mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, 1), "elements"),
        (lambda: mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, True), "elements"),
        (lambda: mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, 20, points_per_half=0), "points_per_half"),
        (lambda: mesh_line((0.0, 0.0), (0.0, 40.0), 1.0, 20, "torus"), "mode"),
        (lambda: mesh_line((0.0, -10.0), (0.0, 40.0), 1.0, 20), "section"),
        (lambda: mesh_points([0.0, 1.0, 1.0], [5.0, 5.0, 5.0], [0.0] * 3, 0.1), "element length"),
        (lambda: mesh_points([0.0, 1.0, 2.0], [5.0, 5.0, 5.0], [1.5] * 3, 0.1), "node angle"),
        (lambda: mesh_points([0.0, math.nan, 2.0], [5.0, 5.0, 5.0], [0.0] * 3, 0.1), "section nodes"),
        (
            lambda: mesh_profile(from_corners([(0.0, 20.0), (9.0, 20.0)], []), 1.0, 20, nodes_at_mm=(12.0,)),
            "nodes_at_mm",
        ),
    ],
)
def test_meshes(call, field):
    with pytest.raises(InputError, match=field):
        call()


def test_a_bend_tighter_than_half_the_sheet_is_refused():
    tight = from_corners([(0.0, 20.0), (10.0, 20.0), (10.0, 30.0)], [0.3])
    with pytest.raises(InputError, match=r"folded|node angle"):
        mesh_profile(tight, 1.0, 200)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: Tool("", FACE), "tool name"),
        (lambda: Tool("punch", "FACE"), "contour"),
        (lambda: Tool("punch", FACE, -0.1), "friction"),
        (lambda: Tool("punch", FACE, cushion_N_per_mm3=0.0), "cushion_N_per_mm3"),
        (lambda: Force("holder", 1.0, 0.0, 0.0, 5e3), r"holder: start_N is 0.0 N.*above 0.*holder force"),
        (lambda: Force("holder", 1.0, 0.0, 5e3, -5e3), "end_N"),
        (lambda: Force("holder", 0.0, 0.0, 5e3, 5e3), "direction"),
        (lambda: Contact(0.0, 0.002), "share"),
        (lambda: Contact(1.0, 0.0), "blend_mm"),
        (lambda: Support(0, "z"), "support unknown"),
        (lambda: Support(0.5, "x"), "support node"),
        (lambda: Support(0, "x", math.inf), "support travel"),
        (lambda: Drift(math.nan), "to"),
        (lambda: Lead(Support(0, "x", 1.0)), "lead"),
        (lambda: Lead(per_unit_MPa=1.0), "lead"),
        (lambda: Lead(Support(0, "x", 1.0), 50.0, 1.0), "lead"),
        (lambda: Step("s", increments=0), "increments"),
        (lambda: Step("s", {"punch": (math.nan, 0.0)}), "travel of punch"),
        (lambda: Step("s", force=Force("holder", 1.0, 0.0, 1.0, 1.0)), "force on"),
        (lambda: Step("s", hold=1.0), "hold"),
        (lambda: Release(held=("length",)), "held"),
        (lambda: Schedule(()), "steps"),
        (lambda: Schedule((Step("s", {"punch": (0.0, 0.0)}),)), "s: tool"),
        (lambda: Schedule((Step("s"),), (Tool("a", FACE), Tool("a", FACE))), "tool names"),
    ],
)
def test_tools_and_steps(call, field):
    with pytest.raises(InputError, match=field):
        call()


def test_a_radius_below_the_thickness_is_refused():
    sharp = from_corners([(-40.0, 10.0), (-0.5, 10.0), (-0.5, -5.0)], [0.6])
    with pytest.raises(GeometryError, match=r"punch: radius of segment 1 is 0.6 mm.*thickness 1.*larger radius"):
        run(DISC, press(sharp, (5.0, 0.0)), METAL)


def test_a_punch_that_cannot_enter_is_refused():
    punch = from_corners([(-40.0, 26.0), (-0.5, 26.0), (-0.5, -5.0)], [4.0])
    die = from_corners([(60.0, 25.0), (0.5, 25.0), (0.5, 60.0)], [4.0])
    moves = {"punch": (10.0, 0.0), "die": (0.0, 0.0)}
    with pytest.raises(GeometryError, match=r"punch and die is crossing.*at the end of the step"):
        run(DISC, Schedule((Step("draw", moves),), (Tool("punch", punch), Tool("die", die))), METAL)


def test_a_tool_drawn_inside_the_sheet_is_refused():
    with pytest.raises(GeometryError, match=r"punch is 2.5000 mm inside the sheet.*first_touch_mm"):
        run(DISC, press(FACE.moved(2.5, 0.0), (1.0, 0.0)), METAL)


@pytest.mark.parametrize(
    ("step", "field"),
    [
        (Step("s", supports=(Support(40, "x"),)), "node"),
        (Step("s", loads=((0, "x", math.nan),)), "nodal load"),
        (Step("s", stretch=Drift(1.1)), "stretch"),
        (Cut(5, 3), "cut"),
    ],
)
def test_steps_that_do_not_fit_the_section(step, field):
    with pytest.raises(InputError, match=field):
        run(DISC, Schedule((step,)), METAL)


def test_pressure_on_a_strip_and_moving_a_hoop_are_refused():
    strip = mesh_line((0.0, 0.0), (20.0, 0.0), 1.0, 10, "prism")
    with pytest.raises(InputError, match="pressure"):
        run(strip, Schedule((Step("s", supports=clamp(0), pressure_MPa=1.0),)), METAL)
    with pytest.raises(InputError, match="lead by volume"):
        run(strip, Schedule((Step("s", supports=clamp(0), lead=Lead(volume_mm3=1.0, loads=((1, "y", 1.0),))),)), METAL)
    with pytest.raises(InputError, match="dy_mm"):
        DISC.moved(0.0, 1.0)
    with pytest.raises(InputError, match="mode"):
        turned(DISC, 0.1)
    with pytest.raises(InputError, match="mode"):
        closed_hoop(DISC, METAL, 100.0)
    with pytest.raises(InputError, match="curl"):
        cone_half_angle_rad(strip)


def test_prior_strain_must_make_sense():
    with pytest.raises(InputError, match="plastic strain"):
        DISC.with_plastic_strain(-0.01)
    with pytest.raises(InputError, match="plastic strain"):
        DISC.with_plastic_strain(np.full((20, 8), np.nan))


def test_past_a_limit_load_it_stops_with_its_last_state():
    # a clamped disc under pressure bulges stably until its metal gives out; far beyond there is no balance
    step = Step("bulge", supports=clamp(-1), pressure_MPa=-400.0, increments=40)
    with pytest.raises(NotConverged, match=r"bulge: stopped after .* %") as caught:
        run(DISC, Schedule((step,)), METAL)
    last = caught.value.last_state
    assert isinstance(last, Result)
    assert not last.converged
    assert "limit load" in caught.value.remedy
    assert 0.0 < last.history.progress[-1] < 1.0
    assert np.all(np.isfinite(last.section.layers))
    assert last.section.x_mm[0] > 1.0


def test_a_force_with_nothing_behind_the_sheet_is_not_reached():
    holder = Tool("holder", FACE.moved(-1.0, 0.0))
    step = Step("clamp", {"holder": (0.0, 0.0)}, force=Force("holder", 1.0, 0.0, 1e3, 1e3), contact=SOFT)
    with pytest.raises(NotConverged, match=r"holder presses with .* N only"):
        run(DISC, Schedule((step,), (holder,)), METAL)


def test_a_ring_past_its_greatest_force_still_comes_back_elastically():
    # less force also balances a ring stretched much further; the release must not jump there
    ring = mesh_line((0.0, 100.0), (20.0, 100.0), 1.0, 4)
    soft = Metal(swift(300.0, 0.0005, 0.05), 200e3, 0.3)
    lead = tuple(Support(node, "y", 60.0) for node in range(5))
    angles = tuple(Support(node, "angle") for node in range(5))
    stretch = Step("stretch", supports=(*lead, *angles, Support(0, "x")), increments=60)
    result = run(ring, Schedule((stretch, Release())), soft)
    loaded = result.steps[0].section
    spring = math.log(loaded.y_mm.mean() / result.section.y_mm.mean())
    assert spring == pytest.approx(loaded.layers[:, :, 1].mean() / 200e3, rel=0.02)
