"""All choices of a ring in order: what keeps every limit first, of those the cheapest, then the roundest."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hoopwright.plan.choice.options import HIT_WORDS, first_options, variants
from hoopwright.plan.choice.weigh import Bench, Weighed, weigh
from hoopwright.plan.settings import Settings
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.sizing_set import segment_rule
from hoopwright.process.face_radius import mean_strain, section_mean
from hoopwright.process.hooping.findings import MARK_FACTOR

Progress = Callable[[int, str], None]

LOOKED_CLOSER = 3
"""Best choices that are looked at with another stretch and another turned radius."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """A weighed choice with what it fails at (empty where it keeps every limit) and why it stands where it stands."""

    weighed: Weighed
    fails: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class Choice:
    """All choices, best first. limits : (what, limit, unit) they were judged by. refused : choices that could not be
    run, with the reason."""

    ranked: tuple[Ranked, ...]
    refused: tuple[tuple[str, str], ...]
    limits: tuple[tuple[str, float, str], ...]

    @property
    def best(self) -> Ranked:
        """The choice that stands first."""
        return self.ranked[0]


def choose(job: RingJob, settings: Settings, reckoning: Reckoning, progress: Progress | None = None) -> Choice:
    """Weigh every count, edge and way of hitting, then the best with other stretches and turned radii.

    Raises
    ------
    InputError
        A ring that no set lets off.
    """
    bench = Bench(job, settings, reckoning)
    done: list[Weighed] = []

    def add(option_words: str, weighed: Weighed) -> None:
        done.append(weighed)
        if progress is not None:
            progress(len(done), option_words)

    for option in first_options(job, reckoning):
        add(option.words(), weigh(bench, option))
    for best in in_order(job, reckoning, done)[:LOOKED_CLOSER]:
        for option in variants(job, best.weighed.option):
            add(option.words(), weigh(bench, option))
    return Choice(
        tuple(in_order(job, reckoning, done)),
        tuple((one.option.words(), one.refused) for one in done if one.refused),
        tuple((name, limit, unit) for name, limit, unit, _of in _limits(job, reckoning)),
    )


Judge = tuple[str, float, str, Callable[[Weighed], float]]


def _limits(job: RingJob, reckoning: Reckoning) -> tuple[Judge, ...]:
    limits = job.limits
    worked = section_mean(reckoning.loaded, mean_strain(reckoning.loaded))
    seam = limits.seam_strain_share_max.value * job.uniform_strain_log.value
    thin = job.liner.tolerances.thickness_min_after_forming_mm
    return (
        ("roundness the tool may use", segment_rule(job).lobes_allowed_mm, "mm", lambda w: w.peak_to_valley_mm),
        ("pin pull", job.machines.expander.pull_max_kN.value, "kN", lambda w: w.pull_kN),
        ("edge pressure", MARK_FACTOR * job.metal.flow.stress(worked), "MPa", lambda w: w.edge_pressure_MPa),
        ("stretch of the seam", seam, "log", lambda w: w.seam_strain_log),
        ("thinning", job.thickness_mm.value - thin, "mm", lambda w: job.thickness_mm.value - w.thinnest_mm),
        ("overlap of segments at first touch", 0.0, "mm", lambda w: w.overlap_mm),
    )


def in_order(job: RingJob, reckoning: Reckoning, weighed: list[Weighed]) -> list[Ranked]:
    """Choices in order: fewest limits passed, planned stretch and radius before others, fewest cuts, fewest hits,
    roundest; edges as the house has them before others."""
    judges = _limits(job, reckoning)
    found = []
    for one in weighed:
        if one.refused:
            continue
        fails = tuple(name for name, limit, _unit, of in judges if of(one) > limit)
        found.append((one, fails))
    planned, house = job.limits.stretch_plan_eng.value, job.limits.segment_edge_radius_mm.value

    def key(row: tuple[Weighed, tuple[str, ...]]) -> tuple[float, ...]:
        one, fails = row
        option = one.option
        return (
            len(fails),
            option.cuts,
            abs(option.stretch_eng - planned),
            option.under_mm,
            option.hits != "one",
            abs(option.edge_radius_mm - house),
            round(one.peak_to_valley_mm, 4),
            one.lowered_mm,
        )

    ordered = sorted(found, key=key)
    return [Ranked(one, fails, _reason(one, fails, ordered)) for one, fails in ordered]


def _reason(one: Weighed, fails: tuple[str, ...], ordered: list[tuple[Weighed, tuple[str, ...]]]) -> str:
    option = one.option
    if fails:
        return f"goes beyond {len(fails)} limit{'s' if len(fails) > 1 else ''}: {', '.join(fails)}."
    best = ordered[0][0]
    if one is best:
        fewer = [row for row in ordered if row[0].option.cuts < option.cuts]
        why = "no smaller count keeps them" if fewer else "fewer segments are not built"
        return f"keeps every limit with the fewest cuts ({option.cuts}) and {HIT_WORDS[option.hits]}; {why}."
    if option.cuts > best.option.cuts:
        return f"keeps every limit, but takes {option.cuts - best.option.cuts} cuts more than the first choice."
    if option.hits != best.option.hits:
        gain = best.peak_to_valley_mm - one.peak_to_valley_mm
        word = f"{gain:.3f} rounder" if gain > 0.0 else f"{-gain:.3f} less round"
        return f"keeps every limit, {word} than the first choice, with other hits: {HIT_WORDS[option.hits]}."
    if option.stretch_eng != best.option.stretch_eng:
        return "keeps every limit, with another stretch than the house plans."
    if option.under_mm:
        return "keeps every limit, turned small: it can be turned again for a larger ring, and prints lobes meanwhile."
    return "keeps every limit, with other edges than the house grinds."
