"""Close: the ends are cut and the strip is drawn together to a hoop; its neutral fibre runs once round."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Figure, Input
from hoopwright.kernels.curl import ContourStrip, closed_hoop
from hoopwright.process.shop import ShopCard
from hoopwright.process.state import hoop_rows, layers_of, points_of
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True, eq=False)
class Close:
    """Settings of cutting the ends and closing.

    cut_length_mm : between the ends, along the neutral fibre. shape : flat radius of the blank at each station over
    that of its middle, shape (n,); all 1 for a strip. middle_mm : flat radius of the middle, for shape 1.
    """

    cut_length_mm: float
    shape: Array
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        require_positive("cut length", self.cut_length_mm, "mm")


def run(workpiece: Workpiece, operation: Close, card: ShopCard) -> Step:
    """Close the natural strip elastically and hold the ends together."""
    if workpiece.form != "strip":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a strip", "it is closed already")
    strip = _sprung(workpiece)
    hoop = closed_hoop(strip, card.metal, operation.cut_length_mm)
    rows = hoop_rows(hoop) | {"r_mm": hoop.radius_mm * operation.shape}
    after = workpiece.after("close", form="hoop", length_mm=operation.cut_length_mm, curl_per_mm=0.0, **rows)
    figures = _figures(after, operation, card)
    subtitle = "trim fixture, clamps cut to the section"
    return Step("close", "Cut the ends, close", subtitle, after, operation.settings, figures, ())


def _figures(closed: Workpiece, operation: Close, card: ShopCard) -> tuple[Figure, Figure]:
    least = float(closed.r_mm.min())
    length = Input("L", "cut length, on the neutral fibre", operation.cut_length_mm, "mm", card.ground)
    stretch = Input(
        "B", "that fibre against the neutral one", 2.0 * math.pi * least / operation.cut_length_mm, "", card.ground
    )
    incoming = reckoned(
        f"{closed.part}/close/least-radius",
        "least mid-surface radius, closed",
        least,
        "mm",
        "L B / ( 2 pi )",
        length,
        stretch,
    )
    effort = reckoned(
        f"{closed.part}/close/moment",
        "moment that holds the ends together",
        _closing_moment(closed),
        "Nm",
        "sum of s A y over stations and layers",
        card.young_MPa.as_input("E"),
        digits=2,
    )
    return incoming, effort


def _closing_moment(workpiece: Workpiece) -> float:
    """Moment of the section about its own middle. [Nm]"""
    stress = workpiece.stress_hoop_MPa
    area = (workpiece.weight_mm * workpiece.thickness_mm)[:, None] / stress.shape[1]
    lift = np.outer(np.cos(workpiece.angle_rad) * workpiece.thickness_mm, workpiece.layer)
    height = workpiece.r_mm[:, None] - float(workpiece.r_mm.mean()) + lift
    return 1e-3 * float(np.sum(stress * area * height))


def _sprung(workpiece: Workpiece) -> ContourStrip:
    """The natural strip as the kernel has it: heights from the neutral fibre, so that its stretch at height 0 is 1."""
    width, thickness = workpiece.weight_mm, workpiece.thickness_mm
    curl = workpiece.curl_per_mm
    return ContourStrip(
        height_mm=workpiece.r_mm,
        normal_radial=np.cos(workpiece.angle_rad),
        width_mm=width,
        thickness_mm=thickness,
        flat_area_mm2=width * thickness * (1.0 + curl * workpiece.r_mm),
        flat_thickness_mm=thickness,
        points=points_of(workpiece),
        layers=layers_of(workpiece),
        stretch=1.0,
        curl_per_mm=curl,
    )
