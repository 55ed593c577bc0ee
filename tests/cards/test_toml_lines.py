"""Lines of keys: hand-counted texts, and every key that the TOML reader finds is found here too."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.cards.library import LIBRARY
from hoopwright.cards.toml_lines import key_path, line_of, locate

TEXT = '''# head
schema = "x" # [not.a.table]
plain.dotted."quoted key" = 1
[liner]
title = """
[ring]
three lines"""
note = '# = ]'

[[ring]]   # the first
id = "A"
control = [
  {name = "land", dia = 1.0},  # one
  {name = "lip", dia = 2.0, deep = {x = [
    1, 2]}},
]
[[ring]]
id = "B"
  [ring.extra]
  p0 = [
    1.0, # first
    2.0,
  ]
[[ring.hole]]
dia = 1
[[ring.hole]]
dia = 2
'''

LINES = {
    "schema": 2,
    "plain.dotted.quoted key": 3,
    "liner": 4,
    "liner.title": 5,
    "liner.note": 8,
    "ring[1]": 10,
    "ring[1].id": 11,
    "ring[1].control": 12,
    "ring[1].control[1].dia": 13,
    "ring[1].control[2].name": 14,
    "ring[1].control[2].dia": 14,
    "ring[1].control[2].deep.x[2]": 15,
    "ring[2].id": 18,
    "ring[2].extra": 19,
    "ring[2].extra.p0[2]": 22,
    "ring[2].hole[1].dia": 25,
    "ring[2].hole[2].dia": 27,
}


def test_hand_counted_lines() -> None:
    found = locate(TEXT)
    assert {key: found[key] for key in LINES} == LINES


def test_the_text_is_sound_toml() -> None:
    assert tomllib.loads(TEXT)["ring"][1]["hole"][1]["dia"] == 2


def test_windows_line_ends() -> None:
    assert locate("a = 1\r\n[b]\r\nc = 2\r\n") == {"a": 1, "b": 2, "b.c": 3}


def test_a_missing_key_stands_where_its_table_stands() -> None:
    lines = locate(TEXT)
    assert line_of(lines, "ring[2].thickness_mm") == 17
    assert line_of(lines, "ring[1].control[1].tol") == 13
    assert line_of(lines, "nowhere") is None


def test_paths_are_counted_from_one() -> None:
    assert key_path(["ring", 0, "section", 2, "p0", 1]) == "ring[1].section[3].p0[2]"


def paths(value: Any, path: str = "") -> list[str]:
    """Every key and list element of read TOML."""
    found = []
    if isinstance(value, dict):
        for key, inner in value.items():
            below = f"{path}.{key}" if path else key
            found += [below, *paths(inner, below)]
    elif isinstance(value, list):
        for place, inner in enumerate(value, start=1):
            found += [f"{path}[{place}]", *paths(inner, f"{path}[{place}]")]
    return found


@pytest.mark.parametrize("path", sorted(LIBRARY.rglob("*.toml")), ids=lambda path: path.stem)
def test_every_key_of_every_card_has_a_line_that_holds_it(path: Any) -> None:
    text = path.read_text(encoding="utf-8")
    lines = locate(text)
    rows = text.splitlines()
    for key in paths(tomllib.loads(text)):
        assert key in lines
        last = key.rpartition(".")[2].partition("[")[0]
        if not key.endswith("]"):
            assert last in rows[lines[key] - 1]


@given(st.text(alphabet="ab[]{}=\"'#\n .,\\", max_size=60))
def test_any_text_is_walked_to_its_end(text: str) -> None:
    assert all(1 <= line <= text.count("\n") + 1 for line in locate(text).values())
