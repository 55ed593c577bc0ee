"""The pressed plate at the desk: its files whole, its tools by number, refusals that leave no file."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.desk import pressing
from hoopwright.desk.one_tool import make_tool
from hoopwright.errors import InputError
from hoopwright.kernels.profile_build import from_corners
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.plan.shelf import Shelf

DAY = dt.date(2031, 3, 1)


def test_full_package_of_the_plate(plate_plan: PlatePlan) -> None:
    made = pressing.pressed_files(demo_liner(), Shelf(), DAY, True)
    assert made.refused == () and made.stops == 0
    (line,) = made.summary
    assert line.startswith("HD-420: blank Ø 262.90 / 99.14, 9 pre-holes Ø 17.345 on R 91.09, press 974 kN")
    names = set(made.files)
    for kind in ("D", "F"):
        assert {f"HD-420/tools/HD-420-{kind}{end}" for end in (".pdf", "-shut.step", "-shut.glb", "-shut.stl")} <= names
        checks = json.loads(made.files[f"HD-420/tools/HD-420-{kind}-checks.json"])
        assert checks["inputs"] == plate_plan.mark and all(row["ok"] for row in checks["checks"])
    data = json.loads(made.files["HD-420/plate.json"])
    assert data["schema"] == "hoopwright-plate-1" and data["mark"] == plate_plan.mark and data["invented"] is True
    assert [f["identity"] for f in data["figures"]] == [f.identity for f in plate_plan.figures]
    press = data["presses"][-1]
    columns = press["stations"]
    assert len({len(column) for column in columns.values()}) == 1
    assert {"thickness_mm", "strain_hoop_log", "pressure_punch_MPa"} <= set(columns)
    assert len(press["stroke_mm"]) == len(press["force_N"]["punch"])
    assert set(data["faces"]) >= {"port-die", "port-punch", "flange-punch"}


def test_a_press_tool_by_number(tmp_path: Path, plate_plan: PlatePlan) -> None:
    report = make_tool("HD-420-F", folder=tmp_path / "tool")
    assert report.passed and report.mark == plate_plan.mark and len(report.checks) >= 10
    written = {path.name for path in report.files}
    assert {"HD-420-F.pdf", "HD-420-F-shut.step", "HD-420-F-punch.dxf", "HD-420-F-checks.json"} <= written


def test_unknown_press_tools_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="HD-420-Z"):
        make_tool("HD-420-Z", folder=tmp_path / "tool")
    assert not (tmp_path / "tool").exists()
    with pytest.raises(InputError, match="or the end plate's HD-420-D or -F"):
        make_tool("HD-999-R")


def test_a_plate_that_cannot_be_pressed_leaves_its_reason_and_no_file() -> None:
    liner = demo_liner()
    assert liner.end_plate is not None
    sharp = from_corners([(12.0, 63.0), (0.0, 63.0), (0.0, 119.0), (12.0, 119.0)], [1.0, 4.0])
    made = pressing.pressed_files(replace(liner, end_plate=replace(liner.end_plate, section=sharp)), Shelf(), DAY)
    assert made.files == {} and made.summary == ()
    ((name, reason),) = made.refused
    assert name == "HD-420" and "radius of the inner bend" in reason and "draw a larger radius" in reason


def test_a_liner_without_a_plate_adds_nothing() -> None:
    assert pressing.pressed_files(replace(demo_liner(), end_plate=None), Shelf(), DAY) is pressing.NOTHING
