"""What must never stand in this repository. Patterns are joined from pieces, so that this file does not hold them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from repository import ROOT, repository_files, text_of

DOT, SLASH = "[.]", "/"

HOSTS = {
    "registry of Python packages": "pypi" + DOT + "org",
    "its file host": "python" + "hosted" + DOT,
    "registry of JavaScript packages": "(registry" + DOT + ")?npm" + "js" + DOT + "(org|com)",
    "registry of the system's packages": "(debian|ubuntu|fedoraproject)" + DOT + "(org|com)",
    "an index address": "https?:" + SLASH * 2 + r"\S*" + SLASH + "simple" + r"\b",
    "registry of containers": "docker" + DOT + "io" + "|" + "ghcr" + DOT + "io",
}
MACHINE = {
    "a work folder of one machine": r"(?<![\w.])" + SLASH + "work" + SLASH,
    "a home folder": r"(?<![\w.])" + SLASH + "(root|home" + SLASH + r"\w+|Users" + SLASH + r"\w+)" + SLASH,
    "a home folder on Windows": "C:" + r"\\+" + "Users",
    "a folder beside this repository": r"[.][.]" + SLASH + "shared",
}
UNFINISHED = {
    "a task left open": r"\b(TO" + "DO|FIX" + "ME|X" + "XX)" + r"\b",
    "a merge left open": "^(<" + "<{6}|>" + ">{6}) ",
}
UNFINISHED_PYTHON = {
    "a body left out": "NotImplemented" + "Error",
    "a test left out": r"pytest[.](mark[.])?(skip|xfail|importorskip)|unittest[.]skip|" + "raise Skip" + "Test",
    "a type left out": "type: " + r"ignore(?!\[)",
}


def found(patterns: dict[str, str], text: str) -> list[str]:
    """What of these patterns stands in a text, each with its line."""
    hits = []
    for what, pattern in patterns.items():
        for match in re.finditer(pattern, text, re.MULTILINE):
            hits.append(f"line {text.count(chr(10), 0, match.start()) + 1}: {what}: {match.group()!r}")
    return hits


def faults(patterns: dict[str, str], paths: list[Path]) -> list[str]:
    """The same for files, each hit with its file."""
    texts = ((path, text_of(path)) for path in paths)
    return [
        f"{path.relative_to(ROOT)}: {hit}" for path, text in texts if text is not None for hit in found(patterns, text)
    ]


@pytest.mark.parametrize("patterns", [HOSTS, MACHINE, UNFINISHED], ids=["hosts", "machine", "unfinished"])
def test_no_file_holds_it(patterns: dict[str, str]) -> None:
    assert faults(patterns, repository_files()) == []


def test_no_python_file_is_unfinished() -> None:
    python = [path for path in repository_files() if path.suffix == ".py"]
    assert len(python) > 20
    assert faults(UNFINISHED_PYTHON, python) == []


@pytest.mark.parametrize(
    ("patterns", "text"),
    [
        (HOSTS, "see https:" + "//pypi" + ".org/project/x"),
        (HOSTS, "--index-url http:" + "//mirror.local/simple"),
        (MACHINE, 'path = "' + "/work" + '/main"'),
        (MACHINE, "/home" + "/someone/x"),
        (UNFINISHED, "x = 1  # TO" + "DO later"),
        (UNFINISHED_PYTHON, "    raise NotImplemented" + "Error"),
        (UNFINISHED_PYTHON, "@pytest.mark." + "skip(reason='x')"),
    ],
)
def test_the_patterns_bite(patterns: dict[str, str], text: str) -> None:
    assert found(patterns, text)


def test_ordinary_text_passes() -> None:
    text = "The framework/house/workpiece is in src/root/x; see tests/homework/ and the skipped pass of a roll."
    assert not found(HOSTS | MACHINE | UNFINISHED | UNFINISHED_PYTHON, text)
