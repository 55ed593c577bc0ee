"""Plans of the demonstration, made once for all tests of this folder."""

from __future__ import annotations

import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.plan.liner_plan import LinerPlan, plan_liner
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.shelf import Shelf


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """One shelf of cards."""
    return Shelf()


@pytest.fixture(scope="session")
def demo(shelf: Shelf) -> LinerPlan:
    """All seven rings."""
    return plan_liner(demo_liner(), shelf)


@pytest.fixture(scope="session")
def hat(demo: LinerPlan) -> RingPlan:
    """HD-402: land, joggle, crown, lip."""
    return demo.ring("HD-402")


@pytest.fixture(scope="session")
def demo_topics(demo: LinerPlan) -> dict[str, set[str]]:
    """Topics of the findings of each ring."""
    return {plan.job.ring.id: {finding.topic for finding in plan.findings} for plan in demo.rings}
