"""Inside or outside a limit, with the doubt of the measurement: guard bands, and what is said in between.

Accepted: inside the limits drawn in by the guard band. Refused: outside them let out by it. Between: undecided, measure
again or better. The guard band is a multiple of the expanded uncertainty (1 by default: a part that is called good is
good with 97.5 % or more).

References
----------
ISO 14253-1 and JCGM 106 name such rules (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.findings import Finding
from hoopwright.kernels.statistics.uncertainty import Budget

Verdict = Literal["accepted", "undecided", "refused"]


@dataclass(frozen=True, slots=True)
class Rule:
    """guard : guard band as a share of the expanded uncertainty, 0 for none (shared risk). coverage of U."""

    guard: float = 1.0
    coverage: float = 0.95

    def __post_init__(self) -> None:
        require_range("guard band share", self.guard, 0.0, 3.0)
        require_range("coverage", self.coverage, 0.5, 0.9999)

    @property
    def words(self) -> str:
        """The rule as it stands on a report."""
        if self.guard == 0.0:
            return "no guard band: reading against limit, risk shared"
        return f"guard band {self.guard:g} U, U at {100 * self.coverage:g} %"


@dataclass(frozen=True, slots=True)
class Decision:
    """verdict, reading, limits, expanded uncertainty and guard band used [unit]; chance that the true size is
    inside."""

    verdict: Verdict
    reading: float
    low: float
    high: float
    expanded: float
    guard: float
    chance_inside: float
    rule: str


def decide(reading: float, low: float, high: float, budget: Budget, rule: Rule | None = None) -> Decision:
    """Compare a reading with its limits (one may be infinite) under a rule."""
    value = require_finite("reading", reading)
    if math.isnan(low) or math.isnan(high) or not low < high:
        raise InputError("low limit", low, "", f"below the high limit {high:g}", "exchange the limits")
    used = rule if rule is not None else Rule()
    expanded = budget.expanded(used.coverage)
    guard = used.guard * expanded
    if low + guard <= value <= high - guard:
        verdict: Verdict = "accepted"
    elif value < low - guard or value > high + guard:
        verdict = "refused"
    else:
        verdict = "undecided"
    if used.guard == 0.0:
        verdict = "accepted" if low <= value <= high else "refused"
    s = max(budget.standard, 1e-300)
    chance = 0.5 * (math.erf((high - value) / s / math.sqrt(2.0)) - math.erf((low - value) / s / math.sqrt(2.0)))
    return Decision(verdict, value, low, high, expanded, guard, chance, used.words)


def finding_of(decision: Decision, name: str, about: str, unit: str = "mm") -> Finding | None:
    """The finding of a decision that is not an acceptance."""
    if decision.verdict == "accepted":
        return None
    shown = f"{decision.reading:.3f} {unit} against {decision.low:g} to {decision.high:g}"
    doubt = f"U {decision.expanded:.3f} {unit}; {decision.rule}; inside with {100 * decision.chance_inside:.0f} %."
    if decision.verdict == "undecided":
        sentence = f"{name} is {shown}: too near the limit for this gauge."
        return Finding(
            "caution",
            sentence,
            "measure it again, four times, or with the better gauge",
            about,
            "size-undecided",
            doubt,
        )
    return Finding(
        "stop",
        f"{name} is {shown}: outside.",
        "ask for the diagnosis before any correction",
        about,
        "size-outside",
        doubt,
    )
