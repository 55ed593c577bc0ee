"""Pierce and trim: metal goes with its stress, what is left springs. The force is a closed form. mm, N, MPa."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.kernels.flow import tensile_strength
from hoopwright.kernels.press_formulas import clearance_by_allowance, punch_force
from hoopwright.kernels.section import Cut, Schedule, Section
from hoopwright.kernels.section import run as run_section
from hoopwright.process.proof_piece import carried, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece

Along = Literal["x", "y"]
By = Literal["punch", "laser", "lathe"]
SHEAR = Source("memory", "Kalpakjian and Schmid: punch force 0.7 times tensile strength times cut area")
ALLOWANCE = Source("read", "Groover's table of clearance allowances: half- and full-hard stainless 0.075")
ALLOWANCE_SHARE = 0.075
NEAR_MM = 0.25
"""Half an element of an ordinary mesh: further off, the place asked for has no node of its own."""


@dataclass(frozen=True, slots=True)
class Trim:
    """Settings of a cut all round.

    inner_mm, outer_mm : where the inner and the outer edge are cut, None to leave it. along : whether these are radii
    ("y", a hole pierced or an outside cut in the flat) or heights along the axis ("x", flanges trimmed). by : a punch
    needs force, laser and lathe need none. zero_mm : what heights count from.
    """

    name: str
    title: str
    inner_mm: float | None = None
    outer_mm: float | None = None
    along: Along = "y"
    by: By = "punch"
    zero_mm: float = 0.0
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if self.inner_mm is None and self.outer_mm is None:
            raise InputError(f"{self.name}: edges", "none", "", "one at least", "say which edge is cut, and where")
        if self.along == "y":
            for name in ("inner_mm", "outer_mm"):
                value = getattr(self, name)
                if value is not None:
                    require_positive(f"{self.name}: {name}", value, "mm")


def run(workpiece: Workpiece, operation: Trim, card: ShopCard) -> Step:
    """Cut, and let what is left spring.

    Raises
    ------
    InputError
        A place that lies outside the plate, or edges in the wrong order.
    """
    section = section_of(workpiece)
    first, last = _places(section, operation)
    result = run_section(section, Schedule((Cut(first, last, operation.name),)), section_metal(card.metal))
    after = carried(workpiece, result.section, operation.name)
    place = f"{workpiece.part}/{operation.name}"
    figures: list[Figure] = []
    findings: list[Finding | None] = []
    for word, node, asked in (("inner", first, operation.inner_mm), ("outer", last, operation.outer_mm)):
        if asked is None:
            continue
        figures += _place_figures(place, word, section, result.section, node, asked, operation, card)
        off = abs(_coordinate(section, operation)[node] - asked)
        findings.append(_off_finding(f"{place}/{word}-cut", off))
        if operation.by == "punch":
            figures += _force_figures(place, word, section, node, card)
    done = tuple(f for f in findings if f is not None)
    return Step("trim", operation.title, f"by {operation.by}", after, operation.settings, tuple(figures), done)


def _coordinate(section: Section, operation: Trim) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return section.x_mm - operation.zero_mm if operation.along == "x" else section.y_mm


def _places(section: Section, operation: Trim) -> tuple[int, int]:
    """The two nodes kept: the nearest to each place, looked for from its own edge."""
    where = _coordinate(section, operation)
    count = where.size
    first = 0 if operation.inner_mm is None else _nearest(where, operation.inner_mm, range(count), operation)
    last = (
        count - 1
        if operation.outer_mm is None
        else _nearest(where, operation.outer_mm, range(count - 1, -1, -1), operation)
    )
    if last - first < 2:
        raise InputError(
            f"{operation.name}: cut",
            (operation.inner_mm, operation.outer_mm),
            "mm",
            "inner before outer with metal between",
            "exchange or move the places",
        )
    return first, last


def _nearest(where: np.ndarray[tuple[int], np.dtype[np.float64]], place: float, order: range, operation: Trim) -> int:
    """The node next to where the section, travelled in `order`, first passes the place."""
    nodes = list(order)
    for one, two in pairwise(nodes):
        low, high = sorted((where[one], where[two]))
        if low <= place <= high:
            return one if abs(where[one] - place) <= abs(where[two] - place) else two
    raise InputError(
        f"{operation.name}: place of the cut",
        place,
        "mm",
        f"on the plate, from {where.min():.3f} to {where.max():.3f}",
        "give a place on the plate",
    )


def _place_figures(
    place: str,
    word: str,
    before: Section,
    after: Section,
    node: int,
    asked: float,
    operation: Trim,
    card: ShopCard,
) -> list[Figure]:
    edge = 0 if word == "inner" else -1
    cut = float(_coordinate(before, operation)[node])
    unit = "radius" if operation.along == "y" else "height"
    return [
        reckoned(
            f"{place}/{word}-cut",
            f"{word} edge is cut at {unit}",
            cut,
            "mm",
            "asked + off",
            Input("asked", "place asked for", asked, "mm", card.ground),
            Input("off", "to the nearest node", cut - asked, "mm", card.ground),
            digits=3,
        ),
        reckoned(
            f"{place}/{word}-spring",
            f"way of the {word} edge along the radius when cut",
            float(after.y_mm[edge] - before.y_mm[node]),
            "mm",
            "r_free - r",
            Input("r_free", "after", float(after.y_mm[edge]), "mm", card.ground),
            Input("r", "before", float(before.y_mm[node]), "mm", card.ground),
            digits=3,
        ),
    ]


def _force_figures(place: str, word: str, section: Section, node: int, card: ShopCard) -> list[Figure]:
    """Force and clearance of a cutting punch; work-hardened metal counts with its flow stress."""
    element = min(max(node, 0), section.elements - 1)
    thickness = float(section.thickness_mm[element])
    length = 2.0 * math.pi * float(section.y_mm[node])
    soft = tensile_strength(card.metal.flow)
    hard = card.metal.flow.stress(float(section.plastic_strain[element].mean()))
    strength = max(soft, hard)
    return [
        reckoned(
            f"{place}/{word}-force",
            f"force to cut the {word} edge at once",
            1e-3 * punch_force(length, thickness, strength),
            "kN",
            "0.7 t L S / 1000",
            Input("t", "sheet there", thickness, "mm", card.ground),
            Input("L", "length of the cut", length, "mm", card.ground),
            Input("S", "larger of tensile strength and flow stress there", strength, "MPa", SHEAR),
            digits=1,
        ),
        reckoned(
            f"{place}/{word}-clearance",
            "clearance a side between cutting punch and die",
            clearance_by_allowance(thickness, ALLOWANCE_SHARE),
            "mm",
            "a t",
            Input("a", "allowance", ALLOWANCE_SHARE, "", ALLOWANCE),
            Input("t", "sheet there", thickness, "mm", card.ground),
            digits=3,
            note="no published allowance for hard nickel alloys was found; that of hard stainless is the nearest",
        ),
    ]


def _off_finding(about: str, off: float) -> Finding | None:
    check = Check(
        "the cut lies where it was asked for",
        off,
        NEAR_MM,
        "<=",
        "mm",
        Source("derived", "mesh of the section"),
        "caution",
        "mesh the plate with a node where it is cut",
        about,
    )
    return judged(check, f"The cut is reckoned {off:.2f} from the place asked for.", "trim-place")
