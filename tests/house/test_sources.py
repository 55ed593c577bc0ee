"""Every source file says what it is for, every kernel says its units, every vendored file keeps its licence."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path

import pytest
from repository import ROOT, repository_files

SOURCE = ROOT / "src" / "hoopwright"
PYTHON = [path for path in repository_files() if path.suffix == ".py"]
MODULES = [path for path in PYTHON if SOURCE in path.parents]
KERNELS = [path for path in MODULES if path.parent.name == "kernels" and path.name != "compiled.py"]
VENDORED_SUFFIXES = {".ttf", ".otf", ".woff", ".woff2", ".js", ".mjs", ".css"}
WORD = r"(?:mm|um|m|MPa|GPa|Pa|kN|N|kJ|J|W|K|rad|deg|degC|s|kg|g|1|-|%)(?:\^?-?[0-9]|[²³⁴])?"
UNIT = re.compile(rf"\[{WORD}(?:(?: and |[ /*·,;()]+){WORD})*\)?\]|\b(?:mm|MPa|rad|degC)\b|\bunitless\b")
ROOM_FILE_LIMIT = 600


def shown(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def public_functions(tree: ast.Module) -> list[ast.FunctionDef]:
    return [n for n in tree.body if isinstance(n, ast.FunctionDef) and not n.name.startswith("_")]


def unit_faults(text: str, name: str) -> list[str]:
    """Public functions of a kernel module that no docstring, theirs or the module's, gives a unit."""
    tree = ast.parse(text)
    whole = UNIT.search(ast.get_docstring(tree) or "") is not None
    wrong = []
    for function in public_functions(tree):
        own = ast.get_docstring(function)
        if own is None:
            wrong.append(f"{name}: {function.name} has no docstring")
        elif not whole and UNIT.search(own) is None:
            wrong.append(f"{name}: {function.name} names no unit, and neither does the head of the module")
    return wrong


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_module_says_what_it_is_for(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text == "" or ast.get_docstring(ast.parse(text)), f"{shown(path)} has no module docstring"


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_module_is_short_enough(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= ROOM_FILE_LIMIT


@pytest.mark.parametrize("path", KERNELS, ids=shown)
def test_kernel_states_units(path: Path) -> None:
    assert unit_faults(path.read_text(encoding="utf-8"), shown(path)) == []


def test_the_unit_check_bites() -> None:
    silent = '"""A module."""\ndef length(x):\n    """Its length."""\n'
    assert unit_faults(silent, "m") == ["m: length names no unit, and neither does the head of the module"]
    assert unit_faults('"""A module."""\ndef length(x):\n    pass\n', "m") == ["m: length has no docstring"]
    assert unit_faults(silent.replace("Its length.", "Its length. [mm]"), "m") == []
    assert unit_faults(silent.replace("A module.", "Coordinates [mm]."), "m") == []


@pytest.mark.parametrize(
    "text", ["[1]", "[-]", "[N mm/mm]", "[mm, rad]", "[MPa]", "[1/mm^2]", "[mm²]", "in mm and N", "[W/(m K)]"]
)
def test_units_are_seen(text: str) -> None:
    assert UNIT.search(text)


@pytest.mark.parametrize("text", ["[str]", "list[float]", "[mats]", "a hammer", "x[1:2]", "[]"])
def test_other_brackets_are_no_units(text: str) -> None:
    assert not UNIT.search(text)


def test_test_files_have_names_of_their_own() -> None:
    names = Counter(path.name for path in PYTHON if path.name.startswith(("test_", "bench_")))
    assert [name for name, count in names.items() if count > 1] == []


def test_licence_is_there() -> None:
    assert (ROOT / "LICENSE").read_text(encoding="utf-8").startswith("MIT License")


def notices(folder: Path) -> list[Path]:
    """Licence texts that lie in a folder."""
    return [p for p in folder.iterdir() if re.match(r"(licen[cs]e|ofl|notice|copying)", p.stem, re.IGNORECASE)]


def test_vendored_files_keep_their_licences() -> None:
    """A font lies beside a licence text; a script or style of others lies in a folder called vendor, with one."""
    vendored = [
        path
        for path in repository_files()
        if path.suffix in VENDORED_SUFFIXES
        and (path.suffix in {".ttf", ".otf", ".woff", ".woff2"} or "vendor" in path.parts)
    ]
    assert [shown(path) for path in vendored if not notices(path.parent)] == []


def test_the_licence_check_sees_notices(tmp_path: Path) -> None:
    assert notices(tmp_path) == []
    (tmp_path / "OFL.txt").write_text("licence", encoding="utf-8")
    assert [p.name for p in notices(tmp_path)] == ["OFL.txt"]
