"""Sheets, JSON, desk and commands of the hot build: wiring, same bytes, nothing lost."""

import datetime as dt
import json
from pathlib import Path

import pypdfium2
import pytest
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.design.demo import demo_liner, demo_text
from hoopwright.desk.explain_source import figures_for
from hoopwright.desk.grow import cold_lines
from hoopwright.desk.hot_build import grow_files, seal_files
from hoopwright.plan.hot.as_json import data_text, grow_data, seal_data
from hoopwright.plan.hot.hot_plan import HotPlan, plan_hot

DAY = dt.date(2031, 3, 1)
run = CliRunner()


@pytest.fixture(scope="module")
def plan() -> HotPlan:
    return plan_hot(demo_liner())


@pytest.fixture(scope="module")
def liner_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("liner") / "liner.toml"
    path.write_text(demo_text("liner.toml"))
    return path


def words(content: bytes) -> str:
    document = pypdfium2.PdfDocument(content)
    return "\n".join(page.get_textpage().get_text_range() for page in document)


def test_papers_say_what_they_must(plan: HotPlan) -> None:
    files = {**grow_files(plan, DAY), **seal_files(plan, DAY)}
    assert {
        "growth-sheet.pdf",
        "growth.json",
        "cold-hot.svg",
        "seal-sheet.pdf",
        "seal.json",
        "HD-430-washer.pdf",
        "HD-440-spring-load.pdf",
        "gap-aft-radial-gap.svg",
    } <= set(files)
    growth = words(files["growth-sheet.pdf"])
    for said in ("all data invented", "port circle", "weld J3", "lumped start", "not a life", "Held back"):
        assert said in growth, said
    spring = words(files["HD-440-spring-load.pdf"])
    for said in ("sheet 0.70 mm", "legs behind the fingers", "Never press cold after ageing"):
        assert said in spring, said
    washer = words(files["HD-430-washer.pdf"])
    for said in ("Lap one face flat within 0.020 mm", "17.13 not go", "common practice, no source"):
        assert said in washer, said
    assert "0.5 mm is asked for" in words(files["seal-sheet.pdf"])
    assert b"movement shown 10 times" in files["cold-hot.svg"]


def test_same_plan_same_bytes(plan: HotPlan) -> None:
    again = plan_hot(demo_liner())
    assert seal_files(again, DAY) == seal_files(plan, DAY)
    assert data_text(grow_data(again)) == data_text(grow_data(plan))


def test_json_holds_every_figure_and_finding(plan: HotPlan) -> None:
    grown, sealed = grow_data(plan), seal_data(plan)
    assert {f["identity"] for f in grown["figures"]} | {f["identity"] for f in sealed["figures"]} == {
        f.identity for f in plan.figures
    }
    assert len(grown["findings"]) + len(sealed["findings"]) == len(plan.findings)
    assert {g["key"] for g in grown["gaps"]} == {"aft-radial-gap", "aft-slip", "nozzle-slide", "port-shift"}
    assert len(grown["stations"]) == 31


def test_commands(liner_file: Path, tmp_path: Path) -> None:
    told = run.invoke(app, ["grow", str(liner_file), "--out", str(tmp_path / "hot"), "--date", "2031-03-01"])
    assert told.exit_code == 1, told.output
    assert "ports along the axis" in told.output
    assert (tmp_path / "hot" / "growth-sheet.pdf").is_file()
    sealed = run.invoke(app, ["seal", str(liner_file), "--json"])
    assert sealed.exit_code == 1
    assert json.loads(sealed.output)["schema"] == "hoopwright-seal-1"


def test_history_from_the_command_line_and_from_the_file(liner_file: Path, tmp_path: Path) -> None:
    liner = demo_liner()
    columns = {r.id: r.metal_degC for r in liner.rings} | {
        "HD-420": 620.0,
        "groove": 650.0,
        "casing": 235.0,
        "casing_mean": 250.0,
    }
    rows = [["time_s", *(f"{c}_degC" for c in columns)]] + [
        [str(t), *(str(20.0 + share * (v - 20.0)) for v in columns.values())]
        for t, share in ((0, 0.0), (60, 0.5), (300, 1.0))
    ]
    (tmp_path / "start.csv").write_text("\n".join(",".join(r) for r in rows))
    told = run.invoke(app, ["grow", str(liner_file), "--history", str(tmp_path / "start.csv")])
    assert "no temperatures through start" not in told.output
    named = tmp_path / "liner.toml"
    named.write_text(demo_text("liner.toml").replace("[thermal]", '[thermal]\nhistory_file = "start.csv"'))
    again = run.invoke(app, ["grow", str(named)])
    assert again.output == told.output
    outside = tmp_path / "sub.toml"
    outside.write_text(demo_text("liner.toml").replace("[thermal]", '[thermal]\nhistory_file = "../start.csv"'))
    refused = run.invoke(app, ["grow", str(outside)])
    assert refused.exit_code == 2
    assert "beside or below the liner file" in refused.output


def test_drawn_hot(liner_file: Path) -> None:
    lines = cold_lines(liner_file)
    assert lines[0].startswith("HD-401, first edge: cold z")
    assert "residual" in lines[-1]
    assert run.invoke(app, ["grow", str(liner_file), "--drawn-hot"]).exit_code == 0


def test_explained(liner_file: Path) -> None:
    for identity in ("HD-400/growth/ports-axial", "HD-440/spring/load-hot", "HD-401/constraint/peak"):
        assert identity in {f.identity for f in figures_for(identity, liner_file)}
