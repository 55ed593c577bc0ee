"""The examples of docs/cards.md are cards that are read, and a program that runs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from coupons_made import Made, write

from hoopwright.cards.alloy import alloy
from hoopwright.cards.reading import card_from_text

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "cards.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", PAGE, re.DOTALL)


@pytest.mark.parametrize("text", [text for text in blocks("toml") if text.startswith("schema")])
def test_card_examples_are_read(text: str) -> None:
    assert card_from_text(text.encode(), "example").entered_by


def test_flow_example_is_read_beside_its_figures() -> None:
    card, flow = blocks("toml")[0], blocks("toml")[1]
    assert card_from_text((card + flow).encode(), "example").flows["first"].law == "swift"


def test_program_example_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (program,) = blocks("python")
    sizes = re.findall(r'Path\("(.*?)"\), \d+, width_mm=(.*?), thickness_mm=(.*?), gauge_length_mm=(.*?)\)', program)
    assert len(sizes) == 3
    for name, width, thickness, gauge in sizes:
        strain, stress, _ = Made().engineering()
        force = stress * float(width) * float(thickness) / 1000.0
        write(Path(name), "Force [kN];Extension [mm]", [force, strain * float(gauge)], ";", ",")
    exec(compile(program, "docs/cards.md", "exec"), {})
    assert alloy("N06002-X0417", tmp_path / "our-cards").yield_MPa().value == pytest.approx(Made().proof, rel=0.01)
