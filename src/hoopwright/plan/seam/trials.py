"""Trials of a weld: what to weld next, which setting stands in the middle, or that nothing can be said yet, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Laser
from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Figure, Finding, Input, Source, gravest_first
from hoopwright.kernels.melt_trial import TrialMetal, TrialPrior, penetrating_power, trial_metal
from hoopwright.kernels.seam_trials import (
    LEAST_READ,
    P_INSIDE,
    P_MARGIN,
    Verdict,
    final_setting,
    log_pass,
    lower_bound,
    next_trial,
    starting_trials,
)
from hoopwright.kernels.seam_window import Trials, WeldLimits, Window, fit_window
from hoopwright.plan.seam.heat_card import HeatCard
from hoopwright.plan.seam.machine import scatter_of, trial_box
from hoopwright.plan.seam.trial_entry import REPEATS, STARTS, WeldTrial, drift, entered, measured_scatter
from hoopwright.process.working import reckoned, stated

Array = NDArray[np.float64]
State = Literal["start", "go on", "unknown", "name", "stopped"]

GAP_MOST_T: Final = 0.15
FAR: Final = 0.25
RESIDUALS: Final = 0.99
CONFIRMATIONS: Final = 3
CONFIRM_SEEN: Final = 1e-3
BUDGET: Final = 20
FACTORS: Final = ("power", "speed", "focus", "gap")
UNITS: Final = ("W", "mm_per_s", "mm", "mm")
DIGITS: Final = (0, 1, 2, 3)
TRIED: Final = Source("measured", "weld trials of this machine, metal and sheet")
PLANNER: Final = Source("derived", "one process a reading on the trials, mean from the heat kernel")


@dataclass(frozen=True, slots=True)
class EssentialVariable:
    """A setting of the procedure with the range in which its margin stays above 1. unit as in names."""

    name: str
    value: float
    low: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True, eq=False)
class PassMap:
    """Probability that a weld passes over power and speed, focus and gap held. shape (speeds, powers)."""

    power_W: Array
    speed_mm_per_s: Array
    probability: Array
    focus_mm: float
    gap_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class TrialPlan:
    """What to do. next : settings to weld now, in order. verdict : of the best setting known, None at the start.

    sentence : what is known, in one sentence; blocking : the constraint that holds it back. repeat : whether `next`
    repeats the first trial against drift. confirmed : confirmation welds at the setting that passed.
    """

    state: State
    sentence: str
    next: tuple[tuple[float, float, float, float], ...]
    verdict: Verdict | None
    blocking: str
    repeat: bool
    confirmed: int
    limits: WeldLimits
    box: tuple[tuple[float, ...], tuple[float, ...]]
    variables: tuple[EssentialVariable, ...]
    window: Window | None
    trials: tuple[WeldTrial, ...]
    seed: int
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class TrialJob:
    """What trials are made for."""

    part: str
    thickness_mm: float
    card: HeatCard
    laser: Laser
    limits: HouseLimits
    prior: TrialPrior = field(default_factory=TrialPrior)
    budget: int = BUDGET
    seed: int = 1


def weld_limits(thickness_mm: float, limits: HouseLimits) -> WeldLimits:
    """What a weld must be: root, face, underfill from the house card where it says so; pores at most 1 %."""
    t = require_positive("sheet thickness", thickness_mm, "mm")
    under = min(limits.underfill_max_t.value * t, limits.underfill_max_mm.value)
    return WeldLimits(max(0.3, 0.5 * t), 0.9 + 0.9 * t, under, 0.0)


def plan_trials(job: TrialJob, trials: Sequence[WeldTrial] = ()) -> TrialPlan:
    """The next trial, or the setting, or that nothing is known yet.

    Raises
    ------
    InputError
        A trial outside what the machine can be set to, a reading that is none, a sheet the laser cannot melt through.
    """
    metal = trial_metal(job.card.metal, job.thickness_mm)
    limits, scatter = weld_limits(job.thickness_mm, job.limits), scatter_of(job.laser)
    power = penetrating_power(metal, 30.0, job.prior)
    low, high = (np.array(v) for v in trial_box(job.laser, power, GAP_MOST_T * job.thickness_mm))
    box = (tuple(map(float, low)), tuple(map(float, high)))
    made = entered(trials, job.laser)
    empty = TrialPlan("start", "", (), None, "", False, 0, limits, box, (), None, tuple(trials), job.seed, (), ())
    if len(trials) < STARTS:
        first = starting_trials(metal, job.prior, low, high, job.seed)[len(trials) :]
        words = f"Weld {len(first)} starting trials; they are spread over what may melt through without burning."
        return replace(empty, sentence=words, next=tuple(_rounded(x) for x in first))
    measured, scatter = measured_scatter(trials, scatter)
    window = fit_window(made, metal, limits, scatter, low, high, job.prior)
    return _judged(job, empty, made, window, metal, measured)


def _judged(
    job: TrialJob, plan: TrialPlan, made: Trials, window: Window, metal: TrialMetal, measured: bool
) -> TrialPlan:
    verdict = final_setting(window, made.settings, job.seed)
    read = int((~made.burnt).sum())
    reasons = silence(verdict, window, read)
    # the scatter of the card: repeats that have moved would excuse themselves
    moved = drift(plan.trials, scatter_of(job.laser))
    ahead = next_trial(window, made.settings, job.seed + len(plan.trials))
    asked = _repeat_due(plan.trials, job.budget)
    variables = essential_variables(window, verdict)
    figures = _figures(job, plan, verdict, variables)
    if moved:
        words = f"The first trial, repeated, has moved: {moved}. Trials stop until the cause is found."
        return replace(
            plan, state="stopped", sentence=words, verdict=verdict, window=window, figures=figures,
            findings=(Finding("stop", words, "check focus, lens, gas and power at the work; then weld it again",
                              f"{job.part}/trials", "trials-drift"),),
        )  # fmt: skip
    confirmed, failed = _confirmed(plan.trials, verdict, window)
    if not reasons:
        words = _named_words(verdict, confirmed)
        left = max(0, CONFIRMATIONS - confirmed)
        following = (_rounded(verdict.settings),) * left
        state: State = "name"
    else:
        words = f"I do not know. {reasons[0][0].upper()}{reasons[0][1:]}; {verdict.blocking} blocks."
        following = ((_first(plan.trials),) if asked else ()) + (_rounded(ahead),)
        state = "unknown" if len(plan.trials) >= job.budget else "go on"
    findings = _findings(job, verdict, reasons, measured, asked, following, failed, window)
    return replace(
        plan, state=state, sentence=words, next=following, verdict=verdict, blocking=verdict.blocking, repeat=asked,
        confirmed=confirmed, variables=variables if state == "name" else (), window=window, figures=figures,
        findings=findings,
    )  # fmt: skip


def silence(verdict: Verdict, window: Window, read: int) -> tuple[str, ...]:
    """Why no setting may be named; empty when one may."""
    found = []
    if read < LEAST_READ:
        found.append(f"only {read} trials have readings; {LEAST_READ} are needed")
    if verdict.inside < P_INSIDE:
        found.append(f"the best setting is inside with probability {verdict.inside:.2f}; {P_INSIDE:g} is needed")
    if verdict.margin_two < P_MARGIN:
        found.append(f"its margin is above 2 with probability {verdict.margin_two:.2f}; {P_MARGIN:g} is needed")
    if verdict.far > FAR:
        found.append(f"it lies {verdict.far:.2f} of the box from every trial; {FAR:g} is the most")
    # simulated machines pass the 99 % point one time in four with nothing wrong: twice of it silences
    if window.chi2 > 2.0 * float(chi2.ppf(RESIDUALS, window.readings)):
        found.append("root and face lie far from any melt model; a reading or a card is wrong")
    return tuple(found)


def at_edge(verdict: Verdict, window: Window) -> tuple[str, ...]:
    """Settings within a hundredth of the box from its edge; the gap is left out, for none is the least there is."""
    unit = window.unit_of(verdict.settings)
    return tuple(n for n, u in zip(FACTORS[:3], unit[:3], strict=True) if u < 0.01 or u > 0.99)


def essential_variables(window: Window, verdict: Verdict) -> tuple[EssentialVariable, ...]:
    """Each setting with the range in which the lower bound of the margin stays above 1, the others held."""
    found = []
    for k, (name, unit) in enumerate(zip(FACTORS, UNITS, strict=True)):
        line = np.tile(verdict.settings, (81, 1))
        line[:, k] = np.linspace(window.low[k], window.high[k], 81)
        good = lower_bound(window.slack(line)) > 1.0
        here = int(np.argmin(np.abs(line[:, k] - verdict.settings[k])))
        low = high = here
        while low > 0 and good[low - 1]:
            low -= 1
        while high < 80 and good[high + 1]:
            high += 1
        value = float(verdict.settings[k])
        found.append(
            EssentialVariable(name, value, min(value, float(line[low, k])), max(value, float(line[high, k])), unit)
        )
    return tuple(found)


def pass_map(plan: TrialPlan, steps: int = 25) -> PassMap:
    """Probability that a weld passes over power and speed, at the focus and gap of the best setting.

    Raises
    ------
    InputError
        No trials yet.
    """
    if plan.window is None or plan.verdict is None:
        raise InputError("trials", len(plan.trials), "", f"{STARTS} or more", "weld the starting trials first")
    w, at = plan.window, plan.verdict.settings
    power, speed = np.linspace(w.low[0], w.high[0], steps), np.linspace(w.low[1], w.high[1], steps)
    grid = np.array([(p, v, at[2], at[3]) for v in speed for p in power])
    value = np.exp(log_pass(w.slack(grid))).reshape(steps, steps)
    return PassMap(power, speed, value, float(at[2]), float(at[3]))


def _rounded(x: Array) -> tuple[float, float, float, float]:
    p, v, z, g = (float(round(float(value), digits)) for value, digits in zip(x, DIGITS, strict=True))
    return p, v, z, max(g, 0.0)


def _first(trials: Sequence[WeldTrial]) -> tuple[float, float, float, float]:
    return trials[0].settings


def _repeat_due(trials: Sequence[WeldTrial], budget: int) -> bool:
    """Whether the first trial is to be repeated now: once in the middle, once at the end."""
    again = sum(t.settings == trials[0].settings for t in trials[1:])
    middle = (STARTS + budget) // 2
    return (len(trials) >= middle and again == 0) or (len(trials) >= budget - 1 and again == 1)


def _confirmed(trials: Sequence[WeldTrial], verdict: Verdict, window: Window) -> tuple[int, bool]:
    """Trials at the named setting that passed, and whether one failed."""
    wanted = np.array(_rounded(verdict.settings))
    span = window.high - window.low
    limits, passed, failed = window.limits, 0, False
    for t in trials[STARTS:]:
        if np.abs((np.array(t.settings) - wanted) / span).max() > CONFIRM_SEEN:
            continue
        good = (
            not t.burnt
            and (t.root_mm or 0.0) >= limits.root
            and (t.face_mm or 0.0) <= limits.face
            and (t.underfill_mm or 0.0) <= limits.underfill
            and (t.pores_pct or 0.0) <= 10.0**limits.log_pores
        )
        passed, failed = passed + int(good), failed or not good
    return passed, failed


def _named_words(v: Verdict, confirmed: int) -> str:
    p, s, z, g = _rounded(v.settings)
    said = f"{p:.0f} W, {s:.1f} mm/s, focus {z:+.2f} mm, gap up to {g:.3f} mm: inside with probability {v.inside:.2f}, "
    said += f"the next weld passes with {v.passes:.2f}."
    left = CONFIRMATIONS - confirmed
    return said + (f" Weld {left} confirmation welds." if left > 0 else " Confirmed.")


def _figures(job: TrialJob, plan: TrialPlan, v: Verdict, variables: Sequence[EssentialVariable]) -> tuple[Figure, ...]:
    at = f"{job.part}/trials"
    seen = Input("T", "trials", len(plan.trials), "welds", TRIED)
    made = [
        reckoned(f"{at}/{e.name}", f"{e.name} of the best setting known", e.value, e.unit, "best ( T )", seen, digits=d)
        for e, d in zip(variables, DIGITS, strict=True)
    ]
    made += [
        reckoned(f"{at}/p-inside", "probability that it is inside", v.inside, "1", "P ( T )", seen, digits=3),
        reckoned(
            f"{at}/p-margin", "probability that its margin is above 2", v.margin_two, "1", "P ( T )", seen, digits=3
        ),
        reckoned(f"{at}/p-pass", "probability that the next weld passes", v.passes, "1", "P ( T )", seen, digits=3),
        reckoned(f"{at}/margin", "lower bound of the margin, in scatter", v.lower, "1", "min ( T )", seen, digits=1),
        stated(f"{at}/seed", "seed of the planner", float(job.seed), "1", PLANNER, 0),
    ]
    return tuple(made)


def _findings(
    job: TrialJob,
    v: Verdict,
    reasons: Sequence[str],
    measured: bool,
    repeat: bool,
    following: Sequence[tuple[float, float, float, float]],
    failed: bool,
    window: Window,
) -> tuple[Finding, ...]:
    at = f"{job.part}/trials"
    found = []
    if reasons:
        said = "; then ".join(f"{p:.0f} W, {s:.1f} mm/s, focus {z:+.2f}, gap {g:.3f}" for p, s, z, g in following)
        found.append(
            Finding(
                "caution",
                f"No setting is named: {reasons[0]}.",
                f"weld {said}",
                at,
                "trials-unknown",
                f"{v.blocking} blocks" + ("; the first trial is repeated against drift" if repeat else ""),
            )
        )
    if failed:
        found.append(
            Finding(
                "caution",
                "A confirmation weld has failed.",
                "enter it and go on; the setting is reckoned again with it",
                at,
                "trials-confirmation",
            )
        )
    edge = at_edge(v, window)
    if edge and not reasons:
        found.append(
            Finding(
                "note",
                f"The setting stands at the edge of what was tried: {', '.join(edge)}.",
                "widen the box there if the machine allows, and go on",
                at,
                "trials-edge",
            )
        )
    if not measured:
        found.append(
            Finding(
                "caution",
                "The scatter is assumed, not measured.",
                f"weld one setting {REPEATS} times or more and enter every reading",
                at,
                "trials-scatter",
                "told half its true scatter, the planner promises 0.99 where 0.92 is true",
            )
        )
    return gravest_first(found)
