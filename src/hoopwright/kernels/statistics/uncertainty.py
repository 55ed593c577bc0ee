"""Uncertainty budgets by the GUM: linear with degrees of freedom, and a sampled check. Units as the terms give them.

uc^2 = sum (c u)^2,  effective degrees of freedom = uc^4 / sum((c u)^4 / nu)  (Welch-Satterthwaite),  U = t uc.

References
----------
Guide to the expression of uncertainty in measurement (JCGM 100), annex G and example H.1: tests/published/statistics.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.kernels.arrays import Vector, whole_count
from hoopwright.kernels.statistics.summary import student_quantile

Shape = Literal["normal", "uniform", "triangular", "arcsine"]
SHAPE_DIVISORS: dict[str, float] = {
    "normal": 1.0, "uniform": math.sqrt(3.0), "triangular": math.sqrt(6.0), "arcsine": math.sqrt(2.0)
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Term:
    """One line of a budget.

    half_width : half width of the shape, or the standard deviation for "normal". sensitivity : d result / d term.
    dof : degrees of freedom, infinite where the term is taken as known. group : terms of one group are fully
    correlated (the same tape, the same thermometer) and add up before they are squared.
    """

    name: str
    half_width: float
    shape: Shape = "normal"
    sensitivity: float = 1.0
    dof: float = math.inf
    group: str = ""

    def __post_init__(self) -> None:
        require_range(self.name, self.half_width, 0.0, 1e12)
        require_finite(self.name + " sensitivity", self.sensitivity)
        if self.shape not in SHAPE_DIVISORS:
            raise InputError(self.name + " shape", self.shape, "", ", ".join(SHAPE_DIVISORS), "name one of these")
        if not self.dof >= 1.0:
            raise InputError(self.name + " degrees of freedom", self.dof, "", "1 or more", "count the readings")

    @property
    def standard(self) -> float:
        """Its standard uncertainty in the units of the result, with the sign of the sensitivity."""
        return self.sensitivity * self.half_width / SHAPE_DIVISORS[self.shape]


@dataclass(frozen=True, slots=True)
class Budget:
    """standard : uc. dof : effective. terms : the lines. Units of the result."""

    standard: float
    dof: float
    terms: tuple[Term, ...]

    def expanded(self, coverage: float = 0.95, whole_dof: bool = True) -> float:
        """U = t uc; degrees of freedom are cut to the next whole number below, as the Guide has it."""
        require_range("coverage", coverage, 0.5, 0.9999)
        dof = math.floor(self.dof + 1e-9) if whole_dof and math.isfinite(self.dof) else self.dof
        return self.standard * student_quantile(0.5 + 0.5 * coverage, max(dof, 1.0))

    def shares(self) -> tuple[tuple[str, float], ...]:
        """Name and share of the variance of each line, largest first (lines of a group are shared by their size)."""
        total = sum(term.standard**2 for term in self.terms)
        rows = [(term.name, term.standard**2 / total if total else 0.0) for term in self.terms]
        return tuple(sorted(rows, key=lambda row: -row[1]))


def budget(terms: Sequence[Term]) -> Budget:
    """Combine the lines of a budget. Units of the result."""
    if not terms:
        raise InputError("budget", "empty", "", "at least one term", "name what the reading may be wrong by")
    groups: dict[str, list[Term]] = {}
    for number, term in enumerate(terms):
        groups.setdefault(term.group or f"#{number}", []).append(term)
    variance, fourth = 0.0, 0.0
    for members in groups.values():
        part = sum(term.standard for term in members)
        variance += part * part
        fourth += part**4 / min(term.dof for term in members)
    dof = variance**2 / fourth if fourth > 0.0 else math.inf
    return Budget(math.sqrt(variance), dof, tuple(terms))


def draw(term: Term, count: int, rng: np.random.Generator) -> Vector:
    """Deviations of a term as sampled, in its own units."""
    h = term.half_width
    if term.shape == "normal":
        return h * (rng.standard_t(term.dof, count) if math.isfinite(term.dof) else rng.standard_normal(count))
    if term.shape == "uniform":
        return rng.uniform(-h, h, count)
    if term.shape == "triangular":
        return h * (rng.uniform(0.0, 1.0, count) + rng.uniform(0.0, 1.0, count) - 1.0)
    return h * np.sin(rng.uniform(-math.pi / 2.0, math.pi / 2.0, count))


@dataclass(frozen=True, slots=True)
class Sampled:
    """mean, sd and the shortest interval that holds `coverage` of the samples. Units of the result."""

    mean: float
    sd: float
    low: float
    high: float


def sampled(
    model: Callable[[Sequence[Vector]], Vector],
    terms: Sequence[Term],
    count: int = 100_000,
    coverage: float = 0.95,
    seed: int = 1,
) -> Sampled:
    """The result's spread by sampling the terms through the full model (JCGM 101). Units of the result.

    `model` gets one array of deviations a term, each in the term's own units; terms of one group move together.
    """
    whole_count("samples", count, 1000, 10_000_000)
    rng = np.random.default_rng(seed)
    together: dict[str, Vector] = {}
    arrays = []
    for term in terms:
        if term.group:
            unit = together.setdefault(term.group, rng.standard_normal(count))
            arrays.append(unit * term.half_width / SHAPE_DIVISORS[term.shape])
        else:
            arrays.append(draw(term, count, rng))
    values = np.sort(np.asarray(model(arrays), dtype=np.float64))
    inside = round(coverage * count)
    start = int(np.argmin(values[inside:] - values[: count - inside]))
    return Sampled(float(values.mean()), float(values.std(ddof=1)), float(values[start]), float(values[start + inside]))
