"""Size: one hit on the segments. The hoop is stretched onto a fixed tool radius and let off; never by percentage.

On the segments every inside face lies on the tool and the sheet is thinner; off them the whole section moves inward by
one springback, which the balance of hoop forces gives (kernel `chain_contour`). Section bending, tilt of the segments and
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
from hoopwright.process.face_radius import radius_at
from hoopwright.process.shop import ShopCard
from hoopwright.process.state import hoop_of, hoop_rows
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True, eq=False)
class Size:
    """Settings of one hit.

    tool_face_mm : mean radius of the hull of the segments under each station, shape (n,). controls : sizes to be told.
    least_in_mm : least mid-surface radius of the hoop as welded, for the whole stretch. indexed : how the ring is turned
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
    spring = reckoned(
        f"{place}/springback",
        "springback on diameter",
        2.0 * sized.springback_mm,
        "mm",
        "2 * sum ( s A ) / sum ( E A / R )",
        card.young_MPa.as_input("E"),
        _reckoned_input(
            "s", "mean hoop stress on the segments", float(sized.loaded.mean_stress_MPa.mean()), "MPa", card
        ),
        _reckoned_input("R", "mean radius on the segments", float(loaded.r_mm.mean()), "mm", card),
        digits=3,
        note="all of the section moves by the same; s, A, R by station",
    )
    pull = reckoned(
        f"{place}/tension",
        "hoop tension of the section, edge trims on",
        sized.hoop_tension_N * 1e-3,
        "kN",
        "sum of s A",
        card.young_MPa.as_input("E"),
        digits=2,
    )
    figures = [spring, pull, *_sizes(place, operation, loaded, free, spring), *_stretch(place, operation, loaded, free, card)]
    figures.append(
        reckoned(
            f"{place}/thickness",
            "thickness, mean",
            float(after.weight_mm @ after.thickness_mm / after.weight_mm.sum()),
            "mm",
            "t exp ( thickness strain )",
            _reckoned_input("t", "sheet before this hit", float(workpiece.thickness_mm.mean()), "mm", card),
            digits=4,
        )
    )
    last = operation.number == operation.of
    findings = stretch_findings(workpiece.part, figures, card) if last else []
    title = f"Stretch, hit {operation.number} of {operation.of}"
    return Step("size", title, operation.indexed, after, operation.settings, tuple(figures), tuple(findings))


def control_word(control: ControlSize) -> str:
    """A control size in an identity: "lip_od" is "lip-dia"; the face stands in the figure's note."""
    name = control.name.lower()
    for end in ("_od", "_id", "_dia"):
        name = name.removesuffix(end)
    return name.replace("_", "-").replace(" ", "-") + "-dia"


def _reckoned_input(symbol: str, name: str, value: float, unit: str, card: ShopCard) -> Input:
    return Input(symbol, name, value, unit, card.young_MPa.source)


def _sizes(place: str, operation: Size, loaded: Workpiece, free: Workpiece, spring: Figure) -> list[Figure]:
    figures: list[Figure] = []
    for control in operation.controls:
        word = control_word(control)
        said = control.name.replace("_", " ")
        on_tool = 2.0 * radius_at(loaded, control.z_mm, control.face)
        off_tool = 2.0 * radius_at(free, control.z_mm, control.face)
        held = reckoned(
            f"{place}/loaded-{word}",
            f"{said}, on the segments",
            on_tool,
            "mm",
            "D_free + spring + thinning",
            spring.as_input("spring"),
            digits=3,
            note=f"{control.face} face at z {control.z_mm:g}",
        )
        figures += [
            held,
            reckoned(
                f"{place}/free-{word}",
                f"{said}, free",
                off_tool,
                "mm",
                "D_loaded - spring",
                held.as_input("D_loaded"),
                spring.as_input("spring"),
                digits=3,
                note=f"{control.face} face at z {control.z_mm:g}, as a girth tape reads",
            ),
        ]
    return figures


def _stretch(place: str, operation: Size, loaded: Workpiece, free: Workpiece, card: ShopCard) -> list[Figure]:
    incoming = _reckoned_input("R_in", "least mid-surface radius as welded", operation.least_in_mm, "mm", card)
    kept, held = float(free.r_mm.min()), float(loaded.r_mm.min())
    total = reckoned(
        f"{place}/stretch",
        "stretch kept, at the smallest mid-surface radius",
        100.0 * (kept / operation.least_in_mm - 1.0),
        "pct",
        "100 * ( R_free / R_in - 1 )",
        _reckoned_input("R_free", "the same, free", kept, "mm", card),
        incoming,
        digits=3,
    )
    on_tool = reckoned(
        f"{place}/stretch-loaded",
        "stretch on the segments, at the smallest mid-surface radius",
        100.0 * (held / operation.least_in_mm - 1.0),
        "pct",
        "100 * ( R_loaded / R_in - 1 )",
        _reckoned_input("R_loaded", "the same, on the segments", held, "mm", card),
        incoming,
        digits=3,
    )
    return [total, on_tool]


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
            f"{part} is stretched by {held.value:.2f} % on the segments; above {100 * most.limit:g} % strain seeks the seam.",
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
        "t exp ( - ( hoop strain ) / 2 )",
        sheet.as_input("t"),
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


def log_of(stretch_pct: float) -> float:
    """Natural strain of a stretch in per cent."""
    return math.log1p(stretch_pct / 100.0)


__all__ = ["Size", "run", "stated", "stretch_findings", "stretched", "thinning_finding", "wanted_in"]
