"""The whole plan of one ring: from the drawing to strip, contours, segments, stops and what to watch."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from hoopwright.design.checks.sizes import control_findings
from hoopwright.design.mark import input_mark
from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding, Source, gravest_first
from hoopwright.plan.bands import Deviation, banded, deviations, scatters
from hoopwright.plan.bands_as_made import as_made
from hoopwright.plan.blank import BlankPlan, plan_blank
from hoopwright.plan.characteristics import Characteristics, list_characteristics
from hoopwright.plan.corners import corner_figures, corner_rows
from hoopwright.plan.holes import HolePlan, plan_holes
from hoopwright.plan.job import ring_job, strip_stations
from hoopwright.plan.judge import carried_strain, friction_figures, judgement, overall_findings
from hoopwright.plan.pass_load import pass_forces
from hoopwright.plan.passes import PassPlan, plan_passes
from hoopwright.plan.prove.apply import proof_figures, proven_figure, ruled
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.reckon import reckon
from hoopwright.plan.restore import weigh_restore
from hoopwright.plan.route import RouteInRolls, choose_route
from hoopwright.plan.seam.numbers import SeamNumbers, job_with_seam
from hoopwright.plan.settings import PassShare, Settings, Shift
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.sizing_set import SizingSet, plan_sizing, press_of, tension_figure
from hoopwright.plan.solve import Solved, solve
from hoopwright.plan.trim import TrimPlan, plan_trim
from hoopwright.plan.walk import walk
from hoopwright.process.face_radius import section_mean
from hoopwright.process.size import control_word
from hoopwright.process.step import Step

SEAM_LEARNED = Source("derived", "seam planned and learned for this fixture, alloy and sheet")
COARSE_STEP_MM = 2.5
COARSE_ARC_POINTS = 3
COARSE_LAYERS = 9


@dataclass(frozen=True, slots=True, eq=False)
class RingPlan:
    """One ring's plan.

    mark : digest of drawing and cards. walk : every step, with bands. figures : all of them, by order of use, each
    once. findings : gravest first. proof : the run of section and hoop kernels behind it, None where none was made.
    proven : whether that run leaves every control size within a tenth of its tolerance.
    """

    job: RingJob
    mark: str
    reckoning: Reckoning
    blank: BlankPlan
    passes: PassPlan
    sizing: SizingSet
    trim: TrimPlan
    holes: HolePlan
    characteristics: Characteristics
    settings: Settings
    walk: tuple[Step, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    proven: bool = False
    proof: Proof | None = None

    def figure(self, identity: str) -> Figure:
        """A figure by its identity, with or without the ring's number in front.

        Raises
        ------
        KeyError
            No such figure on this plan.
        """
        whole = identity if identity.startswith(self.job.ring.id + "/") else self.job.identity(identity)
        for figure in self.figures:
            if figure.identity == whole:
                return figure
        raise KeyError(whole)


def plan_ring(
    liner: Liner,
    ring_id: str,
    shelf: Shelf | None = None,
    seam: SeamNumbers | None = None,
    proof: Proof | None = None,
) -> RingPlan:
    """Plan one ring of a liner.

    Parameters
    ----------
    shelf : Shelf, optional
        Cards to plan with; keep one for many plans, it reads each card once.
    seam : SeamNumbers, optional
        The seam's own numbers, in place of the shop's seam card of this alloy and sheet.
    proof : Proof, optional
        Proof run of this very plan; its corrections and sizes take the place of what is reckoned.

    Raises
    ------
    InputError, CardError
        The ring cannot be planned at all: no such ring, a section that turns back, a card that lacks something. What is
        merely out of its limits is a finding on the plan.
    """
    job = ring_job(liner, ring_id, shelf if shelf is not None else Shelf())
    if seam is not None:
        job = job_with_seam(job, seam, SEAM_LEARNED)
    chosen, solved, reckoning = _reckoned(job, proof)
    blank, passes = plan_blank(job, reckoning), plan_passes(job, reckoning, proof)
    sizing = plan_sizing(job, reckoning, proof)
    trim, holes = plan_trim(job, reckoning), plan_holes(job, reckoning)
    listed = list_characteristics(job, reckoning, sizing.segments.count)
    settings = settings_of(job, chosen, solved, reckoning, blank, passes, sizing, trim, holes)
    steps = walk(job, settings)
    judged_figures, judged_findings = judgement(job, steps)
    sliding, necks = friction_figures(job, settings, carried_strain(steps))
    bands, how = _bands(job, settings, passes)
    chapters = (reckoning.route, reckoning, blank, passes, sizing, trim, holes, listed)
    limits = control_limits(job, len(settings.stops))
    raw = _once([*_figures_of(steps), *judged_figures, *sliding, *(f for chapter in chapters for f in chapter.figures)])
    if proof is not None:
        raw = [*(proven_figure(figure, job, proof) for figure in raw), *proof_figures(job, proof)]
    others, other_how = as_made(job, raw, bands)
    bands |= others
    figures = tuple(banded(figure, bands, other_how.get(figure.identity, how), limits) for figure in raw)
    known = {figure.identity: figure for figure in figures}
    findings = [finding for chapter in chapters for finding in chapter.findings]
    findings += [finding for step in steps for finding in step.findings] + judged_findings + necks
    if proof is not None:
        findings = ruled(job, findings, known, len(settings.stops))
    findings += overall_findings(job, known, limits, proof)
    # tools are cut from the section: whoever plans without a check must hear that a control size is another line
    findings += [finding for control in job.ring.controls for finding in control_findings(liner, job.ring, control)]
    return RingPlan(
        job=job,
        mark=mark_of(job),
        reckoning=reckoning,
        blank=blank,
        passes=passes,
        sizing=sizing,
        trim=trim,
        holes=holes,
        characteristics=listed,
        settings=settings,
        walk=tuple(_with_bands(step, known) for step in steps),
        figures=figures,
        findings=gravest_first(_distinct(findings)),
        proven=proof is not None and proof.holds,
        proof=proof,
    )


def _reckoned(job: RingJob, proof: Proof | None) -> tuple[RouteInRolls, Solved, Reckoning]:
    """Route and reckoning; once more with an anneal where the first says that one is needed and can be had."""
    chosen = choose_route(job)
    solved = solve(job, chosen, proof)
    reckoning = reckon(job, chosen, solved)
    weighed = weigh_restore(job, reckoning)
    chosen = replace(chosen, route=replace(chosen.route, anneal=weighed.anneal, restores=weighed.restores))
    if not weighed.anneal:
        return chosen, solved, replace(reckoning, route=chosen.route)
    solved = solve(job, chosen, proof)
    return chosen, solved, reckon(job, chosen, solved)


def mark_of(job: RingJob) -> str:
    """Digest of drawing and cards of one ring, as printed on its papers."""
    return input_mark(
        ring_with_context(job),
        job.alloy.digest,
        repr(job.limits),
        repr(job.machines),
        repr(job.spread),
        repr(job.friction),
        repr(job.seam),
    )


def ring_with_context(job: RingJob) -> Liner:
    """The liner with this ring alone: what the mark of a ring's plan stands for."""
    own = tuple(pattern for pattern in job.liner.hole_patterns if pattern.ring == job.ring.id)
    return replace(job.liner, rings=(job.ring,), hole_patterns=own)


