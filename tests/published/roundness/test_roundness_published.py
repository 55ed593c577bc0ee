"""Circles and orders against worked figures; SOURCE.md beside this file names each."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from hoopwright.kernels.circles.fits import (
    Circle,
    algebraic_circle,
    algebraic_circle_unit_norm,
    circumscribed_circle,
    inscribed_circle,
    least_squares_circle,
    minimum_zone_circle,
)
from hoopwright.kernels.circles.gauges import girth_diameter, two_point_factor, v_block_factor
from hoopwright.kernels.circles.orders import fit_orders, recentred

HERE = Path(__file__).parent
SIX = ([1.0, 2.0, 5.0, 7.0, 9.0, 3.0], [7.0, 6.0, 8.0, 7.0, 5.0, 7.0])


def points(name: str) -> tuple[np.ndarray, np.ndarray]:
    with (HERE / name).open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return np.array([float(r["x_mm"]) for r in rows]), np.array([float(r["y_mm"]) for r in rows])


def at(circle: Circle, x: float, y: float, tolerance: float) -> bool:
    return abs(circle.x - x) < tolerance and abs(circle.y - y) < tolerance


def test_six_points() -> None:
    circle = least_squares_circle(*SIX)
    assert at(circle, 4.7398, 2.9835, 1e-4)
    assert circle.radius == pytest.approx(4.7142, abs=1e-4)
    away = np.hypot(np.array(SIX[0]) - circle.x, np.array(SIX[1]) - circle.y) - circle.radius
    assert float(np.linalg.norm(away)) == pytest.approx(1.10797, abs=5e-6)
    linear = algebraic_circle(*SIX)
    assert at(linear, 4.74233, 3.83512, 1e-5)
    assert linear.radius == pytest.approx(4.10876, abs=1e-5)
    unit = algebraic_circle_unit_norm(*SIX)
    assert at(unit, 5.3794, 7.2532, 1e-4)
    assert unit.radius == pytest.approx(3.0370, abs=1e-4)


def test_zone_with_a_known_answer() -> None:
    x, y = points("roundness_mz_24.csv")
    zone = minimum_zone_circle(x, y)
    assert at(zone, 0.123, -0.045, 2e-6)
    assert (zone.inner, zone.outer) == (pytest.approx(149.880, abs=2e-6), pytest.approx(150.120, abs=2e-6))
    assert zone.zone == pytest.approx(0.24, abs=2e-6)
    mean = least_squares_circle(x, y)
    assert at(mean, 0.123721, -0.021485, 2e-6)
    assert (mean.radius, mean.zone) == (pytest.approx(149.995098, abs=2e-6), pytest.approx(0.262034, abs=2e-6))
    around = circumscribed_circle(x, y)
    assert at(around, 0.120416, 0.014175, 2e-6)
    assert (around.radius, around.zone) == (pytest.approx(150.112280, abs=2e-6), pytest.approx(0.291455, abs=2e-6))
    inside = inscribed_circle(x, y)
    assert at(inside, 0.155184, -0.044157, 2e-6)
    assert (inside.radius, inside.zone) == (pytest.approx(149.881969, abs=2e-6), pytest.approx(0.270019, abs=2e-6))


def test_lobed_ring() -> None:
    x, y = points("roundness_lobed_72.csv")
    mean = least_squares_circle(x, y)
    assert at(mean, 0.35, -0.22, 5e-6)
    assert (mean.radius, mean.zone) == (pytest.approx(150.0, abs=5e-6), pytest.approx(0.500122, abs=5e-6))
    rest = np.hypot(x - mean.x, y - mean.y) - mean.radius
    assert (rest.max(), -rest.min()) == (pytest.approx(0.231643, abs=5e-6), pytest.approx(0.268479, abs=5e-6))
    assert math.sqrt(float(rest @ rest) / 72) == pytest.approx(0.146458, abs=5e-6)
    zone = minimum_zone_circle(x, y)
    assert at(zone, 0.336177, -0.158632, 5e-6)
    assert (zone.inner, zone.outer) == (pytest.approx(149.794358, abs=5e-6), pytest.approx(150.245063, abs=5e-6))
    around = circumscribed_circle(x, y)
    assert at(around, 0.406071, -0.485309, 5e-6)
    assert (around.radius, around.zone) == (pytest.approx(150.200036, abs=5e-6), pytest.approx(0.739529, abs=5e-6))
    inside = inscribed_circle(x, y)
    assert at(inside, 0.331043, -0.158855, 5e-6)
    assert (inside.radius, inside.zone) == (pytest.approx(149.795029, abs=5e-6), pytest.approx(0.455167, abs=5e-6))
    assert zone.zone <= min(mean.zone, around.zone, inside.zone)
    th = 2 * math.pi * np.arange(72) / 72
    dev = np.hypot(x - 0.35, y + 0.22) - 150
    found = fit_orders(th, dev, tuple(range(1, 13)))
    assert [found.order(k).amplitude for k in (2, 3, 7)] == [pytest.approx(a, abs=5e-6) for a in (0.2, 0.05, 0.02)]
    assert max(o.amplitude for o in found.orders if o.order not in (2, 3, 7)) < 2e-5


def test_eccentricity_makes_a_false_oval_until_recentred() -> None:
    th = 2 * math.pi * np.arange(72) / 72
    r = np.cos(th) + np.sqrt(150.0**2 - np.sin(th) ** 2)
    found = fit_orders(th, r - 150.0, (1, 2, 3))
    assert found.order(1).amplitude == pytest.approx(1.0, abs=2e-6)
    assert found.order(2).amplitude == pytest.approx(0.0016667, abs=1e-6)
    assert 150 + found.mean == pytest.approx(149.998333, abs=1e-6)
    angle, dev = recentred(th, r - 150.0, 150.0)
    assert fit_orders(angle, dev, (1, 2, 3)).order(2).amplitude < 1e-12


V_FACTORS = {
    60: (0, 3, 0, 0, 3, 0, 0, 3, 0, 0, 3),
    90: (1, 2, 0.414, 2, 1, 0, 2.414, 0, 1, 2, 0.414),
    108: (1.382, 1.382, 0, 2.236, 0, 1.382, 1.382, 0, 2.236, 0, 1.382),
}


@pytest.mark.parametrize("angle", V_FACTORS)
def test_v_block(angle: int) -> None:
    found = [v_block_factor(n, math.radians(angle)) for n in range(2, 13)]
    assert found == [pytest.approx(f, abs=5e-4) for f in V_FACTORS[angle]]


def test_two_points() -> None:
    assert [two_point_factor(n) for n in (2, 3, 4, 5)] == [2, 0, 2, 0]


@pytest.mark.parametrize(
    ("order", "amplitude", "diameter"), [(2, 0.5, 300.003333), (3, 0.5, 300.0075), (2, 2.0, 300.053329)]
)
def test_tape_is_blind_to_ovality(order: int, amplitude: float, diameter: float) -> None:
    assert girth_diameter(150.0, order, amplitude) == pytest.approx(diameter, abs=1e-5)
