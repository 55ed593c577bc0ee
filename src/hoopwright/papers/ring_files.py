"""Everything a ring's plan gives to the shop as files: DXF of blank, rolls and segments, and the walk sheet."""

from __future__ import annotations

import datetime as dt

from hoopwright.papers.dxf_blank import blank_dxf
from hoopwright.papers.dxf_rolls import roll_pair_dxf
from hoopwright.papers.dxf_segments import segment_dxf
from hoopwright.papers.tools_from_plan import blank_of, rolls_of, segments_of
from hoopwright.papers.walk_from_plan import walk_content
from hoopwright.papers.walk_sheet import walk_pdf
from hoopwright.plan.ring_plan import RingPlan


def ring_files(plan: RingPlan, date: dt.date) -> dict[str, bytes]:
    """File names and contents of one ring, in the order of use; same plan and date, same bytes."""
    ring = plan.job.ring.id
    rolls = rolls_of(plan)
    pair = roll_pair_dxf(rolls.pair, ring)
    return {
        f"{ring}-walk.pdf": walk_pdf(walk_content(plan, date), date),
        f"{ring}-blank.dxf": blank_dxf(blank_of(plan)),
        f"{ring}-roll-inner.dxf": pair["inner"],
        f"{ring}-roll-outer.dxf": pair["outer"],
        f"{ring}-segments.dxf": segment_dxf(segments_of(plan)),
    }