def settings_of(
    job: RingJob,
    chosen: RouteInRolls,
    solved: Solved,
    reckoning: Reckoning,
    blank: BlankPlan,
    passes: PassPlan,
    sizing: SizingSet,
    trim: TrimPlan,
    holes: HolePlan,
) -> Settings:
    """Everything set or cut, rounded as the shop sets it."""
    stops = tuple(figure for figure in sizing.figures if figure.identity.endswith("/stop"))
    return Settings(
        route=chosen.route,
        ratio_per_mm=chosen.ratio_per_mm,
        cut_length_mm=reckoning.cut_length_mm.value,
        shrinkage_mm=job.limits.weld_shrink_mm.value,
        curl_radius_mm=solved.curl_radius_mm,
        plain_curl_radius_mm=solved.plain_curl_radius_mm,
        stretch_log=section_mean(reckoning.hoop, reckoning.sizing_strain_log),
        surface=sizing.surface,
        thinned_share=float(np.mean(reckoning.loaded.thickness_mm)) / job.thickness_mm.value,
        segments=sizing.segments,
        drive=sizing.press.drive,
        stops=sizing.stops,
        stop_figures=stops,
        passes=tuple(_pass_share(job, row.number, row.share, passes) for row in passes.rows),
        cut=blank.figures,
        trim=trim.figures,
        drill=holes.figures,
        holes=len(holes.rows),
    )


