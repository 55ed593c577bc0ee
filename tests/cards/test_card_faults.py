"""A faulty card: every fault at once, each with line, key, value, unit and what to do; nothing else is ever raised."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.cards.library import LIBRARY
from hoopwright.cards.reading import card_from_text, read_card
from hoopwright.errors import FileFaults

N06002 = (LIBRARY / "alloy" / "N06002.toml").read_text(encoding="utf-8")

HEAD = 'schema = "hoopwright-card-1"\nkind = "alloy"\nid = "A"\nentered_by = "me"\nchecked_by = ""\n'
DENSITY = '[figure.density_kg_per_m3]\nvalue = 8220.0\nunit = "kg_per_m3"\nbasis = "read"\nwhere = "table 1"\n'
MODULUS = (
    '[table.young_modulus]\ncolumns = ["temperature_degC", "young_modulus_GPa"]\nunits = ["degC", "GPa"]\n'
    'rows = [[20.0, 205.0], [500.0, 180.0]]\nbasis = "read"\nwhere = "table 2"\n'
)
EXPANSION = (
    '[table.mean_expansion]\ncolumns = ["temperature_degC", "mean_expansion_um_per_mK"]\n'
    'units = ["degC", "um_per_mK"]\nrows = [[93.0, 13.9], [538.0, 15.1]]\nbasis = "read"\nwhere = "table 3"\n'
)
FLOW = '[flow.first]\nlaw = "swift"\nconstants = { K_MPa = 1600.0, n = 0.4 }\nstrain_max_log = 0.4\n'


def faults_of(text: str) -> list[str]:
    with pytest.raises(FileFaults) as caught:
        card_from_text(text.encode(), "card.toml")
    return [str(fault) for fault in caught.value.faults]


def test_a_sound_card_is_read() -> None:
    card = card_from_text((HEAD + DENSITY + MODULUS).encode(), "card.toml")
    assert card.figures["density_kg_per_m3"].value == 8220.0
    assert card.tables["young_modulus"].rows == ((20.0, 205.0), (500.0, 180.0))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            HEAD + DENSITY.replace("8220.0", '"8220"'),
            'line 7: figure.density_kg_per_m3.value is "8220"; it must be a number. '
            "Do: write the number without quotes",
        ),
        (
            HEAD + DENSITY.replace("8220.0", "nan"),
            "line 7: figure.density_kg_per_m3.value is nan; it must be a finite number. "
            "Do: enter a number that is neither nan nor inf",
        ),
        (
            HEAD + DENSITY.replace("8220.0", "true"),
            "line 7: figure.density_kg_per_m3.value is True; it must be a number. Do: write the number without quotes",
        ),
        (
            HEAD + DENSITY.replace("8220.0", "8.22"),
            "line 7: figure.density_kg_per_m3.value is 8.22 kg_per_m3; it must be from 500 to 25000. "
            "Do: check the number and its unit against the source",
        ),
        (
            HEAD + DENSITY.replace('"kg_per_m3"', '"g/cm3"'),
            "line 8: figure.density_kg_per_m3.unit is g/cm3; it must be kg_per_m3. "
            'Do: multiply the number by 1000 and write unit = "kg_per_m3"',
        ),
        (
            HEAD + DENSITY.replace('unit = "kg_per_m3"\n', ""),
            "line 6: figure.density_kg_per_m3.unit is missing; it must be there. "
            "Do: enter it; docs/cards.md says what it means",
        ),
        (
            HEAD + DENSITY.replace('basis = "read"\n', ""),
            "line 6: figure.density_kg_per_m3.basis is missing; it must be there. "
            "Do: enter it; docs/cards.md says what it means",
        ),
        (
            HEAD + DENSITY.replace('"read"', '"guess"'),
            'line 9: figure.density_kg_per_m3.basis is "guess"; it must be one of measured, read, given, derived, '
            "practice or memory. Do: take one of these",
        ),
        (
            HEAD + DENSITY.replace("[figure.density_kg", "[figure.densty_kg"),
            "line 6: figure.densty_kg_per_m3 is densty_kg_per_m3; it must be a figure this kind of card knows. "
            "Do: write density_kg_per_m3",
        ),
        (
            HEAD + DENSITY + "valeu = 3\n",
            "line 11: figure.density_kg_per_m3.valeu is 3; it must be a key this format knows. "
            "Do: correct its spelling or remove it; docs/cards.md lists the keys",
        ),
        (
            HEAD + DENSITY + "range = [9000.0, 8000.0]\n",
            "line 11: figure.density_kg_per_m3.range is 9000 to 8000 kg_per_m3; it must be low end first. "
            "Do: exchange the two ends",
        ),
        (
            HEAD + DENSITY + "range = [8500.0, 9000.0]\n",
            "line 7: figure.density_kg_per_m3.value is 8220 kg_per_m3; it must be inside its own range 8500 to 9000. "
            "Do: mend the value or its range",
        ),
        (
            HEAD + DENSITY + "u = -1.0\n",
            "line 11: figure.density_kg_per_m3.u is -1.0; it must be 0 or more. Do: check the number and its sign",
        ),
        (
            HEAD + DENSITY + "at = { from_degC = 20.0 }\n",
            "line 11: figure.density_kg_per_m3.at is half a range degC; it must be from_degC and to_degC together. "
            "Do: enter both or neither",
        ),
        (
            HEAD + MODULUS.replace('"GPa"]', '"psi"]'),
            'line 8: table.young_modulus.units is psi; it must be GPa. Do: convert the number and write unit = "GPa"',
        ),
        (
            HEAD + MODULUS.replace("[500.0, 180.0]", "[500.0]"),
            "line 9: table.young_modulus.rows[2] is 1 numbers; it must be one number a column, 2. "
            "Do: enter the missing number or remove the extra one",
        ),
        (
            HEAD + MODULUS.replace("500.0", "20.0"),
            "line 9: table.young_modulus.rows[2][1] is 20 degC; it must be above the row before, 20. Do: sort the rows",
        ),
        (
            HEAD + MODULUS.replace("180.0", "180000.0"),
            "line 9: table.young_modulus.rows[2][2] is 180000 GPa; it must be from 1 to 1000. "
            "Do: check the number and its unit against the source",
        ),
        (
            HEAD + EXPANSION,
            "line 6: table.mean_expansion.reference_degC is missing degC; it must be the temperature from which the "
            "mean is taken. Do: enter it as the source prints it (often 20, 21, 25 or 26); never guess",
        ),
        (
            HEAD + MODULUS + "reference_degC = 20.0\n",
            "line 12: table.young_modulus.reference_degC is 20 degC; it must be left out. "
            "Do: remove it; only mean_expansion has it",
        ),
        (
            HEAD + MODULUS + 'row_basis = ["read"]\n',
            "line 12: table.young_modulus.row_basis is 1 entries; it must be one a row, 2. Do: enter the others",
        ),
        (
            HEAD + FLOW + 'basis = "read"\nwhere = "x"\n',
            "line 8: flow.first.constants.e0_log is missing; it must be there for the law swift. Do: enter it",
        ),
        (
            HEAD.replace("card-1", "card-9"),
            "line 1: schema is hoopwright-card-9; it must be hoopwright-card-1. "
            'Do: write schema = "hoopwright-card-1" and the keys of docs/cards.md',
        ),
        (
            HEAD + "value = = 3\n",
            "line 6: text is no TOML (Invalid value); it must be TOML. "
            "Do: mend this line; quotes, brackets and = first",
        ),
    ],
)  # fmt: skip
def test_one_fault(text: str, expected: str) -> None:
    assert expected in faults_of(text)
    assert len(faults_of(text)) == 1


def test_all_faults_of_a_file_at_once_in_the_order_of_its_lines() -> None:
    text = HEAD + DENSITY.replace("8220.0", "1.0") + MODULUS.replace("205.0", "-5.0").replace("500.0", "10.0")
    faults = faults_of(text)
    assert len(faults) == 3
    assert [fault.split(":")[0] for fault in faults] == ["line 7", "line 14", "line 14"]


def test_a_machine_card_lacks_a_figure() -> None:
    text = (LIBRARY / "expander" / "demo-expander.toml").read_text(encoding="utf-8")
    block = text[text.index("[figure.retract_kN]") : text.index("[figure.stop_step_mm]")]
    assert faults_of(text.replace(block, "")) == [
        "figure.retract_kN is missing; it must be there, in kN (force that withdraws the pin). "
        'Do: enter it, or write based_on = "ID" to take it from another expander card'
    ]


def test_a_first_loading_curve_that_misses_its_card_is_refused(tmp_path: Path) -> None:
    """The curve of the re-yield fit, entered by mistake as a first-loading curve."""
    from hoopwright.cards.library import find_card

    path = tmp_path / "X.toml"
    path.write_text(
        N06002.replace('id = "N06002"', 'id = "X"').replace("[flow.reyield]", "[flow.first]"), encoding="utf-8"
    )
    with pytest.raises(FileFaults) as caught:
        find_card("alloy", "X", tmp_path)
    assert [str(fault) for fault in caught.value.faults] == [
        "flow.first is tensile strength 632.4 MPa; it must be within 3 % of the card's 783 MPa. "
        "Do: fit it again to first loading, or move it to [flow.reyield] if it was fitted after cold reduction",
        "flow.first is uniform strain 0.2976 log; it must be within 10 % of the card's 0.3646 log. "
        "Do: fit it again to first loading, or move it to [flow.reyield] if it was fitted after cold reduction",
    ]


def test_a_file_that_is_no_utf8(tmp_path: Path) -> None:
    path = tmp_path / "card.toml"
    path.write_bytes(HEAD.encode() + 'title = "Prüfung"\n'.encode("latin-1"))
    with pytest.raises(FileFaults, match=r"line 6: text is byte 0xfc; it must be UTF-8"):
        read_card(path)


def test_byte_order_mark_and_windows_line_ends_are_taken() -> None:
    text = ("\ufeff" + HEAD + DENSITY).replace("\n", "\r\n")
    assert card_from_text(text.encode("utf-8"), "card.toml").id == "A"


LINES = N06002.splitlines()
CHANGES = [
    "",
    "value = 1e400",
    'value = "x"',
    "value = -1",
    "unit = 3",
    "rows = []",
    "[figure.x]",
    "=",
    '"""',
    "id = 7",
]


@given(st.integers(0, len(LINES) - 1), st.sampled_from(CHANGES))
def test_any_mutated_line_gives_faults_or_a_card(place: int, change: str) -> None:
    text = "\n".join([*LINES[:place], change, *LINES[place + 1 :]])
    try:
        card_from_text(text.encode(), "card.toml")
    except FileFaults as caught:
        assert caught.faults
        assert all(fault.remedy and fault.must and fault.key for fault in caught.faults)
