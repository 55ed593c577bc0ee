"""Limits of a study: what the drawing, the house and the press ask of every ring."""

from __future__ import annotations

import math

from hoopwright.plan.shapes import RingJob
from hoopwright.plan.study.judged import Limit
from hoopwright.process.size_figures import control_word


def limits_of(job: RingJob) -> tuple[Limit, ...]:
    """One limit for each result that has one."""
    tolerances = job.liner.tolerances
    sizes = tuple(
        Limit(
            f"free-{control_word(control)}",
            control.diameter_mm - control.tolerance_mm,
            control.diameter_mm + control.tolerance_mm,
            "drawing",
        )
        for control in job.ring.controls
    )
    return (
        *sizes,
        Limit("held-peak-to-valley", -math.inf, tolerances.roundness_restrained_radial_mm, "drawing, restrained"),
        Limit("peak-to-valley", -math.inf, tolerances.roundness_free_state_radial_mm, "drawing, free state"),
        Limit("thinnest", tolerances.thickness_min_after_forming_mm, math.inf, "drawing"),
        Limit("seam-used", -math.inf, 100.0, "house limit of the seam's strain"),
        Limit("pull", -math.inf, job.machines.expander.pull_max_kN.value, "press"),
    )


UNITS: dict[str, str] = {
    "pull": "kN",
    "parent-used": "pct",
    "seam-used": "pct",
    "strain-least": "pct",
    "strain-peak": "pct",
}
"""Units of results that are not lengths in mm."""

NAMES: dict[str, str] = {
    "held-peak-to-valley": "peak to valley, held round",
    "peak-to-valley": "peak to valley, free",
    "lobes": "lobes of the segments",
    "thinnest": "least thickness round the ring",
    "seam-used": "strain limit of the seam used",
    "parent-used": "strain budget used beside the seam",
    "pull": "pin pull",
    "springback": "springback on the mean diameter",
    "strain-least": "least stretch round the ring",
    "strain-peak": "largest stretch beside the seam",
    "wave-2": "two lobes left",
    "wave-3": "three lobes left",
    "wave-4": "four lobes left",
    "wave-5": "five lobes left",
}


def unit_of(result: str) -> str:
    """Unit of a result."""
    return UNITS.get(result, "mm")


def name_of(result: str) -> str:
    """A result in the shop's words; control sizes keep their own name."""
    return NAMES.get(result, result.removesuffix("-dia").replace("-", " ") + " diameter")
