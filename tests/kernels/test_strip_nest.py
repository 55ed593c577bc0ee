import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.strip_nest import SheetPlate, fitting, nest_strips

SHEET = SheetPlate(2438.0, 1219.0, 10.0, 3.0)


def test_both_ways_round() -> None:
    along, across = nest_strips(SHEET, 815.0, 54.5), nest_strips(SHEET, 815.0, 54.5, "across")
    assert (along.columns, along.rows) == (2, 20)
    assert (across.columns, across.rows) == (42, 1)
    assert across.size_mm == (54.5, 815.0)


@pytest.mark.parametrize("way", ["rolling", "across"])
def test_strips_lie_inside_and_apart(way: str) -> None:
    sheet = SheetPlate(2438.0, 1219.0, 10.0, 3.0, band_end_mm=150.0, band_side_mm=60.0)
    nest = nest_strips(sheet, 402.0, 33.0, way)  # type: ignore[arg-type]
    low, high = nest.corner_mm, nest.corner_mm + nest.size_mm
    assert nest.count == len(low) > 0
    assert low.min() >= 10.0
    assert high[:, 0].max() <= 2438.0 - 10.0 - 150.0 and high[:, 1].max() <= 1219.0 - 10.0 - 60.0
    for k in range(nest.count):
        apart = np.maximum(low - high[k], low[k] - high).max(axis=1)
        apart[k] = math.inf
        assert apart.min() >= 3.0 - 1e-9
    # one more would not fit
    assert high[:, 0].max() + 3.0 + nest.size_mm[0] > 2438.0 - 160.0


def test_exact_fit_counts_and_a_hair_less_does_not() -> None:
    assert fitting(100.0, 22.0, 4.0) == 4
    assert fitting(99.99, 22.0, 4.0) == 3
    assert fitting(21.0, 22.0, 4.0) == 0


def test_a_strip_longer_than_the_sheet_gives_none() -> None:
    nest = nest_strips(SHEET, 3000.0, 54.5)
    assert nest.count == 0 and nest.corner_mm.shape == (0, 2) and nest.yield_share == 0.0


def test_yield() -> None:
    nest = nest_strips(SHEET, 815.0, 54.5)
    assert nest.yield_share == pytest.approx(40 * 815.0 * 54.5 / (2438.0 * 1219.0))


def test_refusals() -> None:
    with pytest.raises(InputError, match="border"):
        SheetPlate(20.0, 1219.0, 10.0)
    with pytest.raises(InputError, match="cut_gap_mm"):
        SheetPlate(2438.0, 1219.0, 10.0, -3.0)
    with pytest.raises(InputError, match="along"):
        nest_strips(SHEET, 815.0, 54.5, "up")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="strip width"):
        nest_strips(SHEET, 815.0, math.nan)
