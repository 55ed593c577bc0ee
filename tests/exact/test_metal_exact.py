"""The return map against closed forms: plane strain, biaxial, anisotropy, back stress, volume, dissipated work."""

import math

import numpy as np
import pytest

from hoopwright.kernels.flow import swift, voce
from hoopwright.kernels.metal import Metal, plane_stress_update, uniaxial_update

FLOW = swift(1400.0, 0.012, 0.35)
E, NU = 205_000.0, 0.3
REST = (0.0, 0.0, 0.0, 0.0, 0.0)


def driven(metal: Metal, hoop: float, section: float, steps: int) -> tuple[float, ...]:
    state: tuple[float, ...] = REST
    for _ in range(steps):
        state = plane_stress_update(hoop / steps, section / steps, state[:5], metal.law(), metal.vector())[:5]
    return state


def test_plane_strain_tends_to_two_over_root_three() -> None:
    """Rigid-plastic plane strain: stress 2/sqrt3 of the flow stress, section stress half of it (von Mises)."""
    h, s, p, *_ = driven(Metal(FLOW, E, NU), 0.3, 0.0, 400)
    # what is left at 30 % strain is the elastic part growing with the hardening
    assert h / FLOW.stress(p) == pytest.approx(2 / math.sqrt(3), rel=2e-5)
    assert s / h == pytest.approx(0.5, abs=2e-3)
    stiff = driven(Metal(FLOW, 1e4 * E, NU), 0.3, 0.0, 400)
    assert stiff[0] / FLOW.stress(stiff[2]) == pytest.approx(2 / math.sqrt(3), rel=1e-9)
    assert stiff[2] == pytest.approx(2 / math.sqrt(3) * 0.3, rel=1e-5)


def test_uniaxial_swift_is_exact_in_one_step() -> None:
    metal = Metal(FLOW, E, NU)
    stress, _, _, _ = uniaxial_update(0.02, 0.0, 0.0, 0.0, metal.law(), metal.vector())
    assert stress == pytest.approx(1400.0 * (0.012 + 0.02 - stress / E) ** 0.35, rel=1e-13)
    assert stress == pytest.approx(410.3106565, abs=1e-6)


def test_a_fibre_is_plane_stress_with_the_width_let_go() -> None:
    """Solve the section strain for no section stress: the uniaxial map comes out, and r sets width over thickness."""
    for r in (0.5, 1.0, 2.0):
        metal = Metal(FLOW, E, NU, normal_anisotropy=r)
        section = -0.01
        for _ in range(40):
            _, s, _, _, _, _, _, ss = plane_stress_update(0.03, section, REST, metal.law(), metal.vector())
            section -= s / ss
        h, _, p, *_ = plane_stress_update(0.03, section, REST, metal.law(), metal.vector())
        stress, plastic, _, _ = uniaxial_update(0.03, 0.0, 0.0, 0.0, metal.law(), metal.vector())
        assert (h, p) == pytest.approx((stress, plastic), rel=1e-10)
        width = section + NU * h / E
        thickness = -(0.03 - h / E) - width
        assert width / thickness == pytest.approx(r, rel=1e-8)


@pytest.mark.parametrize("r", [0.5, 1.0, 2.0])
def test_biaxial_stress_factor(r: float) -> None:
    """Equal biaxial tension yields at sqrt((1 + r)/2) of the uniaxial stress (Hill 1948)."""
    metal = Metal(FLOW, E, NU, normal_anisotropy=r)
    h, s, p, *_ = driven(metal, 0.02, 0.02, 1)
    assert h == pytest.approx(s, rel=1e-12)
    assert h / FLOW.stress(p) == pytest.approx(math.sqrt((1 + r) / 2), rel=1e-10)


def test_back_stress_that_recovers_saturates_as_its_differential_equation_says() -> None:
    """dX = C dp - rate X dp gives X = (C/rate)(1 - exp(-rate p)); backward Euler is first order in the step."""
    metal = Metal(voce(200.0, 0.0, 1.0), E, NU, back_modulus_MPa=9000.0, back_rate=60.0)

    def gap(steps: int) -> float:
        state = (0.0, 0.0, 0.0)
        for _ in range(steps):
            state = uniaxial_update(0.05 / steps, *state, metal.law(), metal.vector())[:3]
        return state[2] - 150.0 * (1.0 - math.exp(-60.0 * state[1]))

    coarse, fine = gap(100), gap(200)
    assert abs(fine) < 0.3
    assert coarse / fine == pytest.approx(2.0, rel=0.05)


def test_two_directions_and_one_agree_on_the_back_stress() -> None:
    for more in ({"kinematic_share": 0.6}, {"back_modulus_MPa": 5000.0, "back_rate": 40.0}):
        metal = Metal(FLOW, E, NU, **more)
        one: tuple[float, ...] = (0.0, 0.0, 0.0)
        two: tuple[float, ...] = REST
        for strain in (0.01, -0.015, 0.02):
            one = uniaxial_update(strain, *one[:3], metal.law(), metal.vector())
            section = -0.5 * strain
            for _ in range(60):
                trial = plane_stress_update(strain, section, two[:5], metal.law(), metal.vector())
                section -= trial[1] / trial[7]
            two = plane_stress_update(strain, section, two[:5], metal.law(), metal.vector())
            assert (two[0], two[2], two[3]) == pytest.approx(one[:3], rel=1e-8, abs=1e-6)
            assert two[4] == pytest.approx(0.0, abs=1e-6)


def test_work_of_a_cycle_is_elastic_plus_dissipated() -> None:
    """Isotropic: plastic work is the area under the flow curve, K/(n+1) [(e0+p)^(n+1) - e0^(n+1)]."""
    metal = Metal(FLOW, E, NU)
    state, work, n = (0.0, 0.0, 0.0), 0.0, 4000
    for leg in (0.02, -0.03, 0.025):
        for _ in range(n):
            new = uniaxial_update(leg / n, *state, metal.law(), metal.vector())[:3]
            work += 0.5 * (state[0] + new[0]) * leg / n
            state = new
    stress, p, _ = state
    dissipated = 1400.0 / 1.35 * ((0.012 + p) ** 1.35 - 0.012**1.35)
    # trapezoids over the corner at yield leave O(1/n^2)
    assert work == pytest.approx(stress**2 / (2 * E) + dissipated, rel=1e-6)


def test_two_stress_work_balances_and_the_error_halves_with_the_step() -> None:
    metal = Metal(FLOW, E, NU)

    def gap(n: int) -> float:
        state: tuple[float, ...] = REST
        work = 0.0
        for dh, ds in ((0.01, -0.002), (-0.012, 0.008)):
            for _ in range(n):
                new = plane_stress_update(dh / n, ds / n, state[:5], metal.law(), metal.vector())
                work += 0.5 * ((state[0] + new[0]) * dh + (state[1] + new[1]) * ds) / n
                state = new[:5]
        h, s, p = state[:3]
        elastic = (h * h + s * s - 2 * NU * h * s) / (2 * E)
        return work - elastic - 1400.0 / 1.35 * ((0.012 + p) ** 1.35 - 0.012**1.35)

    gaps = np.array([gap(100), gap(200), gap(400)])
    assert abs(gaps[-1]) < 2e-3
    assert np.all(gaps[:-1] / gaps[1:] > 1.8)
