"""What may not stand in a record is refused at the door, with field and remedy."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.records.judging import Concession
from hoopwright.records.making import Part, Reading, Tool
from hoopwright.records.material import LinerRevision, Sheet
from hoopwright.records.shape import checked_name

TOOL: dict[str, Any] = {
    "id": "HT-1", "liner": "HD-400", "what": "segment set", "serves": "HD-402", "revision": "A", "state": "trial",
}  # fmt: skip
READING: dict[str, Any] = {
    "liner": "HD-400", "what": "girth", "characteristic": "lip", "unit": "mm", "serial": "402-01", "taken_by": "QE",
}  # fmt: skip


@pytest.mark.parametrize(
    "name",
    ["", "../x", "a/b", "a\\b", ".hidden", "a b", "x" * 81, "-rf", "nul", "CON.txt", "com1", "a..b", "end.", "é", "a\n",
     "x\x00", "a:b", "a%2fb", "\u202egnp"],
)  # fmt: skip
def test_names_that_trick_paths_are_refused(name: str) -> None:
    with pytest.raises(InputError):
        checked_name("id", name)


@given(st.text(max_size=90))
def test_a_name_that_passes_is_one_plain_file_name(name: str) -> None:
    try:
        checked_name("id", name)
    except InputError:
        return
    assert name.isascii() and not set(name) & set('/\\:*?"<>|% \n') and name not in (".", "..") and len(name) <= 80


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"state": "dead"}, "one of in design"), ({"hits": -1}, "whole number"), ({"hits": True}, "whole number"),
        ({"stock_mm": float("nan")}, "finite"), ({"stock_mm": -0.1}, "from 0 to 100"),
        ({"note": "a\x1b[2J"}, "control"),
        ({"note": "x" * 2001}, "at most|of 0 to 2000"), ({"what": "  "}, "of 1 to"),
        ({"settings": (("pin stop", 1.0),)}, "letters"), ({"settings": (("a", float("inf")),)}, "finite"),
        ({"note": "\u202etxt.exe"}, "control"),
    ],
)  # fmt: skip
def test_tool_rules(wrong: dict[str, Any], says: str) -> None:
    with pytest.raises(InputError, match=says):
        Tool(**{**TOOL, **wrong})


def test_reading_rules() -> None:
    Reading(**READING, value=1.0)
    Reading(**READING, series=(1.0, 2.0))
    for wrong, says in (
        ({}, "a number, or a series"), ({"value": float("inf")}, "finite"),
        ({"value": 1.0, "serial": None}, "of a serial"),
        ({"series": (1.0, float("nan"))}, r"series\[2\]"), ({"value": True}, "a number"),
        ({"value": 1.0, "taken_at": dt.datetime(2031, 1, 1)}, "zone"), ({"value": 1.0, "held": "tight"}, "one of"),
    ):  # fmt: skip
        with pytest.raises(InputError, match=says):
            Reading(**{**READING, **wrong})


def test_a_place_is_in_a_build() -> None:
    with pytest.raises(InputError, match="together with"):
        Part(id="402-01", liner="HD-400", part="HD-402", revision="A", place="HD-402")


def test_a_liner_revision_is_known_by_its_content() -> None:
    with pytest.raises(InputError, match="SHA-256"):
        LinerRevision(id="0" * 64, liner="HD-400", revision="A", content="x")


def test_a_granted_concession_bears_a_name() -> None:
    given_fields: dict[str, Any] = {
        "id": "C-1", "liner": "HD-400", "serial": "402-01", "characteristic": "lip", "unit": "mm", "measured": 1.3,
        "high": 1.0, "effect": "none", "asked_by": "QE",
    }  # fmt: skip
    assert Concession(**given_fields).beyond == pytest.approx(0.3)
    with pytest.raises(InputError, match="named signatory"):
        Concession(**given_fields, state="granted")


def test_sheet_thickness_is_in_bounds() -> None:
    with pytest.raises(InputError, match=r"mm; it must be from 0\.05 to 10"):
        Sheet(id="S", cast="X", thickness_mm=25.4)
