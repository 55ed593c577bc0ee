"""Runs of the planner on the invented machines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from simulated_rules import one_factor_at_a_time
from simulated_welder import SEEDS, Kind, Machine

from hoopwright.cards.alloy import alloy
from hoopwright.kernels.melt_trial import TrialPrior, trial_metal
from hoopwright.kernels.seam_trials import Verdict, final_setting, next_trial, starting_trials
from hoopwright.kernels.seam_window import Trials, WeldLimits, WeldScatter, fit_window
from hoopwright.plan.seam.heat_card import heat_card

METAL = heat_card(alloy("N06625")).metal


@dataclass(frozen=True)
class Score:
    """Shares over windows. good : only windows whose best margin is above 1; spoken : only where the planner speaks."""

    windows: int
    inside: float
    above_two: float
    given_away: float
    rule_inside: float
    rule_above_two: float
    speaks: float
    spoken_inside: float
    spoken: int
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


def score(kind: Kind, count: int, seeds: Sequence[int] | None = None, welds: int = 200) -> Score:
    """The planner and one factor at a time with the same number of trials on the same machines."""
    rows = []
    for seed in seeds if seeds is not None else SEEDS[kind]:
        machine = Machine(seed, kind)
        verdict, read = planned(machine, count)
        margin, best = float(machine.margin(verdict.settings)[0]), machine.best()[1]
        rule = one_factor_at_a_time(Machine(seed, kind), count)
        rows.append(
            (
                bool(machine.inside(verdict.settings)[0]), margin > 2.0, best - margin, bool(machine.inside(rule)[0]),
                float(machine.margin(rule)[0]) > 2.0, verdict.speaks(read), best > 1.0, verdict.passes,
                machine.yield_share(verdict.settings, welds),
            )
        )  # fmt: skip
    table = np.array(rows, dtype=float)
    good, spoken = table[table[:, 6] > 0.0], table[table[:, 5] > 0.0]
    means = good.mean(axis=0) if len(good) else np.full(9, np.nan)
    return Score(
        len(good), means[0], means[1], float(np.median(good[:, 2])) if len(good) else np.nan, means[3], means[4],
        float(table[:, 5].mean()), float(spoken[:, 0].mean()) if len(spoken) else 1.0, len(spoken),
        float(table[:, 7].mean()), float(table[:, 8].mean()),
    )  # fmt: skip


def error(share: float, count: int) -> float:
    """Two standard errors of a share over so many windows."""
    return 2.0 * (max(share * (1.0 - share), 0.01) / count) ** 0.5
