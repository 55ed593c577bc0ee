"""Bands from metal temperatures that are not known exactly: each one moved by a standard deviation, squares added."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.errors import RangeError
from hoopwright.findings import Band
from hoopwright.kernels.thermal_strain import StrainTable
from hoopwright.plan.hot.gaps import Neighbours, courses
from hoopwright.plan.hot.history import HotTimes
from hoopwright.plan.hot.model import HotModel

Vector = NDArray[np.float64]

METAL_SD_K = 10.0
"""Standard deviation of a metal temperature in the bands: assumed, common practice, no source."""
NINE_IN_TEN = 1.6448536269514722
HOW = f"linear: metal temperatures +/- {METAL_SD_K:g} K (one sd, assumed)"


def band_of(value: float, changes: Iterable[float], how: str = HOW) -> Band:
    """Band of 9 in 10 from what one standard deviation of each input changes."""
    wide = NINE_IN_TEN * math.sqrt(math.fsum(c * c for c in changes))
    return Band(value - wide, value + wide, how)


def strain_step(table: StrainTable, degC: float) -> float:
    """Change of free strain by one standard deviation of temperature; downwards at the end of the table."""
    up = degC + METAL_SD_K <= table.last
    other = degC + METAL_SD_K if up else degC - METAL_SD_K
    return float(table.at(other) - table.at(degC))


def card_step(card: Alloy, degC: float) -> float:
    """The same straight from a card."""
    here = card.thermal_growth_eng(degC).value
    try:
        return card.thermal_growth_eng(degC + METAL_SD_K).value - here
    except RangeError:
        return card.thermal_growth_eng(degC - METAL_SD_K).value - here


def places_step(times: HotTimes, row: int) -> Vector:
    """`strain_step` of every given place at a row of the course, (m,)."""
    tables = [part.strain for part in times.job.parts for _ in part.places]
    return np.array([strain_step(t, float(w[row])) for t, w in zip(tables, times.warm, strict=True)])


def gap_bands(model: HotModel, times: HotTimes, met: Neighbours, row: int = 0) -> dict[str, Band]:
    """Band of every gap at one row of a course: parts, groove and casing each a standard deviation off."""
    tables = [part.strain for part in times.job.parts for _ in part.places]
    names = list(times.neighbours)
    count = len(tables) + len(names)
    warm = np.repeat(times.warm[:, row : row + 1], count + 1, axis=1)
    beside = {name: np.full(count + 1, values[row]) for name, values in times.neighbours.items()}
    for k, table in enumerate(tables):
        warm[k, k + 1] += METAL_SD_K if warm[k, 0] + METAL_SD_K <= table.last else -METAL_SD_K
    for k, name in enumerate(names):
        table_of = met.groove if name == "groove" else met.casing
        top = math.inf if table_of is None else table_of.last
        at = 1 + len(tables) + k
        beside[name][at] += METAL_SD_K if beside[name][0] + METAL_SD_K <= top else -METAL_SD_K
    moved = HotTimes(times.job, np.arange(count + 1.0), warm, beside, times.said)
    return {
        g.key: band_of(float(g.values[0]), (g.values[1:] - g.values[0]).tolist()) for g in courses(model, moved, met)
    }
