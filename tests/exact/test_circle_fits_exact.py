"""Reference circles against enumeration, linear programmes and each other on random shapes."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy import optimize

from hoopwright.errors import InputError
from hoopwright.kernels.circles.fits import (
    circumscribed_circle,
    inscribed_circle,
    least_squares_circle,
    minimum_zone_circle,
)


def ring(seed: int, count: int, noise: float = 0.05) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    th = 2 * np.pi * np.arange(count) / count + rng.uniform(-0.1, 0.1, count) / count
    r = 120 + 0.2 * np.cos(2 * th - rng.uniform(0, 6)) + 0.05 * np.cos(8 * th) + noise * rng.standard_normal(count)
    return 0.4 + r * np.cos(th), -0.3 + r * np.sin(th)


def zone_about(x: np.ndarray, y: np.ndarray, cx: float, cy: float) -> float:
    return float(np.ptp(np.hypot(x - cx, y - cy)))


def enumerated_zone(x: np.ndarray, y: np.ndarray) -> float:
    """Least zone over all centres equidistant from one pair of points and from another pair (2 + 2 contacts)."""
    best = np.inf
    pairs = list(itertools.combinations(range(x.size), 2))
    for (a, b), (c, d) in itertools.combinations(pairs, 2):
        m = 2 * np.array([[x[b] - x[a], y[b] - y[a]], [x[d] - x[c], y[d] - y[c]]])
        if abs(np.linalg.det(m)) < 1e-9:
            continue
        v = np.array([x[b] ** 2 - x[a] ** 2 + y[b] ** 2 - y[a] ** 2, x[d] ** 2 - x[c] ** 2 + y[d] ** 2 - y[c] ** 2])
        cx, cy = np.linalg.solve(m, v)
        if np.hypot(cx, cy) < 5:
            best = min(best, zone_about(x, y, cx, cy))
    return best


@pytest.mark.parametrize("seed", range(4))
def test_minimum_zone_is_the_enumerated_one(seed: int) -> None:
    x, y = ring(seed, 12)
    assert minimum_zone_circle(x, y).zone == pytest.approx(enumerated_zone(x, y), abs=1e-11)


@pytest.mark.parametrize("count", [5, 36, 360, 3600])
def test_contacts_alternate_outside_and_inside(count: int) -> None:
    x, y = ring(count, count)
    circle = minimum_zone_circle(x, y)
    r = np.hypot(x - circle.x, y - circle.y)
    sides = [abs(r[k] - circle.outer) < 1e-9 for k in circle.contacts]
    assert sides in ([True, False] * 2, [False, True] * 2)
    assert all(abs(r[k] - circle.inner) < 1e-9 or side for k, side in zip(circle.contacts, sides, strict=True))


@pytest.mark.parametrize("seed", range(6))
def test_no_neighbouring_centre_is_better(seed: int) -> None:
    x, y = ring(seed, 36)
    zone, around, inside = minimum_zone_circle(x, y), circumscribed_circle(x, y), inscribed_circle(x, y)
    for step in (1e-3, 1e-5):
        for a in np.arange(0, 2 * np.pi, 0.3):
            dx, dy = step * np.cos(a), step * np.sin(a)
            assert zone_about(x, y, zone.x + dx, zone.y + dy) >= zone.zone - 1e-12
            assert np.hypot(x - around.x - dx, y - around.y - dy).max() >= around.radius - 1e-12
            assert np.hypot(x - inside.x - dx, y - inside.y - dy).min() <= inside.radius + 1e-12
    mean = least_squares_circle(x, y)
    assert zone.zone <= min(mean.zone, around.zone, inside.zone) + 1e-12


def test_smallest_circle_round_all_points_is_that_of_a_search() -> None:
    x, y = ring(9, 40)
    best = optimize.minimize(lambda p: np.hypot(x - p[0], y - p[1]).max(), [0.4, -0.3], method="Nelder-Mead",
                             options={"xatol": 1e-12, "fatol": 1e-13, "maxiter": 5000})  # fmt: skip
    assert circumscribed_circle(x, y).radius == pytest.approx(best.fun, abs=1e-8)


def test_short_arc_reaches_the_geometric_circle() -> None:
    th = np.linspace(0.0, 0.35, 30)
    x, y = 3 + 50 * np.cos(th), -2 + 50 * np.sin(th)
    circle = least_squares_circle(x, y)
    assert (circle.x, circle.y, circle.radius) == (
        pytest.approx(3, abs=1e-6),
        pytest.approx(-2, abs=1e-6),
        pytest.approx(50, abs=1e-6),
    )


@pytest.mark.parametrize(
    ("x", "y"), [([0, 1, 2, 3], [0, 1, 2, 3]), ([0, 1], [1, 0]), ([0, 1, float("nan"), 2], [0, 1, 2, 0])]
)
def test_what_is_no_circle_is_refused(x: list[float], y: list[float]) -> None:
    with pytest.raises(InputError):
        minimum_zone_circle(x, y)
