"""How long the tools of a ring take: forms, solids with their checks, sheets, the whole package, the tool plan."""

from __future__ import annotations

import datetime as dt
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.desk.one_tool import make_tool
from hoopwright.desk.package import ring_package
from hoopwright.desk.paper_names import PAPER_NAMES
from hoopwright.plan.liner_plan import plan_liner
from hoopwright.plan.liner_tools import tools_of_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.ring_tools import RingTools, tools_of
from hoopwright.plan.tool_making import tool_room_shelf
from hoopwright.tools.tool_solids import solids_of

pytestmark = pytest.mark.bench
DAY = dt.date(2031, 3, 1)


@pytest.fixture(scope="module")
def tools() -> RingTools:
    made = tools_of(plan_ring(demo_liner(), "HD-402"), tool_room_shelf())
    solids_of(made.forms, "T")
    return made


def test_forms(benchmark, tools: RingTools) -> None:  # type: ignore[no-untyped-def]
    benchmark(lambda: tools_of(tools.plan, tools.shelf))


@pytest.mark.parametrize("kind", ["R", "S"])
def test_solids_and_checks(benchmark, tools: RingTools, kind: str) -> None:  # type: ignore[no-untyped-def]
    benchmark.pedantic(lambda: solids_of(tools.forms, kind), rounds=2)


def test_ring_package(benchmark, tools: RingTools) -> None:  # type: ignore[no-untyped-def]
    files, _, refused = benchmark.pedantic(lambda: ring_package(tools, DAY), rounds=1)
    assert not refused and len(files) > len(PAPER_NAMES)


def test_tool_plan_of_a_liner(benchmark) -> None:  # type: ignore[no-untyped-def]
    plan = plan_liner(demo_liner())
    benchmark.pedantic(lambda: tools_of_liner(plan), rounds=1)


COMMAND = "import sys; from hoopwright.cli.main import main; sys.argv[0] = 'hoopwright'; main()"


@pytest.mark.parametrize("kind", ["R", "S"])
def test_one_tool_cold(tmp_path: Path, kind: str) -> None:
    """A whole process, imports and all, files written, on both cores; times of the second of two runs."""
    for _ in range(2):
        wall, used = time.perf_counter(), os.times()
        command = [sys.executable, "-c", COMMAND, "tools", f"HD-402-{kind}", "--out", str(tmp_path / "out")]
        assert subprocess.run(command, capture_output=True, check=False).returncode in (0, 1)
        wall, after = time.perf_counter() - wall, os.times()
    spent = after.children_user + after.children_system - used.children_user - used.children_system
    print(f"HD-402-{kind}, cold: {wall:.2f} s wall, {spent:.2f} s of processor on all cores")
    assert (tmp_path / "out" / f"HD-402-{kind}-checks.json").is_file()


@pytest.mark.parametrize("kind", ["R", "S", "B", "T", "W"])
def test_one_tool_warm(tmp_path: Path, kind: str) -> None:
    """Planned, built, checked, drawn and written again in a process that has done it once (the page's case)."""
    make_tool("HD-402-T")
    wall, spent = time.perf_counter(), time.process_time()
    report = make_tool(f"HD-402-{kind}", folder=tmp_path / "out")
    wall, spent = time.perf_counter() - wall, time.process_time() - spent
    assert report.files and all(check.ok for check in report.checks)
    print(f"HD-402-{kind}, warm: {wall:.2f} s wall, {spent:.2f} s of processor")
