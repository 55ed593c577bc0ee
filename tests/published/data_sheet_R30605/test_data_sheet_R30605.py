"""The R30605 card against the inch-unit columns of the producer's data sheet (see SOURCE.md)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from hoopwright.cards.library import find_card

CARD = find_card("alloy", "R30605")
KSI = 6.894757  # MPa

with (Path(__file__).parent / "tensile.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

# Half the last digit of the metric column: 1 MPa in the tensile table, 5 MPa in the cold reduction table.
HALF_METRIC = {"tensile_sheet": 0.5, "cold_work": 2.5}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['table']}-{row['argument']}")
def test_tensile(row: dict[str, str]) -> None:
    table, at = CARD.tables[row["table"]], float(row["argument"])
    half = 0.05 * KSI + HALF_METRIC[row["table"]]  # both columns rounded by themselves
    assert table.read("yield_strength_MPa", at).value == pytest.approx(float(row["yield_ksi"]) * KSI, abs=half)
    assert table.read("tensile_strength_MPa", at).value == pytest.approx(float(row["tensile_ksi"]) * KSI, abs=half)
    assert table.read("elongation_pct", at).value == float(row["elongation_pct"])


def test_every_row_is_compared() -> None:
    for name, table in CARD.tables.items():
        if name in HALF_METRIC:
            assert len(table.rows) == sum(row["table"] == name for row in ROWS)
