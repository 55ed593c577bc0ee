"""What the shop's own sections teach of the absorption: figures with their doubt, and a prior for the trial planner."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from scipy.stats import chi2

from hoopwright.findings import Band, Figure, Finding, Input, Source
from hoopwright.kernels.heat_fit import AbsorptionFit
from hoopwright.kernels.melt_trial import TrialPrior
from hoopwright.process.working import reckoned

NINE_IN_TEN: Final = 1.6448536269514722
FITTED: Final = Source("measured", "sections of the shop's own, priors where they say nothing")
LEAST_SD: Final = 0.05
"""Least doubt, as logarithm, with which a fitted value enters the planner: its melt model is another, cheaper one."""
PLACES: Final = (0, 1, 5)
"""Conduction and keyhole absorptivity and column factor among the planner's nine parameters."""
GOOD_FIT: Final = 0.99


def fit_figures(part: str, fit: AbsorptionFit) -> tuple[Figure, ...]:
    """Each parameter with 9 in 10 of its posterior, and whether the sections taught it."""
    seen = Input("S", "readings of sections", fit.readings, "widths and depths", FITTED)
    made = []
    for k, learnt in enumerate(fit.parameters):
        half = NINE_IN_TEN * learnt.deviation
        ends = (
            (learnt.value - half, learnt.value + half)
            if k == 3
            else (learnt.value * math.exp(-half), learnt.value * math.exp(half))
        )
        words = "learnt" if learnt.learnt else "not learnt"
        made.append(
            reckoned(
                f"{part}/weld/fit/{learnt.name.replace(' ', '-')}",
                f"{learnt.name}, {words}",
                learnt.value,
                "1",
                "posterior ( S )",
                seen,
                band=Band(*ends, "posterior of the fit to the sections"),
                note=f"posterior over prior deviation {learnt.ratio:.2f}; above 0.70 it is not learnt",
            )
        )
    return tuple(made)


def fit_findings(part: str, fit: AbsorptionFit) -> list[Finding]:
    """Sections that no absorption fits."""
    most = float(chi2.ppf(GOOD_FIT, fit.readings))
    if fit.chi2 <= most:
        return []
    return [
        Finding(
            "caution",
            f"The sections fit no absorption: their misfit is {fit.chi2:.0f}, {most:.0f} is chance.",
            "read the widest and the deepest section again; then look at spot and focus",
            f"{part}/weld/absorbed",
            "weld-misfit",
        )
    ]


def planner_prior(fit: AbsorptionFit) -> TrialPrior:
    """The planner's prior with what the sections have taught."""
    prior = TrialPrior()
    mean, sd = list(prior.mean), list(prior.sd)
    for place, learnt in zip(PLACES, fit.parameters[:3], strict=True):
        if learnt.learnt:
            mean[place], sd[place] = learnt.value, max(learnt.deviation, LEAST_SD)
    return replace(prior, mean=tuple(mean), sd=tuple(sd))
