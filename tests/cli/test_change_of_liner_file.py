"""`change --to`: a new liner file against files, against the records, and taken with a name under it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from hoopwright.cli import exits
from hoopwright.cli.main import app
from hoopwright.design.demo import demo_text

DEMO = Path(__file__).parents[2] / "examples" / "demo"
RUNNER = CliRunner()


def run(*words: str | Path) -> Result:
    result = RUNNER.invoke(app, [str(word) for word in words], catch_exceptions=False)
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "liner-a.toml"
    path.write_text(demo_text("liner.toml"), encoding="utf-8")
    return path


@pytest.fixture
def new(tmp_path: Path) -> Path:
    """Revision B: the aft lip of HD-404 a tenth of its profile zone larger, with its control size."""
    text = demo_text("liner.toml")
    for was, now in (
        ('revision = "A"', 'revision = "B"'),
        ("p0_mm = [144.1339, 95.0], p1_mm = [152.0, 95.0]", "p0_mm = [144.1339, 95.0], p1_mm = [152.6, 95.0]"),
    ):
        assert text.count(was) >= 1
        text = text.replace(was, now, 1)
    path = tmp_path / "liner-b.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_by_files_alone(old: Path, new: Path) -> None:
    """An edge 0.6 further aft: rolls keep their contour in half their run-out, the segments do not reach."""
    files = ("--to", new, "--from", old, "--register", DEMO / "register.toml")
    shown = run("change", DEMO / "changes.toml", *files)
    assert shown.exit_code == exits.STOPPED
    assert "HD-404 section" in shown.output and "replace: segment set HT-404-S" in shown.output
    assert "scrap: 404-01 aft" in shown.output and "grow 0.60 mm" in shown.output
    assert "the same in both: HD-401, HD-402, HD-403, HD-411, HD-412, HD-413" in shown.output
    data = json.loads(run("change", DEMO / "changes.toml", *files, "--json").output)
    assert {t["tool"] for t in data["shown"]["impact"]["tools"] if t["verdict"] == "replace"} == {"HT-404-S"}


def test_against_the_records_and_taken(old: Path, new: Path, tmp_path: Path) -> None:
    book = ("--records", tmp_path / "book")
    assert run("take", old, *book).exit_code == exits.DONE
    assert run("take", DEMO / "register.toml", *book).exit_code == exits.DONE
    only_walked = run("change", "--to", new, *book)
    assert "replace: segment set HT-404-S" in only_walked.output and "proposed" in only_walked.output
    taken = run("change", "--to", new, *book, "--taken-by", "A. Planner", "--why", "longer slip joint")
    assert "taken" in taken.output and "HT-404-S is superseded" in taken.output
    again = run("change", "--to", new, *book, "--taken-by", "A. Planner", "--why", "longer slip joint")
    assert again.exit_code == exits.BAD_INPUT and "not taken yet" in again.output


def test_refusals(old: Path, new: Path, tmp_path: Path) -> None:
    nothing = run("change")
    assert nothing.exit_code == exits.BAD_INPUT and "--to with a liner file" in nothing.output
    same = run("change", "--to", old, "--from", old, "--register", DEMO / "register.toml")
    assert same.exit_code == exits.BAD_INPUT and "something differs" in same.output
    named = run("change", "--to", new, "--from", old, "--register", DEMO / "register.toml", "--taken-by", "A. Planner")
    assert named.exit_code == exits.BAD_INPUT and "records rule" in named.output
    text = (DEMO / "changes.toml").read_text(encoding="utf-8").replace('liner = "HD-400"', 'liner = "HD-500"')
    other = tmp_path / "other.toml"
    other.write_text(text, encoding="utf-8")
    wrong = run("change", other, "--to", new, "--from", old, "--register", DEMO / "register.toml")
    assert wrong.exit_code == exits.BAD_INPUT and "HD-500" in wrong.output
