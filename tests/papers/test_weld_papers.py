"""Weld papers: cautions on every page, extractable words, the same bytes for the same lot."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pypdfium2
import pytest

from hoopwright.desk.weld import Sheet, weld_assembly, weld_coupons, weld_lot, weld_setting, weld_trials
from hoopwright.papers.weld.common import WeldTitle
from hoopwright.papers.weld.records import Operator, operators_pdf

DAY = dt.date(2031, 3, 1)
SHEET = Sheet("N06625", 0.8)


def pages(path: Path) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    texts = [re.sub(r"\s+", " ", document[k].get_textpage().get_text_range()) for k in range(len(document))]
    document.close()
    return texts


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    at = tmp_path_factory.mktemp("weld")
    reports = [
        weld_setting(SHEET, (600.0, 40.0, 0.3, 0.0), None, False, (0.03, 0.015), at / "s", DAY),
        weld_trials(SHEET, None, 1, 20, at / "t", DAY)[0],
        weld_coupons(SHEET, 0.015, 0.98, 0.90, at / "c", DAY),
        weld_lot(None, "W07", 0.8, 764.01, "demo-house", None, at / "l", DAY),
        weld_assembly(None, 1.0, None, True, None, at / "a", DAY),
    ]
    return {path.name: pages(path) for report in reports for path in report.files if path.suffix == ".pdf"}


def test_every_paper_is_there(made: dict[str, list[str]]) -> None:
    assert set(made) == {
        "weld-procedure.pdf",
        "weld-trials.pdf",
        "weld-qualification.pdf",
        "weld-operators.pdf",
        "weld-lot-W07.pdf",
        "weld-qualification-W07.pdf",
        "assembly-welds.pdf",
    }


def test_laser_and_fume_are_named_on_every_page(made: dict[str, list[str]]) -> None:
    for name, texts in made.items():
        for number, text in enumerate(texts, start=1):
            assert "laser of class 4, poisonous fume" in text, (name, number)
        whole = " ".join(texts)
        assert "Lasers cut and weld with a beam of class 4" in whole, name
        assert "Dust and fume of nickel, chromium and cobalt are poisonous" in whole, name
        assert "not safety instructions" in whole, name


def test_lot_record_says_why(made: dict[str, list[str]]) -> None:
    text = " ".join(made["weld-lot-W07.pdf"])
    for words in ("Held back.", "Weld lot W07 is not released.", "cause is the fit-up", "402-04", "0.939", "on hold"):
        assert words in text


def test_trial_sheet_has_room_for_readings(made: dict[str, list[str]]) -> None:
    text = " ".join(made["weld-trials.pdf"])
    assert "weld next" in text and "underfill" in text


def test_same_inputs_same_bytes_and_operators_listed(tmp_path: Path) -> None:
    first, again = (weld_lot(None, "W07", 0.8, None, "demo-house", None, tmp_path / k, DAY).files[0] for k in "ab")
    assert first.read_bytes() == again.read_bytes()
    about = WeldTitle("Cell 1", "list", "-", "0000 0000", DAY)
    path = tmp_path / "operators.pdf"
    path.write_bytes(operators_pdf(about, (Operator("A. B.", "14732-7", "WP-1", "2032-01-31"),)))
    assert "14732-7" in " ".join(pages(path))
