"""Curl: the rolled strip is curled in the rolls so that it springs back to the radius of the hoop.

The height of a station is that above the blank's line, so that a strip and an arc blank are reckoned alike: of an arc
blank, whose flat radius changes across the width, it is the height above the cone that the blank alone would make.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import require_positive
from hoopwright.findings import Figure
from hoopwright.kernels.curl import curled, let_go
from hoopwright.process.shop import ShopCard
from hoopwright.process.state import metal_rows, strip_of
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True)
class Curl:
    """Settings of the curl. loaded_radius_mm : of the neutral fibre in the rolls."""

    loaded_radius_mm: float
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        require_positive("loaded curl radius", self.loaded_radius_mm, "mm")


def curl_strain(strain_log: Array, yield_strain: float) -> Array:
    """Plastic strain that a curl leaves in every layer: max(0, |ln B| - e_y), same shape as the fibre strain ln B."""
    return np.asarray(np.maximum(0.0, np.abs(strain_log) - yield_strain))


def run(workpiece: Workpiece, operation: Curl, card: ShopCard) -> Step:
    """Curl and let go: natural curl, residual stress, and the plastic strain of the curl in every layer."""
    part = workpiece.part
    loaded = curled(strip_of(workpiece), card.metal, operation.loaded_radius_mm)
    free = let_go(loaded, card.metal)
    strain = workpiece.plastic_strain + curl_strain(loaded.fibre_strain_log, card.metal.yield_strain)
    rows = metal_rows(free.points) | {"plastic_strain": strain}
    after = workpiece.after(
        "curl",
        r_mm=free.height_mm - free.neutral_height_mm,
        weight_mm=free.width_mm,
        thickness_mm=free.thickness_mm,
        curl_per_mm=free.curl_per_mm,
        annealed=False,
        **rows,
    )
    modulus = card.young_MPa.as_input("E")
    radius = reckoned(
        f"{part}/curl/natural-radius",
        "radius of the neutral fibre, strip let go",
        free.neutral_radius_mm,
        "mm",
        "N = 0 and M = 0 after release of the layered section",
        modulus,
        digits=2,
    )
    moment = reckoned(
        f"{part}/curl/moment",
        "bending moment of the section in the rolls",
        loaded.moment_Nmm * 1e-3,
        "Nm",
        "M = sum of stress A y / B",
        modulus,
        digits=1,
        note="each layer free across; held across it is 4 to 5 % more",
    )
    height = loaded.neutral_height_mm - float(workpiece.r_mm.min())
    neutral = reckoned(
        f"{part}/curl/neutral-height",
        "neutral fibre above the lowest mid-surface",
        height,
        "mm",
        "N = 0 of the layered section in the rolls",
        modulus,
        note="the fibre that keeps the strip's length; cut lengths here are measured on it",
    )
    title = "Curl to the hoop's radius"
    figures = (radius, moment, neutral)
    return Step("curl", title, "second closing in the contoured rolls", after, operation.settings, figures, ())


def free_curl_keeps_contour(flange_mm: float, thickness_mm: float) -> float:
    """Radius above which a contour survives a curl outside contoured rolls: sqrt3 c^2 / t. [mm]

    Examples
    --------
    >>> round(free_curl_keeps_contour(21.245, 0.8))
    977
    """
    return math.sqrt(3.0) * flange_mm**2 / thickness_mm
