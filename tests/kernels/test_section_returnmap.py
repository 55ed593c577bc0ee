"""The return map of one layer: closed-form paths, anisotropy, back stress, and its tangent."""

import math

import numpy as np
import pytest

from hoopwright.kernels.flow import swift, voce
from hoopwright.kernels.section import Metal
from hoopwright.kernels.section.returnmap import return_layer

SWIFT = swift(550.0, 0.005, 0.22)


def pulled(metal, strain, steps):
    """Tension along s: the strain across is found so that t = 0 in every step. Returns layer and strain across."""
    vector, law = metal.vector(), metal.curve.vector()
    state, across = (0.0,) * 5, 0.0
    for _ in range(steps):
        de_t = -0.4 * strain / steps
        for _ in range(40):
            s, t, p, xs, xt, _css, _cst, ctt, _a, _b = return_layer(vector, law, *state, strain / steps, de_t)
            if abs(t) < 1e-9:
                break
            de_t -= t / ctt
        state, across = (s, t, p, xs, xt), across + de_t
    return state, across


def test_elastic_layer_follows_plane_stress_hooke():
    metal = Metal(SWIFT, 200e3, 0.3)
    s, t, p, *_ = return_layer(metal.vector(), metal.curve.vector(), 0.0, 0.0, 0.0, 0.0, 0.0, 2e-4, 1e-4)
    factor = 200e3 / (1.0 - 0.09)
    assert (s, t) == pytest.approx((factor * 2.3e-4, factor * 1.6e-4), rel=1e-12)
    assert p == 0.0


def test_uniaxial_tension_lies_on_the_flow_curve():
    metal = Metal(SWIFT, 200e3, 0.3)
    (s, _t, p, _xs, _xt), _ = pulled(metal, 0.05, 50)
    assert s == pytest.approx(SWIFT.stress(p), rel=1e-9)
    assert p == pytest.approx(0.05 - s / 200e3, rel=1e-9)


def test_back_stress_with_voce_meets_the_closed_form_at_first_order():
    # X = H/g (1 - exp(-g p)) integrates dX = H dp - g X dp exactly; a step of the return map is backward Euler
    metal = Metal(voce(300.0, 100.0, 10.0), 200e3, 0.3, kinematic_MPa=9000.0, recovery=60.0)
    errors = []
    for steps in (10, 1000, 2000):
        (s, _t, p, xs, _xt), _ = pulled(metal, 0.05, steps)
        back = 150.0 * (1.0 - math.exp(-60.0 * p))
        errors.append(abs(s / (300.0 + 100.0 * (1.0 - math.exp(-10.0 * p)) + back) - 1.0))
        assert xs == pytest.approx(back, rel=10.0 * errors[-1])
    assert errors[0] < 0.01
    assert errors[2] < 5e-5
    assert errors[1] / errors[2] == pytest.approx(2.0, rel=0.02)


@pytest.mark.parametrize("r", [0.5, 1.0, 2.0])
def test_width_to_thickness_strain_is_the_anisotropy_ratio(r):
    metal = Metal(SWIFT, 200e3, 0.3, anisotropy_r=r)
    (s, _t, p, _xs, _xt), across = pulled(metal, 0.1, 100)
    width = across + 0.3 * s / 200e3
    assert width / (-p - width) == pytest.approx(r, rel=1e-6)


@pytest.mark.parametrize("r", [1.0, 2.0])
def test_biaxial_stress_factor(r):
    metal = Metal(SWIFT, 200e3, 0.3, anisotropy_r=r)
    state = (0.0,) * 5
    for _ in range(20):
        s, t, p, xs, xt, *_ = return_layer(metal.vector(), metal.curve.vector(), *state, 0.002, 0.002)
        state = (s, t, p, xs, xt)
    assert s == pytest.approx(t, abs=1e-9)
    assert s / SWIFT.stress(p) == pytest.approx(math.sqrt(0.5 * (1.0 + r)), rel=1e-9)


def test_pure_shear_reverses_with_the_bauschinger_effect():
    metal = Metal(SWIFT, 200e3, 0.3, kinematic_MPa=9000.0, recovery=60.0)
    state = (0.0,) * 5
    for sign in [1.0] * 20 + [-1.0] * 4:
        s, t, p, xs, xt, *_ = return_layer(metal.vector(), metal.curve.vector(), *state, sign * 1e-3, -sign * 1e-3)
        state = (s, t, p, xs, xt)
    # after reversal it yields at flow stress less the back stress that helps it
    assert abs(s) * math.sqrt(3.0) < SWIFT.stress(p)


@pytest.mark.parametrize(("h", "g", "r"), [(0.0, 0.0, 1.0), (0.0, 0.0, 1.8), (5000.0, 0.0, 1.0), (9000.0, 60.0, 1.0)])
def test_tangent_is_the_derivative(h, g, r):
    metal = Metal(SWIFT, 200e3, 0.3, anisotropy_r=r, kinematic_MPa=h, recovery=g)
    vector, law = metal.vector(), metal.curve.vector()
    start = (120.0, -40.0, 0.01, 20.0 if h else 0.0, -7.0 if h else 0.0)
    strain, step = (4e-3, -1.5e-3), 1e-8
    out = return_layer(vector, law, *start, *strain)
    assert out[2] > 0.01
    numeric = np.zeros((2, 2))
    for k in range(2):
        up, down = list(strain), list(strain)
        up[k] += step
        down[k] -= step
        numeric[:, k] = (
            np.array(return_layer(vector, law, *start, *up)[:2])
            - np.array(return_layer(vector, law, *start, *down)[:2])
        ) / (2.0 * step)
    if g == 0.0:
        assert numeric[0, 1] == pytest.approx(numeric[1, 0], rel=1e-4)
    symmetric = 0.5 * (numeric + numeric.T)
    assert np.array([[out[5], out[6]], [out[6], out[7]]]) == pytest.approx(symmetric, abs=2e-6 * 200e3)


def test_large_steps_return_to_the_surface():
    metal = Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32)
    vector, law = metal.vector(), metal.curve.vector()
    for de_s, de_t in [(0.5, 0.4), (-2.0, 1.0), (0.1, -0.3), (1e-2, 0.0)]:
        s, t, p, *_ = return_layer(vector, law, 0.0, 0.0, 0.0, 0.0, 0.0, de_s, de_t)
        assert math.sqrt(s * s - s * t + t * t) == pytest.approx(metal.curve.stress(p), rel=1e-9)
