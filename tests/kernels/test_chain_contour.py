"""A contoured hoop on a rigid tool: forward, inverse, faces, anneal, refusals."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.chain import (
    ContourHoop,
    annealed,
    contour_hoop,
    hoop_at_stations,
    prior_strain_map,
    ring_stretched,
    ring_tool,
)
from hoopwright.kernels.flow import swift, tabulated, voce
from hoopwright.kernels.metal import HOOP, PLASTIC, SECTION, Metal
from hoopwright.kernels.profile_build import from_corners

METAL = Metal(swift(1400.0, 0.012, 0.35), 205_000.0, 0.3)
HAT = from_corners([(0, 120.0), (8, 120.0), (12, 122.0), (22, 122.0)], [3, 3])
STATIONS = HAT.stations(1.0)


def hat(shift: float = -2.5, prior: object = 0.0) -> ContourHoop:
    return hoop_at_stations(STATIONS, 0.8, shift, 9, prior)  # type: ignore[arg-type]


@pytest.mark.parametrize("face", ["inside", "mid", "outside"])
@pytest.mark.parametrize("held", [False, True])
def test_forward_and_inverse_meet_on_every_face(face: str, held: bool) -> None:
    wanted = hat(0.0).radius_at(face)
    designed = ring_tool(hat(), wanted, METAL, face, held)
    made = ring_stretched(hat(), designed.tool_face_radius_mm, METAL, held)
    assert made.released.radius_at(face) == pytest.approx(wanted, abs=2e-6)
    assert made.hoop_tension_N == pytest.approx(designed.hoop_tension_N, rel=1e-6)


def test_the_inside_face_lies_on_the_tool_and_the_sheet_is_thinner() -> None:
    tool = hat(0.0).radius_at("inside")
    sized = ring_stretched(hat(), tool, METAL)
    assert sized.loaded.radius_at("inside") == pytest.approx(tool, abs=1e-9)
    strain = sized.hoop_strain_log
    assert sized.loaded.thickness_mm == pytest.approx(0.8 * np.exp(-0.5 * strain), rel=5e-4)
    assert np.all(sized.released.thickness_mm > sized.loaded.thickness_mm)
    assert sized.hoop_strain_log == pytest.approx(np.log(sized.loaded.radius_mm / sized.incoming.radius_mm))


def test_the_section_moves_in_as_one() -> None:
    sized = ring_stretched(hat(), hat(0.0).radius_at("inside"), METAL)
    inward = sized.loaded.radius_mm - sized.released.radius_mm
    assert inward == pytest.approx(np.full(inward.size, sized.springback_mm))
    assert sized.springback_mm > 0.0
    stress = sized.released.mean_stress_MPa
    # the lower fibres were stretched more: they are left in compression
    assert stress[0] < 0.0 < stress[-1]


def test_held_width_is_free_again_off_the_tool() -> None:
    sized = ring_stretched(hat(), hat(0.0).radius_at("inside"), METAL, width_held=True)
    assert sized.loaded.width_mm == pytest.approx(sized.incoming.width_mm)
    left = sized.released.points[:, :, SECTION] @ sized.released.layers.share
    assert left == pytest.approx(np.zeros(left.size), abs=1e-6)
    assert sized.loaded.points[:, :, SECTION].min() > 100.0


def test_prior_strain_and_lower_modulus_spring_more() -> None:
    tool = hat(0.0).radius_at("inside")
    plain = ring_stretched(hat(), tool, METAL).springback_mm
    assert ring_stretched(hat(prior=0.05), tool, METAL).springback_mm > 1.1 * plain
    softer = ring_stretched(hat(), tool, METAL, release_modulus_MPa=0.92 * 205_000.0).springback_mm
    assert softer == pytest.approx(plain / 0.92, rel=1e-3)


def test_an_anneal_between_hits_makes_the_second_spring_less() -> None:
    first = ring_stretched(hat(), hat(-1.0).radius_at("inside"), METAL).released
    tool = hat(0.0).radius_at("inside")
    again, soft = ring_stretched(first, tool, METAL), ring_stretched(annealed(first), tool, METAL)
    once = ring_stretched(hat(), tool, METAL)
    assert soft.springback_mm < again.springback_mm
    # a hit on the way changes next to nothing
    assert again.springback_mm == pytest.approx(once.springback_mm, rel=2e-4)
    assert again.released.points[:, :, PLASTIC].min() > 0.0


def test_a_second_hit_at_the_same_place_does_nothing() -> None:
    tool = hat(0.0).radius_at("inside")
    once = ring_stretched(hat(), tool, METAL)
    twice = ring_stretched(once.released, tool, METAL)
    # on release layers keep their places of the thinned sheet, the next hit takes those of the sprung one
    assert twice.released.radius_mm == pytest.approx(once.released.radius_mm, abs=1e-4)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0.3, 2.0),
    st.floats(60.0, 400.0),
    st.floats(0.006, 0.05),
    st.sampled_from(
        [
            METAL,
            Metal(voce(250.0, 300.0, 15.0), 195_000.0, 0.3, kinematic_share=0.5),
            Metal(tabulated(np.array([0.0, 0.02, 0.3]), np.array([310.0, 420.0, 800.0])), 210_000.0, 0.31),
            Metal(swift(1630.0, 0.02, 0.385), 205_000.0, 0.32, normal_anisotropy=0.8),
        ]
    ),
    st.floats(0.0, 0.08),
)
def test_any_ring_lands_where_it_is_aimed(t: float, radius: float, stretch: float, metal: Metal, prior: float) -> None:
    heights = np.array([0.0, 1.0, 2.0]) * radius / 100.0
    hoop = contour_hoop(radius + heights, np.array([1.0, 0.8, 1.0]), np.array([5.0, 2.0, 5.0]), t, 7, prior)
    wanted = radius * math.exp(stretch) + heights
    sized = ring_tool(hoop, wanted, metal)
    assert sized.released.radius_mm == pytest.approx(wanted, abs=1e-6)
    assert sized.springback_mm > 0.0
    assert abs(sized.left_over_N) <= 1e-6 * sized.hoop_tension_N


@settings(max_examples=15, deadline=None)
@given(st.floats(0.5, 3.0))
def test_all_lengths_scale(scale: float) -> None:
    """Twice the ring, twice the thickness: same strains, twice the springback, four times the tension."""
    small = ring_stretched(hat(), hat(0.0).radius_at("inside"), METAL)
    big_in = replace(
        hat(),
        radius_mm=scale * hat().radius_mm,
        width_mm=scale * hat().width_mm,
        thickness_mm=scale * hat().thickness_mm,
    )
    big = ring_stretched(big_in, scale * hat(0.0).radius_at("inside"), METAL)
    # thickness is settled to 2e-5 mm whatever the size of the ring
    assert big.springback_mm == pytest.approx(scale * small.springback_mm, rel=1e-5)
    assert big.hoop_tension_N == pytest.approx(scale**2 * small.hoop_tension_N, rel=1e-5)


def test_prior_map_is_the_closed_form() -> None:
    curvature = np.array([0.0, 1 / 3.0, -1 / 3.0])
    found = prior_strain_map(curvature, 0.8, 0.0018, 0.01, 8)
    zeta = 0.8 * 7 / 16
    assert found[0] == pytest.approx(np.full(8, 0.01 - 0.0018))
    assert found[1, 0] == pytest.approx(2 / math.sqrt(3) * zeta / 3.0 - 0.0018 + 0.0082)
    assert found[1] == pytest.approx(found[2])
    assert np.all(prior_strain_map(np.zeros(2), 0.8, 0.0018, -0.001, 8) == 0.0)


def test_layer_states_are_kept_apart() -> None:
    prior = prior_strain_map(STATIONS.curvature, 0.8, METAL.yield_strain, 0.0, 9)
    sized = ring_stretched(hat(prior=prior), hat(0.0).radius_at("inside"), METAL)
    stress = sized.loaded.points[:, :, HOOP]
    corner = int(np.argmax(np.abs(STATIONS.curvature)))
    assert stress[corner, 0] > stress[corner, 4] + 50.0
    assert np.all(sized.incoming.points[:, :, HOOP] == 0.0)


def one(value: float = 1.0) -> np.ndarray:
    return np.full(3, value)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: contour_hoop(one(-5.0), one(), one(), 0.8), "station radius[0]"),
        (lambda: contour_hoop(one(100.0), one(), np.ones(2), 0.8), "station width"),
        (lambda: contour_hoop(one(100.0), one(1.5), one(), 0.8), "radial part of the normal"),
        (lambda: contour_hoop(one(100.0), one(0.0), one(), 0.8), "radial part of the normal[0]"),
        (lambda: contour_hoop(one(0.3), one(), one(), 0.8), "station radius"),
        (lambda: contour_hoop(one(100.0), one(), one(), 0.8, 0), "count of layers"),
        (lambda: contour_hoop(one(100.0), one(), one(), 0.8, 5, np.zeros((3, 4))), "prior plastic strain"),
        (lambda: contour_hoop(one(100.0), one(), one(), 0.8, 5, math.nan), "prior plastic strain"),
        (lambda: ring_stretched(hat(), one(), METAL), "tool face radius"),
        (lambda: ring_stretched(hat(), hat().radius_mm * math.nan, METAL), "tool face radius[0]"),
        (lambda: ring_tool(hat(), -hat().radius_mm, METAL), "wanted radius[0]"),
        (lambda: ring_tool(hat(), hat().radius_mm - 1.0, METAL), "wanted radius"),
        (lambda: ring_stretched(hat(), hat().radius_mm - 1.0, METAL), "tool face radius"),
        (
            lambda: ring_stretched(hat(), hat(0.0).radius_mm, METAL, release_modulus_MPa=0.0),
            "Young's modulus on release",
        ),
        (lambda: hoop_at_stations(STATIONS, 0.8, math.inf), "radius shift"),
        (lambda: prior_strain_map(np.zeros((2, 2)), 0.8, 0.0018), "corner curvature"),
        (lambda: prior_strain_map(one(), -0.8, 0.0018), "thickness"),
        (lambda: prior_strain_map(one(), 0.8, 0.0), "yield strain"),
        (lambda: prior_strain_map(one(), 0.8, 0.0018, np.zeros(4)), "curl strain"),
    ],
)
def test_what_cannot_be_is_refused(call: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert caught.value.field == field


def test_section_stress_is_not_lost_unseen() -> None:
    held = ring_stretched(hat(), hat(0.0).radius_at("inside"), METAL, width_held=True).loaded
    with pytest.raises(InputError, match="width stress"):
        ring_stretched(held, hat(0.5).radius_at("inside"), METAL)
