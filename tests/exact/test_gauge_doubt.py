"""Budgets of every way of measuring: by hand, by sampling the full model, and a ring's give against the hoop kernel."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.statistics.uncertainty import Term, sampled
from hoopwright.measure.gauge_doubt import (
    RING_GIVE,
    coordinate_budget,
    hardness_budget,
    order_budget,
    roundness_budget,
    squeeze_mm,
    three_point_budget,
    trace_budget,
    two_point_budget,
    v_gain,
)
from hoopwright.measure.roundness import three_point_diameter

ROOT_3 = math.sqrt(3.0)


def test_give_of_a_ring_by_energy() -> None:
    """Quarter ring under F/2: M = F R (1/pi - sin(t)/2) with t from the load's normal; D' = int M dM/dF R dt x 4 / EI.

    Integrated by Gauss-Legendre points here, in closed form there.
    """
    nodes, weights = np.polynomial.legendre.leggauss(20)
    t = 0.25 * math.pi * (nodes + 1.0)
    bend = 1.0 / math.pi - 0.5 * np.sin(t)
    assert 4.0 * 0.25 * math.pi * float(np.sum(weights * bend**2)) == pytest.approx(RING_GIVE, rel=1e-12)


def test_a_thin_ring_gives_way_under_a_micrometer() -> None:
    """0.8 by 50 flat, R 124, 5 N: 3.3 mm. So a two-point reading of a free ring is no size, and its doubt says so."""
    moment = 50.0 * 0.8**3 / 12.0
    give = squeeze_mm(5.0, 124.0, 205_000.0, moment)
    assert give == pytest.approx(0.148779 * 5.0 * 124.0**3 / (205_000.0 * moment), rel=1e-5)
    assert give > 3.0
    assert two_point_budget(give).expanded() > 0.7
    assert two_point_budget(0.0).expanded() < 0.06


def test_two_point_terms_by_hand() -> None:
    found = two_point_budget(0.1, 0.01, 0.006, 4, 0.02)
    parts = (0.01 / ROOT_3, 0.003, 0.02 / ROOT_3, 0.01 / math.sqrt(2.0))
    assert found.standard == pytest.approx(math.sqrt(sum(p * p for p in parts)), rel=1e-12)
    assert found.dof == pytest.approx(found.standard**4 / (0.003**4 / 3.0), rel=1e-9)


def test_three_point_against_the_full_model_sampled() -> None:
    """The V's own equation with every input drawn: linear and sampled agree to 1 %."""
    angle, radius = 60.0, 124.0
    half = math.radians(angle) / 2.0
    reach = radius * (1.0 + 1.0 / math.sin(half))
    assert three_point_diameter(reach, angle) == pytest.approx(2.0 * radius, rel=1e-12)
    linear = three_point_budget(angle, 0.005, 0.004, 1, 0.05, radius)
    terms = (Term("m", 0.005, "uniform"), Term("r", 0.004), Term("a", math.radians(0.05), "uniform"))

    def model(drawn: list[np.ndarray]) -> np.ndarray:
        h = half + 0.5 * drawn[2]
        return 2.0 * (reach + drawn[0] + drawn[1]) / (1.0 + 1.0 / np.sin(h))

    assert sampled(model, terms, 200_000).sd == pytest.approx(linear.standard, rel=0.01)


