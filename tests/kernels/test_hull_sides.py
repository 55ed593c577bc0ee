import numpy as np
import pytest
from shapely.geometry import LineString, MultiPoint

from hoopwright.kernels.hull_sides import hull_sides


@pytest.mark.parametrize("seed", range(5))
def test_sides_are_those_of_the_hull(seed: int) -> None:
    rng = np.random.default_rng(seed)
    x, y = rng.uniform(0.0, 10.0, 40), rng.uniform(0.0, 3.0, 40)
    sides = hull_sides(x, y)
    hull = MultiPoint(np.column_stack([x, y])).convex_hull.exterior
    assert all(hull.covers(LineString([(x[i], y[i]), (x[j], y[j])])) for i, j in sides)
    assert sum(np.hypot(x[j] - x[i], y[j] - y[i]) for i, j in sides) == pytest.approx(hull.length)


def test_points_in_a_row_and_above_each_other() -> None:
    assert hull_sides(np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, 2.0])) == [(0, 2), (0, 2)]
    upright = hull_sides(np.array([0.0, 0.0, 1.0, 1.0]), np.array([0.0, 1.0, 1.0, 0.0]))
    assert upright == [(0, 3), (1, 2)]
