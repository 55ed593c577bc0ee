"""Rules of every test run: no test is skipped or expected to fail, and a run without a test is no success."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from hoopwright.plan.plate.plate_plan import PlatePlan

# Drawn cases are the same in every CI run; on a desk they differ, so that new ones are found there.
settings.register_profile(
    "house",
    deadline=None,
    max_examples=30,
    derandomize=os.environ.get("CI", "").lower() in ("1", "true", "yes"),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")


@pytest.fixture(scope="session")
def plate_plan() -> PlatePlan:
    """The plan of the demonstration's end plate: eight seconds of press runs, made once a run."""
    from hoopwright.design.demo import demo_liner
    from hoopwright.plan.plate.plate_plan import plan_plate

    return plan_plate(demo_liner())


DEFECTS = ("skipped", "xfailed", "xpassed")


def _reports(session: pytest.Session) -> dict[str, list[object]]:
    """Reports by outcome, from the reporter; empty in a worker, which reports to its controller."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    return {} if reporter is None else reporter.stats


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """Turn a skipped or expected failure into a failed run."""
    found = _reports(session)
    if exitstatus == pytest.ExitCode.OK and any(found.get(kind) for kind in DEFECTS):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Name each of them, and say why the run fails."""
    for kind in DEFECTS:
        for report in terminalreporter.stats.get(kind, []):
            where = getattr(report, "nodeid", "?")
            terminalreporter.write_line(f"{kind}: {where}: a test here passes or fails, so the run fails", red=True)
