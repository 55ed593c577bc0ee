"""The N06002 card against the inch-unit columns of the producer's data sheet (see SOURCE.md)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from hoopwright.cards.library import find_card

HERE = Path(__file__).parent
CARD = find_card("alloy", "N06002")
KSI = 6.894757  # MPa

# Factor to the card's unit, half the last digit printed in inch units, half the last digit of the metric column.
UNITS = {
    "Msi": (6.894757, 0.05, 0.05),
    "uin_per_inF": (1.8, 0.05, 0.05),
    "Btu_in_per_ft2hF": (0.1442279, 0.5, 0.05),
    "Btu_per_lbF": (4186.8, 0.0005, 0.5),
}


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows("physical.csv"), ids=lambda row: f"{row['table']}-{row['argument_degC']}")
def test_physical_properties(row: dict[str, str]) -> None:
    factor, half_inch, half_metric = UNITS[row["inch_unit"]]
    table = CARD.tables[row["table"]]
    found = table.read(table.columns[1], float(row["argument_degC"])).value
    # Both columns are rounded by themselves: the tolerance is the sum of both half digits.
    assert found == pytest.approx(float(row["inch_value"]) * factor, abs=half_inch * factor + half_metric)


def test_every_physical_row_is_compared() -> None:
    for name in ("young_modulus", "mean_expansion", "conductivity", "specific_heat"):
        printed = [float(row["argument_degC"]) for row in rows("physical.csv") if row["table"] == name]
        assert printed == list(CARD.tables[name].column("temperature_degC"))


@pytest.mark.parametrize("row", rows("tensile.csv"), ids=lambda row: f"{row['table']}-{row['argument']}")
def test_tensile(row: dict[str, str]) -> None:
    table, at = CARD.tables[row["table"]], float(row["argument"])
    half = 0.05 * KSI + 0.5  # both columns rounded by themselves
    assert table.read("yield_strength_MPa", at).value == pytest.approx(float(row["yield_ksi"]) * KSI, abs=half)
    assert table.read("tensile_strength_MPa", at).value == pytest.approx(float(row["tensile_ksi"]) * KSI, abs=half)
    if row["elongation_pct"]:
        assert table.read("elongation_pct", at).value == float(row["elongation_pct"])


@pytest.mark.parametrize("row", rows("welded.csv"), ids=lambda row: row["reduction_pct"])
def test_welded(row: dict[str, str]) -> None:
    table, at = CARD.tables["cold_work"], float(row["reduction_pct"])
    half = 0.05 * KSI + 0.5
    assert table.read("welded_yield_strength_MPa", at).value == pytest.approx(float(row["yield_ksi"]) * KSI, abs=half)
    assert table.read("welded_tensile_strength_MPa", at).value == pytest.approx(
        float(row["tensile_ksi"]) * KSI, abs=half
    )
