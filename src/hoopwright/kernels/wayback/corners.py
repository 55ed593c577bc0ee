"""Roll corner recovery from measured parts: a factor f on the curvature change, ln f prior 0.30. mm, [1].

One reading: (1/r_roll - 1/r_part) / (1/r_roll - 1/r_predicted); sd of its log: hypot(0.15, (0.01/r^2)/dkappa), as a
trace error of 0.01 mm is large beside the change. The 0.15 and the 0.30 are invented; a shop replaces them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.arrays import positive_vector

PRIOR_SD, OWN_SD, TRACE_MM = 0.30, 0.15, 0.01


@dataclass(frozen=True, slots=True)
class CornerFactor:
    """factor f [1], sd of its log [1], roll radius that gives the wanted one [mm]."""

    factor: float
    log_sd: float
    next_roll_radius: float


def corner_factor(
    roll_radius: float, part_radii: ArrayLike, predicted_radius: float, wanted_radius: float
) -> CornerFactor:
    """Factor from corner radii measured on parts, and the next roll's radius. [mm]"""
    roll, predicted = (
        require_positive("roll radius", roll_radius, "mm"),
        require_positive("predicted", predicted_radius),
    )
    wanted = require_positive("wanted radius", wanted_radius, "mm")
    parts = positive_vector("part radii", part_radii, "mm")
    foreseen = 1.0 / roll - 1.0 / predicted
    if foreseen <= 0.0:
        raise InputError("predicted radius", predicted, "mm", f"above the roll's {roll:g}", "corners open on release")
    precision, total = 1.0 / PRIOR_SD**2, 0.0
    for part in parts:
        seen = (1.0 / roll - 1.0 / float(part)) / foreseen
        if seen <= 0.0:
            raise InputError("part radius", float(part), "mm", f"above the roll's {roll:g}", "measure it again")
        var = math.hypot(OWN_SD, TRACE_MM / float(part) ** 2 / foreseen) ** 2
        total += math.log(seen) / var
        precision += 1.0 / var
    factor = math.exp(total / precision)
    # the change of curvature scales with f; the roll must be that much tighter than the part is wanted
    return CornerFactor(factor, precision**-0.5, 1.0 / (1.0 / wanted + factor * foreseen))
