"""What is said about a ring's whole walk: strain budget, grain, roundness, friction, thickness, residual, bands."""

from __future__ import annotations

import math
from functools import lru_cache

from hoopwright.errors import InputError
from hoopwright.findings import Check, Figure, Finding, Input, judged
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.sizing_friction import ArcStrain, arc_strain
from hoopwright.kernels.sizing_round import residual_ratio
from hoopwright.plan.prove.apply import proof_findings
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.seam.ring_seam import seam_after_sizing
from hoopwright.plan.settings import Settings
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.process import size, trim
from hoopwright.process.anneal import grain_trap
from hoopwright.process.budget import strain_budget
from hoopwright.process.face_radius import mean_strain, section_mean
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Workpiece

PRIOR_DIGITS = 5
"""Decimals of the carried strain to which strains along a segment are reckoned: finer changes do not show in them."""

TIGHT_BUDGET_PCT = 90.0
"""Share of the strain budget from which an anneal comes to mind, so that its trap is told."""


def judgement(job: RingJob, steps: tuple[Step, ...]) -> tuple[tuple[Figure, ...], list[Finding]]:
    """Figures and findings about the sized ring as a whole."""
    card = shop_card(job)
    sized = [step.workpiece for step in steps if step.kind == "size"][-1]
    on_ring = _on_drawing(job, sized)
    budget = strain_budget(on_ring, card)
    trap, trap_finding = grain_trap(on_ring, card)
    least = stated(
        job.identity("drawing/least-thickness"),
        "least thickness after forming",
        job.liner.tolerances.thickness_min_after_forming_mm,
        "mm",
        job.liner.source("tolerances"),
        2,
    )
    thin, thin_finding = size.thinning_finding(on_ring, job.thickness_mm, least)
    kept = _round(job, steps)
    left, seam_findings = _seam(job, steps, kept)
    figures = [budget.worst, trap, thin, *kept, *left]
    findings = [finding for finding in (budget.finding, thin_finding) if finding] + seam_findings
    if trap_finding and budget.worst.value >= TIGHT_BUDGET_PCT:
        findings.append(_no_anneal(job, trap))
    return tuple(figures), findings


def _seam(job: RingJob, steps: tuple[Step, ...], kept: list[Figure]) -> tuple[tuple[Figure, ...], list[Finding]]:
    """What the stretch leaves of the seam's peak and uses of the joint's strength; nothing without a stretch."""
    peak = next((f for step in steps for f in step.figures if f.identity == job.identity("weld/seam-peak")), None)
    if not kept or peak is None:
        return (), []
    pulls = [f for step in steps for f in step.figures if step.kind == "size" and f.identity.endswith("/tension")]
    before = [step.workpiece for step in steps if step.kind not in ("size", "trim", "drill")][-1]
    hardest = max(pulls, key=lambda pull: pull.value)
    return seam_after_sizing(job, peak, kept[0], hardest, before.area_mm2)


def _on_drawing(job: RingJob, workpiece: Workpiece) -> Workpiece:
    """The stations that stay on the ring."""
    return trim.run(workpiece, trim.Trim(job.section.start[0], job.section.end[0]), shop_card(job)).workpiece


def _no_anneal(job: RingJob, trap: Figure) -> Finding:
    low, clear = job.limits.critical_strain_low_log.value, job.limits.critical_strain_clear_log.value
    return Finding(
        "note",
        f"Do not anneal {job.ring.id} to win room: {trap.value:.0f} % of its width has {100 * low:.0f} to "
        f"{100 * clear:.0f} % outer-fibre strain and would grow coarse grain.",
        "ask for wider corner radii instead",
        trap.identity,
        "critical-strain",
        "orange peel cannot be undone",
    )


def _round(job: RingJob, steps: tuple[Step, ...]) -> list[Figure]:
    """What the stretch leaves of the out-of-roundness that comes in."""
    kept = next(f for f in [s for s in steps if s.kind == "size"][-1].figures if f.identity.endswith("/stretch-loaded"))
    strain = math.log1p(kept.value / 100.0)
    prior = carried_strain(steps)
    if strain <= 0.0:
        return []
    ratio = residual_ratio(job.metal, strain, prior)
    tangent = ratio * job.metal.youngs_modulus_MPa * math.exp(-2.0 * strain)
    figures = [
        reckoned(
            job.identity("size/roundness-kept"),
            "share of the incoming out-of-roundness that stays",
            100.0 * ratio,
            "pct",
            "100 E_t / E exp ( 2 e )",
            Input("E_t", "tangent of the flow curve there", tangent, "MPa", shop_card(job).ground),
            Input("e", "stretch on the segments", strain, "log", shop_card(job).ground),
            job.young_MPa.as_input("E"),
            digits=1,
            note=f"plastic strain carried in {prior:.4f}; lobes of the segments are not ironed out by any stretch",
        )
    ]
    return figures


@lru_cache(maxsize=256)
def sliding(metal: Metal, count: int, friction: float, stretch_log: float, prior: float) -> ArcStrain:
    """`arc_strain`, kept: most forward runs of a band change neither metal nor friction. Raises as it does."""
    return arc_strain(metal, count, friction, stretch_log, prior)


