import math

import numpy as np
import pytest
from shapely import STRtree
from shapely.geometry import Polygon

from hoopwright.errors import InputError
from hoopwright.kernels.sector_nest import nest_sectors, placed_outline, stack_pitch
from hoopwright.kernels.sector_shape import Sector
from hoopwright.kernels.strip_nest import SheetPlate

SHEET = SheetPlate(2438.0, 1219.0, 10.0, 3.0, band_end_mm=120.0)
SECTORS = [
    Sector(596.97, 537.9, math.radians(74.19), 25.06),
    Sector(268.02, 202.8, math.radians(156.38), 25.06),
    Sector(404.18, 319.74, math.radians(59.67), 25.06),
    Sector(150.0, 100.0, math.radians(250.0)),
    Sector(150.0, 30.0, math.radians(30.0), 5.0),
    Sector(1373.0, 1310.0, math.radians(12.0), 10.0),
]


@pytest.mark.parametrize("way", ["rolling", "across"])
@pytest.mark.parametrize("sector", SECTORS)
def test_nothing_overlaps_and_all_lies_on_the_sheet(sector: Sector, way: str) -> None:
    nest = nest_sectors(SHEET, sector, way)  # type: ignore[arg-type]
    pieces = [Polygon(placed_outline(nest, sector, k, 1e-3)) for k in range(nest.count)]
    assert len(pieces) == nest.apex_mm.shape[0] > 0
    box = np.array([piece.bounds for piece in pieces])
    assert box[:, :2].min() >= 10.0 - 2e-3
    assert box[:, 2].max() <= 2438.0 - 130.0 + 2e-3 and box[:, 3].max() <= 1219.0 - 10.0 + 2e-3
    near = STRtree(pieces).query(pieces, predicate="dwithin", distance=3.0 - 3e-3)
    assert np.all(near[0] == near[1])


def test_a_stack_uses_the_closed_pitch() -> None:
    sector = SECTORS[0]
    nest = nest_sectors(SHEET, sector)
    closed = stack_pitch(sector, 3.0)
    # the outline is up to 0.05 mm wider than the sector on either side
    assert closed <= nest.pitch_mm <= closed + 0.12


def test_upright_and_lying_nests_face_the_right_way() -> None:
    rolling, across = nest_sectors(SHEET, SECTORS[4]), nest_sectors(SHEET, SECTORS[4], "across")
    assert np.allclose(np.abs(np.sin(rolling.axis_rad)), 1.0)
    assert np.allclose(np.abs(np.cos(across.axis_rad)), 1.0)


def test_head_to_tail_pays_for_narrow_sectors() -> None:
    assert nest_sectors(SHEET, SECTORS[4]).layout == "head to tail"


def test_a_sector_too_large_for_the_sheet_gives_none() -> None:
    nest = nest_sectors(SHEET, Sector(3000.0, 2900.0, 1.5))
    assert nest.count == 0 and nest.yield_share == 0.0


def test_yield() -> None:
    nest = nest_sectors(SHEET, SECTORS[2])
    assert nest.yield_share == pytest.approx(nest.count * SECTORS[2].area_mm2 / (2438.0 * 1219.0))


def test_refusals() -> None:
    with pytest.raises(InputError, match="along"):
        nest_sectors(SHEET, SECTORS[0], "up")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="sector angle"):
        stack_pitch(SECTORS[3], 3.0)
