"""The sheet of a ring on its segments: the ring through its hits, roundness, stretch, pull, figures, findings."""

from __future__ import annotations

import datetime as dt

from hoopwright.papers.blocks import Block, beside, picture, space
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.hooping.girth_strain import girth_strain
from hoopwright.papers.hooping.pull_picture import pull_picture
from hoopwright.papers.hooping.ring import exaggeration, ring_on_segments
from hoopwright.papers.hooping.roundness import polar_roundness
from hoopwright.papers.hooping.view import HitView, views
from hoopwright.papers.hot.common import INVENTED, figure_table, finding_blocks, sheet_pdf
from hoopwright.papers.numbers import written
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.scales import paper_box
from hoopwright.papers.sheet_frame import INNER_WIDTH, Title
from hoopwright.papers.shop.kit import caution_blocks
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.solve import shop_card
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments
from hoopwright.process.step import Step

RING_MM = 52.0
"""Width of a ring's picture on the sheet."""

POLAR_SCALE = 0.88


def segments_run_pdf(plan: RingPlan, run: Hooped, operation: SizeOnSegments, step: Step, date: dt.date) -> bytes:
    """The sheet as PDF; same run and date, same bytes."""
    liner, stops = plan.job.liner, [finding for finding in step.findings if finding.level == "stop"]
    title = Title(
        plan.job.ring.id,
        "ring on its segments",
        f"{liner.id} rev {liner.revision}",
        liner.revision,
        plan.mark,
        date.isoformat(),
        (INVENTED,) if liner.invented else (),
        stops[0].sentence if stops else "",
        max(0, len(stops) - 1),
    )
    return sheet_pdf(title, _blocks(plan, run, operation, step), date)


def _blocks(plan: RingPlan, run: Hooped, operation: SizeOnSegments, step: Step) -> list[Block]:
    seen = views(run, operation, shop_card(plan.job))
    pull = pull_picture(run, operation)
    blocks: list[Block] = [
        paragraph(
            "Seen along the axis, angles clockwise from the middle of segment 1, which stays at the top. The section "
            "and the segments are reckoned apart and added; the sum is not proven by a solid run.",
            INNER_WIDTH,
        ),
        heading("A", "Through the hits"),
        *(block for view in seen for block in _rings(view)),
        heading("B", "Departure from round: dashed on the segments, full let off"),
        beside([(88.0 * k, _polar(view)) for k, view in enumerate(seen[-2:])]),
        space(3.0),
        heading("C", "Stretch once round"),
        *(_shown(girth_strain(view, 146.0), 6.0) for view in seen),
        space(3.0),
        heading("D", "Pin pull"),
        _shown(pull, 10.0),
        space(3.0),
        heading("E", f"Figures of hit {run.last.number}"),
        *figure_table([f for f in step.figures if f"/hit-{run.last.number}/" in f.identity], "figures"),
        *finding_blocks(step.findings, "F"),
        *caution_blocks(("size",)),
    ]
    return blocks


def _rings(view: HitView) -> list[Block]:
    states = ("incoming", "loaded", "free") if view.number == 1 else ("loaded", "free")
    said, shown = [], []
    for k, state in enumerate(states):
        times = exaggeration(view, state)
        drawn = ring_on_segments(view, state, times)
        scale = RING_MM / (2.0 * 1.14 * view.turned_mm)
        shown.append((60.0 * k, picture(drawn, paper_box(drawn, scale), scale)))
        said.append(f"{_WORDS[state]} × {written(times, 0)}")
    return [
        paragraph(f"Hit {view.number} of {view.of}, departures drawn larger: {', '.join(said)}.", INNER_WIDTH),
        beside(shown),
        space(2.0),
    ]


_WORDS = {"incoming": "as welded", "loaded": "on the segments", "free": "let off"}


def _polar(view: HitView) -> Block:
    drawn = polar_roundness(view, ("loaded", "free"))
    return picture(drawn, paper_box(drawn, POLAR_SCALE), POLAR_SCALE, 2.0)


def _shown(drawing: Drawing, x: float = 0.0) -> Block:
    return picture(drawing, paper_box(drawing, 1.0), 1.0, x)
