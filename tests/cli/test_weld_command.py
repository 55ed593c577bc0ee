"""The command `weld` as a person runs it: answers, exit codes, refusals."""

from __future__ import annotations

import json
from pathlib import Path

from typer.testing import CliRunner, Result

from hoopwright.cli import exits
from hoopwright.cli.main import app

RUNNER = CliRunner()


def run(*words: str | Path) -> Result:
    result = RUNNER.invoke(app, ["weld", *(str(word) for word in words)], catch_exceptions=False)
    assert "Traceback" not in result.output
    return result


SHEET = ("--material", "N06625", "--thickness", "0.8")


def test_setting_with_and_without_sense() -> None:
    shown = run("setting", "--power", "600", "--speed", "40", *SHEET)
    assert shown.exit_code == exits.DONE and "Laser of class 4" in shown.output
    as_data = json.loads(run("setting", "--power", "600", "--speed", "40", *SHEET, "--json").output)
    assert any(f["identity"] == "seam/weld/face-width" for f in as_data["figures"])
    refused = run("setting", "--power", "60000", "--speed", "40", *SHEET)
    assert refused.exit_code == exits.BAD_INPUT and "what machine demo-laser can be set to" in refused.output


def test_lot_is_held_and_says_so() -> None:
    shown = run("lot", "W07", "--thickness", "0.8", "--cut-length", "764.01")
    assert shown.exit_code == exits.STOPPED
    assert "Weld lot W07 is not released." in shown.output and "764.03" in shown.output
    assert run("lot", "W99", "--thickness", "0.8").exit_code == exits.BAD_INPUT


def test_trials_start_with_eight(tmp_path: Path) -> None:
    shown = run("trials", *SHEET, "--out", tmp_path / "papers")
    assert shown.exit_code == exits.DONE and "trial 8:" in shown.output and "trial 9:" not in shown.output
    assert (tmp_path / "papers" / "weld-trials.pdf").read_bytes().startswith(b"%PDF")
    assert run("trials", *SHEET, "--budget", "5").exit_code == exits.BAD_INPUT


def test_coupons_and_assembly() -> None:
    assert "5 weld coupons and 5 of the parent" in run("coupons", *SHEET).output
    shown = run("assembly", "--free-length", "0.2")
    assert shown.exit_code == exits.STOPPED and "Weld J4, J7, J3" in shown.output
    assert run("assembly", "--datum", "left").exit_code == exits.BAD_INPUT
    assert run("assembly", "--nozzle", "N06002,N06625").exit_code == exits.BAD_INPUT
