"""Layered bending: driving, states, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.flow import swift, voce
from hoopwright.kernels.layers import Layers, bent, flat_strip, midpoint_layers, moved, released
from hoopwright.kernels.metal import BACK_HOOP, HOOP, SECTION, Metal

METAL = Metal(swift(1400.0, 0.012, 0.35), 205_000.0, 0.3)
ACROSS = ["uniform", "held", "free"]


@pytest.mark.parametrize("across", ACROSS)
def test_an_elastic_bend_springs_flat(across: str) -> None:
    strip = bent(flat_strip(1.2), METAL, 5000.0, across=across)
    stiffness = 205_000.0 if across == "free" else 205_000.0 / 0.91
    # 41 midpoint layers hold 1 - 1/41^2 of the second moment of area
    assert strip.moment_N == pytest.approx(stiffness * 1.2**3 / 12 / 5000.0 * (1 - 1 / 41**2), rel=1e-6)
    free = released(strip, METAL, across=across)
    assert free.curvature_per_mm == pytest.approx(0.0, abs=1e-12)
    assert free.mean_plastic_strain == 0.0


@pytest.mark.parametrize("across", ACROSS)
def test_a_bend_let_go_carries_nothing_and_keeps_residual_stress(across: str) -> None:
    strip = bent(flat_strip(1.2), METAL, 91.0, across=across)
    free = released(strip, METAL, across=across)
    assert abs(free.tension_N_per_mm) < 1e-8
    assert abs(free.moment_N) < 1e-8
    assert 91.0 < free.radius_mm < 200.0
    stress = free.points[:, HOOP]
    assert np.max(np.abs(stress)) > 50.0
    # self-balanced: outside face pushed after having been pulled
    assert stress[0] > 0.0 > stress[-1]
    if across == "uniform":
        assert abs(free.points[:, SECTION] @ free.weights()) < 1e-8


def test_bending_back_and_forth_is_symmetric() -> None:
    one = released(bent(flat_strip(1.0), METAL, 60.0), METAL)
    two = released(bent(flat_strip(1.0), METAL, -60.0), METAL)
    assert two.curvature_per_mm == pytest.approx(-one.curvature_per_mm, rel=1e-9)
    assert two.points[::-1, HOOP] == pytest.approx(one.points[:, HOOP], abs=1e-6)


def test_tension_makes_springback_smaller() -> None:
    loss = []
    for tension in (0.0, 150.0, 300.0):
        strip = bent(flat_strip(1.2), METAL, 91.0, tension_N_per_mm=tension)
        assert strip.tension_N_per_mm == pytest.approx(tension, abs=1e-7)
        loss.append(strip.curvature_per_mm - released(strip, METAL).curvature_per_mm)
    assert loss[0] > loss[1] > loss[2] > 0.0


def test_stretched_beyond_yield_the_bend_stays_almost_whole() -> None:
    """What springs is Et/E of the curvature, the rule of the residual out-of-roundness."""
    curved = moved(flat_strip(1.2), METAL, stretch_log=0.02, curvature_per_mm=1 / 140.0, across="free")
    free = released(curved, METAL, across="free")
    assert 1 - free.radius_mm**-1 * 140.0 < 0.05


def test_moment_can_be_driven_too() -> None:
    strip = bent(flat_strip(1.2), METAL, 91.0)
    same = moved(flat_strip(1.2), METAL, tension_N_per_mm=0.0, moment_N=strip.moment_N)
    assert same.radius_mm == pytest.approx(91.0, rel=2e-3)  # two paths of 40 steps


def test_kinematic_hardening_springs_less_on_reversal() -> None:
    """Bend, bend back past flat: with kinematic hardening the reversed moment is smaller."""
    moments = []
    for share in (0.0, 1.0):
        metal = Metal(METAL.flow, 205_000.0, 0.3, kinematic_share=share)
        there = bent(flat_strip(1.0), metal, 30.0)
        back = bent(there, metal, -30.0)
        moments.append(-back.moment_N)
        assert (np.max(np.abs(back.points[:, BACK_HOOP])) > 0) == (share > 0)
    assert moments[1] < moments[0]


def test_thickness_follows_volume() -> None:
    strip = moved(flat_strip(1.2), METAL, stretch_log=0.1, curvature_per_mm=0.0, across="free")
    stress = strip.mean_stress_MPa
    plastic = 0.1 - stress / 205_000.0
    assert strip.thickness_now_mm == pytest.approx(1.2 * math.exp(-0.5 * plastic - 0.3 * stress / 205_000.0), rel=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.4, 3.0), st.floats(15.0, 300.0), st.sampled_from(ACROSS), st.floats(0.0, 0.1))
def test_every_bend_ends_between_its_radius_and_flat(t: float, over: float, across: str, prior: float) -> None:
    radius = over * t
    strip = bent(flat_strip(t, 21, prior), METAL, radius, across=across, steps=10)
    free = released(strip, METAL, across=across)
    assert strip.moment_N > 0.0
    assert -1e-12 <= free.curvature_per_mm < 1.0 / radius
    assert np.all(free.points[:, 2] >= prior)


def test_a_perfectly_plastic_strip_pulled_beyond_its_strength_is_told_so() -> None:
    metal = Metal(voce(300.0, 0.0, 1.0), 200_000.0, 0.3)
    with pytest.raises(NotConverged, match="lower the tension"):
        moved(flat_strip(1.0, 5), metal, tension_N_per_mm=400.0, curvature_per_mm=0.0, across="free")


def test_own_layers_are_taken() -> None:
    nodes, weights = np.polynomial.legendre.leggauss(4)
    half = np.concatenate([(nodes - 1) / 4, (nodes + 1) / 4])
    split = Layers(half, np.concatenate([weights, weights]) / 4)
    gauss = bent(flat_strip(1.2, split), METAL, 30.0)
    many = bent(flat_strip(1.2, 401), METAL, 30.0)
    assert gauss.moment_N == pytest.approx(many.moment_N, rel=6e-3)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: midpoint_layers(0), "count of layers"),
        (lambda: midpoint_layers(True), "count of layers"),
        (lambda: flat_strip(0.0), "thickness"),
        (lambda: flat_strip(1.0, 5, -0.1), "prior plastic strain"),
        (lambda: flat_strip(1.0, 5, np.array([0.1, math.nan, 0, 0, 0])), "prior plastic strain"),
        (lambda: flat_strip(1.0, 5, np.zeros(4)), "prior plastic strain"),
        (lambda: bent(flat_strip(1.0), METAL, 0.0), "bend radius"),
        (lambda: bent(flat_strip(1.0), METAL, math.nan), "bend radius"),
        (lambda: bent(flat_strip(1.0), METAL, 0.5), "curvature"),
        (lambda: moved(flat_strip(1.0), METAL, stretch_log=0.1), "curvature or moment"),
        (
            lambda: moved(flat_strip(1.0), METAL, stretch_log=0.1, tension_N_per_mm=1.0, moment_N=0.0),
            "stretch or tension",
        ),
        (lambda: moved(flat_strip(1.0), METAL, stretch_log=0.1, moment_N=0.0, steps=0), "steps"),
        (
            lambda: released(bent(flat_strip(1.0), METAL, 20.0, across="held"), METAL, across="free"),
            "width stress",
        ),
    ],
)
def test_what_cannot_be_is_refused(call: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert caught.value.field == field
