import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from hoopwright.errors import InputError
from hoopwright.kernels.cone_development import fit_blank
from hoopwright.kernels.sector_shape import Sector, outline, sector_of

CASES = [
    Sector(596.97, 537.9, math.radians(74.19), 25.0),
    Sector(268.0, 202.8, math.radians(156.38), 25.0),
    Sector(150.0, 100.0, math.radians(250.0), 0.0),
    Sector(150.0, 30.0, math.radians(30.0), 5.0),
]


def fine(sector: Sector, points: int = 4000) -> np.ndarray:
    """The sector by its own points, dense; not the containing outline."""
    rows = []
    for radius, sign in ((sector.outer_mm, 1.0), (sector.inner_mm, -1.0)):
        theta = np.linspace(-1.0, 1.0, points) * sector.corner_rad(radius) * sign
        rows.append(np.column_stack([radius * np.sin(theta), radius * np.cos(theta)]))
    return np.vstack(rows)


@pytest.mark.parametrize("sector", CASES)
def test_sizes_and_area_by_a_dense_polygon(sector: Sector) -> None:
    points = fine(sector)
    assert sector.area_mm2 == pytest.approx(Polygon(points).area, rel=1e-6)
    assert sector.width_mm == pytest.approx(np.ptp(points[:, 0]), abs=1e-3)
    assert sector.height_mm == pytest.approx(np.ptp(points[:, 1]), abs=1e-3)
    assert sector.mass_kg(0.8, 8220.0) == pytest.approx(sector.area_mm2 * 0.8 * 8220.0 * 1e-9)


@pytest.mark.parametrize("sector", CASES)
@pytest.mark.parametrize("grow", [0.0, 3.0])
def test_outline_contains_the_grown_sector_and_hardly_more(sector: Sector, grow: float) -> None:
    true, hull = Polygon(fine(sector)), Polygon(outline(sector, grow, 0.02))
    assert hull.is_valid
    # the dense polygon itself bulges by its own chords, up to ten nanometres
    assert hull.buffer(1e-4).contains(true.buffer(grow))
    mitred = true.buffer(grow, join_style="mitre")
    assert hull.difference(mitred.buffer(0.15)).area < 0.5


def test_chords() -> None:
    sector = Sector(100.0, 80.0, math.pi / 3.0)
    assert sector.outer_chord_mm == pytest.approx(100.0)
    assert sector.inner_chord_mm == pytest.approx(80.0)
    assert sector.height_mm == pytest.approx(100.0 - 80.0 * math.cos(math.pi / 6.0))


def test_sector_of_a_fit() -> None:
    s = np.linspace(0.0, 50.0, 11)
    falling = sector_of(fit_blank(s, 120.0 - 0.2 * s, 0.0), 3.0, 25.0)
    assert falling.outer_mm == pytest.approx(603.0) and falling.inner_mm == pytest.approx(547.0)
    assert falling.end_allowance_mm == 25.0
    with pytest.raises(InputError, match="slope"):
        sector_of(fit_blank(s, np.full(11, 120.0), 0.0), 3.0, 25.0)


def test_refusals() -> None:
    with pytest.raises(InputError, match="inner slant"):
        Sector(100.0, 100.0, 1.0)
    with pytest.raises(InputError, match="sector angle"):
        Sector(100.0, 50.0, 6.2, 10.0)
    with pytest.raises(InputError, match="end allowance"):
        Sector(100.0, 50.0, 1.0, -1.0)
    with pytest.raises(InputError, match="edge trim"):
        sector_of(fit_blank([0.0, 1.0], [100.0, 101.0], 0.0), -1.0, 0.0)
    with pytest.raises(InputError, match="inner slant"):
        outline(Sector(100.0, 5.0, 1.0), 3.0)
