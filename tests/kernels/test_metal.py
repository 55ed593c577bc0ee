"""Return map: elastic range, tangent, modes of hardening, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.flow import (
    FlowCurve,
    flow_slope,
    flow_stress,
    flow_stress_and_slope,
    ludwik,
    swift,
    tabulated,
    voce,
)
from hoopwright.kernels.metal import Metal, plane_stress_update, uniaxial_update, yield_radius

SWIFT = swift(1400.0, 0.012, 0.35)
TABLE = tabulated(np.array([0.0, 0.01, 0.05, 0.2]), np.array([300.0, 380.0, 500.0, 700.0]))
LAWS = {"swift": SWIFT, "voce": voce(300.0, 250.0, 12.0), "ludwik": ludwik(300.0, 900.0, 0.6), "table": TABLE}
REST = (0.0, 0.0, 0.0, 0.0, 0.0)
KINDS = [
    {},
    {"kinematic_share": 0.4},
    {"kinematic_share": 1.0},
    {"normal_anisotropy": 2.0},
    {"normal_anisotropy": 0.7, "kinematic_share": 0.5},
    {"back_modulus_MPa": 9000.0, "back_rate": 60.0},
]


def metal(flow: FlowCurve = SWIFT, **more: float) -> Metal:
    return Metal(flow, 205_000.0, 0.3, **more)


def walked(m: Metal, path: list[tuple[float, float]]) -> tuple[float, ...]:
    state: tuple[float, ...] = REST
    for hoop, section in path:
        state = plane_stress_update(hoop, section, state[:5], m.law(), m.vector())
    return state


@pytest.mark.parametrize("name", LAWS)
@pytest.mark.parametrize("strain", [0.0, 0.003, 0.12])
def test_stress_and_slope_together_are_the_two_apart(name: str, strain: float) -> None:
    law = LAWS[name].vector()
    together = flow_stress_and_slope(law, strain)
    assert together == pytest.approx((flow_stress(law, strain), flow_slope(law, strain)), rel=1e-13)


def test_below_yield_it_is_hooke() -> None:
    h, s, p, _, _, hh, hs, ss = plane_stress_update(1e-3, -4e-4, REST, metal().law(), metal().vector())
    e, nu = 205_000.0, 0.3
    assert (h, s) == pytest.approx((e / (1 - nu**2) * (1e-3 - nu * 4e-4), e / (1 - nu**2) * (nu * 1e-3 - 4e-4)))
    assert (hh, hs, ss) == pytest.approx((e / (1 - nu**2), nu * e / (1 - nu**2), e / (1 - nu**2)))
    assert p == 0.0


@pytest.mark.parametrize("name", LAWS)
@pytest.mark.parametrize("kind", KINDS)
def test_new_stress_lies_on_the_yield_surface(name: str, kind: dict[str, float]) -> None:
    m = metal(LAWS[name], **kind)
    h, s, p, bh, bs, *_ = walked(m, [(0.004, -0.001), (-0.006, 0.005), (0.02, 0.01)])
    r = m.normal_anisotropy
    a, b = (h - bh + s - bs) / math.sqrt(2), (h - bh - s + bs) / math.sqrt(2)
    effective = math.sqrt(a * a / (1 + r) + b * b * (1 + 2 * r) / (1 + r))
    assert effective == pytest.approx(yield_radius(m.law(), m.vector(), p), rel=1e-10)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("step", [(0.003, -0.002), (-0.004, 0.0045), (0.0061, 0.0007)])
def test_tangent_is_the_derivative(kind: dict[str, float], step: tuple[float, float]) -> None:
    m = metal(**kind)
    law, constants = m.law(), m.vector()
    state = walked(m, [(0.002, 0.004)])[:5]
    *_, hh, hs, ss = plane_stress_update(*step, state, law, constants)
    d = 1e-7

    def push(i: int) -> np.ndarray:
        up, down = list(step), list(step)
        up[i] += d
        down[i] -= d
        one = plane_stress_update(up[0], up[1], state, law, constants)
        two = plane_stress_update(down[0], down[1], state, law, constants)
        return (np.array(one[:2]) - np.array(two[:2])) / (2 * d)

    hoop, section = push(0), push(1)
    # central differences at 1e-7 leave about 1e-6 of the elastic modulus
    assert (hh, ss) == pytest.approx((hoop[0], section[1]), abs=0.5)
    assert hs == pytest.approx(0.5 * (hoop[1] + section[0]), abs=0.5)


@pytest.mark.parametrize("kind", [{"kinematic_share": share} for share in (0.0, 0.3, 1.0)])
def test_a_monotone_pull_follows_the_curve_whatever_the_share(kind: dict[str, float]) -> None:
    m = metal(**kind)
    stress, p, _, tangent = uniaxial_update(0.05, 0.0, 0.0, 0.0, m.law(), m.vector())
    assert stress == pytest.approx(SWIFT.stress(p), rel=1e-12)
    assert p == pytest.approx(0.05 - stress / 205_000.0, abs=1e-15)
    slope = SWIFT.slope(p)
    assert tangent == pytest.approx(205_000.0 * slope / (205_000.0 + slope), rel=1e-9)


def test_reversal_is_earlier_the_more_is_kinematic() -> None:
    """After a pull reverse yield comes at back stress less radius: -s isotropic, s - 2 s(0) kinematic."""

    def reverse_yield(share: float) -> tuple[float, float]:
        m = metal(kinematic_share=share)
        stress, p, back, _ = uniaxial_update(0.05, 0.0, 0.0, 0.0, m.law(), m.vector())
        return stress, back - yield_radius(m.law(), m.vector(), p)

    pulled, isotropic = reverse_yield(0.0)
    assert isotropic == pytest.approx(-pulled, rel=1e-12)
    assert isotropic < reverse_yield(0.5)[1] < reverse_yield(1.0)[1]
    assert reverse_yield(1.0)[1] == pytest.approx(pulled - 2 * SWIFT.stress(0.0), rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-0.03, 0.03), st.floats(-0.03, 0.03)), min_size=1, max_size=5),
    st.sampled_from(sorted(LAWS)),
    st.sampled_from(KINDS),
)
def test_any_path_keeps_its_promises(path: list[tuple[float, float]], name: str, kind: dict[str, float]) -> None:
    """Plastic strain never falls, stress is finite and swaps with its directions."""
    m = metal(LAWS[name], **kind)
    state = REST
    for hoop, section in path:
        new = plane_stress_update(hoop, section, state, m.law(), m.vector())
        assert all(math.isfinite(v) for v in new)
        assert new[2] >= state[2]
        mirror = (state[1], state[0], state[2], state[4], state[3])
        swapped = plane_stress_update(section, hoop, mirror, m.law(), m.vector())
        assert (swapped[1], swapped[0], swapped[2]) == pytest.approx(new[:3], rel=1e-9, abs=1e-7)
        state = new[:5]


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(-0.05, 0.05), min_size=1, max_size=6), st.sampled_from(sorted(LAWS)))
def test_a_fibre_pulled_and_pushed_is_odd(path: list[float], name: str) -> None:
    m = metal(LAWS[name], kinematic_share=0.3)
    one, two = (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)
    for strain in path:
        one = uniaxial_update(strain, *one, m.law(), m.vector())[:3]
        two = uniaxial_update(-strain, *two, m.law(), m.vector())[:3]
    assert one == pytest.approx((-two[0], two[1], -two[2]), rel=1e-12, abs=1e-12)


def test_a_plain_power_law_without_yield_is_followed_too() -> None:
    m = metal(ludwik(0.0, 1275.0, 0.45))
    h, s, p, *_ = plane_stress_update(0.01, 0.0, REST, m.law(), m.vector())
    assert math.sqrt(h * h - h * s + s * s) == pytest.approx(1275.0 * p**0.45, rel=1e-9)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"youngs_modulus_MPa": 0.0}, "Young's modulus"),
        ({"youngs_modulus_MPa": math.nan}, "Young's modulus"),
        ({"poisson": 0.51}, "Poisson's ratio"),
        ({"normal_anisotropy": -1.0}, "normal anisotropy r"),
        ({"kinematic_share": 1.2}, "kinematic share"),
        ({"back_modulus_MPa": -1.0}, "back stress modulus"),
        ({"back_rate": math.inf}, "back stress rate"),
    ],
)
def test_what_cannot_be_is_refused(change: dict[str, float], field: str) -> None:
    good = {"flow": SWIFT, "youngs_modulus_MPa": 205_000.0, "poisson": 0.3}
    with pytest.raises(InputError) as caught:
        Metal(**(good | change))
    assert caught.value.field == field
