"""Runs of the planner on the invented machines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from simulated_rules import best_of_random, one_factor_at_a_time
from simulated_welder import SEEDS, Kind, Machine

from hoopwright.cards.alloy import alloy
from hoopwright.kernels.melt_trial import TrialPrior, trial_metal
from hoopwright.kernels.seam_trials import Verdict, final_setting, next_trial, starting_trials
from hoopwright.kernels.seam_window import Trials, WeldLimits, WeldScatter, fit_window
from hoopwright.plan.seam.heat_card import heat_card

METAL = heat_card(alloy("N06625")).metal


@dataclass(frozen=True)
class Run:
    """One machine: what the planner ended with, and both rules with as many trials. Margins are true ones."""

    share: float
    best: float
    inside: bool
    margin: float
    speaks: bool
    confirmed: bool
    passes: float
    true: float
    rule_inside: bool
    rule_margin: float
    random_inside: bool
    random_margin: float


@dataclass(frozen=True)
class Score:
    """Shares over windows. Only windows whose best margin is above 1 count, but for `speaks`, `promised` and `true`.

    rule : one factor at a time; random : best of random trials; spoken_* : where the planner speaks; confirmed_* :
    where it speaks and three confirmation welds pass.
    """

    windows: int
    inside: float
    above_two: float
    given_away: float
    rule_inside: float
    rule_above_two: float
    random_inside: float
    random_above_two: float
    speaks: float
    spoken: int
    spoken_inside: float
    spoken_above_two: float
    confirmed_above_two: float
    promised: float
    true: float


def planned(machine: Machine, count: int, seed: int = 0) -> tuple[Verdict, int]:
    """Final setting after `count` trials, and how many had readings."""
    metal = trial_metal(METAL, machine.t)
    limits = WeldLimits(*machine.limits)
    low, high = machine.box.low, machine.box.high
    made = starting_trials(metal, TrialPrior(), low, high, seed)
    read = np.array([machine.weld(x)[0] for x in made])
    while True:
        burnt = read[:, 4] < 0.0
        window = fit_window(Trials(made, read[:, :4], burnt), metal, limits, WeldScatter(), low, high)
        if len(made) >= count:
            return final_setting(window, made, seed), int((~burnt).sum())
        made = np.vstack([made, next_trial(window, made, seed + len(made))])
        read = np.vstack([read, machine.weld(made[-1])])


@cache
def runs(kind: Kind, count: int, seeds: tuple[int, ...], welds: int = 200) -> tuple[Run, ...]:
    """The planner, one factor at a time and random trials, as many each, on the same machines."""
    made = []
    for seed in seeds:
        machine = Machine(seed, kind)
        verdict, read = planned(machine, count)
        confirmed = bool(machine.passes(machine.weld(verdict.settings, 3)).all())
        rule, drawn = (find(Machine(seed, kind), count) for find in (one_factor_at_a_time, best_of_random))
        made.append(
            Run(
                machine.share_inside(), machine.best()[1], bool(machine.inside(verdict.settings)[0]),
                float(machine.margin(verdict.settings)[0]), verdict.speaks(read), confirmed, verdict.passes,
                machine.yield_share(verdict.settings, welds), bool(machine.inside(rule)[0]),
                float(machine.margin(rule)[0]), bool(machine.inside(drawn)[0]), float(machine.margin(drawn)[0]),
            )
        )  # fmt: skip
    return tuple(made)


def score(kind: Kind, count: int, seeds: Sequence[int] | None = None, widest: float = 1.0) -> Score:
    """Scores; `widest` leaves out machines whose window takes a larger share of the box."""
    made = [run for run in runs(kind, count, tuple(seeds or SEEDS[kind])) if run.share <= widest]
    good, spoken = [run for run in made if run.best > 1.0], [run for run in made if run.speaks]
    held = [run for run in spoken if run.confirmed]

    def share(of: Sequence[Run], what: Callable[[Run], bool | float]) -> float:
        return float(np.mean([what(run) for run in of])) if of else 1.0

    return Score(
        len(good),
        share(good, lambda r: r.inside),
        share(good, lambda r: r.margin > 2.0),
        float(np.median([r.best - r.margin for r in good])) if good else float("nan"),
        share(good, lambda r: r.rule_inside),
        share(good, lambda r: r.rule_margin > 2.0),
        share(good, lambda r: r.random_inside),
        share(good, lambda r: r.random_margin > 2.0),
        share(made, lambda r: r.speaks),
        len(spoken),
        share(spoken, lambda r: r.inside),
        share(spoken, lambda r: r.margin > 2.0),
        share(held, lambda r: r.margin > 2.0),
        share(made, lambda r: r.passes),
        share(made, lambda r: r.true),
    )


def error(share: float, count: int) -> float:
    """Two standard errors of a share over so many windows."""
    return 2.0 * (max(share * (1.0 - share), 0.01) / count) ** 0.5
