"""Curl: the rolled strip is curled in the rolls so that it springs back to the radius of the hoop.

The height of a station is that above the blank's line, so that a strip and an arc blank are reckoned alike: of an arc
blank, whose flat radius changes across the width, it is the height above the cone that the blank alone would make.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import require_positive
from hoopwright.findings import Figure, Finding, Input
from hoopwright.kernels.curl import ContourStrip, curled, let_go
from hoopwright.process.shop import ShopCard
from hoopwright.process.state import metal_rows, strip_of
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Array, Workpiece

LEVEL_DEG = 1.0
"""Cone angle from which a strip is said to lean. Judgement, no source."""


@dataclass(frozen=True, slots=True)
class Curl:
    """Settings of the curl.

    loaded_radius_mm : of the neutral fibre in the rolls. plain : a flat blank is curled (to a plain cone or cylinder),
    not one that has its contour.
    """

    loaded_radius_mm: float
    settings: tuple[Figure, ...] = ()
    plain: bool = False

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
    cone, leaning = cone_of(workpiece, card)
    figures = (*curl_figures(part, loaded, free, card), cone)
    title = "Curl the plain blank" if operation.plain else "Curl to the hoop's radius"
    where = "plain rolls, before any contour" if operation.plain else "second closing in the contoured rolls"
    findings = (leaning,) if leaning else ()
    return Step("curl", title, where, after, operation.settings, figures, findings)


def cone_of(workpiece: Workpiece, card: ShopCard) -> tuple[Figure, Finding | None]:
    """Half angle of the cone an unguided strip would curl to: the slope of the section's own middle line.

    A section whose heights rise from one edge to the other bends most easily about an axis that lies along that rise;
    rolls and guides are taken to hold it level. Bound for small strain: sum A z y / sum A z^2 about the middle.
    """
    area = workpiece.weight_mm * workpiece.thickness_mm
    z = workpiece.z_mm - float(np.average(workpiece.z_mm, weights=area))
    y = workpiece.r_mm - float(np.average(workpiece.r_mm, weights=area))
    across, rise = float(area @ (z * z)), float(area @ (z * y))
    figure = reckoned(
        f"{workpiece.part}/curl/free-cone",
        "half angle of the cone an unguided strip curls to",
        math.degrees(math.atan(rise / across)),
        "deg",
        "atan ( S_zy / S_zz )",
        Input("S_zy", "second moment, across and up", rise, "mm4", card.ground),
        Input("S_zz", "second moment, across", across, "mm4", card.ground),
        digits=1,
        note="guides hold it level; a full section kernel found a side moment of ten times the curl moment for that",
    )
    if abs(figure.value) <= LEVEL_DEG:
        return figure, None
    finding = Finding(
        "note",
        f"The strip of {workpiece.part} wants to curl to a cone of {abs(figure.value):.1f}° half angle.",
        "set side guides at the exit, and compare the curl of both edges on the first strip",
        figure.identity,
        "conical-curl",
        "the contour lies off the middle of the width; cut length and stretch are reckoned with the strip held level",
    )
    return figure, finding


def curl_figures(part: str, loaded: ContourStrip, free: ContourStrip, card: ShopCard) -> tuple[Figure, ...]:
    """Natural radius, moment, and where the neutral fibre lies."""
    area = loaded.width_mm * loaded.thickness_mm
    middle = float(area @ loaded.height_mm / area.sum())
    own = (loaded.normal_radial * loaded.thickness_mm) ** 2 / 12.0
    stiffness = float(area @ ((loaded.height_mm - middle) ** 2 + own))
    moment = reckoned(
        f"{part}/curl/moment",
        "bending moment of the section in the rolls",
        loaded.moment_Nmm * 1e-3,
        "Nm",
        "sum of s A y / B over stations and layers",
        card.young_MPa.as_input("E"),
        digits=1,
        note="each layer free across; held across it is 4 to 5 % more",
    )
    radius = reckoned(
        f"{part}/curl/natural-radius",
        "radius of the neutral fibre, strip let go",
        free.neutral_radius_mm,
        "mm",
        "1 / ( 1 / R_l - 1000 M / ( E I ) )",
        Input("R_l", "the same in the rolls", loaded.neutral_radius_mm, "mm", card.ground),
        moment.as_input("M"),
        card.young_MPa.as_input("E"),
        Input("I", "second moment of the section", stiffness, "mm4", card.ground),
        digits=1,
        note="elastic release to first order; solved layer by layer",
    )
    low = float(loaded.height_mm.min())
    neutral = reckoned(
        f"{part}/curl/neutral-height",
        "neutral fibre above the lowest mid-surface",
        loaded.neutral_height_mm - low,
        "mm",
        "y_n - y_min",
        Input("y_n", "height where N = 0 leaves no strain", loaded.neutral_height_mm, "mm", card.ground),
        Input("y_min", "lowest mid-surface, same level", low, "mm", card.ground),
        note="the fibre that keeps the strip's length; cut lengths here are measured on it",
    )
    return radius, moment, neutral
