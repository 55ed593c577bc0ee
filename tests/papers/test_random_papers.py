"""Papers of rings nobody drew for them: every sheet of a random ring is clear, every file is made.

The rings come from tests/design/random_rings.py, which was written before any planner or sheet had seen one.
"""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path

import pytest
from dxf_tags import chain, document
from look import outside, smallest_text_mm, text_over_lines, text_over_text

from hoopwright.errors import HoopwrightError
from hoopwright.papers.ring_files import ring_files
from hoopwright.papers.sheet_frame import BOTTOM, LEFT, RIGHT, TOP
from hoopwright.papers.walk_from_plan import walk_content
from hoopwright.papers.walk_sheet import walk_sheets
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.shelf import Shelf

sys.path.insert(0, str(Path(__file__).parent.parent / "design"))
from random_rings import random_liner

DAY = dt.date(2031, 3, 1)
SHORT, LONG = range(100, 103), range(100)


def faults(seed: int, shelf: Shelf) -> list[str] | None:
    """What an eye would find on the sheets of one random ring, and chains of its DXF files that are not closed.

    None where the plan refuses the ring.
    """
    liner = random_liner(seed)
    try:
        plan = plan_ring(liner, liner.rings[0].id, shelf)
    except HoopwrightError:
        # whether a ring may be refused is asked in tests/plan/test_random_plans.py
        return None
    found: list[str] = []
    for number, sheet in enumerate(walk_sheets(walk_content(plan, DAY)), start=1):
        looks = (text_over_text(sheet), text_over_lines(sheet), outside(sheet, (LEFT, BOTTOM, RIGHT, TOP)))
        found += [f"seed {seed} sheet {number}: {look}" for look in looks if look]
        if smallest_text_mm(sheet) < 2.95:
            found.append(f"seed {seed} sheet {number}: lettering below 2.95")
    files = ring_files(plan, DAY)
    for name in (n for n in files if n.endswith(".dxf")):
        read = document(files[name])
        own = [e for layer in ("CUT", "CONTOUR", "PROFILE") for e in read.of_kind("LWPOLYLINE", layer)]
        if [chain(e).closed for e in own] != [True]:
            found.append(f"seed {seed} {name}: not one closed chain")
    return found


def test_papers_of_random_rings() -> None:
    shelf = Shelf()
    assert [faults(seed, shelf) for seed in SHORT] == [[]] * len(SHORT)


@pytest.mark.soak
def test_papers_of_a_hundred_random_rings() -> None:
    shelf = Shelf()
    looked_at = [faults(seed, shelf) for seed in LONG]
    assert [fault for ring in looked_at if ring is not None for fault in ring] == []
    assert sum(ring is not None for ring in looked_at) >= 95