@pytest.mark.parametrize("angle", [60.0, 90.0, 108.0, 120.0])
@pytest.mark.parametrize("order", [2, 3, 5, 8])
def test_gain_of_a_v_against_a_lobed_ring_seated_in_it(angle: float, order: int) -> None:
    """A ring R + a cos(n t + p) set between two straight flanks: the largest reading over p, a = 1e-5 R."""
    radius, size, half = 100.0, 1e-3, math.radians(angle) / 2.0
    t = np.linspace(0.0, 2.0 * math.pi, 20001)
    worst = 0.0
    for phase in np.linspace(0.0, 2.0 * math.pi, 25):
        r = radius + size * np.cos(order * t + phase)
        x, y = r * np.cos(t), r * np.sin(t)
        # apex on -x; flank normals point away from the ring: support of the ring along each
        normals = [(-math.sin(half), sign * math.cos(half)) for sign in (1.0, -1.0)]
        support = [float((nx * x + ny * y).max()) for nx, ny in normals]
        # apex where both support lines cross
        apex = np.linalg.solve(np.array(normals), np.array(support))
        far = float(x[np.argmin(np.abs(y - apex[1]) - 1e3 * (x > 0))])
        reading = far - apex[0] - radius * (1.0 + 1.0 / math.sin(half))
        worst = max(worst, abs(reading))
    assert worst / size == pytest.approx(abs(v_gain(order, angle)), abs=0.02)


def test_gain_known_values() -> None:
    """A 60 deg V reads order 3 three times over and is blind to order 2 (handbook tables, from memory)."""
    assert v_gain(3, 60.0) == pytest.approx(3.0)
    assert v_gain(2, 60.0) == pytest.approx(0.0, abs=1e-12)


def test_roundness_and_order_by_hand() -> None:
    found = roundness_budget(37, 0.005, 0.002, 0.003)
    parts = (math.sqrt(2.0) * 0.005 / ROOT_3, math.sqrt(2.0) * 0.003, 0.002 / ROOT_3)
    assert found.standard == pytest.approx(math.sqrt(sum(p * p for p in parts)), rel=1e-12)
    one = order_budget(32, 0.0, 0.01).standard
    rng = np.random.default_rng(3)
    angles = 2.0 * math.pi * np.arange(32) / 32
    cosines = (2.0 / 32) * (0.01 * rng.standard_normal((20_000, 32))) @ np.cos(5.0 * angles)
    assert one == pytest.approx(float(cosines.std()), rel=0.02)


def test_hardness_by_the_dent_equation() -> None:
    """HV = 0.1891 F/d^2: a doubt of d counts 2 HV/d."""
    force, d = 9.807 * 0.3, 0.05
    hardness = 0.1891 * force / d**2
    slope = (0.1891 * force / (d + 1e-7) ** 2 - 0.1891 * force / (d - 1e-7) ** 2) / 2e-7
    term = next(t for t in hardness_budget(hardness, 3.0, 5, d).terms if t.name == "reading of the diagonal")
    assert term.sensitivity == pytest.approx(abs(slope), rel=1e-6)
    assert hardness_budget(hardness, 3.0, 5, d).expanded() > 0.04 * hardness


def test_coordinates_and_trace_by_hand() -> None:
    found = coordinate_budget(300.0, 0.003, 1.0 / 300_000.0, 0.003, 13e-6, 1.0)
    parts = (0.004 / ROOT_3, math.sqrt(2.0) * 0.003 / ROOT_3, 300.0 * 13e-6 / ROOT_3)
    assert found.standard == pytest.approx(math.sqrt(sum(p * p for p in parts)), rel=1e-12)
    traced = trace_budget(0.01, 0.003, 0.01)
    assert traced.standard == pytest.approx(math.sqrt(0.0001 + 0.000009 + 0.0001) / ROOT_3, rel=1e-12)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: squeeze_mm(-1.0, 100.0, 2e5, 10.0), "measuring force"),
        (lambda: squeeze_mm(1.0, 0.0, 2e5, 10.0), "ring radius"),
        (lambda: two_point_budget(math.nan), "give of the ring"),
        (lambda: two_point_budget(0.0, readings=0), "readings"),
        (lambda: three_point_budget(5.0), "included angle"),
        (lambda: v_gain(1, 60.0), "order"),
        (lambda: roundness_budget(4), "readings"),
        (lambda: hardness_budget(200.0, 2.0, 1, 0.05), "readings"),
        (lambda: coordinate_budget(-1.0), "length"),
        (lambda: trace_budget(-0.1), "tracer"),
    ],
)
def test_refusals_name_the_field(call: object, field: str) -> None:
    with pytest.raises(InputError, match=field):
        call()  # type: ignore[operator]
