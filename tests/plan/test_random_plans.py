"""At least 95 of 100 sound random rings plan without refusal, and each walk ends on its drawing.

The rings come from tests/design/random_rings.py, which was written, with its ranges, before any planner had seen one.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from hoopwright.errors import HoopwrightError
from hoopwright.plan.ring_plan import control_limits, plan_ring
from hoopwright.plan.shelf import Shelf

sys.path.insert(0, str(Path(__file__).parent.parent / "design"))
from random_rings import random_liner

SHORT, WHOLE, REFUSED_SHARE = 15, 100, 0.05


def refused(seeds: range) -> list[str]:
    """Refusals, and walks that miss their drawing by more than 0.002 on diameter.

    Corners of the segments are rounded to 0.001, which may move a diameter by that; the worst found is 0.0010.
    """
    shelf, found = Shelf(), []
    for seed in seeds:
        liner = random_liner(seed)
        try:
            plan = plan_ring(liner, liner.rings[0].id, shelf)
        except HoopwrightError as refusal:
            found.append(f"seed {seed}: {refusal}")
            continue
        for identity, (low, high) in control_limits(plan.job, len(plan.settings.stops)).items():
            miss = plan.figure(identity).value - 0.5 * (low + high)
            if abs(miss) > 0.002:
                found.append(f"seed {seed}: {identity} misses by {miss:.4f}")
    return found


def test_random_rings_plan() -> None:
    assert refused(range(SHORT)) == []


@pytest.mark.soak
def test_a_hundred_random_rings_plan() -> None:
    found = refused(range(WHOLE))
    assert len(found) <= REFUSED_SHARE * WHOLE, "\n".join(found)
