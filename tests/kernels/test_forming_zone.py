import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.forming_zone import (
    end_trim_needed,
    flange_zone,
    joggle_zone,
    straight_path_strain,
)


def test_passes_divide_strain_and_shorten_the_zone_by_their_root() -> None:
    one = joggle_zone(5.02, 8.57, 1.9, 0.8)
    four = one.over(4)
    assert four.edge_strain_log == pytest.approx(one.edge_strain_log / 4.0)
    assert four.length_mm == pytest.approx(one.length_mm / 2.0)
    assert four.over(1).length_mm == pytest.approx(one.length_mm)
    direct = joggle_zone(5.02, 8.57, 1.9 / 4.0, 0.8)
    assert (direct.length_mm, direct.edge_strain_log) == pytest.approx((four.length_mm, four.edge_strain_log))
    assert end_trim_needed(four) == four.length_mm


def test_passes_for_a_strain() -> None:
    zone = flange_zone(25.0, math.radians(10.0), 1.0)
    needed = zone.passes_for(0.0018)
    assert zone.over(needed).edge_strain_log <= 0.0018 < zone.over(needed - 1).edge_strain_log
    assert zone.passes_for(1.0) == 1
    assert zone.over(3).passes_for(0.0018) == needed


def test_flange_strain_by_its_length_is_the_other_printed_form() -> None:
    zone = flange_zone(20.0, math.radians(20.0), 0.8)
    assert zone.edge_strain_log == pytest.approx(2.0 * 20.0**2 * math.radians(20.0) ** 2 / zone.length_mm**2)


def test_straight_path_is_a_lower_bound() -> None:
    zone = flange_zone(25.0, math.radians(10.0), 1.0)
    assert straight_path_strain(25.0, math.radians(10.0), zone.length_mm) < zone.edge_strain_log


def test_refusals() -> None:
    with pytest.raises(InputError, match="turn"):
        flange_zone(25.0, 0.0, 1.0)
    with pytest.raises(InputError, match="height"):
        joggle_zone(5.0, 8.0, -1.0, 0.8)
    with pytest.raises(InputError, match="passes"):
        flange_zone(25.0, 0.1, 1.0).over(0)
    with pytest.raises(InputError, match="allowed edge strain"):
        flange_zone(25.0, 0.1, 1.0).passes_for(0.0)
