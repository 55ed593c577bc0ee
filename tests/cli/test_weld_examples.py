"""The lines of examples/weld/README.md run as they stand, and say what they are there to show."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from hoopwright.cli import exits
from hoopwright.cli.main import app

ROOT = Path(__file__).parents[2]
README = (ROOT / "examples" / "weld" / "README.md").read_text(encoding="utf-8")
LINES = [line for line in README.splitlines() if line.startswith("hoopwright ")]
SHOWS = {
    "setting": "conduction absorptivity, learnt",
    "trials": "confirmation welds",
    "fit-up": "Fit-up of HD-402 is inside",
    "angle": "The hoop is dented",
    "coupons": "5 weld coupons and 5 of the parent",
    "qualify": "The weld is proved to hold 98.3 %",
    "lot": "Weld lot W07 is not released.",
    "assembly": "Weld J4, J7, J3",
}


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.split()[2])
def test_line_runs(line: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    result = CliRunner().invoke(app, shlex.split(line)[1:], catch_exceptions=False)
    part = line.split()[2]
    assert result.exit_code == (exits.STOPPED if part == "lot" else exits.DONE)
    assert SHOWS[part] in result.output


def test_every_file_of_the_folder_is_used() -> None:
    for path in (ROOT / "examples" / "weld").glob("*.csv"):
        assert f"examples/weld/{path.name}" in README, path.name
    assert {line.split()[2] for line in LINES} == set(SHOWS)
