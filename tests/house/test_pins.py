"""The requirement files: every line pinned and hashed, no address, and all of one mind."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from repository import ROOT

FILES = sorted(ROOT.glob("requirements*.txt"))
PIN = re.compile(r"^([a-z0-9._-]+)==([^\s;\\]+)(?: *; *([^\\]+?))? *\\?$")


def pins(path: Path) -> dict[tuple[str, str], str]:
    """Version by name and condition."""
    found = {}
    for row in path.read_text(encoding="utf-8").splitlines():
        match = PIN.match(row)
        if match:
            found[match.group(1), match.group(3) or ""] = match.group(2)
    return found


def hash_faults(text: str) -> list[str]:
    """Lines that are neither a pin, nor a hash; pins without a hash."""
    wrong, open_pin = [], ""
    for row in text.splitlines():
        if re.match(r"^ +--hash=sha256:[0-9a-f]{64}( \\)?$", row):
            open_pin = ""
            continue
        if open_pin:
            wrong.append(f"no hash: {open_pin}")
        open_pin = row
        if not PIN.match(row):
            wrong.append(f"no pin: {row}")
    return wrong + ([f"no hash: {open_pin}"] if open_pin else [])


def test_all_four_are_there() -> None:
    names = {"requirements.txt", "requirements-dev.txt", "requirements-build.txt", "requirements-uv.txt"}
    assert {path.name for path in FILES} == names


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_line_is_pinned_and_hashed(path: Path) -> None:
    assert pins(path)
    assert hash_faults(path.read_text(encoding="utf-8")) == []


def test_the_hash_check_bites() -> None:
    row = "    --hash=sha256:" + "0" * 64
    assert hash_faults(f"one==1.0 \\\n{row}\n") == []
    assert hash_faults("one==1.0\n") == ["no hash: one==1.0"]
    assert hash_faults(f"one==1.0 \\\n{row}\ntwo>=2\n{row}\n") == ["no pin: two>=2"]
    assert hash_faults(f"# a remark\n{row}\n") == ["no pin: # a remark"]


def test_tests_run_on_the_versions_that_are_shipped() -> None:
    runtime, dev = pins(ROOT / "requirements.txt"), pins(ROOT / "requirements-dev.txt")
    versions = {(name, version) for (name, _), version in dev.items()}
    assert [pin for (name, _), pin in runtime.items() if (name, pin) not in versions] == []


def test_every_dependency_is_pinned() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))

    def names(requirements: list[str]) -> set[str]:
        return {re.split(r"[<>=!~;\[ ]", requirement)[0].lower() for requirement in requirements}

    def pinned(name: str) -> set[str]:
        return {package for package, _ in pins(ROOT / name)}

    assert names(project["project"]["dependencies"]) <= pinned("requirements.txt")
    assert names(project["dependency-groups"]["dev"]) <= pinned("requirements-dev.txt")
    assert names(project["dependency-groups"]["build"]) <= pinned("requirements-build.txt")
    assert pinned("requirements-uv.txt") == {"uv"}
