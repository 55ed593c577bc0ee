"""Files of readings: every kind read, every fault with its own message, line, column and remedy."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

import pytest

from hoopwright.errors import FileFaults
from hoopwright.measure.grid import SIZE_LIMIT_MB, column_letter
from hoopwright.measure.kinds import KINDS
from hoopwright.measure.table import read_readings_file, typed_readings

GIRTH = "station,diameter_mm,part_degC\nlip,247.48,21.5\nland,246.85,21.5\n"


def workbook(rows: list[list[object]], extra: str = "") -> bytes:
    """A least XLSX, numbers as numbers and words inline."""
    body = ""
    for r, cells in enumerate(rows, 1):
        line = ""
        for c, cell in enumerate(cells):
            place = f"{column_letter(c)}{r}"
            if isinstance(cell, (int, float)):
                line += f'<c r="{place}"><v>{cell}</v></c>'
            elif str(cell).startswith("<"):
                line += str(cell).replace("PLACE", place)
            else:
                line += f'<c r="{place}" t="inlineStr"><is><t>{escape(str(cell))}</t></is></c>'
        body += f'<row r="{r}">{line}</row>'
    main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
    rel = 'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
    package = 'xmlns="http://schemas.openxmlformats.org/package/2006/relationships"'
    parts = {
        "xl/workbook.xml": f'<workbook {main} {rel}><sheets><sheet name="s" sheetId="1" r:id="rId1"/></sheets>'
        "</workbook>",
        "xl/_rels/workbook.xml.rels": f"<Relationships {package}>"
        '<Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>',
        "xl/worksheets/sheet1.xml": f"{extra}<worksheet {main}><sheetData>{body}</sheetData></worksheet>",
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return out.getvalue()


def fault(content: str | bytes, what: str = "girth", **more: object) -> str:
    raw = content.encode() if isinstance(content, str) else content
    with pytest.raises(FileFaults) as caught:
        read_readings_file(raw, what, "r.csv", **more)  # type: ignore[arg-type]
    text = str(caught.value)
    assert "Do: " in text and "r.csv" in text
    return text


@pytest.mark.parametrize(
    "content",
    [
        GIRTH,
        "\ufeff" + GIRTH,
        GIRTH.replace(",", "\t"),
        GIRTH.replace(",", ";"),
        "station;diameter_mm;part_degC\nlip;247,48;21,5\nland;246,85;21,5\n",
        "# made on the bench\nstation,diameter_mm,part_degC\n,mm,degC\nlip,247.48,21.5\n\nland,246.85,21.5\n",
        "Station,Dia [mm],Temperature [°C]\nlip,247.48,21.5\nland,246.85,21.5\n",
        "station,diameter_mm,part_degC\n,[um],\nlip,247480,21.5\nland,246850,21.5\n",
        "station,diameter [in],part_degC\nlip,9.743307086614174,21.5\nland,9.718503937007874,21.5\n",
        "station,diameter_mm,part_degC\r\nlip,247.48,21.5\r\nland,246.85,21.5\r\n",
    ],
    ids=["csv", "bom", "tab", "semicolon", "comma", "units-row", "headings", "um", "inch", "crlf"],
)
def test_all_these_say_the_same(content: str) -> None:
    read = read_readings_file(content.encode("utf-8"), "girth")
    assert read.words["station"] == ("lip", "land")
    assert read.numbers["diameter_mm"] == (pytest.approx(247.48), pytest.approx(246.85))
    assert read.numbers["part_degC"] == (21.5, 21.5)
    assert len(read.lines) == len(read) == 2


def test_workbook_says_the_same() -> None:
    rows: list[list[object]] = [["station", "diameter_mm", "part_degC"], ["", "mm", "degC"], ["lip", 247.48, 21.5]]
    read = read_readings_file(workbook(rows), "girth")
    assert (read.words["station"], read.numbers["diameter_mm"], read.lines) == (("lip",), (247.48,), (3,))


BAD = {
    "empty": ("", ["empty"]),
    "comments only": ("# nothing\n", ["only comments"]),
    "no headings": ("lip,247.48,21.5\nland,246.85,21.5\n", ["line 1", "headings"]),
    "unknown column": ("station,diameter_mm,part_degC,mood\nlip,247.48,21.5,good\n", ["column D (mood)", "rename"]),
    "missing column": ("station,diameter_mm\nlip,247.48\n", ["column part_degC is missing"]),
    "column twice": ("station,diameter_mm,dia,part_degC\nlip,247.48,247.5,21.5\n", ["column C (dia)", "delete one"]),
    "empty cell": ("station,diameter_mm,part_degC\nlip,,21.5\n", ["line 2", "column B (diameter_mm)", "empty"]),
    "word": ("station,diameter_mm,part_degC\nlip,big,21.5\n", ["line 2", "column B", "big", "a number"]),
    "nan": ("station,diameter_mm,part_degC\nlip,nan,21.5\n", ["line 2", "nan", "measure it"]),
    "infinite": ("station,diameter_mm,part_degC\nlip,1e999,21.5\n", ["line 2", "1e999"]),
    "unit in cell": ("station,diameter_mm,part_degC\nlip,247.48 mm,21.5\n", ["247.48", "into the heading"]),
    "thousands": ("station;diameter_mm;part_degC\nlip;1.247,48;21,5\n", ["groups of thousands"]),
    "comma in comma": ("station,diameter_mm,part_degC\nlip,247,48,21,5\n", ["line 2", "5 cells", "semicolons or tabs"]),
    "two marks": ("station;diameter_mm;part_degC\nlip;247,48;21.5\n", ["points and commas"]),
    "out of range": ("station,diameter_mm,part_degC\nlip,2.0,21.5\n", ["line 2", "from 10 to 3000"]),
    "inches": ("station,diameter_mm,part_degC\nlip,9.74,21.5\n", ["fits as in"]),
    "exchanged": ("station,diameter_mm,part_degC\nlip,5.5,247.48\n", ["exchange the headings"]),
    "unknown unit": ("station,diameter [furlong],part_degC\nlip,1,21.5\n", ["furlong", "one of"]),
    "two units": ("station,diameter [mm],part_degC\n,um,degC\nlip,247.48,21.5\n", ["mm above um"]),
    "too long a row": ("station;diameter_mm;part_degC\nlip;247.48;21.5;9\n", ["line 2", "4 cells", "delete the rest"]),
    "open quote": ('station,diameter_mm,part_degC\n"lip,247.48,21.5\n', ["quotation mark"]),
    "no rows": ("station,diameter_mm,part_degC\n", ["rows is 0"]),
}


@pytest.mark.parametrize("name", BAD)
def test_each_fault_has_its_own_message(name: str) -> None:
    content, words = BAD[name]
    text = fault(content)
    for word in words:
        assert word in text, text


def test_messages_differ() -> None:
    texts = {fault(content).split("\n")[1] for content, _ in BAD.values()}
    assert len(texts) == len(BAD)


@pytest.mark.parametrize(
    ("raw", "word"),
    [
        (b"\xff\xfe" + GIRTH.encode("utf-16-le"), "UTF-16"),
        (GIRTH.encode().replace(b"lip", b"l\xefp"), "byte 0xef"),
        (b"\xd0\xcf\x11\xe0rest", "XLS"),
        (GIRTH.encode().replace(b"lip", b"l\x00p"), "null byte"),
        (b"PK\x03\x04 and then nothing", "broken"),
    ],
)
def test_bytes_that_are_no_table(raw: bytes, word: str) -> None:
    assert word in fault(raw)


def test_oversize_is_refused(tmp_path: Path) -> None:
    big = tmp_path / "big.csv"
    big.write_bytes(b"x" * (SIZE_LIMIT_MB * 1_000_000 + 1))
    with pytest.raises(FileFaults, match="at most 8 MB"):
        read_readings_file(big, "girth")
    rows = "angle,deviation\n" + "1,0.1\n" * 100_001
    assert "over 100000 rows" in fault(rows, "roundness")
    assert "columns" in fault(",".join(["a"] * 300) + "\n", "roundness")


def test_paths(tmp_path: Path) -> None:
    for name, word in (("r.pdf", "kind of file"), ("gone.csv", "missing")):
        with pytest.raises(FileFaults, match=word):
            read_readings_file(tmp_path / name, "girth")
    (tmp_path / "dir.csv").mkdir()
    with pytest.raises(FileFaults, match="a folder"):
        read_readings_file(tmp_path / "dir.csv", "girth")
    good = tmp_path / "good.csv"
    good.write_text(GIRTH, encoding="utf-8")
    assert read_readings_file(good, "girth").file == "good.csv"


def test_workbooks_that_are_none() -> None:
    plain: list[list[object]] = [["station", "diameter_mm", "part_degC"]]
    formula = '<c r="PLACE"><f>1+1</f></c>'
    mistake = '<c r="PLACE" t="e"><v>#REF!</v></c>'
    assert "formula without a value" in fault(workbook([*plain, ["lip", formula, 21.5]]))
    assert "#REF!" in fault(workbook([*plain, ["lip", mistake, 21.5]]))
    assert "document type" in fault(workbook(plain, '<!DOCTYPE x [<!ENTITY a "b">]>'))
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("word/document.xml", "<x/>")
    assert "an XLSX workbook" in fault(out.getvalue())


def test_bomb_is_not_unpacked() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b" " * 65_000_000)
    assert len(out.getvalue()) < 1_000_000
    assert "too large when unpacked" in fault(out.getvalue())


def test_exchanged_columns_of_a_trace_are_seen_by_the_drawing() -> None:
    rows = "".join(f"{123.4 + 0.1 * k},{29.0 + 5 * k}\n" for k in range(9))
    expected = {"z_mm": (25.0, 80.0), "r_mm": (110.0, 140.0)}
    text = fault("z,r\n" + rows, "trace", expected=expected)
    assert "exchange the headings of columns A and B" in text and "fits r_mm" in text


def test_exchanged_columns_of_roundness() -> None:
    rows = "".join(f"{0.1 * k:.2f},{10 * k}\n" for k in range(36))
    assert "exchange the headings" in fault("angle,deviation\n" + rows, "roundness")


def test_angle_twice() -> None:
    rows = "".join(f"{10 * k},0.1\n" for k in range(37))
    assert "line 2 has it" in fault("angle,deviation\n" + rows, "roundness")


def test_typed_rows_go_through_the_same_door() -> None:
    read = typed_readings("hardness", [{"place": "seam", "hardness_HV": 245}, {"place": "mid", "hardness_HV": 240.5}])
    assert read.numbers["hardness_HV"] == (245.0, 240.5)
    with pytest.raises(FileFaults, match="correct the name"):
        typed_readings("hardness", [{"place": "seam", "hardness": 245}])
    with pytest.raises(FileFaults, match="a number"):
        typed_readings("hardness", [{"place": "seam", "hardness_HV": "hard"}])
    with pytest.raises(FileFaults, match="at least one row"):
        typed_readings("hardness", [])


@pytest.mark.parametrize("kind", [k.name for k in KINDS])
def test_every_kind_reads_its_own_columns(kind: str) -> None:
    wanted = next(k for k in KINDS if k.name == kind)
    rows = []
    for n in range(max(6, wanted.least_rows)):
        rows.append(
            {c.name: f"p{n}" if c.word else (c.low + (c.high - c.low) * (0.3 + 0.01 * n)) for c in wanted.columns}
        )
    read = typed_readings(kind, rows)
    assert set(read.numbers) | set(read.words) == {c.name for c in wanted.columns}


def test_columns_are_lettered() -> None:
    assert [column_letter(k) for k in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]
