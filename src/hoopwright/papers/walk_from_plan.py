"""From a ring's plan to what its walk sheet shows: choice and wording only, no arithmetic of the trade."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping

import numpy as np

from hoopwright.findings import Figure, Finding
from hoopwright.papers.numbers import NO_BREAK, diameter, written
from hoopwright.papers.pictures.icons import Icon
from hoopwright.papers.pictures.ring_drawing import control_name
from hoopwright.papers.pictures.strain_wash import Strained
from hoopwright.papers.sheet_frame import Title
from hoopwright.papers.tools_from_plan import blank_of, rolls_of, segments_of, stop_table_of
from hoopwright.papers.walk_content import Shown, WalkContent, WalkRow
from hoopwright.plan.ring_plan import RingPlan, control_limits
from hoopwright.plan.solve import shop_card
from hoopwright.process.budget import strain_budget
from hoopwright.process.size import control_word
from hoopwright.process.step import Step

PRINTED: dict[str, tuple[str, ...]] = {
    "cut": ("rough-length", "width", "outer-slant-cut", "inner-slant-cut", "sector", "end-allowance", "pieces", "mass"),
    "roll": ("depth", "set-gap", "running-gap", "slip", "inside-radius"),
    "curl": ("loaded-radius", "natural-radius", "neutral-height"),
    "close": ("cut-length", "least-radius"),
    "weld": ("shrinkage", "softened-width", "seam-peak", "prior-strain", "seam-strain", "joint-strength"),
    "size": ("stop", "hold_s", "springback", "tension", "loaded-", "free-", "stretch"),
    "trim": ("forward-edge", "aft-edge", "forward-metal-off", "aft-metal-off", "edge-break"),
    "drill": ("flow-area", "edge-to-seam"),
}
"""Last word of the identities a row prints, by kind of step; of other kinds everything is printed."""

SUBJECTS = {
    "blank": "cut", "strip": "close", "route": "roll", "press": "size", "segments": "size", "stop": "size",
    "budget": "size", "holes": "drill",
}  # fmt: skip
"""Kind of step at which a finding about a chapter of the plan is shown; others have the step's own name."""

NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def walk_content(plan: RingPlan, date: dt.date) -> WalkContent:
    """Everything the walk sheet of a planned ring shows."""
    job = plan.job
    limits = shown_limits(plan)
    known = {figure.identity: figure for figure in plan.figures}
    return WalkContent(
        title=Title(
            number=job.ring.id,
            purpose="Walk through the shop, from sheet to ring",
            drawn_from=f"{job.liner.id} {job.liner.revision}",
            revision=job.liner.revision,
            inputs=plan.mark,
            date=date.isoformat(),
            marks=("demonstration, all data invented",) if job.liner.invented else (),
        ),
        answer=answer(plan),
        budget_words=budget_words(plan),
        rows=_rows(plan, limits),
        findings=plan.findings,
        proven=plan.proven,
        proof=proof_words(plan),
        blank=blank_of(plan),
        blank_figures=tuple(Shown(f) for f in plan.blank.figures),
        rolls=rolls_of(plan),
        segments=segments_of(plan),
        seam_deg=_seam(plan, len(plan.settings.stops)),
        stops=stop_table_of(plan),
        press=tuple(_shown(known.get(f.identity, f), limits) for f in plan.sizing.press.figures),
    )


def count_word(count: int) -> str:
    """A small count in letters."""
    return NUMBER_WORDS[count] if 0 <= count < len(NUMBER_WORDS) else str(count)


def proof_words(plan: RingPlan) -> str:
    """What the proof run says of its control sizes, in a sentence; empty where none was made."""
    proof = plan.proof
    if proof is None:
        return ""
    sizes = ", ".join(f"{size.name.replace('_', ' ')} {written(size.residual_mm, 4)}" for size in proof.sizes)
    head = f"Proven: residual {sizes}" if proof.holds else f"Proof run leaves a residual: {sizes}"
    cut = proof.length.cut_mm - proof.length.reckoned_mm
    return (
        f"{head}; section and hoop kernels over the whole walk, tools corrected by it; cut {written(abs(cut), 2)} "
        f"{'longer' if cut > 0.0 else 'shorter'} than reckoned."
    )


def answer(plan: RingPlan) -> str:
    """The walk in one or two sentences, with the figures a person asks for first."""
    figures = {figure.identity: figure for figure in plan.figures}
    job, hits = plan.job, len(plan.settings.stops)
    blank = plan.blank
    if blank.sector is None:
        start = f"strip {written(blank.length_mm, 0)} × {written(blank.width_mm, 1)}"
    else:
        turn = written(math.degrees(blank.sector.angle_rad), 2)
        inner, outer = written(blank.sector.inner_mm, 2), written(blank.sector.outer_mm, 2)
        start = f"a sector of {turn}° between R {inner} and R {outer}"
    passes = len(plan.settings.passes)
    first = (
        f"From {start}, rolled in {count_word(passes)} pass{'es' if passes != 1 else ''}, cut to "
        f"{written(plan.settings.cut_length_mm, 2)} and welded, {job.ring.id} is stretched in {count_word(hits)} "
        f"hit{'s' if hits != 1 else ''} to pin stop {written(plan.settings.stops[-1].stop_mm, 2)}."
    )
    last = {i.rpartition("/free-")[2]: figures[i] for i in control_limits(job, hits)}
    sizes = [f"{control_name(c)}{NO_BREAK}{diameter(last[control_word(c)].value, 2)}" for c in job.ring.controls]
    return first + (f" It comes off at {', '.join(sizes)}." if sizes else "")


