"""The import contract of this repository holds, covers every room, and fails when it is broken."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from repository import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
CONTRACTS = {contract["id"]: contract for contract in PROJECT["tool"]["importlinter"]["contracts"]}
SOUND = {
    "errors": "",
    "findings": "from hoopwright.errors import x",
    "kernels": "import numpy\nfrom hoopwright.findings import x",
    "cards": "import tomllib\nfrom hoopwright.kernels import x",
    "design": "from hoopwright.cards import x",
    "process": "from hoopwright.kernels import x",
    "tools": "from hoopwright.process import x",
    "plan": "from hoopwright.tools import x",
    "measure": "from hoopwright.plan import x",
    "correct": "from hoopwright.measure import x",
    "papers": "import ezdxf\nfrom hoopwright.plan import x",
    "records": "import sqlalchemy\nfrom hoopwright.design import x",
    "desk": "from hoopwright.papers import x",
    "cli": "import typer\nfrom hoopwright.desk import x",
    "web": "import fastapi\nfrom hoopwright.desk import x",
}


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run the contract of this repository on a package of the same name in another folder."""
    program = "import sys; from importlinter.cli import lint_imports_command; lint_imports_command()"
    command = [sys.executable, "-c", program, "--config", str(folder / "pyproject.toml"), "--no-cache"]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def skeleton(folder: Path, changed: dict[str, str]) -> Path:
    """A package with one small module for each room; `changed` replaces or adds modules, by dotted path."""
    (folder / "pyproject.toml").write_text((ROOT / "pyproject.toml").read_text(encoding="utf-8"), encoding="utf-8")
    package = folder / "hoopwright"
    package.mkdir()
    (package / "__init__.py").write_text("", encoding="utf-8")
    for name, text in (SOUND | changed).items():
        parent = package.joinpath(*name.split("."))
        parent.mkdir(parents=True, exist_ok=True)
        (parent / "__init__.py").write_text(f"{text}\nx = 1\n", encoding="utf-8")
    return folder


def test_sound_skeleton_passes(tmp_path: Path) -> None:
    answer = lint(skeleton(tmp_path, {}))
    assert answer.returncode == 0, answer.stdout + answer.stderr


@pytest.mark.parametrize(
    ("contract", "changed"),
    [
        ("rooms", {"kernels": "from hoopwright.cards import x"}),
        ("rooms", {"process": "def f():\n    from hoopwright.plan import x\n    return x"}),
        ("rooms", {"errors": "from hoopwright.findings import x"}),
        ("rooms", {"attic": ""}),
        ("kernels", {"kernels": "import tomllib"}),
        ("kernels", {"kernels.inner": "import pydantic"}),
        ("cad", {"papers": "import build123d"}),
        ("front", {"cli": "from hoopwright.kernels import x"}),
        ("front", {"web": "from hoopwright.records import x"}),
    ],
    ids=["upward", "upward-inside-function", "floor", "unlisted-room", "file", "schema", "cad", "front", "front-web"],
)
def test_broken_skeleton_fails(tmp_path: Path, contract: str, changed: dict[str, str]) -> None:
    answer = lint(skeleton(tmp_path, changed))
    assert answer.returncode == 1, answer.stdout + answer.stderr
    said = " ".join(answer.stdout.split())
    assert f"{CONTRACTS[contract]['name']} BROKEN" in said, answer.stdout


def test_solids_may_touch_the_cad_library(tmp_path: Path) -> None:
    answer = lint(skeleton(tmp_path, {"tools.solids": "import build123d"}))
    assert answer.returncode == 0, answer.stdout + answer.stderr


def test_front_contract_knows_every_room() -> None:
    """A new room is either behind the desk (forbidden to the front) or a front itself."""
    rooms = {path.parent.name for path in (ROOT / "src" / "hoopwright").glob("*/__init__.py")}
    front = CONTRACTS["front"]
    fronts = {name.split(".")[1] for name in front["source_modules"]}
    behind = {name.split(".")[1] for name in front["forbidden_modules"]}
    assert rooms - {"desk", "papers"} == fronts | behind
    assert fronts == rooms & {"cli", "web"}
