"""The package of one ring written whole; a tool that cannot be built is named and leaves nothing; commands."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from hoopwright.cli import exits
from hoopwright.cli.main import app
from hoopwright.design.demo import demo_text
from hoopwright.desk import one_tool
from hoopwright.desk import package as desk
from hoopwright.desk.other_core import OtherCore
from hoopwright.desk.planning import plan_to_folder
from hoopwright.errors import GeometryError, InputError
from hoopwright.tools import solids, tool_solids
from hoopwright.tools.solids import library, read_step

sys.path.insert(0, str(Path(__file__).parent.parent / "tools"))
from demo_tools import tools

RUNNER = CliRunner()
RING = "HD-411"


def run(*words: str | Path) -> Result:
    return RUNNER.invoke(app, [str(word) for word in words], catch_exceptions=False)


@pytest.fixture
def liner_file(tmp_path: Path) -> Path:
    path = tmp_path / "liner.toml"
    path.write_text(demo_text("liner.toml"), encoding="utf-8")
    return path


def test_full_plan_of_a_ring_is_written_whole(liner_file: Path, tmp_path: Path) -> None:
    told: list[str] = []
    done = plan_to_folder(liner_file, tmp_path / "out", (RING,), desk.DEMO_DATE, progress=told.append, full=True)
    names = {str(p.relative_to(done.folder)) for p in done.files}
    assert {f"{RING}/papers/{RING}-{name}.pdf" for name in desk.PAPER_NAMES} <= names
    for kind in tool_solids.KINDS:
        assert f"{RING}/tools/{RING}-{kind}-checks.json" in names
        assert any(n.startswith(f"{RING}/tools/{RING}-{kind}") and n.endswith(".step") for n in names)
    assert {"tools/HD-400-tool-plan.pdf", "tools/HD-400-P.step", f"{RING}/{RING}-tables.xlsx"} <= names
    assert done.refused == () and f"{RING}: solids and sheets" in told
    for path in done.files:
        assert path.stat().st_size > 0
        if path.name.endswith("-checks.json"):
            rows = json.loads(path.read_text(encoding="utf-8"))["checks"]
            assert rows and all(row["ok"] for row in rows)
    loaded = read_step((done.folder / RING / "tools" / f"{RING}-S-loaded.step").read_bytes())
    form = tools(RING).parts.form
    assert [b.name for b in loaded][: form.count] == [f"{RING}-S segment {k}" for k in range(1, form.count + 1)]
    places = [solids.centre(b) for b in loaded[: form.count]]
    # clockwise from above: the second segment lies towards -y
    assert places[0][0] > 0.0 and abs(places[0][1]) < 1e-6 and places[1][1] < 0.0


def test_what_cannot_be_built_is_named_and_leaves_no_file(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise GeometryError(
            "HD-411-S segment: round edges to R 1", "not built", "", "buildable", "use a smaller edge radius"
        )

    monkeypatch.setattr(tool_solids, "rounded_segment", broken)
    files, _, refused = desk.ring_package(tools(RING), desk.DEMO_DATE)
    assert [tool for tool, _ in refused] == [f"{RING}-S"]
    assert "round edges" in refused[0][1] and "smaller edge radius" in refused[0][1]
    assert not any(f"{RING}-S" in name and name.endswith((".step", ".glb", ".stl", ".json")) for name in files)
    assert any(f"{RING}-R" in name and name.endswith(".step") for name in files)


def test_a_refused_tool_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise GeometryError("HD-411-S segment: cut by slot", "not built", "", "buildable", "move the cut")

    monkeypatch.setattr(tool_solids, "sharp_segment", broken)
    with pytest.raises(GeometryError, match="cut by slot"):
        one_tool.make_tool(f"{RING}-S", folder=tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_without_the_cad_library_papers_still_come(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bring = library.importlib.import_module

    def gone(module: str, package: str | None = None) -> object:
        if module.startswith("OCP"):
            raise ImportError(module)
        return bring(module, package)

    library.kernel.cache_clear()
    monkeypatch.setattr(library.importlib, "import_module", gone)
    try:
        with pytest.raises(InputError, match="cad"):
            one_tool.make_tool(f"{RING}-T", folder=tmp_path / "none")
    finally:
        monkeypatch.undo()
        library.kernel.cache_clear()
    assert not (tmp_path / "none").exists()
    report = one_tool.make_paper("machine-card", RING, folder=tmp_path / "one")
    assert [p.name for p in report.files] == [f"{RING}-machine-card.pdf"]


def test_tools_command(tmp_path: Path) -> None:
    shown = run("tools", f"{RING}-B", "--out", tmp_path / "base")
    assert shown.exit_code == exits.DONE
    assert "standing checks hold" in shown.output and f"{RING}-B.step" in shown.output.replace("\n", "")
    assert (tmp_path / "base" / f"{RING}-B.glb").is_file()
    as_json = json.loads(run("tools", f"{RING}-T", "--json").output)
    assert as_json["tool"] == f"{RING}-T" and len(as_json["checks"]) == 9 and as_json["files"] == []


def test_pin_of_the_liner(tmp_path: Path) -> None:
    report = one_tool.make_tool("HD-400-P", folder=tmp_path / "pin")
    assert report.passed
    assert {p.name for p in report.files} == {
        f"HD-400-P{end}" for end in (".step", ".glb", ".stl", "-checks.json", ".dxf")
    }


@pytest.mark.parametrize("tool", ["HD-411", "HD-411-X", "HD-999-S", ""])
def test_unknown_tools_are_refused(tool: str) -> None:
    shown = run("tools", tool)
    assert shown.exit_code == exits.code_of(InputError("tool", tool, "", ""))
    assert "HD-401-S" in shown.output


def test_paper_command(tmp_path: Path) -> None:
    listed = run("paper", "list")
    assert listed.output.split() == list(desk.PAPER_NAMES)
    shown = run("paper", "tool-labels", "--ring", RING, "--out", tmp_path / "labels")
    assert shown.exit_code == exits.DONE and (tmp_path / "labels" / f"{RING}-tool-labels.pdf").is_file()
    assert "--ring" in run("paper", "tool-labels").output
    assert "definition" in run("paper", "nothing", "--ring", RING).output


def double(number: int) -> int:
    return 2 * number


def refuse(number: int) -> int:
    raise InputError("number", number, "", "another one", "enter another number")


@pytest.mark.parametrize("wanted", [True, False])
def test_work_in_the_other_process_gives_what_it_gives_here(wanted: bool) -> None:
    with OtherCore(lambda: None, wanted) as other:
        assert other.ask(double, 21).result() == 42
        with pytest.raises(InputError, match="enter another number"):
            other.ask(refuse, 3).result()
        assert other.ask(double, 4).result() == 8


def test_a_process_that_gets_not_ready_leaves_the_work_here() -> None:
    def unready() -> None:
        raise ImportError("CAD library")

    with OtherCore(unready) as other:
        assert other.ask(double, 5).result() == 10


def test_both_cores_write_the_same_files(tmp_path: Path) -> None:
    reports = [one_tool.make_tool(f"{RING}-B", folder=tmp_path / str(both), both_cores=both) for both in (False, True)]
    for one, two in zip(*(report.files for report in reports), strict=True):
        assert one.name == two.name and one.read_bytes() == two.read_bytes()
    assert reports[0].checks == reports[1].checks
