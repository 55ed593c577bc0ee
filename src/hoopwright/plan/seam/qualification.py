"""Qualification of a weld procedure: which coupons, how many, and where they lie on the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.findings import Check, Figure, Finding, Input, Source, gravest_first
from hoopwright.kernels.seam_stats_ratio import (
    MOST_COUPONS,
    coupons_needed,
    each_power,
    equivalence_power,
    mean_power,
)
from hoopwright.kernels.strip_nest import SheetPlate
from hoopwright.plan.seam.coupon_places import CouponPlace, coupon_places
from hoopwright.process.working import reckoned

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
    """Coupons of a qualification. welds, parents : tensile coupons recommended; None where no number is enough.

    places : where the tensile coupons lie on the sheet, weld and parent in turn; empty where no sheet was given.
    """

    rows: tuple[CouponRow, ...]
    welds: int | None
    parents: int | None
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    places: tuple[CouponPlace, ...] = ()
    sheet: SheetPlate | None = None


def plan_coupons(
    part: str,
    cv: float,
    true_ratio: float = 0.98,
    power: float = 0.90,
    limit: float = 0.95,
    sheet: SheetPlate | None = None,
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
    places, unplaced = _placed(part, sheet, equal or HOUSE_WELDS, equal or HOUSE_PARENTS)
    findings = gravest_first((*_coupon_findings(part, few, equal, house, power, shown), *unplaced))
    return CouponPlan(_rows(equal), equal, equal, (*figures, shown), findings, places, sheet)


def _placed(
    part: str, sheet: SheetPlate | None, welds: int, parents: int
) -> tuple[tuple[CouponPlace, ...], tuple[Finding, ...]]:
    if sheet is None:
        return (), ()
    try:
        return coupon_places(sheet, welds, parents), ()
    except InputError as refused:
        said = f"{welds} weld and {parents} parent coupons do not lie on one sheet: {refused.must} fit."
        return (), (Finding("caution", said, refused.remedy, f"{part}/qualify", "coupons-sheet"),)


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
