"""Trials of a weld: what to weld next, which setting stands in the middle, or that nothing can be said yet, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Laser
from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Figure, Finding, Input, Source, gravest_first
from hoopwright.kernels.melt_trial import TrialMetal, TrialPrior, penetrating_power, trial_metal
from hoopwright.kernels.seam_trials import (
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
from hoopwright.plan.seam.trial_confirm import (
    CONFIRMATIONS,
    DIGITS,
    confirmed_by,
    first_settings,
    held_setting,
    never_repeated,
    repeat_due,
    rounded,
    silence,
    welds_left,
)
from hoopwright.plan.seam.trial_entry import (
    REPEATS,
    STARTS,
    WeldTrial,
    drift,
    entered,
    measured_scatter,
)
from hoopwright.process.working import reckoned, stated

Array = NDArray[np.float64]
State = Literal["start", "go on", "unknown", "name", "stopped"]

GAP_MOST_T: Final = 0.15
BUDGET: Final = 20
FACTORS: Final = ("power", "speed", "focus", "gap")
UNITS: Final = ("W", "mm_per_s", "mm", "mm")
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
    """Probability that a weld passes over power and speed, focus and gap held. shape (speeds, powers).

    best : power [W] and speed [mm/s] of the best setting known.
    """

    power_W: Array
    speed_mm_per_s: Array
    probability: Array
    focus_mm: float
    gap_mm: float
    best: tuple[float, float] | None = None


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
        return replace(empty, sentence=words, next=tuple(rounded(x) for x in first))
    measured, scatter = measured_scatter(trials, scatter)
    window = fit_window(made, metal, limits, scatter, low, high, job.prior)
    return _judged(job, empty, made, window, metal, measured)


def _judged(
    job: TrialJob, plan: TrialPlan, made: Trials, window: Window, metal: TrialMetal, measured: bool
) -> TrialPlan:
    verdict = held_setting(plan.trials, window, made) or final_setting(window, made.settings, job.seed)
    read = int((~made.burnt).sum())
    reasons = silence(verdict, window, read)
    # the scatter of the card: repeats that have moved would excuse themselves
    moved = drift(plan.trials, scatter_of(job.laser))
    ahead = next_trial(window, made.settings, job.seed + len(plan.trials))
    asked = repeat_due(plan.trials, job.budget)
    variables = essential_variables(window, verdict)
    figures = _figures(job, plan, verdict, variables)
    if moved:
        words = f"The first trial, repeated, has moved: {moved}. Trials stop until the cause is found."
        return replace(
            plan, state="stopped", sentence=words, verdict=verdict, window=window, figures=figures,
            findings=(Finding("stop", words, "check focus, lens, gas and power at the work; then weld it again",
                              f"{job.part}/trials", "trials-drift"),),
        )  # fmt: skip
    confirmed, failed = confirmed_by(plan.trials, verdict, window)
    if not reasons:
        left = welds_left(confirmed, measured)
        words = _named_words(verdict, variables, confirmed, left)
        following = (rounded(verdict.settings),) * left
        asked = bool(left) and never_repeated(plan.trials)
        state: State = "name"
    else:
        words = f"I do not know. {reasons[0][0].upper()}{reasons[0][1:]}; {verdict.blocking} blocks."
        following = (rounded(ahead),)
        state = "unknown" if len(plan.trials) >= job.budget else "go on"
    if asked:
        following = (*first_settings(plan.trials), *following)
    findings = _findings(job, verdict, reasons, measured, asked, following, failed, window)
    return replace(
        plan, state=state, sentence=words, next=following, verdict=verdict, blocking=verdict.blocking, repeat=asked,
        confirmed=confirmed, variables=variables if state == "name" else (), window=window, figures=figures,
        findings=findings,
    )  # fmt: skip


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
    return PassMap(power, speed, value, float(at[2]), float(at[3]), (float(at[0]), float(at[1])))


def _named_words(v: Verdict, variables: Sequence[EssentialVariable], confirmed: int, left: int) -> str:
    p, s, z, _ = rounded(v.settings)
    gap = variables[3].high
    said = (
        f"{p:.0f} W, {s:.1f} mm/s, focus {z:+.2f} mm, gap up to {gap:.3f} mm: inside with probability {v.inside:.2f}, "
    )
    said += f"the next weld passes with {v.passes:.2f}."
    if not left:
        return said + " Confirmed."
    wanted = CONFIRMATIONS - confirmed
    if wanted > 0:
        more = "" if left == wanted else f", {REPEATS} repeats give its scatter"
        return said + f" Weld it {left} times more: {wanted} confirmation welds{more}."
    return said + f" Confirmed by {confirmed} welds; weld it {left} times more, {REPEATS} repeats give its scatter."


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
