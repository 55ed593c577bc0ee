"""Commands size, choose and study: words in, files out, refusals by name."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.desk.sizing import incoming_of
from hoopwright.desk.studying import StudyPlan, study_mark, study_ring
from hoopwright.errors import InputError
from hoopwright.plan.hooping.ask import Incoming
from hoopwright.plan.study.forward import PLACES, Ran
from tests.plan.study.small_study import demo_plan, small_ask


def test_size_writes_pictures_and_numbers(tmp_path: Path) -> None:
    out = tmp_path / "out"
    told = CliRunner().invoke(app, ["size", "HD-402", "--out", str(out), "--wave", "2,0.5,30", "--date", "2031-03-01"])
    assert told.exit_code == 0, told.output
    assert "HD-402 comes off 8 segments after 2 hits" in told.output
    assert "HD-402/segments-run/hit-2/free-lip-dia" in told.output and "guard shut" in told.output
    data = json.loads((out / "HD-402-size.json").read_text())
    known = {figure["identity"]: figure["value"] for figure in data["figures"]}
    assert known["HD-402/segments-run/hit-2/free-lip-dia"] == pytest.approx(247.61, abs=0.01)
    names = {path.name for path in out.iterdir()}
    assert {"HD-402-pull.svg", "HD-402-hit-1-incoming-drawn-out.svg", "HD-402-hit-2-strain.svg"} <= names
    assert (out / "HD-402-size.pdf").read_bytes().startswith(b"%PDF")
    rows = (out / "HD-402-hit-2-round.csv").read_text().splitlines()
    assert rows[0] == "clock_deg,radius_mm" and len(rows) > 300


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["size", "HD-499"], "HD-499"),
        (["size", "HD-402", "--wave", "two"], "--wave"),
        (["size", "HD-402", "--errors", "0.1,0.2"], "a list of 8"),
        (["size", "HD-402", "--errors", "0.1;0.2"], "--errors"),
        (["size", "HD-402", "--seam-zone", "99"], "weld width is 99"),
        (["study", "HD-402", "--samples", "1"], "samples is 1"),
        (["study", "HD-402", "--seed", "-4"], "seed is -4"),
        (["study", "HD-402", "--processes", "0"], "processes is 0"),
        (["choose", "HD-499"], "HD-499"),
    ],
)
def test_nonsense_is_refused(words: list[str], said: str) -> None:
    told = CliRunner().invoke(app, words)
    assert told.exit_code == 2
    assert said in told.output


def test_words_become_what_comes_in() -> None:
    found = incoming_of(("2,0.5,30", "3,0.1,0"), 11.25, 2.4, 0.95, "0,0.01")
    assert found == Incoming(2.4, 0.95, ((2, 0.5, 30.0), (3, 0.1, 0.0)), 11.25, (0.0, 0.01))
    with pytest.raises(InputError, match="--wave"):
        incoming_of(("2,0.5",), None, None, None, None)


def invented(number: int, draw: NDArray[np.float64]) -> Ran:
    """A run that costs nothing: sizes and roundness in proportion to the draws."""
    angle = np.linspace(0.0, 2.0 * np.pi, PLACES, endpoint=False)
    values = {"free-land-dia": 246.9 + 0.03 * draw[0], "free-lip-dia": 247.6 + 0.04 * draw[1]}
    values |= {"thinnest": 0.787 + 0.01 * draw[0], "pull": 30.0 + draw[2], "strain-peak": 2.0 + 0.1 * draw[2]}
    profile = 0.01 * np.cos(8.0 * angle) + 0.01 * draw[3] * np.cos(2.0 * angle)
    return Ran(number, {name: float(value) for name, value in values.items()}, profile)


def test_study_to_a_folder_and_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The journal lies in the folder; the same study again makes no run, another one is refused."""
    ask, plan = small_ask(), demo_plan()
    monkeypatch.setattr("hoopwright.desk.studying.scattered", lambda *_: (ask.inputs, ("hair",)))
    monkeypatch.setattr("hoopwright.desk.studying.study_ask", lambda *_: ask)
    made: list[int] = []

    def counting(*_: object) -> object:
        def run(_ask: object, rows: list[tuple[int, NDArray[np.float64]]]) -> list[Ran]:
            made.append(len(rows))
            return [invented(number, draw) for number, draw in rows]

        return run

    monkeypatch.setattr("hoopwright.desk.studying.runner", counting)
    wanted = StudyPlan(500, 24, 16, 3, False, 256)
    first = study_ring(plan, wanted, Incoming(), tmp_path / "s")
    again = study_ring(plan, wanted, Incoming(), tmp_path / "s")
    assert made == [40, 0]
    assert again.rows == first.rows and "keep every limit" in first.sentence and first.missing == ("hair",)
    assert {path.name for path in first.files} == {"HD-402-study.json", "HD-402-study.svg", "HD-402-study.jsonl"}
    assert json.loads((tmp_path / "s" / "HD-402-study.json").read_text())["seed"] == 3
    assert study_mark(plan, ask, wanted) != study_mark(plan, ask, StudyPlan(500, 24, 16, 4, False, 256))
    with pytest.raises(InputError, match="of this very study"):
        study_ring(plan, StudyPlan(500, 24, 16, 4, False, 256), Incoming(), tmp_path / "s")


def test_a_figure_of_the_run_explains_itself() -> None:
    told = CliRunner().invoke(app, ["explain", "HD-402/segments-run/hit-2/free-lip-dia"])
    assert told.exit_code == 0, told.output
    assert "D_round + segments" in told.output and "what segments, friction, seam and oval add" in told.output
