"""Size: one hit on the segments. The hoop is stretched onto a fixed tool radius and let off; never by percentage.

On the segments every inside face lies on the tool and the sheet is thinner; off them the whole section moves inward by
one springback, which the balance of hoop forces gives (kernel `chain_contour`). Section bending,
tilt of the segments and
friction along the section are not in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.design.shapes import ControlSize
from hoopwright.errors import InputError
from hoopwright.findings import Check, Figure, Finding, Input, judged
from hoopwright.kernels.chain_contour import SizedContour, ring_stretched
from hoopwright.kernels.metal import Metal
from hoopwright.process.shop import ShopCard
from hoopwright.process.size_figures import (
    control_figures,
    control_word,
    springback_figure,
    stretch_figures,
    tension_figure,
    thickness_figure,
)
from hoopwright.process.state import hoop_of, hoop_rows
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True, eq=False)
class Size:
    """Settings of one hit.

    tool_face_mm : mean radius of the hull of the segments under each station, shape (n,). controls : sizes to be told.
    least_in_mm : least mid-surface radius of the hoop as welded,
    for the whole stretch. indexed : how the ring is turned
    before this hit, in the shop's words. settings : the figures the operator sets.
    """

    number: int
    of: int
    tool_face_mm: Array
    controls: tuple[ControlSize, ...]
    least_in_mm: float
    indexed: str = ""
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= self.number <= self.of:
            raise InputError("hit", self.number, "", f"from 1 to {self.of}", "count the hits from 1")


def stretched(workpiece: Workpiece, tool_face_mm: Array, metal: Metal) -> tuple[Workpiece, Workpiece, SizedContour]:
    """The ring on the segments, and off them."""
    sized = ring_stretched(hoop_of(workpiece), tool_face_mm, metal)
    loaded = replace(workpiece, **hoop_rows(sized.loaded))
    free = replace(workpiece, **hoop_rows(sized.released))
    return loaded, free, sized


def run(workpiece: Workpiece, operation: Size, card: ShopCard) -> Step:
    """One hit: loaded and free sizes, springback, stretch, and what they mean against the house limits."""
    if workpiece.form != "hoop":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a hoop", "close and weld it first")
    loaded, free, sized = stretched(workpiece, operation.tool_face_mm, card.metal)
    after = free.after(f"size hit {operation.number}", annealed=False)
    place = f"{workpiece.part}/size/hit-{operation.number}"
    pull = tension_figure(place, loaded, sized, card)
    spring = springback_figure(place, loaded, sized, pull, card)
    figures = [spring, pull]
    for control in operation.controls:
        figures += control_figures(place, control, loaded, free, spring, card)
    figures += stretch_figures(place, operation.least_in_mm, loaded, free, card)
    figures.append(thickness_figure(place, workpiece, after, card))
    last = operation.number == operation.of
    findings = stretch_findings(workpiece.part, figures, card) if last else []
    title = f"Stretch, hit {operation.number} of {operation.of}"
    return Step("size", title, operation.indexed, after, operation.settings, tuple(figures), tuple(findings))


def stretch_findings(part: str, figures: list[Figure], card: ShopCard) -> list[Finding]:
    """Whether the ring will be round and stay clear of necking at the seam."""
    limits = card.limits
    kept = next(f for f in figures if f.identity.endswith("/stretch"))
    held = next(f for f in figures if f.identity.endswith("/stretch-loaded"))
    share = kept.value / 100.0
    found: list[Finding | None] = []
    half_digit = 5e-5
    too_little = share + half_digit < limits.stretch_round_eng.value
    limit = limits.stretch_round_eng if too_little else limits.stretch_min_eng
    check = Check(
        "the smallest radius is stretched enough",
        share + half_digit,
        limit.value,
        ">=",
        "eng",
        limit.source,
        "stop" if too_little else "caution",
        "cut the strip shorter",
        kept.identity,
    )
    found.append(
        judged(
            check,
            f"The smallest radius of {part} is stretched by {kept.value:.2f} %; the house limit is "
            f"{100 * limit.value:g} %.",
            "stretch-small",
            "the smallest radius is the last to yield, and stays neither round nor stable",
        )
    )
    most = Check(
        "the stretch does not seek the seam",
        held.value / 100.0,
        limits.stretch_seam_eng.value,
        "<=",
        "eng",
        limits.stretch_seam_eng.source,
        "caution",
        "cut the strip longer, or stretch twice with an anneal between",
        held.identity,
    )
    found.append(
        judged(
            most,
            f"{part} is stretched by {held.value:.2f} % on the segments; above {100 * most.limit:g} % strain seeks the "
            "seam.",
            "stretch-large",
        )
    )
    return [finding for finding in found if finding is not None]


def thinning_finding(workpiece: Workpiece, sheet: Figure, least_mm: Figure) -> tuple[Figure, Finding | None]:
    """Least thickness of the finished ring against the drawing."""
    thin = int(np.argmin(workpiece.thickness_mm))
    value = float(workpiece.thickness_mm[thin])
    figure = reckoned(
        f"{workpiece.part}/size/least-thickness",
        "least thickness of the finished ring",
        value,
        "mm",
        "t exp ( e_t )",
        sheet.as_input("t"),
        Input("e_t", "thickness strain there", math.log(value / sheet.value), "log", sheet.source),
        digits=4,
        note=f"at z {workpiece.z_mm[thin]:.1f}; corners not coined",
    )
    check = Check(
        "the finished ring is no thinner than the drawing allows",
        value,
        least_mm.value,
        ">=",
        "mm",
        least_mm.source,
        "stop",
        "start from thicker sheet, or stretch less",
        figure.identity,
    )
    sentence = (
        f"The finished ring is {value:.3f} thin at z {workpiece.z_mm[thin]:.1f}; the drawing wants {least_mm.value:g}."
    )
    return figure, judged(check, sentence, "thinning")


def wanted_in(least_free_mm: float, stretch_eng: float) -> float:
    """Radius as welded that a stretch turns into the free radius. [mm]

    Examples
    --------
    >>> round(wanted_in(123.4, 0.015), 3)
    121.576
    """
    return least_free_mm / (1.0 + stretch_eng)


__all__ = ["Size", "control_word", "run", "stretch_findings", "stretched", "thinning_finding", "wanted_in"]
