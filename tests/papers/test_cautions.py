"""Cautions stand with the operations they belong to, and defer to those who decide."""

from __future__ import annotations

import pytest

from hoopwright.papers.cautions import CAUTIONS, RULE, belonging, of_operation


def test_numbers_and_topics_are_unique() -> None:
    numbers = [c.number for c in CAUTIONS]
    assert numbers == sorted(set(numbers))
    assert len({c.topic for c in CAUTIONS}) == len(CAUTIONS)


@pytest.mark.parametrize(
    ("kind", "topics"),
    [
        ("cut", {"laser", "sharp edges", "metal dust"}),
        ("roll", {"sharp edges", "in-running nip"}),
        ("weld", {"laser", "metal dust", "shielding gas", "residues"}),
        ("anneal", {"furnace", "residues"}),
        ("size", {"expander energy", "flying parts", "pull and travel", "lifting"}),
        ("press", {"press"}),
    ],
)
def test_each_operation_shows_its_own(kind: str, topics: set[str]) -> None:
    assert {c.topic for c in of_operation(kind)} == topics


def test_furnace_is_only_shown_when_annealing() -> None:
    plain = {c.topic for c in belonging(["cut", "roll", "weld", "size"])}
    assert "furnace" not in plain
    assert "furnace" in {c.topic for c in belonging(["cut", "anneal"])}


def test_release_is_always_said_and_last() -> None:
    assert [c.topic for c in belonging([])] == ["release"]
    assert belonging(["size", "cut"])[-1].topic == "release"


def test_they_are_short_and_quiet() -> None:
    for caution in CAUTIONS:
        assert len(caution.text) < 240
        assert "!" not in caution.head + caution.text
        assert caution.head.endswith(".")
    for word in ("law", "machine maker", "licensed", "competent"):
        assert word in RULE
