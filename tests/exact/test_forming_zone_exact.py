"""Forming zone: the least of the rigid-plastic work, found by search, against the closed forms.

A flange (hinge to edge a) turns by theta f(u), u = x/L; a land is lifted by h f(u). Per zone, with yield stress s:
    bending at the hinges    integral of M_p angle dx,   M_p = s t^2/4
    stretching               integral over x and the moved width of s t strain, strain = (slope of the path)^2/2
"""

import math

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from hoopwright.kernels.forming_zone import flange_zone, joggle_zone

S = 400.0
U = np.linspace(0.0, 1.0, 40001)


def least_work(hinges: float, stretch: float, power: float) -> tuple[float, float]:
    """Least over L of hinges L int f + stretch/L int f'^2 for f = u^power: (work, L)."""
    level = float(np.trapezoid(U**power, U))
    slope = float(np.trapezoid((power * U ** (power - 1.0)) ** 2, U))
    best = minimize_scalar(
        lambda length: hinges * level * length + stretch * slope / length,
        bounds=(1.0, 500.0),
        options={"xatol": 1e-9},
    )
    return float(best.fun), float(best.x)


def flange_terms(a: float, theta: float, t: float) -> tuple[float, float]:
    return S * t * t / 4.0 * theta, S * t * theta**2 * a**3 / 6.0


def joggle_terms(b: float, c: float, h: float, t: float) -> tuple[float, float]:
    return 2.0 * S * t * t / 4.0 * h / b, 0.5 * S * t * h * h * (c + b / 3.0)


@pytest.mark.parametrize(("a", "turn", "t"), [(25.0, 10.0, 1.0), (20.0, 20.0, 0.8), (6.0, 45.0, 1.2)])
def test_flange(a: float, turn: float, t: float) -> None:
    theta = math.radians(turn)
    _, length = least_work(*flange_terms(a, theta, t), 2.0)
    zone = flange_zone(a, theta, t)
    assert zone.length_mm == pytest.approx(length, rel=1e-6)
    assert zone.edge_strain_log == pytest.approx(0.5 * (a * 2.0 * theta / length) ** 2, rel=1e-6)


@pytest.mark.parametrize(("b", "c", "h", "t"), [(5.02, 8.57, 1.9, 0.8), (7.32, 21.24, 2.35, 0.8)])
def test_joggle(b: float, c: float, h: float, t: float) -> None:
    _, length = least_work(*joggle_terms(b, c, h, t), 2.0)
    zone = joggle_zone(b, c, h, t)
    assert zone.length_mm == pytest.approx(length, rel=1e-6)
    assert zone.edge_strain_log == pytest.approx(0.5 * (2.0 * h / length) ** 2, rel=1e-6)


def test_no_other_power_of_the_path_takes_less_work() -> None:
    terms = flange_terms(25.0, math.radians(10.0), 1.0)
    works = {power: least_work(*terms, power)[0] for power in (1.6, 1.8, 2.0, 2.2, 2.6)}
    assert min(works, key=works.__getitem__) == 2.0
