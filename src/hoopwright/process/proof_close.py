"""Close and weld, on the section kernel: the curled strip becomes a hoop, and lies on the drawing along the axis.

The ends of the strip turn once round whatever axis the strip's own curl has; a section that leans against the rolls by
a cone angle leans so against the axis of its hoop. Nothing but the hoop's own girth holds the section. The seam's
shrinkage is length of strip that is no longer there; what it does beside the seam is not in a section.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Figure, Input
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.hoop import closed_hoop, turned
from hoopwright.kernels.section.measure import fit_profile
from hoopwright.process.proof_closing import RUN_OUT_MM
from hoopwright.process.proof_piece import piece_of, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Seam, Workpiece

NEAR_MM = 3.0
"""Edges that are left out when a section is laid on its drawing."""


@dataclass(frozen=True, slots=True, eq=False)
class ProofClose:
    """Settings.

    strip_length_mm : flat length of strip in the welded hoop. drawing : mid-line of the part, x along the axis and y
    the radius. node, place_mm : a node of the section, and where it belongs on the drawing. seam : the weld.
    """

    strip_length_mm: float
    drawing: Profile
    node: int
    place_mm: tuple[float, float]
    seam: Seam
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        require_positive("length of strip in the hoop", self.strip_length_mm, "mm")


def run(workpiece: Workpiece, operation: ProofClose, card: ShopCard) -> Step:
    """Bend the strip to a hoop and lay it on the drawing: radii as welded, moment at the ends, lean."""
    if workpiece.form != "strip":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a strip", "it is closed already")
    result = closed_hoop(section_of(workpiece), section_metal(card.metal), operation.strip_length_mm)
    hoop, lean = laid(result.section, operation.drawing, operation.node, operation.place_mm)
    made = (*workpiece.made_by, "close", "weld")
    after = piece_of(workpiece.part, hoop, operation.strip_length_mm, made, operation.seam)
    place, ground = f"{workpiece.part}/proof/close", card.ground
    moment = float(result.steps[-1].resultant[1])
    figures = (
        reckoned(f"{place}/least-radius", "least mid-surface radius as welded", float(hoop.y_mm.min()), "mm", "R_in",
                 Input("R_in", "least radius of the nodes", float(hoop.y_mm.min()), "mm", ground)),
        reckoned(f"{place}/lean", "lean of the section against the drawing", math.degrees(lean), "deg", "a",
                 Input("a", "turn of the least-squares fit to the drawing", math.degrees(lean), "deg", ground),
                 digits=2),
        reckoned(f"{place}/moment", "moment that holds the ends together", moment * 1e-3, "Nm", "M / 1000",
                 Input("M", "sum of stress times height", moment, "Nmm", ground), digits=2),
    )  # fmt: skip
    return Step("close", "Cut the ends, close, weld", "on the section", after, operation.settings, figures, ())


def laid(hoop: Section, drawing: Profile, node: int, place_mm: tuple[float, float]) -> tuple[Section, float]:
    """The hoop shifted along its axis to where a rigid fit of its section to the drawing has it; and its lean. [rad]"""
    x, y = float(hoop.x_mm[node]), float(hoop.y_mm[node])
    rough = replace(hoop, x_mm=hoop.x_mm + place_mm[0] - x, y_mm=hoop.y_mm + place_mm[1] - y)
    fit = fit_profile(rough, extended(drawing, RUN_OUT_MM), NEAR_MM)
    # about the middle of the section, so that a lean moves neither edge more than the other
    shift = float(np.mean(fit.x_mm) - np.mean(hoop.x_mm))
    return hoop.moved(shift, 0.0), -fit.turn_rad


def into_rolls(hoop: Section, cant_rad: float) -> Section:
    """A closed hoop as the rolls see it: a strip that keeps its curl about the hoop's axis, the section canted."""
    if hoop.mode != "revolution":
        raise InputError("mode", hoop.mode, "", "a closed hoop", "close it first")
    return turned(replace(hoop, mode="prism", extent=1.0), cant_rad)


def out_of_rolls(strip: Section, cant_rad: float, strip_length_mm: float) -> Section:
    """Back from `into_rolls`: the section levelled and set off to its radius, which its stretch force left free."""
    level = turned(strip, -cant_rad)
    radius = level.y_mm + (level.stretch + level.camber_per_mm * float(level.x_mm.mean())) / level.curl_per_mm
    return replace(
        level, y_mm=radius, stretch=0.0, camber_per_mm=0.0, mode="revolution", extent=strip_length_mm
    )  # fmt: skip
