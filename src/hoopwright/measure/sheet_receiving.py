"""Sheet as received: thickness at nine points, hardness, against order and card; what a cast's own card then takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Finding
from hoopwright.kernels.statistics.small_samples import two_sided_factor
from hoopwright.kernels.statistics.summary import Summary, grubbs, summary
from hoopwright.kernels.statistics.uncertainty import Budget, Term, budget
from hoopwright.measure.decision import Decision, Rule, decide, finding_of

POINTS = 9


@dataclass(frozen=True, slots=True)
class Wall:
    """Thickness of a sheet or part: summary [mm], tolerance interval (95 % of it with 95 %), least reading decided."""

    summary: Summary
    interval_mm: tuple[float, float]
    least: Decision
    largest: Decision
    findings: tuple[Finding, ...]


def micrometer_budget(accuracy_mm: float = 0.005, repeat_sd_mm: float = 0.002, readings: int = 1) -> Budget:
    """Budget of a ball micrometer; accuracy as half width of a uniform doubt."""
    terms = [Term("micrometer", accuracy_mm, "uniform"), Term("repeat", repeat_sd_mm / readings**0.5, dof=10.0)]
    return budget(terms)


def evaluate_thickness(
    values_mm: Sequence[float], low_mm: float, high_mm: float, about: str = "sheet", rule: Rule | None = None,
    points: int = POINTS,
) -> Wall:  # fmt: skip
    """Judge wall thickness readings against limits; fewer than `points` asks for more, one far off for a second
    look."""
    values = [require_positive(f"thickness {n}", v, "mm") for n, v in enumerate(values_mm, 1)]
    if len(values) < 2:
        raise InputError("thickness readings", len(values), "", "two or more", f"measure {points} points")
    s = summary(values)
    k = two_sided_factor(s.count, 0.95, 0.95)
    gauge = micrometer_budget()
    least, largest = (decide(v, low_mm, high_mm, gauge, rule) for v in (min(values), max(values)))
    findings = [
        f for f in (finding_of(least, "thinnest place", about), finding_of(largest, "thickest place", about)) if f
    ]
    if s.count < points:
        sentence = f"{s.count} thickness readings; the plan asks for {points}."
        findings.append(Finding("caution", sentence, f"measure {points - s.count} more", about, "thickness-few"))
    if s.count >= 5 and grubbs(values, 0.99).is_outlier:
        place = grubbs(values, 0.99).index + 1
        sentence = f"Thickness reading {place} lies apart from the others."
        findings.append(Finding("note", sentence, "wipe, measure that place again", about, "thickness-apart"))
    return Wall(s, (s.mean - k * s.sd, s.mean + k * s.sd), least, largest, tuple(findings))


@dataclass(frozen=True, slots=True)
class Hardness:
    """Hardness of a sheet or part against the card [HV]; share_pct : difference from the card's."""

    summary: Summary
    card_HV: float
    share_pct: float
    standard_pct: float
    findings: tuple[Finding, ...]

    @property
    def distance(self) -> float:
        """Difference in standard uncertainties."""
        return self.share_pct / self.standard_pct


def evaluate_hardness(
    values_HV: Sequence[float], card_HV: float, about: str = "sheet", tester_pct: float = 2.0, cast_pct: float = 3.0
) -> Hardness:
    """Compare hardness with the card; more than 2.5 standard uncertainties apart asks whether it is the right cast.

    tester_pct : sd of the tester between days; cast_pct : sd between good casts. Common practice, no source.
    """
    values = [require_positive(f"hardness {n}", v, "HV") for n, v in enumerate(values_HV, 1)]
    card = require_positive("hardness on the card", card_HV, "HV")
    if len(values) < 2:
        raise InputError("hardness readings", len(values), "", "two or more", "make five indents")
    s = summary(values)
    share = 100.0 * (s.mean / card - 1.0)
    own = 100.0 * s.sd / card / s.count**0.5
    standard = (own**2 + tester_pct**2 + cast_pct**2) ** 0.5
    findings = []
    if abs(share) > 2.5 * standard:
        sentence = f"{about} is {share:+.1f} % off the card's hardness ({s.mean:.0f} against {card:.0f} HV)."
        remedy = "check the cast number on sheet and certificate before the next ring"
        findings.append(
            Finding("stop", sentence, remedy, about, "hardness-off", "A wrong cast cannot be seen from girths.")
        )
    return Hardness(s, card, share, standard, tuple(findings))
