"""Corner bending against closed forms and against a plain sum over many layers."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from hoopwright.kernels.corner_bend import BendSheet, bending_moment, springback_curvature
from hoopwright.kernels.corner_formulas import power_law_moment, springback_ratio, tension_moment_share
from hoopwright.kernels.flow import FlowCurve, ludwik, swift, tabulated

E, NU = 205000.0, 0.3
FACTOR = 2.0 / math.sqrt(3.0)
PLANE = E / (1.0 - NU * NU)


def perfectly_plastic(stress: float) -> FlowCurve:
    return tabulated(np.array([0.0, 1.0]), np.array([stress, stress]))


def layered_moment(curve: FlowCurve, curvature: float, t: float, layers: int) -> float:
    y = (np.arange(layers) + 0.5) * 0.5 * t / layers
    total = 0.0
    for place in y:
        strain = curvature * float(place)
        if strain <= FACTOR * curve.stress(0.0) / PLANE:
            stress = PLANE * strain
        else:
            p = brentq(lambda q, e=strain: FACTOR * curve.stress(q) / PLANE + q / FACTOR - e, 0.0, 2.0, xtol=1e-14)
            stress = FACTOR * curve.stress(p)
        total += 2.0 * stress * float(place) * 0.5 * t / layers
    return total


@pytest.mark.parametrize("radius", [3.0, 10.0, 60.0])
def test_perfectly_plastic_moment(radius: float) -> None:
    sheet = BendSheet(perfectly_plastic(300.0), E, NU, 1.0)
    yield_stress = FACTOR * 300.0
    core = yield_stress * radius / PLANE
    assert core < 0.5
    exact = yield_stress * (0.25 - core**2 / 3.0)
    assert bending_moment(sheet, 1.0 / radius) == pytest.approx(exact, rel=1e-10)
    cubic = springback_ratio(radius, 1.0, yield_stress, PLANE)
    assert 1.0 - radius * springback_curvature(sheet, 1.0 / radius) == pytest.approx(cubic, abs=1e-10)
    assert exact / (yield_stress / 4.0) == pytest.approx(tension_moment_share(0.0, radius, 1.0, yield_stress, PLANE))


@pytest.mark.parametrize("curve", [swift(1630.0, 0.020, 0.385), ludwik(300.0, 1100.0, 0.5)], ids=["swift", "ludwik"])
def test_sum_over_layers_converges_to_it(curve: FlowCurve) -> None:
    sheet = BendSheet(curve, E, NU, 0.8)
    exact = bending_moment(sheet, 0.25)
    errors = [abs(layered_moment(curve, 0.25, 0.8, n) - exact) / exact for n in (50, 100, 400)]
    assert errors[-1] < 2e-6
    assert errors[0] > errors[1] > errors[-1]


def test_power_law_limit_without_core() -> None:
    strength, n, t, curvature = 1275.0, 0.45, 1.0, 0.02
    stiff = BendSheet(ludwik(0.0, strength, n), 1e12, NU, t)
    raised = strength * FACTOR ** (n + 1.0)
    assert bending_moment(stiff, curvature) == pytest.approx(power_law_moment(raised, n, curvature, t), rel=1e-6)
