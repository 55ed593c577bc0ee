"""Diameter by girth tape: brought to 20 degC and to the reference tension, with its uncertainty.

    free of the tape      tape and part warm by T - 20: true at 20 degC = read (1 + (a_tape - a_part)(T - 20))
    tension               the tape stretches by F/(E A) and the ring shrinks by F/(E t w) of its hoop: both read small
    out of round          excess n^2 a^2 / 2R of the girth, told apart by the roundness readings

All readings are of circumference diameters; a tape is blind to ovality of the size met here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.statistics.summary import grubbs, summary
from hoopwright.kernels.statistics.uncertainty import Budget, Term, budget

STEEL_PER_K = 11.5e-6
TAPE_ACCURACY_MM = 0.03


@dataclass(frozen=True, slots=True)
class Tape:
    """A girth tape: expansion, section and modulus of its band, tension it was set at, accuracy on diameter."""

    expansion_per_K: float = STEEL_PER_K
    width_mm: float = 6.0
    thickness_mm: float = 0.2
    modulus_MPa: float = 205_000.0
    set_tension_N: float = 20.0
    accuracy_mm: float = TAPE_ACCURACY_MM

    def __post_init__(self) -> None:
        for name in ("width_mm", "thickness_mm", "modulus_MPa", "set_tension_N", "accuracy_mm"):
            require_positive(f"tape {name}", getattr(self, name))
        require_range("tape expansion_per_K", self.expansion_per_K, 0.0, 3e-5)


@dataclass(frozen=True, slots=True)
class Girth:
    """diameter_mm : at 20 degC and the tape's own tension. corrections, in mm. budget : of one station's mean."""

    diameter_mm: float
    readings: int
    read_mm: float
    temperature_mm: float
    tension_mm: float
    repeat_mm: float
    budget: Budget
    notes: tuple[str, ...] = ()

    @property
    def expanded_mm(self) -> float:
        """U at 95 %."""
        return self.budget.expanded(0.95)


def girth_diameter(
    readings_mm: Sequence[float],
    part_degC: float,
    expansion_per_K: float,
    tension_N: float | None = None,
    tape: Tape | None = None,
    hoop_area_mm2: float | None = None,
    hoop_modulus_MPa: float = 205_000.0,
    temperature_doubt_K: float = 1.0,
    tension_doubt_N: float = 3.0,
) -> Girth:
    """Mean of readings at one station, corrected, with its budget.

    Parameters
    ----------
    readings_mm : diameters as the tape shows them, one or more; two in opposite directions cancel friction's drag.
    hoop_area_mm2 : cross-section of the ring where the tape lies; None leaves the ring's own squeeze out.
    """
    used = tape if tape is not None else Tape()
    values = [require_positive(f"reading {n}", v, "mm") for n, v in enumerate(readings_mm, 1)]
    if not values:
        raise InputError("readings", "none", "", "one or more", "lay the tape round")
    warm = require_range("part temperature", part_degC, -10.0, 80.0, "degC") - 20.0
    part = require_range("expansion of the part", expansion_per_K, 0.0, 4e-5)
    pull = used.set_tension_N if tension_N is None else require_range("tension", tension_N, 1.0, 200.0, "N")
    mean = math.fsum(values) / len(values)
    spread = max(values) - min(values) if len(values) > 1 else 0.0
    heat = mean * (used.expansion_per_K - part) * warm
    soft = 1.0 / (used.modulus_MPa * used.width_mm * used.thickness_mm)
    ring = 0.0 if hoop_area_mm2 is None else 1.0 / (hoop_modulus_MPa * require_positive("hoop area", hoop_area_mm2))
    pulled = mean * ((pull - used.set_tension_N) * soft + pull * ring)
    notes = []
    if len(values) == 1:
        notes.append("one reading only: its repeat is taken from the tape's accuracy")
    elif len(values) > 2 and grubbs(values, 0.99).is_outlier:
        notes.append(f"reading {grubbs(values, 0.99).index + 1} lies apart from the others: read it again")
    lines = _lines(values, mean, used, warm, part, soft + ring, temperature_doubt_K, tension_doubt_N)
    return Girth(mean + heat + pulled, len(values), mean, heat, pulled, spread, budget(lines), tuple(notes))


def _lines(
    values: Sequence[float],
    mean: float,
    tape: Tape,
    warm: float,
    part: float,
    soft: float,
    temperature_doubt: float,
    tension_doubt: float,
) -> list[Term]:
    require_finite("temperature doubt", temperature_doubt)
    count = len(values)
    # accuracy is stated as a 2 sd figure; it is the same tape at every reading and does not average out
    lines = [Term("tape accuracy", 0.5 * tape.accuracy_mm, dof=50.0)]
    if count > 1:
        lines.append(Term("repeat of readings", summary(values).sd / math.sqrt(count), dof=count - 1.0))
    else:
        lines.append(Term("repeat, one reading", 0.5 * tape.accuracy_mm, "uniform"))
    lines.append(
        Term("part temperature", temperature_doubt, "uniform", mean * (tape.expansion_per_K - part), group="heat")
    )
    lines.append(Term("expansion of the part", 0.05 * part, "uniform", mean * warm))
    lines.append(Term("tension", tension_doubt, "uniform", mean * soft))
    return lines
