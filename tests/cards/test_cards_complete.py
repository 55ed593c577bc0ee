"""Every card loads, every figure carries unit, basis and place, and every table is typed as its source has it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from hoopwright.cards.library import LIBRARY, find_card, list_cards
from hoopwright.cards.words import KINDS, WORDS
from hoopwright.findings import BASES

DOCS = Path(__file__).resolve().parents[2] / "docs" / "card-keys.md"
CARDS = [(listed.kind, listed.id) for listed in list_cards()]
FILES = sorted(LIBRARY.rglob("*.toml"))

# Rows, then the sum of each column, added up from the source cards by another hand than the one that typed ours.
# R30605: added up from the producer's data sheet itself. N06002 cold_work, last column: the data sheet prints 780 MPa
# (113.1 ksi) for the welded 15 % row.
TABLES: dict[tuple[str, str], list[float]] = {
    ("N06002", "young_modulus"): [10, 4862, 1783.8],
    ("N06002", "poisson"): [2, -56, 0.648],
    ("N06002", "mean_expansion"): [7, 4709, 109.3],
    ("N06002", "conductivity"): [7, 3414, 130.2],
    ("N06002", "specific_heat"): [11, 5955, 6577],
    ("N06002", "tensile_sheet"): [7, 4914, 1427, 2861, 511.2],
    ("N06002", "tensile_plate"): [7, 4914, 1322, 2808, 538.6],
    ("N06002", "cold_work"): [4, 50, 2617, 3686, 1829, 3110],
    ("N06230", "young_modulus"): [10, 4525, 1836],
    ("N06230", "poisson"): [2, 720, 0.65],
    ("N06230", "mean_expansion"): [3, 1200, 39.7],
    ("N06230", "instantaneous_expansion"): [10, 4520, 153.2],
    ("N06230", "conductivity"): [8, 3920, 145.7],
    ("N06230", "specific_heat"): [8, 3920, 4009],
    ("N06230", "tensile_plate"): [6, 3821, 1523],
    ("N06230", "cold_work"): [6, 150, 5630, 7175, 118.4],
    ("N06230", "anneal_after_cold_work"): [5, 150, 2870, 2580, 2315, 199.5],
    ("N06617", "young_modulus"): [9, 3570, 1613.3],
    ("N06617", "instantaneous_expansion"): [9, 3570, 139.7],
    ("N06617", "mean_expansion"): [10, 5500, 141.1],
    ("N06617", "conductivity"): [10, 4520, 189.1],
    ("N06617", "specific_heat"): [11, 5526, 5921],
    ("N06617", "tensile_sheet"): [6, 3820, 1350, 2930, 425],
    ("N06625", "young_modulus"): [9, 3879, 1643.7],
    ("N06625", "poisson"): [2, 892, 0.614],
    ("N06625", "mean_expansion"): [9, 4785, 129.0],
    ("N06625", "conductivity"): [11, 4899, 178.3],
    ("N06625", "specific_heat"): [11, 5954, 5911],
    ("N06625", "tensile_sheet"): [7, 4137, 2040, 4140, 430],
    ("N07263", "young_modulus"): [10, 4520, 1931],
    ("N07263", "mean_expansion"): [10, 5500, 143.0],
    ("N07263", "conductivity"): [10, 4520, 188.9],
    ("N07718", "young_modulus"): [10, 4833, 1682.3],
    ("N07718", "poisson"): [4, 1913, 1.169],
    ("N07718", "mean_expansion"): [7, 2987, 99.9],
    ("N07718", "conductivity"): [7, 2248, 112.0],
    ("N07718", "conductivity_aged"): [7, 2248, 113.3],
    ("N07718", "specific_heat"): [5, 2135, 2630],
    ("N07718", "tensile_aged_plate"): [6, 3266, 5114],
    ("N07718", "creep_aged_sheet"): [5, 3244, 2580, 2820],
    ("N07750", "young_modulus"): [3, 825, 584.0],
    ("N07750", "mean_expansion"): [9, 4840.0, 133.02],
    ("N07750", "conductivity"): [9, 3878.9, 157.34],
    ("N07750", "specific_heat"): [9, 3878.9, 4865.1],
    ("R30605", "mean_expansion"): [10, 5500, 145.5],
    ("R30605", "tensile_sheet"): [7, 4914, 1666, 3797, 461.1],
    ("R30605", "cold_work"): [5, 70, 4655, 6420, 156.1],
    ("S30400", "young_modulus"): [2, 420, 372],
    ("S30400", "mean_expansion"): [2, 1100, 36.5],
    ("S30400", "conductivity"): [5, 1620, 95.6],
    ("S30400", "tensile_sheet"): [5, 2020, 860, 2100],
    ("S32100", "young_modulus"): [2, 420, 372],
    ("S32100", "mean_expansion"): [3, 1700, 56.0],
    ("S32100", "conductivity"): [2, 600, 38.3],
    ("S32100", "tensile_sheet"): [5, 2020, 865, 2060],
    ("T20813", "mean_expansion"): [5, 2189, 60.7],
    ("T20813", "conductivity"): [2, 236, 46.2],
    ("T30402", "young_modulus_similar_grade"): [3, 620, 556],
    ("T30402", "temper"): [2, 741, 115],
}

REFERENCES = {
    "N06002": 26, "N06230": 25, "N06617": 20, "N06625": 21, "N07263": 20, "N07718": 25, "N07750": 21,
    "S30400": 20, "S32100": 20, "T20813": 27, "R30605": 25,
}  # fmt: skip

# What a person outside the trade would take for a name: producers' words for alloys and shops' names for themselves.
NAMES = re.compile(
    r"hastel|haynes|inconel|incoloy|nimonic|udimet|waspal|special\s+metals|vdm|carpenter|azom|makeitfrom|scribd|armi\b"
    r"|srlife|https?:|www\.|\.com\b",
    re.IGNORECASE,
)


def test_there_is_a_card_of_every_kind() -> None:
    assert {kind for kind, _ in CARDS} == set(KINDS)
    assert len(FILES) == len(CARDS)


@pytest.mark.parametrize(("kind", "card_id"), CARDS)
def test_every_figure_has_unit_basis_and_place(kind: str, card_id: str) -> None:
    card = find_card(kind, card_id)
    words = WORDS[kind]
    assert card.figures
    assert card.entered_by
    assert card.range_of_use
    for name, figure in card.figures.items():
        assert figure.unit == words.figures[name].unit
        assert figure.source.basis in BASES
        assert figure.source.where
        suffix = name.partition("_")[2]
        assert figure.unit == "1" or suffix.endswith(figure.unit)
    for table in card.tables.values():
        assert len(table.units) == len(table.columns)
        assert len(table.sources) == len(table.rows)
        assert all(source.where for source in table.sources)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_entry_of_the_file_says_unit_basis_and_place(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    for figure in data.get("figure", {}).values():
        assert {"value", "unit", "basis", "where"} <= set(figure)
    for table in data.get("table", {}).values():
        assert {"columns", "units", "rows", "basis", "where"} <= set(table)
    for flow in data.get("flow", {}).values():
        assert {"law", "strain_max_log", "basis", "where"} <= set(flow)
    for note in data.get("note", []):
        assert {"about", "text", "basis", "where"} <= set(note)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_card_names_its_kind_and_itself(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert (data["kind"], data["id"]) == (path.parent.name, path.stem)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_producer_or_trade_name(path: Path) -> None:
    assert NAMES.findall(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_memory_says_so_and_practice_names_no_source(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    entries = [*data.get("figure", {}).values(), *data.get("table", {}).values(), *data.get("note", [])]
    for entry in entries:
        if entry["basis"] == "memory":
            assert "from memory" in entry["where"]
        if entry["basis"] == "practice":
            assert re.search("no source|no test", entry["where"])


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_invented_figures_stand_on_demonstration_cards_only(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    invented = [name for name, figure in data.get("figure", {}).items() if figure.get("invented")]
    if path.stem.lower().startswith("demo"):
        assert invented
        assert "invented" in data["title"]
        assert all("invented" in data["figure"][name]["where"] for name in invented)
    else:
        assert invented == []


def test_every_table_is_counted() -> None:
    there = {(card_id, name) for kind, card_id in CARDS for name in find_card(kind, card_id).tables}
    assert there == set(TABLES)


@pytest.mark.parametrize(("card_id", "name"), TABLES)
def test_rows_and_column_sums(card_id: str, name: str) -> None:
    kind = next(kind for kind, known in CARDS if known == card_id)
    table = find_card(kind, card_id).tables[name]
    count, *sums = TABLES[card_id, name]
    assert len(table.rows) == count
    assert [sum(table.column(column)) for column in table.columns] == pytest.approx(sums, abs=1e-9)


def test_reference_temperatures() -> None:
    kinds = {card_id: kind for kind, card_id in CARDS}
    found = {
        card_id: find_card(kinds[card_id], card_id).tables["mean_expansion"].reference_degC for card_id in REFERENCES
    }
    assert found == REFERENCES


def test_single_figures_as_the_sources_have_them() -> None:
    typed = {
        "N06002": {
            "density_kg_per_m3": 8220,
            "solidus_degC": 1260,
            "liquidus_degC": 1355,
            "solution_anneal_degC": 1177,
        },
        "N06230": {"density_kg_per_m3": 8970, "solidus_degC": 1301, "liquidus_degC": 1371, "yield_strength_MPa": 425},
        "N06617": {"density_kg_per_m3": 8360, "solidus_degC": 1332, "liquidus_degC": 1380, "poisson": 0.31},
        "N06625": {"density_kg_per_m3": 8440, "solidus_degC": 1290, "liquidus_degC": 1350, "stress_relief_degC": 870},
        "N07263": {"yield_strength_aged_MPa": 550, "tensile_strength_aged_MPa": 940, "elongation_aged_pct": 39},
        "N07718": {"density_kg_per_m3": 8220, "age_degC": 718, "age_second_degC": 621, "service_limit_degC": 704},
        "N07750": {"density_kg_per_m3": 8280, "solidus_degC": 1393, "liquidus_degC": 1427},
        "R30605": {"yield_strength_MPa": 470, "tensile_strength_MPa": 995, "elongation_pct": 58.5},
        "S30400": {"density_kg_per_m3": 7900, "poisson": 0.28, "specific_heat_J_per_kgK": 500},
        "S32100": {"density_kg_per_m3": 7920, "poisson": 0.29, "elongation_pct": 50},
        "T30402": {"density_kg_per_m3": 7700, "austenitise_degC": 1010, "mean_expansion_um_per_mK": 10.4},
        "T20813": {"young_modulus_GPa": 215, "solidus_degC": 1427},
        "GAUGE": {"gauge_steel_um_per_mK": 11.5, "reference_temperature_degC": 20, "fused_silica_um_per_mK": 0.55},
    }
    kinds = {card_id: kind for kind, card_id in CARDS}
    for card_id, figures in typed.items():
        card = find_card(kinds[card_id], card_id)
        assert {name: card.figures[name].value for name in figures} == figures


def test_every_word_of_the_vocabulary_is_documented_with_its_unit() -> None:
    text = DOCS.read_text(encoding="utf-8")
    for kind, words in WORDS.items():
        assert f"`{kind}`" in text
        for name, quantity in words.figures.items():
            assert re.search(rf"^\| `{re.escape(name)}` \| {re.escape(quantity.unit)} \|", text, re.MULTILINE), name
        for table, columns in words.tables.items():
            assert f"`{table}`" in text
            for column, quantity in columns.items():
                assert f"`{column}` ({quantity.unit})" in text, column
