"""start.py: what it says to an old Python, what it takes, what it hands on, what it refuses."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest
from repository import ROOT

from house import commands, places, testing
from house.say import Missing

START = ROOT / "start.py"


def test_old_interpreters_can_read_it() -> None:
    text = START.read_text(encoding="utf-8")
    ast.parse(text, feature_version=(3, 4))
    assert not re.search(r"\bf['\"]|:=|\bnonlocal\b|\bprint\b", text)


def test_an_old_interpreter_is_told_what_to_do() -> None:
    program = "import start; sys = __import__('sys'); sys.stdout.write(start.too_old((3, 8, 1)))"
    answer = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True)
    assert answer.stdout.startswith("Python 3.8 is too old: hoopwright needs 3.11 or newer.\n  Do: ")


def test_house_uses_the_standard_library_only() -> None:
    for path in [START, *(ROOT / "house").glob("*.py")]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom):
                names = [node.module or ""]
            for name in names:
                assert name.split(".")[0] in sys.stdlib_module_names | {"house"}, f"{path.name} imports {name}"


@pytest.mark.parametrize("command", ["demo", "test", "check", "docs", "bench", "soak", "serve", "pins"])
def test_command_is_known(command: str) -> None:
    known, rest = commands.parse([command])
    assert known.command == command
    assert rest == []


@pytest.mark.parametrize("command", ["demo", "serve", "soak", "bench"])
def test_further_options_are_handed_on(command: str) -> None:
    known, rest = commands.parse([command, "--out", "folder", "-k", "x"])
    assert known.command == command
    assert rest == ["--out", "folder", "-k", "x"]


@pytest.mark.parametrize(
    "arguments", [[], ["dance"], ["test", "--fast"], ["check", "it"], ["docs", "--chek"], ["changelog"]]
)
def test_what_is_not_understood_is_refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        commands.parse(arguments)
    assert stop.value.code == 2
    assert "start.py" in capsys.readouterr().err


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        commands.parse(["--help"])
    text = capsys.readouterr().out
    for command in ("demo", "test", "check", "docs", "bench", "soak", "serve"):
        assert re.search(rf"^ +{command} ", text, re.MULTILINE)
    assert "tried on Linux only" in " ".join(text.split())


def test_house_page_names_every_command_and_stage() -> None:
    page = (ROOT / "docs" / "house.md").read_text(encoding="utf-8")
    for command in ("demo", "test", "check", "docs", "bench", "soak", "serve", "changelog VERSION", "pins"):
        assert f"| `{command}` |" in page
    for stage in testing.test_stages({}, ()):
        assert f"| `{stage.name}` |" in page


def test_missing_is_said_and_ends_with_2(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def stop(known: object, rest: object) -> int:
        raise Missing("there is no anvil.", "buy one")

    monkeypatch.setattr(commands, "carry_out", stop)
    assert commands.main(["check"]) == 2
    assert capsys.readouterr().err == "start.py: there is no anvil.\n  Do: buy one\n"


def test_programs_of_an_environment() -> None:
    assert places.program("ruff", Path("v"), windows=False) == Path("v", "bin", "ruff")
    assert places.program("ruff", Path("v"), windows=True) == Path("v", "Scripts", "ruff.exe")


def test_ci_calls_the_same_command() -> None:
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[0] == "#!/usr/bin/env bash"
    assert "set -euo pipefail" in lines
    assert lines[-1] == "exec python3 start.py test"