def carried_strain(steps: tuple[Step, ...]) -> float:
    """Plastic strain that the ring carries into sizing, mean over the section."""
    before = [step.workpiece for step in steps if step.kind not in ("size", "trim", "drill")][-1]
    return section_mean(before, mean_strain(before))


def friction_figures(job: RingJob, settings: Settings, prior: float) -> tuple[list[Figure], list[Finding]]:
    """Strain over a gap and at a segment's middle, with the ring sliding on its segments."""
    mu, count = job.friction.mu_segment_ring, settings.segments.count
    n = Input("N", "segments", float(count), "", shop_card(job).ground)
    mean = Input("strain", "mean stretch onto the segments", settings.stretch_log, "log", shop_card(job).ground)
    try:
        arc = sliding(job.metal, count, mu.value, settings.stretch_log, round(prior, PRIOR_DIGITS))
    except InputError:
        return [], [
            Finding(
                "stop",
                f"{job.ring.id} necks over the slots: friction holds it on the segments.",
                "put film or paste on the segments",
                job.identity("size/gap-strain"),
                "gap-necks",
            )
        ]
    figures = [
        reckoned(
            job.identity(f"size/{word}-strain"),
            f"stretch {where}",
            100.0 * value,
            "pct",
            "rope friction: tension falls by exp ( - mu pi / N ) from gap to middle",
            mean,
            n,
            mu.as_input("mu"),
            digits=2,
        )
        for word, where, value in (
            ("gap", "over a slot", arc.gap_log),
            ("middle", "at a segment's middle", arc.middle_log),
        )
    ]
    return figures, []


def overall_findings(
    job: RingJob, known: dict[str, Figure], limits: dict[str, tuple[float, float]], proof: Proof | None = None
) -> list[Finding]:
    """Findings on the plan as a whole: residual on the drawing, share inside it, and whether it is proven."""
    found: list[Finding] = []
    for identity, (low, high) in limits.items():
        figure = known[identity]
        found += _residual(job, figure, low, high)
        if figure.band is not None and figure.band.inside_pct is not None:
            found += _capability(job, figure, figure.band.inside_pct, high - low)
    found += [finding for finding in (_pull_band(job, known), _first_hit(job, known)) if finding]
    if proof is not None:
        return found + proof_findings(job, proof)
    found.append(
        Finding(
            "note",
            f"The plan of {job.ring.id} is not yet proven.",
            "make one trial ring and enter its loaded and free size before the batch is cut",
            job.identity("walk"),
            "not-yet-proven",
            "it is reckoned with closed forms and the layered chain; section and hoop kernels have not run over it",
        )
    )
    return found


def _residual(job: RingJob, figure: Figure, low: float, high: float) -> list[Finding]:
    middle = 0.5 * (low + high)
    check = Check(
        "the forward walk ends on the drawing",
        abs(figure.value - middle),
        0.25 * (high - middle),
        "<=",
        "mm",
        shop_card(job).ground,
        "caution",
        "put a shim under the pin's stop",
        figure.identity,
    )
    sentence = f"The walk of {job.ring.id} ends {figure.value - middle:+.3f} off the drawing at its {figure.name}."
    finding = judged(check, sentence, "residual")
    return [finding] if finding else []


LIKELY_PCT = 90.0
"""Below this share inside the drawing the learning hit is no formality: said as a caution."""


def _capability(job: RingJob, figure: Figure, inside: float, width: float) -> list[Finding]:
    if inside >= LIKELY_PCT:
        return []
    return [
        Finding(
            "note",
            f"{inside:.0f} of 100 first rings of {job.ring.id} would come inside {width / 2:.2f} at the {figure.name} "
            "without a correction.",
            "read loaded and free size after the first hit and let the second one correct",
            figure.identity,
            "size-share",
            "most of the scatter is the cast's flow curve, which the first hit shows",
        )
    ]


def _pull_band(job: RingJob, known: dict[str, Figure]) -> Finding | None:
    """A pull that the press gives in the middle but not at the top of its band."""
    pull, most = known[job.identity("press/pull")], job.machines.expander.pull_max_kN
    if pull.band is None or pull.value > most.value or pull.band.high <= most.value:
        return None
    return Finding(
        "caution",
        f"{job.ring.id} asks up to {pull.band.high:.1f} kN of the pin in 9 of 10 rings; the press gives "
        f"{most.value:g}.",
        "lubricate pin and base before every ring",
        pull.identity,
        "press-pull-band",
    )


def _first_hit(job: RingJob, known: dict[str, Figure]) -> Finding | None:
    """The first hit takes nearly the whole stretch, so that the last adds too little to print the lobes anew."""
    taken, limit = known[job.identity("size/hit-1/stretch")], job.limits.stretch_per_hit_max_eng
    if taken.value / 100.0 <= limit.value + 5e-5:
        return None
    return Finding(
        "note",
        f"The first hit of {job.ring.id} stretches by {taken.value:.2f} %; practice keeps a hit at "
        f"{100 * limit.value:g} %.",
        "stop once at half the pin's last 10 mm, let off, index half a pitch, and go on to the stop of hit 1",
        taken.identity,
        "stretch-per-hit",
        "the last hit has to add under 0.1 %, or it prints the lobes of the segments anew",
    )