def _pass_share(job: RingJob, number: int, share: float, passes: PassPlan) -> PassShare:
    """Settings of one pass: its own depth, then what is the same for all passes."""
    own = job.identity(f"roll/pass-{number}/")
    common = (job.identity("roll/set-gap"), job.identity("roll/running-gap"))
    figures = [f for f in passes.figures if f.identity.startswith(own)]
    return PassShare(share, tuple(figures + [f for f in passes.figures if f.identity in common]))


def control_limits(job: RingJob, hits: int) -> dict[str, tuple[float, float]]:
    """Drawing limits of the free control sizes after the last hit, by identity."""
    found: dict[str, tuple[float, float]] = {}
    for control in job.ring.controls:
        identity = job.identity(f"size/hit-{hits}/free-{control_word(control)}")
        found[identity] = (control.diameter_mm - control.tolerance_mm, control.diameter_mm + control.tolerance_mm)
    return found


def _bands(job: RingJob, settings: Settings, passes: PassPlan) -> tuple[dict[str, Deviation], str]:
    """Standard deviation of every figure of the walk, and how it was obtained."""
    coarse = replace(
        job,
        stations=strip_stations(
            job.ring.id, job.section, job.limits.edge_trim_mm.value, COARSE_STEP_MM, COARSE_ARC_POINTS
        ),
    )

    short = replace(settings, passes=settings.passes[-1:])
    kept: dict[tuple[Any, ...], tuple[list[Figure], float]] = {}

    def run(twin: RingJob, shift: Shift) -> Iterator[Figure]:
        # friction moves the press and the sliding on the segments: the metal's walk is the same
        key = (twin.metal, twin.thickness_mm.value, shift)
        if key not in kept:
            steps = walk(twin, short, shift, COARSE_LAYERS)
            figures = [*_figures_of(steps), *judgement(twin, steps)[0], *_roll_figures(twin, passes)]
            kept[key] = figures, carried_strain(steps)
        figures, carried = kept[key]
        yield from figures
        yield from friction_figures(twin, settings, carried)[0]
        yield from _press_figures(twin, settings, figures)

    tan = math.tan(math.radians(job.limits.pin_half_angle_deg.value))
    wanted = scatters(coarse, settings.segments.count, tan)
    how = f"linearised over spread card {job.spread.card_id}; roll gap and gauge scatter left out"
    return deviations(run, coarse, wanted), how


def _roll_figures(job: RingJob, passes: PassPlan) -> tuple[Figure, ...]:
    """Loads of the last pass and lone corners, at the passes as planned."""
    depth = passes.rows[-1].depth_mm
    corners = corner_figures(job, corner_rows(job))
    return (
        (*pass_forces(job, passes.in_rolls, depth, passes.rows[-1].new_depth_mm).figures, *corners)
        if depth
        else corners
    )


def _press_figures(job: RingJob, settings: Settings, figures: list[Figure]) -> tuple[Figure, ...]:
    """Tension and press load at the last hit of a walk."""
    place = job.identity(f"size/hit-{len(settings.stops)}")
    known = {figure.identity: figure.value for figure in figures}
    tension = tension_figure(job, known[f"{place}/tension"] * 1e3, 1.0)
    travel = replace(tension, identity=job.identity("segments/travel"), value=settings.segments.travel_mm, unit="mm")
    try:
        load = press_of(job, settings.segments.count, tension, travel, 0.5 * known[f"{place}/springback"])
    except InputError:
        # a drive that jams in this run has no force to compare
        return (tension,)
    return (tension, *load.figures)


def _figures_of(steps: Iterable[Step]) -> Iterator[Figure]:
    for step in steps:
        yield from step.settings
        yield from step.figures


def _once(figures: Iterable[Figure]) -> list[Figure]:
    kept: dict[str, Figure] = {}
    for figure in figures:
        kept.setdefault(figure.identity, figure)
    return list(kept.values())


def _with_bands(step: Step, known: dict[str, Figure]) -> Step:
    def again(figures: tuple[Figure, ...]) -> tuple[Figure, ...]:
        return tuple(known.get(figure.identity, figure) for figure in figures)

    return replace(step, settings=again(step.settings), figures=again(step.figures))


def _distinct(findings: Iterable[Finding]) -> list[Finding]:
    kept: dict[tuple[str, str, str], Finding] = {}
    for finding in findings:
        kept.setdefault((finding.topic, finding.about, finding.sentence), finding)
    return list(kept.values())


__all__ = ["RingPlan", "plan_ring"]
