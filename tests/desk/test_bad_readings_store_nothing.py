"""Of a faulty file nothing is stored, whatever is wrong with it; of a wrong word nothing either."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest
from job_maker import copied, make_job

from hoopwright.desk.read_in import About, read_file, read_typed
from hoopwright.desk.record_book import enter, look, records, value_from
from hoopwright.desk.take_files import take
from hoopwright.errors import FileFaults, InputError, Overtaken
from hoopwright.records.making import Part, Reading
from hoopwright.records.material import SourceFile

HEAD = "station,diameter_mm,part_degC\n"
GOOD = HEAD + "lip_od,247.48,21.5\nland_id,246.85,21.5\n"
BAD: dict[str, bytes] = {
    "empty": b"",
    "last row empty cell": (GOOD + "lip_od,,21.5\n").encode(),
    "last row word": (GOOD + "lip_od,big,21.5\n").encode(),
    "last row nan": (GOOD + "lip_od,nan,21.5\n").encode(),
    "unit in cell": (GOOD + "lip_od,247.48 mm,21.5\n").encode(),
    "thousands": b"station;diameter_mm;part_degC\nlip_od;1.247,48;21,5\n",
    "exchanged columns": b"station,part_degC,diameter_mm\nlip_od,247.48,21.5\n",
    "off the plan": (GOOD + "lip_od,217.48,21.5\n").encode(),
    "missing column": b"station,diameter_mm\nlip_od,247.48\n",
    "utf-16": GOOD.encode("utf-16"),
    "null byte": GOOD.encode().replace(b"lip", b"l\x00p"),
    "a program": b"\x7fELF\x02\x01",
    "broken zip": b"PK\x03\x04 and nothing",
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_job(tmp_path_factory.mktemp("made") / "job", readings=False)


@pytest.fixture
def job(made: Path, tmp_path: Path) -> Path:
    return copied(made, tmp_path / "job")


def journal_of(job: Path) -> list[int]:
    with records(job) as store:
        return [entry.seq for entry in store.journal(5000)]


@pytest.mark.parametrize("name", BAD)
def test_of_a_faulty_file_nothing_is_stored(job: Path, tmp_path: Path, name: str) -> None:
    file = tmp_path / ("bad.xlsx" if name == "broken zip" else "bad.csv")
    file.write_bytes(BAD[name])
    before = journal_of(job)
    with pytest.raises(FileFaults) as caught:
        read_file(job, "girth", file, About("402-91", ring="HD-402", hit=1, segment_set="HT-402-S"), "QE")
    assert file.name in str(caught.value) and "Do: " in str(caught.value)
    assert journal_of(job) == before
    with records(job) as store:
        assert store.count(Reading) == store.count(SourceFile) == store.count(Part) == 0


def test_oversize_and_strange_files_are_not_even_read(job: Path, tmp_path: Path) -> None:
    big = tmp_path / "big.csv"
    with big.open("wb") as stream:
        stream.truncate(20_000_000_000)
    with pytest.raises(FileFaults, match="MB"):
        read_file(job, "girth", big, About("402-91", ring="HD-402"), "QE")
    with pytest.raises(InputError, match="at most"):
        take(job, big, "QE")
    for name in ("gone.csv", "gone.toml"):
        with pytest.raises(InputError):
            read_file(job, "girth", tmp_path / name, About("402-91", ring="HD-402"), "QE")
        with pytest.raises(InputError):
            take(job, tmp_path / name, "QE")


@pytest.mark.parametrize(
    "text", ["", "not toml [", 'schema = "other-1"', "[1, 2]", '{"schema": 3}', "\x00", "schema = 'hoopwright-plan-1'"]
)
def test_files_that_are_none_of_the_house(job: Path, tmp_path: Path, text: str) -> None:
    file = tmp_path / "x.toml"
    file.write_text(text, encoding="utf-8")
    before = journal_of(job)
    with pytest.raises(InputError):
        take(job, file, "QE")
    assert journal_of(job) == before


def test_a_good_file_is_taken_once_and_brought_to_20_degC(job: Path, tmp_path: Path) -> None:
    file = tmp_path / "girths.csv"
    file.write_text(GOOD.replace("21.5", "30"), encoding="utf-8")
    found = read_file(job, "girth", file, About("402-91", ring="HD-402", hit=1, segment_set="HT-402-S"), "QE")
    assert len(found.ids) == 2 and "is new" in found.notes[0]
    with records(job) as store:
        kept = store.get(Reading, found.ids[0]).thing
    # tape and ring warm together: nickel expands more than the tape, so the cold ring is the smaller
    assert kept.value is not None and 247.46 < kept.value < 247.48 and kept.expanded is not None
    assert dict(kept.more)["as_read_mm"] == 247.48 and kept.line == 2 and kept.part_degC == 30.0
    with pytest.raises(InputError, match="it was taken"):
        read_file(job, "girth", file, About("402-92", ring="HD-402"), "QE")
    with records(job) as store:
        assert store.count(Part) == 1


def test_a_workbook_is_taken_and_its_formula_is_not(job: Path, tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in (["place", "hardness_HV"], ["a", 231.0], ["b", 235.5]):
        book.active.append(row)
    book.save(tmp_path / "hv.xlsx")
    found = read_file(job, "hardness", tmp_path / "hv.xlsx", About("402-91", ring="HD-402"), "QE")
    assert [value for _, value, _, _ in found.sizes] == [231.0, 235.5]
    book.active["B2"] = "=1+1"
    book.save(tmp_path / "sly.xlsx")
    with pytest.raises(FileFaults, match="formula"):
        read_file(job, "hardness", tmp_path / "sly.xlsx", About("402-91"), "QE")


@pytest.mark.parametrize(
    ("what", "typed", "about", "says"),
    [
        ("girth", [("lip_od", "24.748")], {}, "near what the plan expects"),
        ("girth", [("lip_od", "two")], {}, "a number"),
        ("girth", [("lip_od", "")], {}, "a number"),
        ("girth", [("lip_od", "nan")], {}, "from"),
        ("girth", [], {}, "one or more"),
        ("mood", [("lip_od", "1")], {}, "kind of reading"),
        ("roundness", [("0", "1")], {}, "give it as a file"),
        ("girth", [("lip_od", "247.5")], {"subject": "../../etc"}, "letters"),
        ("girth", [("lip_od", "247.5")], {"subject": "402-99", "ring": ""}, "--ring"),
        ("girth", [("lip_od", "247.5")], {"ring": "HD-999"}, "HD-999"),
        ("girth", [("lip_od", "247.5")], {"of": "moon"}, "serial, sheet, tool or lot"),
        ("thickness", [("a", "0.8")], {"of": "sheet", "subject": "S-99"}, "a sheet in the records"),
        ("girth", [("lip\x1b[2J", "247.5")], {}, "control signs"),
        ("girth", [("lip", "247.5")], {"hit": 1}, "land_id, lip_od"),
    ],
)
def test_wrong_words_store_nothing(
    job: Path, what: str, typed: list[tuple[str, str]], about: dict[str, Any], says: str
) -> None:
    before = journal_of(job)
    with pytest.raises(InputError, match=says):
        read_typed(job, what, typed, About(**{"subject": "402-91", "ring": "HD-402", **about}), "QE")
    assert journal_of(job) == before


def test_values_from_words() -> None:
    assert value_from("reading", "value", "247,48") == 247.48 == value_from("reading", "value", " 247.48 ")
    assert value_from("tool", "settings", "pin_stop_mm = 44,8; film = 0.05 polymer") == (
        ("pin_stop_mm", 44.8), ("film", "0.05 polymer"),
    )  # fmt: skip
    assert value_from("weld_lot", "parent_tensile_MPa", "778; 779,5") == (778.0, 779.5)
    assert value_from("part", "build", "") is None
    for kind, field, said in (("reading", "value", "1.247,48"), ("tool", "hits", "1.5"), ("tool", "colour", "red"),
                              ("concession", "expires", "soon"), ("tool", "settings", "44.8")):  # fmt: skip
        with pytest.raises(InputError):
            value_from(kind, field, said)


def test_a_change_with_an_old_version_is_refused(job: Path) -> None:
    seen = look(job, "tool", "HT-402-S").version
    enter(job, "tool", "HT-402-S", {"place": "press 2"}, "MD", version=seen)
    with pytest.raises(Overtaken, match="changed by MD"):
        enter(job, "tool", "HT-402-S", {"place": "shelf"}, "QE", version=seen)
    assert look(job, "tool", "HT-402-S").fields["place"] == "press 2"
