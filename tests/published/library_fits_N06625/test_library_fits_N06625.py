"""Quadratics through the N06625 card's tables against those printed in a public materials library (see SOURCE.md).

Tolerance: 0.3 units of the last digit printed would be too tight for a fit to rows that the library may have carried
with more digits; 5e-4 relative (leading term 2e-3) still shows any row typed wrong by one digit.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.library import find_card

CARD = find_card("alloy", "N06625")


@pytest.mark.parametrize(
    ("name", "printed"),
    [("conductivity", (2.7474e-6, 0.012907, 9.62532)), ("specific_heat", (-5.3777e-6, 0.2500, 404.26))],
)
def test_property_against_temperature(name: str, printed: tuple[float, float, float]) -> None:
    table = CARD.tables[name]
    fit = np.polyfit(table.column("temperature_degC"), table.column(table.columns[1]), 2)
    assert fit[0] == pytest.approx(printed[0], rel=2e-3)
    assert fit[1:] == pytest.approx(printed[1:], rel=5e-4)


def test_linear_expansion_in_percent() -> None:
    """Growth from the card's own reference temperature, 21 degC, through the getter the program uses."""
    sheet = alloy("N06625")
    temps = [21.0, *CARD.tables["mean_expansion"].column("temperature_degC")]
    percent = [100.0 * sheet.thermal_growth_eng(temp, 21.0).value for temp in temps]
    fit = np.polyfit(temps, percent, 2)
    assert fit[0] == pytest.approx(5.083e-7, rel=2e-3)
    assert fit[1:] == pytest.approx((1.125e-3, -1.804e-2), rel=5e-4)
