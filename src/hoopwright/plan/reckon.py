"""The reckoning of one ring: the backward solve with everything later parts of the plan build on."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.findings import Figure, Finding, Input
from hoopwright.plan.route import RouteInRolls
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.solve import Solved, shop_card
from hoopwright.process import size
from hoopwright.process.working import reckoned


def reckon(job: RingJob, chosen: RouteInRolls, solved: Solved) -> Reckoning:
    """States of the ring and the lengths that belong to them."""
    loaded, free, sized = size.stretched(solved.hoop, solved.tool_face_mm, job.metal)
    girth = solved.cut_length_mm - job.limits.weld_shrink_mm.value
    flat = solved.shape * girth / (2.0 * math.pi)
    neutral, cut = _lengths(job, solved)
    hand = _hand_length(job)
    return Reckoning(
        route=chosen.route,
        line=solved.line,
        neutral_length_mm=neutral,
        cut_length_mm=cut,
        curl_strain_log=np.log(solved.hoop.r_mm / flat),
        sizing_strain_log=sized.hoop_strain_log,
        total_strain_log=np.log(free.r_mm / flat),
        strip=solved.rolled,
        hoop=solved.hoop,
        loaded=loaded,
        free=free,
        tool_face_mm=solved.tool_face_mm,
        springback_mm=sized.springback_mm,
        tension_N=sized.hoop_tension_N,
        figures=(neutral, cut, hand),
        findings=tuple(_length_findings(job, chosen, cut, hand)),
    )


def _lengths(job: RingJob, solved: Solved) -> tuple[Figure, Figure]:
    stretch, shrink = job.limits.stretch_plan_eng, job.limits.weld_shrink_mm
    least = job.section.bounds[1]
    smallest = Input("r_min", "smallest mid-surface radius", least, "mm", job.liner.source(f"{job.ring.id}, section"))
    girth = solved.cut_length_mm - shrink.value
    height = girth / (2.0 * math.pi) - size.wanted_in(least, stretch.value)
    rise = Input("h", "neutral fibre above that radius when closed", height, "mm", shop_card(job).ground)
    neutral = reckoned(
        job.identity("strip/neutral-length"),
        "once round, on the neutral fibre of the welded hoop",
        girth,
        "mm",
        "2 pi ( r_min / ( 1 + e ) + h )",
        smallest,
        stretch.as_input("e"),
        rise,
        digits=2,
        note="the neutral fibre of the curled section keeps the strip's length"
        + ("" if solved.line.slope == 0.0 else "; of an arc blank, along its middle"),
    )
    cut = reckoned(
        job.identity("strip/cut-length"),
        "cut length before welding, on the neutral fibre",
        solved.cut_length_mm,
        "mm",
        "L_n + shrink",
        neutral.as_input("L_n"),
        shrink.as_input("shrink"),
        digits=2,
        note=neutral.note,
    )
    return neutral, cut


def _hand_length(job: RingJob) -> Figure:
    """The hand rule, which takes the fibre at the smallest radius as the one that keeps its length."""
    least, stretch = job.section.bounds[1], job.limits.stretch_plan_eng
    return reckoned(
        job.identity("strip/hand-length"),
        "the same by the hand rule, on the smallest mid-surface radius",
        2.0 * math.pi * least / (1.0 + stretch.value),
        "mm",
        "2 pi r_min / ( 1 + e )",
        Input("r_min", "smallest mid-surface radius", least, "mm", job.liner.source(f"{job.ring.id}, section")),
        stretch.as_input("e"),
        digits=2,
        note="shown beside ours: right for a plain hoop; of a contour it comes out short",
    )


def _length_findings(job: RingJob, chosen: RouteInRolls, cut: Figure, hand: Figure) -> list[Finding]:
    hand_cut = hand.value + job.limits.weld_shrink_mm.value
    short = cut.value - hand_cut
    if chosen.route.blank == "arc" or abs(short) < 0.5:
        return []
    more = short / hand_cut
    return [
        Finding(
            "note",
            f"The strip of {job.ring.id} is cut {abs(short):.2f} {'longer' if short > 0 else 'shorter'} than the hand "
            f"rule says.",
            "measure the first girth as welded and correct the next cut by what it misses",
            cut.identity,
            "neutral-fibre",
            f"curling a contour keeps its neutral fibre, not its smallest radius; the hand length would stretch the "
            f"smallest radius by {100 * (job.limits.stretch_plan_eng.value + more):.1f} %",
        )
    ]
