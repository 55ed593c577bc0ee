"""How long the tools of a ring take: forms, solids with their checks, sheets, the whole package, the tool plan."""

from __future__ import annotations

import datetime as dt
import subprocess
import sys
import time
from pathlib import Path

import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.desk.package import ring_package
from hoopwright.desk.paper_names import PAPER_NAMES
from hoopwright.plan.liner_plan import plan_liner
from hoopwright.plan.liner_tools import tools_of_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.ring_tools import RingTools, tool_room_shelf, tools_of
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


def test_one_tool_from_the_command_line(tmp_path: Path) -> None:
    """A whole process, imports and all: under three seconds on a quiet machine."""
    begin = time.perf_counter()
    command = [sys.executable, "-m", "hoopwright", "tools", "HD-402-R", "--out", str(tmp_path / "out")]
    assert subprocess.run(command, capture_output=True, check=False).returncode in (0, 3)
    print(f"one tool, whole process: {time.perf_counter() - begin:.2f} s")
