"""Gauge study: parts times operators times trials, by analysis of variance and by ranges. Units as given.

References
----------
Measurement system analysis practice (AIAG manual, from memory; its worked example in tests/published/statistics).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import special

from hoopwright.errors import InputError
from hoopwright.kernels.arrays import Vector
from hoopwright.kernels.statistics.small_samples import mean_range_factor, range_moments

KEEP_INTERACTION_BELOW_P = 0.25
"""The interaction is pooled into repeatability unless its p is below this (manual's rule, from memory)."""


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """Standard deviations in the unit of the readings.

    repeatability : EV. reproducibility : AV (operators). interaction : 0 where pooled. gauge : all three.
    parts : PV. total : TV. interaction_p : p of the interaction [1].
    """

    repeatability: float
    reproducibility: float
    interaction: float
    gauge: float
    parts: float
    total: float
    interaction_f: float
    interaction_p: float

    @property
    def gauge_pct(self) -> float:
        """Gauge as a share of the total scatter."""
        return 100.0 * self.gauge / self.total

    @property
    def categories(self) -> float:
        """Parts that the gauge can tell apart, 1.41 PV/GRR (whole numbers are cut off where it is quoted)."""
        return math.sqrt(2.0) * self.parts / self.gauge if self.gauge > 0.0 else math.inf

    def share_of_tolerance_pct(self, tolerance_width: float) -> float:
        """6 gauge sd over the width of the tolerance."""
        return 600.0 * self.gauge / tolerance_width


def _cube(readings: ArrayLike) -> Vector:
    data = np.asarray(readings, dtype=np.float64)
    if data.ndim != 3 or min(data.shape) < 2 or not np.all(np.isfinite(data)):
        raise InputError(
            "readings", f"of shape {data.shape}", "", "parts x operators x trials, two of each at least, finite",
            "measure every part by every operator as often",
        )  # fmt: skip
    return data


def study_by_variance(readings: ArrayLike, pool: bool | None = None) -> GaugeStudy:
    """Analysis of variance, shape (parts, operators, trials); `pool` overrides the rule. Units as given."""
    data = _cube(readings)
    p, o, r = data.shape
    grand = data.mean()
    part, operator, cell = data.mean(axis=(1, 2)), data.mean(axis=(0, 2)), data.mean(axis=2)
    ss_part = o * r * float(((part - grand) ** 2).sum())
    ss_operator = p * r * float(((operator - grand) ** 2).sum())
    ss_inter = r * float(((cell - part[:, None] - operator[None, :] + grand) ** 2).sum())
    ss_error = float(((data - cell[:, :, None]) ** 2).sum())
    df_inter, df_error = (p - 1) * (o - 1), p * o * (r - 1)
    ms_part, ms_operator = ss_part / (p - 1), ss_operator / (o - 1)
    ms_inter, ms_error = ss_inter / df_inter, ss_error / df_error
    if ms_error <= 0.0:
        raise InputError("readings", "without any scatter", "", "as the gauge shows them", "record every digit")
    f = ms_inter / ms_error
    p_value = float(special.fdtrc(df_inter, df_error, f))
    if p_value >= KEEP_INTERACTION_BELOW_P if pool is None else pool:
        error = (ss_inter + ss_error) / (df_inter + df_error)
        inter, against = 0.0, error
    else:
        error, against = ms_error, ms_inter
        inter = max(0.0, (ms_inter - ms_error) / r)
    av = max(0.0, (ms_operator - against) / (p * r))
    pv = max(0.0, (ms_part - against) / (o * r))
    grr = error + av + inter
    root = math.sqrt
    return GaugeStudy(root(error), root(av), root(inter), root(grr), root(pv), root(grr + pv), f, p_value)


def study_by_ranges(readings: ArrayLike) -> GaugeStudy:
    """The hand method: mean range of trials, range of operator means, range of part means, over d2*. Units as given."""
    data = _cube(readings)
    p, o, r = data.shape
    # many ranges: the manual takes d2 itself, not d2* for p x o groups
    ev = float(np.ptp(data, axis=2).mean()) / range_moments(r)[0]
    between = float(np.ptp(data.mean(axis=(0, 2)))) / mean_range_factor(o, 1)
    av = math.sqrt(max(0.0, between**2 - ev**2 / (p * r)))
    pv = float(np.ptp(data.mean(axis=(1, 2)))) / mean_range_factor(p, 1)
    grr = math.hypot(ev, av)
    return GaugeStudy(ev, av, 0.0, grr, pv, math.hypot(grr, pv), math.nan, math.nan)
