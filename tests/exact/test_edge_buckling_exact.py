"""Waving strips: closed forms for supported edges, the characteristic equation for the others."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from hoopwright.kernels.edge_buckling import free_edge_coefficient
from hoopwright.kernels.plate_waves import buckling_coefficient


@pytest.mark.parametrize("wave", [0.5, 0.8, 1.0, 1.7, 3.0])
def test_both_supported(wave: float) -> None:
    assert buckling_coefficient("supported", "supported", wave, 0.3) == pytest.approx(
        (wave + 1.0 / wave) ** 2, rel=1e-8
    )


@pytest.mark.parametrize("wave", [0.5, 0.66, 0.9])
def test_both_clamped_solve_their_equation(wave: float) -> None:
    """Symmetric form A cosh(a y) + B cos(b y), y from the middle: a tanh(a/2) + b tan(b/2) = 0."""
    k = buckling_coefficient("clamped", "clamped", wave, 0.3)
    m = math.pi / wave

    def equation(value: float) -> float:
        a, b = m * math.sqrt(wave * math.sqrt(value) + 1.0), m * math.sqrt(wave * math.sqrt(value) - 1.0)
        return a * math.tanh(0.5 * a) * math.cos(0.5 * b) + b * math.sin(0.5 * b)

    assert brentq(equation, 0.97 * k, 1.03 * k, xtol=1e-12) == pytest.approx(k, rel=1e-8)


@pytest.mark.parametrize("wave", [2.0, 4.0, 10.0])
def test_supported_and_free_solve_their_equation(wave: float) -> None:
    """f = A sinh(a y) + B sin(b y) from the supported edge; moment and edge force vanish at y = 1."""
    nu = 0.3
    k = buckling_coefficient("supported", "free", wave, nu)
    m = math.pi / wave

    def determinant(value: float) -> float:
        a = m * math.sqrt(wave * math.sqrt(value) + 1.0)
        b = m * math.sqrt(wave * math.sqrt(value) - 1.0)
        moment = [(a * a - nu * m * m) * math.sinh(a), -(b * b + nu * m * m) * math.sin(b)]
        force = [a * (a * a - (2 - nu) * m * m) * math.cosh(a), -b * (b * b + (2 - nu) * m * m) * math.cos(b)]
        return float(np.linalg.det(np.array([moment, force])))

    assert brentq(determinant, 0.995 * k, 1.005 * k, xtol=1e-12) == pytest.approx(k, rel=1e-6)


def test_long_strip_limit() -> None:
    assert buckling_coefficient("supported", "free", 200.0, 0.3) == pytest.approx(free_edge_coefficient(0.3), rel=1e-4)
