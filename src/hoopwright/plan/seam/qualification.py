"""Qualification of a weld procedure: which coupons and how many, what they prove, life, hardness and fracture place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.findings import Check, Figure, Finding, Input, Source, gravest_first
from hoopwright.kernels.seam_stats_life import LifeComparison, compare_lives
from hoopwright.kernels.seam_stats_ratio import (
    MOST_COUPONS,
    RatioResult,
    compare,
    coupons_needed,
    each_power,
    equivalence_power,
    mean_power,
)
from hoopwright.plan.seam.lot_figures import TESTED
from hoopwright.process.working import reckoned, stated

HOUSE_WELDS: Final = 6
HOUSE_PARENTS: Final = 3
HOUSE: Final = Source("practice", "house rule proposed here, no source: 6 weld and 3 parent coupons a lot")
WANTED: Final = Source("given", "asked for by the person who plans")


@dataclass(frozen=True, slots=True)
class CouponRow:
    """One kind of coupon: how many, from where, in which direction, by which standard (numbers from memory)."""

    kind: str
    count: int
    place: str
    direction: str
    standard: str


@dataclass(frozen=True, slots=True)
class CouponPlan:
    """Coupons of a qualification. welds, parents : tensile coupons recommended; None where no number is enough."""

    rows: tuple[CouponRow, ...]
    welds: int | None
    parents: int | None
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def plan_coupons(
    part: str, cv: float, true_ratio: float = 0.98, power: float = 0.90, limit: float = 0.95
) -> CouponPlan:
    """Coupons needed so that a weld as good as `true_ratio` is proved better than `limit` of its parent.

    Raises
    ------
    InputError
        A scatter that is none; a true ratio not above the limit, which no number of coupons can prove.
    """
    require_range("scatter", cv, 1e-4, 0.5)
    require_range("power", power, 0.5, 0.999)
    if not limit < require_positive("expected strength ratio", true_ratio) <= 1.2:
        raise InputError("expected strength ratio", true_ratio, "", f"above {limit:g}", "improve the weld first")
    equal = coupons_needed(lambda n: mean_power(n, n, cv, true_ratio, limit), power)
    few = coupons_needed(lambda n: mean_power(n, HOUSE_PARENTS, cv, true_ratio, limit), power)
    six = coupons_needed(lambda n: mean_power(n, 6, cv, true_ratio, limit), power)
    both = coupons_needed(lambda n: equivalence_power(n, n, cv, true_ratio, limit), power)
    each = coupons_needed(lambda n: each_power(n, 6, cv, true_ratio, 0.90, limit), power)
    house = mean_power(HOUSE_WELDS, HOUSE_PARENTS, cv, true_ratio, limit)
    given = (
        Input("cv", "scatter of the strength", cv, "1", WANTED),
        Input("ρ", "true strength ratio", true_ratio, "1", WANTED),
    )
    rows = (
        ("coupons-equal", "weld coupons and as many of the parent, mean", equal),
        ("coupons-with-6", "weld coupons beside 6 of the parent, mean", six),
        ("coupons-with-3", "weld coupons beside 3 of the parent, mean", few),
        ("coupons-equivalence", "weld coupons and as many of the parent, equivalence within 5 %", both),
        ("coupons-each-with-6", "weld coupons beside 6 of the parent, 90 % of all welds", each),
    )
    figures = [
        reckoned(
            f"{part}/qualify/{key}",
            name,
            n,
            "1",
            "n ( cv , ρ )",
            *given,
            digits=0,
            note=f"for a probability of {power:g}",
        )
        for key, name, n in rows
        if n is not None
    ]
    shown = reckoned(
        f"{part}/qualify/house-power",
        f"probability that {HOUSE_WELDS} weld and {HOUSE_PARENTS} parent coupons prove it",
        house,
        "1",
        "P ( cv , ρ )",
        *given,
        digits=2,
    )
    findings = _coupon_findings(part, few, equal, house, power, shown)
    return CouponPlan(_rows(equal), equal, equal, (*figures, shown), findings)


def _coupon_findings(
    part: str, few: int | None, equal: int | None, house: float, power: float, shown: Figure
) -> tuple[Finding, ...]:
    found: list[Finding] = []
    about = f"{part}/qualify"
    if few is None or (equal is not None and few > 1.5 * equal):
        count = f"more than {MOST_COUPONS}" if few is None else str(few)
        found.append(
            Finding(
                "caution",
                f"With 3 parent coupons {count} weld coupons are needed"
                + (f"; with {equal} of each it is {equal}." if equal is not None else "."),
                "take the parent coupons beside the weld coupons, same cast, same direction, as many as of the weld",
                about,
                "coupons-parent",
                "the parent's number is the bottleneck",
            )
        )
    if equal is None:
        found.append(
            Finding(
                "stop",
                f"No number up to {MOST_COUPONS} proves it at this scatter.",
                "find where the scatter comes from: fit-up, cast, test machine",
                about,
                "coupons-none",
            )
        )
    if house < power:
        check = Check("house number is enough", house, power, ">=", "1", HOUSE, "caution", "test more parent", about)
        found.append(
            Finding(
                "caution",
                f"The house rule of {HOUSE_WELDS} and {HOUSE_PARENTS} proves it only {100 * house:.0f} times in 100.",
                "test more parent coupons first",
                shown.identity,
                "coupons-house",
                "",
                check,
            )
        )
    return gravest_first(found)


def _rows(tensile: int | None) -> tuple[CouponRow, ...]:
    n = tensile or HOUSE_WELDS
    band = "coupon band at the end of the same sheet, beside the strips"
    across, along = "load across the weld, along the strip (the hoop direction)", "same direction as the weld coupons"
    return (
        CouponRow("tensile, across the weld", n, band, across, "ISO 4136, ISO 6892-1"),
        CouponRow("tensile, parent", n, "beside each weld coupon, alternating", along, "ISO 6892-1"),
        CouponRow("bend, face and root", 4, band, "across the weld", "ISO 5173"),
        CouponRow("macro section", 3, "first, middle and last weld", "across the weld", "ISO 17639"),
        CouponRow("micro section", 1, "the section of least root", "across the weld", "ISO 17639, ASTM E112"),
        CouponRow("hardness traverse", 2, "on the macro sections, at mid-thickness", "parent to parent", "ISO 9015-2"),
        CouponRow("penetrant", n, "every weld, after dressing", "face and root", "ASTM E1417"),
        CouponRow("radiograph", n, "every weld", "whole length", "ASTM E1742"),
        CouponRow("witness coupon a lot", 1, "same sheet, before the first ring", across, "house rule"),
    )


@dataclass(frozen=True, slots=True)
class Traverse:
    """Hardness across a weld. width_mm : of the zone below half way from parent to least; drop_pct : of hardness."""

    parent_HV: float
    least_HV: float
    width_mm: float
    drop_pct: float


def hardness_traverse(place_mm: Sequence[float], hardness_HV: Sequence[float]) -> Traverse:
    """Softened width from a traverse; the outer quarters are taken as parent.

    Raises
    ------
    InputError
        Fewer than 9 points, places not rising, a hardness not above 0.
    """
    x = np.array([require_finite("place of the indent", p, "mm") for p in place_mm])
    h = np.array([require_positive("hardness", v, "HV") for v in hardness_HV])
    if x.size != h.size or x.size < 9 or np.any(np.diff(x) <= 0.0):
        raise InputError("hardness traverse", x.size, "indents", "9 or more, from one side to the other", "indent more")
    outer = max(2, x.size // 4)
    parent = float(np.median(np.concatenate([h[:outer], h[-outer:]])))
    least = float(h[outer:-outer].min())
    half = 0.5 * (parent + least)
    below = np.nonzero(h < half)[0]
    if parent <= least or below.size == 0:
        return Traverse(parent, least, 0.0, 0.0)
    first, last = int(below[0]), int(below[-1])
    if first == 0 or last == x.size - 1:
        raise InputError("hardness traverse", x.size, "indents", "reaching into parent on both sides", "indent further")
    left = float(np.interp(-half, -h[first - 1 : first + 1], x[first - 1 : first + 1]))
    right = float(np.interp(half, h[last : last + 2], x[last : last + 2]))
    return Traverse(parent, least, right - left, 100.0 * (1.0 - least / parent))


@dataclass(frozen=True, slots=True)
class Qualification:
    """What the coupons prove."""

    comparison: RatioResult
    life: LifeComparison | None
    traverse: Traverse | None
    fractures: tuple[tuple[str, int], ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def evaluate(
    part: str,
    welds_MPa: Sequence[float],
    parents_MPa: Sequence[float],
    fractures: Sequence[str] = (),
    life: LifeComparison | None = None,
    traverse: Traverse | None = None,
    limit: float = 0.95,
) -> Qualification:
    """Strength of the weld against its own sheet; says what is proved, and what is merely not disproved.

    Raises
    ------
    InputError
        Fewer than two coupons of either.
    """
    compared = compare(welds_MPa, parents_MPa, (limit, 1.0 / limit))
    at = f"{part}/qualify"
    seen = Input("R", "strengths, weld over parent", f"{len(welds_MPa)} over {len(parents_MPa)}", "coupons", TESTED)
    figures = [
        reckoned(f"{at}/ratio", "weld over parent, geometric means", compared.ratio, "1", "mean ( R )", seen),
        reckoned(f"{at}/ratio-bound", "the same, one-sided 95 % bound", compared.lower, "1", "bound ( R )", seen),
        reckoned(
            f"{at}/each-bound", "bound above which 90 % of welds lie", compared.each_lower, "1", "tolerance ( R )", seen
        ),
        reckoned(f"{at}/scatter", "pooled scatter", compared.cv, "1", "s ( R )", seen, digits=4),
    ]
    if life is not None:
        line = Input("N", "life tests of weld and parent", "log-linear, separate slopes", "", TESTED)
        figures.append(
            reckoned(
                f"{at}/life-ratio", "life over parent at the design amplitude", life.ratio, "1", "N", line, digits=2
            )
        )
        figures.append(
            reckoned(
                f"{at}/life-bound", "the same, one-sided 95 % bound", life.lower, "1", "bound ( N )", line, digits=2
            )
        )
    if traverse is not None:
        figures.append(stated(f"{at}/softened-width", "softened width by hardness", traverse.width_mm, "mm", TESTED, 2))
    counted = tuple(sorted(Counter(fractures).items(), key=lambda pair: -pair[1]))
    findings = _evaluation_findings(at, compared, life, counted, limit)
    return Qualification(compared, life, traverse, counted, tuple(figures), findings)


def _evaluation_findings(
    at: str, compared: RatioResult, life: LifeComparison | None, fractures: Sequence[tuple[str, int]], limit: float
) -> tuple[Finding, ...]:
    found: list[Finding] = []
    check = Check(
        "the mean is proved", compared.lower, limit, ">=", "1", TESTED, "stop", "test more parent coupons first", at
    )
    if not check.ok:
        found.append(
            Finding(
                "stop",
                f"The weld is not proved above {100 * limit:.0f} % of its parent; "
                f"the bound is {100 * compared.lower:.1f} %.",
                check.remedy,
                f"{at}/ratio-bound",
                "qualify-mean",
                "",
                check,
            )
        )
    if not compared.equivalent:
        found.append(
            Finding(
                "caution",
                "Weld and parent are not shown to be equivalent within 5 %.",
                "test more parent coupons of the same sheet",
                f"{at}/ratio",
                "qualify-equivalence",
                "that no difference is significant is no claim",
            )
        )
    if life is not None and life.lower < 0.5:
        found.append(
            Finding(
                "caution",
                f"Half of parent life is not proved; the bound is {life.lower:.2f}.",
                "test more at the design amplitude",
                f"{at}/life-bound",
                "qualify-life",
            )
        )
    if life is not None and life.outside:
        found.append(
            Finding(
                "caution",
                "The design amplitude lies outside the amplitudes tested.",
                "test on both sides of it",
                f"{at}/life-ratio",
                "qualify-life-outside",
            )
        )
    in_weld = sum(n for place, n in fractures if "parent" not in place.lower())
    if in_weld:
        total = sum(n for _, n in fractures)
        found.append(
            Finding(
                "note",
                f"{in_weld} of {total} coupons broke at or in the weld.",
                "look at those sections first: mismatch, undercut, root",
                at,
                "qualify-fracture",
            )
        )
    return gravest_first(found)


__all__ = ["compare_lives", "evaluate", "hardness_traverse", "plan_coupons"]
