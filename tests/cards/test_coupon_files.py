"""Tensile test files: what a testing machine or a spreadsheet writes is read, what is doubtful is refused by place."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from coupons_made import Made, write
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.cards.coupons.columns import header
from hoopwright.cards.coupons.csv_file import read_readings, readings_from_text
from hoopwright.errors import FileFaults

ROWS = "\n".join(f"{0.1 * i:.1f},{0.01 * i:.2f}" for i in range(30))
COMMAS = ROWS.replace(",", ";").replace(".", ",")


def faults_of(text: str) -> list[str]:
    with pytest.raises(FileFaults) as caught:
        readings_from_text(text, "test.csv")
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    "text",
    [
        "Force [kN],Extension [mm]\n" + ROWS,
        "force_kN,extension_mm\n" + ROWS,
        "Force (kN),Extension (mm)\n" + ROWS,
        "LOAD kN,Elongation in mm\n" + ROWS,
        "Force,Extension\nkN,mm\n" + ROWS,
        "Force,Extension\n[kN],[mm]\n" + ROWS,
        'Test,"X0417, no. 1"\nDate,2031-02-03\n\nForce [kN],Extension [mm]\n' + ROWS,
        "Force [kN];Extension [mm]\n" + COMMAS,
        "Force [kN]\tExtension [mm]\n" + COMMAS.replace(";", "\t"),
        "Force [kN];Extension [mm]\n" + ROWS.replace(",", ";"),
        '"Force [kN]","Extension [mm]"\n' + "\n".join(f'"{r}"' for r in COMMAS.replace(";", '","').split("\n")),
        "Force [kN],Extension [mm]\n" + ROWS.replace("\n", ",\n") + "\n\n",
    ],
)
def test_forms_of_one_and_the_same_test(text: str) -> None:
    found = readings_from_text(text, "test.csv")
    assert found.columns["force"] == pytest.approx(100.0 * np.arange(30))
    assert found.columns["extension"] == pytest.approx(0.01 * np.arange(30))


@pytest.mark.parametrize(
    ("encoding", "mark"), [("utf-8", b"\xef\xbb\xbf"), ("utf-16-le", b"\xff\xfe"), ("utf-16-be", b"\xfe\xff")]
)
def test_byte_order_marks(tmp_path: Path, encoding: str, mark: bytes) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(mark + ("Force [kN],Extension [µm]\r\n" + ROWS.replace("\n", "\r\n")).encode(encoding))
    assert read_readings(path).columns["extension"][1] == pytest.approx(1e-5)


def test_other_bytes_are_refused_by_line(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"Force [kN],Extension [mm]\nZugversuch \xfc,1\n")
    with pytest.raises(
        FileFaults, match=r"line 2: text is byte 0xfc; it must be UTF-8. Do: save the file as CSV UTF-8"
    ):
        read_readings(path)


def test_columns_without_a_name_we_know_are_left_and_listed() -> None:
    found = readings_from_text("Time [s],Stress [MPa],Strain [%]\n" + "\n".join(f"{i},{i},{i}" for i in range(9)), "x")
    assert found.ignored == ("Time [s]",)
    assert found.columns["strain"][3] == pytest.approx(0.03)
    assert found.lines[0] == 2


@pytest.mark.parametrize(
    ("cell", "what", "factor"),
    [
        ("Stress [N/mm2]", "stress", 1.0),
        ("True stress (ksi)", "true_stress", 6.894757),
        ("True plastic strain [-]", "plastic_strain", 1.0),
        ("Strain %", "strain", 0.01),
        ("Width strain (%)", "width_strain", 0.01),
        ("Specimen width [mm]", "width", 1.0),
        ("Strain", "strain", None),
        ("Force [stone]", "force", None),
        ("Temperature [degC]", "", None),
    ],
)
def test_headers(cell: str, what: str, factor: float | None) -> None:
    assert (header(cell).what, header(cell).factor) == (what, factor)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Force,Extension [mm]\n" + ROWS,
            "line 1: column Force is without a unit; it must be in one of: N, kN, lbf. Do: write it as Force [N]",
        ),
        (
            "Force [kp],Extension [mm]\n" + ROWS,
            "line 1: column Force [kp] is kp; it must be in one of: N, kN, lbf. Do: write it as Force [N]",
        ),
        (
            "Force [kN],Load [kN],Extension [mm]\n1,1,1\n",
            "line 1: column Load [kN] is doubled; it must be the only force; Force [kN] is one too. "
            "Do: remove or rename one of the two",
        ),
        (
            "Force [kN],Strain [%]\n" + ROWS,
            "line 1: header is Force [kN], Strain [%]; it must be force and extension, or stress and strain, or true "
            "stress and plastic strain. Do: add or rename the missing column",
        ),
        (
            "Kraft [kN],Weg [mm]\n" + ROWS,
            "header is not found; it must be a row with two or more of: true stress; true plastic strain; width "
            "strain; engineering stress; engineering strain; force; extension; specimen width. "
            "Do: name the columns with units",
        ),
        (
            "Force [kN],Extension [mm]\n" + ROWS + "\n3.1,abc",
            "line 32: column Extension [mm] is abc mm; it must be a number. Do: fill in the reading or remove the row",
        ),
        (
            "Force [kN],Extension [mm]\n" + ROWS + "\n,3.1",
            "line 32: column Force [kN] is empty kN; it must be a number. Do: fill in the reading or remove the row",
        ),
        (
            "Force [kN],Extension [mm]\n" + ROWS + "\nnan,3.1",
            "line 32: column Force [kN] is nan kN; it must be a number. Do: fill in the reading or remove the row",
        ),
        (
            "Force [N];Extension [mm]\n" + COMMAS + "\n1.234,5;0,3",
            "line 32: column Force [N] is 1.234,5 N; it must be without thousands separators. Do: export plain numbers",
        ),
        (
            "Force [N];Extension [mm]\n" + COMMAS + "\n1.5;0,3",
            "line 32: column Force [N] is 1.5 N; it must be written with the decimal sign of the rows before. "
            "Do: use one decimal sign in the whole file",
        ),
        (
            "Force [N],Extension [mm]\n" + ROWS + "\n1,5,0,3",
            "line 32: row is 4 values; it must be 2 values. "
            "Do: mend the row; a file with decimal commas must be separated by semicolons or tabs",
        ),
        (
            "Force [N],Extension [mm]\n1,2\n3,4",
            "rows is 2; it must be 5 or more. Do: export the whole test",
        ),
    ],
)  # fmt: skip
def test_one_fault(text: str, expected: str) -> None:
    assert faults_of(text) == [expected]


def test_many_faults_are_counted() -> None:
    faults = faults_of("Force [N],Extension [mm]\n" + "\n".join("x,1" for _ in range(100)))
    assert len(faults) == 41
    assert faults[-1] == "rows is 60 more faults; it must be free of faults. Do: mend the ones above first"


@given(st.text(alphabet='Forceextnsi [kN]m,;\t.0123456789-e"\n', max_size=120))
def test_any_text_gives_faults_or_columns(text: str) -> None:
    try:
        found = readings_from_text("Force [N],Extension [mm]\n" + text, "test.csv")
    except FileFaults as caught:
        assert caught.faults
    else:
        assert all(np.all(np.isfinite(column)) for column in found.columns.values())


def test_a_written_file_comes_back(tmp_path: Path) -> None:
    strain, stress, width = Made().engineering()
    path = write(tmp_path / "a.csv", "Strain [%];Stress [MPa];Width [mm]", [100 * strain, stress, width], ";", ",")
    found = read_readings(path)
    assert found.columns["strain"] == pytest.approx(strain, rel=1e-6, abs=1e-12)
    assert found.columns["stress"] == pytest.approx(stress, rel=1e-6)