def budget_words(plan: RingPlan) -> str:
    """What the wash is a share of."""
    share = plan.job.limits.strain_budget_share.value
    uniform = plan.job.uniform_strain_log
    return (
        f"Plastic strain as share of the house limit, {written(100.0 * share, 0)} % of the uniform strain "
        f"({written(uniform.value, 3)}):"
    )


def shown_limits(plan: RingPlan) -> dict[str, tuple[float | None, float | None]]:
    """Limits by figure: the drawing's on the last hit, and those of checks that failed."""
    found: dict[str, tuple[float | None, float | None]] = {}
    for identity, (low, high) in control_limits(plan.job, len(plan.settings.stops)).items():
        found[identity] = (low, high)
    for finding in plan.findings:
        check = finding.check
        if check is not None and check.about and check.about not in found:
            found[check.about] = (None, check.limit) if check.sense == "<=" else (check.limit, None)
    return found


def _shown(figure: Figure, limits: Mapping[str, tuple[float | None, float | None]]) -> Shown:
    low, high = limits.get(figure.identity, (None, None))
    return Shown(figure, low, high)


def _rows(plan: RingPlan, limits: Mapping[str, tuple[float | None, float | None]]) -> tuple[WalkRow, ...]:
    rows: list[WalkRow] = []
    before: set[str] = set()
    for step, numbers in zip(plan.walk, _numbers(plan), strict=True):
        printed, left = _chosen(step)
        fresh = [f for f in printed if f.identity not in before]
        own = {f.identity for f in step.settings}
        rows.append(
            WalkRow(
                kind=step.kind,
                title=step.title,
                subtitle=step.subtitle,
                icon=_icon(step, plan),
                strained=strained(plan, step),
                settings=tuple(_shown(f, limits) for f in fresh if f.identity in own),
                figures=tuple(_shown(f, limits) for f in fresh if f.identity not in own),
                findings=numbers,
                left_out=left,
                as_before=len(printed) - len(fresh),
            )
        )
        before = {f.identity for f in printed}
    return tuple(rows)


def _chosen(step: Step) -> tuple[list[Figure], int]:
    """Figures a row prints, in order of use, and how many it leaves to plan.json."""
    everything = [*step.settings, *step.figures]
    words = PRINTED.get(step.kind)
    if words is None:
        return everything, 0
    printed = [f for f in everything if _printed(f.identity.rpartition("/")[2], words)]
    return printed, len(everything) - len(printed)


def _printed(word: str, words: tuple[str, ...]) -> bool:
    return any(word == w or (w.endswith("-") and word.startswith(w)) for w in words)


def _numbers(plan: RingPlan) -> list[tuple[int, ...]]:
    """Numbers of the findings that each step shows: where it was raised or its figure stands, else by its subject."""
    shown: list[list[int]] = [[] for _ in plan.walk]
    for number, finding in enumerate(plan.findings, start=1):
        places = [k for k, step in enumerate(plan.walk) if _belongs(finding, step)]
        subject = finding.about.partition("/")[2].partition("/")[0]
        kind = SUBJECTS.get(subject, subject)
        places = places or [k for k, step in enumerate(plan.walk) if step.kind == kind]
        for k in places[:1]:
            shown[k].append(number)
    return [tuple(numbers) for numbers in shown]


def _belongs(finding: Finding, step: Step) -> bool:
    if any((f.topic, f.about, f.sentence) == (finding.topic, finding.about, finding.sentence) for f in step.findings):
        return True
    return finding.about in {f.identity for f in (*step.settings, *step.figures)}


def strained(plan: RingPlan, step: Step) -> Strained:
    """Share of the strain budget at the worse face of every station; the band, where known, of the worst place."""
    budget = strain_budget(step.workpiece, shop_card(plan.job))
    share = 100.0 * np.maximum(budget.inside, budget.outside)
    worst = next((f for f in plan.figures if f.identity.endswith("/budget/worst")), None)
    wider = 1.0
    if worst is not None and worst.band is not None and worst.value > 0.0:
        wider = max(1.0, worst.band.high / worst.value)
    return Strained(step.workpiece, share, share * wider)


def _icon(step: Step, plan: RingPlan) -> Icon:
    piece, count = step.workpiece, plan.settings.segments.count
    if step.kind == "cut":
        return Icon("strip" if plan.blank.sector is None else "arc")
    if step.kind == "roll":
        return Icon("rolling")
    if step.kind == "curl":
        return Icon("rolled", min(0.96, abs(piece.curl_per_mm) * piece.length_mm / (2.0 * math.pi)))
    if step.kind == "size":
        hit = sum(1 for s in plan.walk[: plan.walk.index(step) + 1] if s.kind == "size")
        return Icon("sized", 1.0, count, _seam(plan, hit) or 0.0)
    kinds = {"close": "closed", "weld": "closed", "anneal": "annealed", "trim": "trimmed", "drill": "drilled"}
    return Icon(kinds.get(step.kind, "closed"))  # type: ignore[arg-type]


def _seam(plan: RingPlan, hit: int) -> float | None:
    """Where the seam stands at a hit, from the middle of segment 1; the second hit mirrors the first."""
    figure = next((f for f in plan.figures if f.identity.endswith("/stop/seam-angle")), None)
    if figure is None:
        return None
    return figure.value if hit % 2 == 1 else -figure.value
