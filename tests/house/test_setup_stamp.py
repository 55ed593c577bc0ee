"""Set-up does what is needed and nothing twice."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from house import setup, stamp
from house.say import Missing

FILES = ("requirements.txt", "requirements-dev.txt", "requirements-build.txt", "requirements-uv.txt", "pyproject.toml")


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    for name in FILES:
        (tmp_path / name).write_text(f"{name} 1\n", encoding="utf-8")
    return tmp_path


def test_nothing_to_do_when_all_is_the_same(checkout: Path) -> None:
    want = stamp.wanted(checkout, "dev")
    stamp.write(checkout, want)
    assert stamp.read(checkout) == want
    assert stamp.work_to_do(stamp.read(checkout), stamp.wanted(checkout, "dev"), True) == "nothing"


@pytest.mark.parametrize(
    "name", ["requirements-dev.txt", "requirements-build.txt", "requirements-uv.txt", "pyproject.toml"]
)
def test_a_changed_file_asks_for_a_sync(checkout: Path, name: str) -> None:
    have = stamp.wanted(checkout, "dev")
    (checkout / name).write_text("something else\n", encoding="utf-8")
    assert stamp.work_to_do(have, stamp.wanted(checkout, "dev"), True) == "sync"


def test_test_pins_do_not_concern_the_demo(checkout: Path) -> None:
    have = stamp.wanted(checkout, "runtime")
    (checkout / "requirements-dev.txt").write_text("something else\n", encoding="utf-8")
    assert stamp.work_to_do(have, stamp.wanted(checkout, "runtime"), True) == "nothing"


def test_another_python_or_place_asks_for_a_rebuild(checkout: Path) -> None:
    have = stamp.wanted(checkout, "runtime")
    assert stamp.work_to_do(replace(have, python="3.11.0"), have, True) == "rebuild"
    assert stamp.work_to_do(replace(have, root="elsewhere"), have, True) == "rebuild"
    assert stamp.work_to_do(have, have, False) == "rebuild"


def test_an_environment_without_a_stamp_is_brought_to_the_pins(checkout: Path) -> None:
    assert stamp.work_to_do(None, stamp.wanted(checkout, "dev"), True) == "sync"


def test_a_damaged_stamp_counts_as_none(tmp_path: Path) -> None:
    for text in ("", "{", "[]", '{"level": "dev"}'):
        (tmp_path / stamp.STAMP).write_text(text, encoding="utf-8")
        assert stamp.read(tmp_path) is None
    stamp.clear(tmp_path)
    assert stamp.read(tmp_path) is None
    stamp.clear(tmp_path)


def test_a_demo_keeps_the_test_tools(checkout: Path) -> None:
    assert stamp.level_to_keep(None, "runtime") == "runtime"
    assert stamp.level_to_keep(stamp.wanted(checkout, "runtime"), "dev") == "dev"
    assert stamp.level_to_keep(stamp.wanted(checkout, "dev"), "runtime") == "dev"


def test_a_missing_interpreter_does_not_start(tmp_path: Path) -> None:
    assert not setup.starts(tmp_path / "python")


def test_no_venv_module_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setitem(__import__("sys").modules, "venv", None)
    with pytest.raises(Missing, match="no `venv` module") as stop:
        setup.make_venv(tmp_path / "v")
    assert "python3-venv" in stop.value.remedy


def test_no_pip_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(setup, "run", lambda command, quiet=False: 1)
    with pytest.raises(Missing, match="neither `pip` nor `ensurepip`"):
        setup.pip_command()


def test_a_failed_set_up_leaves_no_stamp(monkeypatch: pytest.MonkeyPatch, checkout: Path) -> None:
    venv = checkout / "v"
    venv.mkdir()
    stamp.write(venv, replace(stamp.wanted(checkout, "dev"), pins="older"))
    monkeypatch.setattr(setup, "ROOT", checkout)
    monkeypatch.setattr(setup, "VENV", venv)
    monkeypatch.setattr(setup, "starts", lambda python: True)
    monkeypatch.setattr(setup, "get_uv", lambda: None)
    monkeypatch.setattr(setup, "sync_with_pip", lambda level: False)
    with pytest.raises(Missing, match="could not be installed"):
        setup.ensure("dev")
    assert stamp.read(venv) is None


def test_pip_takes_over_where_uv_fails(monkeypatch: pytest.MonkeyPatch, checkout: Path) -> None:
    venv = checkout / "v"
    venv.mkdir()
    asked: list[str] = []
    monkeypatch.setattr(setup, "ROOT", checkout)
    monkeypatch.setattr(setup, "VENV", venv)
    monkeypatch.setattr(setup, "starts", lambda python: True)
    monkeypatch.setattr(setup, "get_uv", lambda: Path("uv"))
    monkeypatch.setattr(setup, "sync_with_uv", lambda uv, level: asked.append("uv") is not None)
    monkeypatch.setattr(setup, "sync_with_pip", lambda level: asked.append("pip") is None)
    setup.ensure("runtime")
    assert asked == ["uv", "pip"]
    assert stamp.read(venv) == stamp.wanted(checkout, "runtime")
    setup.ensure("runtime")
    assert asked == ["uv", "pip"]
