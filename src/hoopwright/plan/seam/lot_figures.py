"""Figures of a weld lot, with their workings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.readings import WeldLot
from hoopwright.findings import Figure, Input, Source
from hoopwright.kernels.seam_shrinkage import Learned, worth_changing
from hoopwright.kernels.seam_stats_ratio import RatioResult
from hoopwright.kernels.seam_stats_tolerance import share_shown
from hoopwright.process.working import reckoned, stated

TESTED: Final = Source("measured", "tensile tests of the lot")
TAPE: Final = Source("measured", "tape before and after the weld")


@dataclass(frozen=True, slots=True)
class CouponResult:
    """One coupon. ratio : over the mean of its parent; cause : measured reason of a failure, "" without one."""

    id: str
    ratio: float
    passed: bool
    cause: str
    fracture: str


def lot_figures(
    lot: WeldLot,
    every: Sequence[CouponResult],
    parent: float,
    mean: float,
    compared: RatioResult,
    learned: Learned | None,
    cut: float | None,
    limits: HouseLimits,
) -> tuple[Figure, ...]:
    """Strength figures, then shrinkage and the cut length it asks for."""
    strength = _strength(lot, every, parent, mean, compared)
    return (*strength, *_shrinkage(lot, learned, cut, limits))


def _strength(
    lot: WeldLot, every: Sequence[CouponResult], parent: float, mean: float, compared: RatioResult
) -> list[Figure]:
    at = f"lot/{lot.lot}"
    base = stated(f"{at}/parent-mean", "parent strength, mean of the same sheet", parent, "MPa", TESTED, 1)
    each = [
        reckoned(
            f"{at}/ratio/{c.id}",
            f"coupon {c.id} over parent",
            c.ratio,
            "1",
            "R / Rp",
            Input("R", "its strength", c.ratio * parent, "MPa", TESTED),
            base.as_input("Rp"),
        )
        for c in every
    ]
    all_of = ", ".join(f"{c.ratio:.3f}" for c in every)
    seen = Input("R", "ratios of the coupons", all_of, "1", TESTED)
    return [
        base,
        *each,
        reckoned(f"{at}/mean-ratio", "mean strength over parent", mean, "1", "mean ( R )", seen),
        reckoned(
            f"{at}/mean-ratio-bound",
            "mean ratio, one-sided 95 % bound",
            compared.lower,
            "1",
            "exp ( d - t s h )",
            Input("d", "difference of the mean logarithms", math.log(compared.ratio), "1", TESTED),
            Input("s", "pooled scatter", compared.cv, "1", TESTED),
            Input("t", "Student's t", compared.freedom, "degrees of freedom", TESTED),
            Input("h", "sqrt(1/nw + 1/np)", f"{len(every)} weld, {len(lot.parent_tensile_MPa)} parent", "", TESTED),
        ),
        reckoned(
            f"{at}/each-bound",
            f"bound above which {100 * compared.each_share:.0f} % of welds lie, 95 % confidence",
            compared.each_lower,
            "1",
            "tolerance bound of R",
            seen,
        ),
        reckoned(
            f"{at}/equivalence-p",
            "equivalence 0.95 to 1.053: larger p of the two one-sided tests",
            max(compared.p_low, compared.p_high),
            "1",
            "p of R",
            seen,
        ),
        reckoned(
            f"{at}/share-proved",
            "share of good welds that these coupons alone prove, all passed",
            share_shown(len(every)),
            "1",
            "0.05 ^ ( 1 / n )",
            Input("n", "coupons", len(every), "1", TESTED),
            digits=2,
        ),
    ]


def _shrinkage(lot: WeldLot, learned: Learned | None, cut: float | None, limits: HouseLimits) -> list[Figure]:
    """What the rings of the lot say of the shrinkage; a new cut length where it is worth changing."""
    if learned is None or learned.plain is None:
        return []
    at = f"lot/{lot.lot}"
    taken = ", ".join(f"{r.length_cut_mm - r.circumference_after_weld_mm:.2f}" for r in lot.rings)
    read = Input("s", "readings of the rings", taken, "mm", TAPE)
    house = limits.weld_shrink_mm.as_input("s0")
    plain = reckoned(
        f"{at}/shrinkage-mean", "shrinkage, plain mean of the rings", learned.plain, "mm", "mean ( s )", read
    )
    posterior = reckoned(
        f"{at}/shrinkage",
        "shrinkage, posterior",
        learned.mean,
        "mm",
        "posterior of s0 with s",
        house,
        read,
        note=f"plus or minus {learned.sd:.3f} mm, one standard deviation",
    )
    more = learned.mean - limits.weld_shrink_mm.value
    if cut is None or not worth_changing(more, learned.sd):
        return [plain, posterior]
    proposed = reckoned(
        f"{at}/cut-length",
        "cut length proposed",
        round(cut + more, 2),
        "mm",
        "L + ( s - s0 ) to a step of 0.01",
        Input("L", "cut length in use", cut, "mm", Source("given", "plan in use")),
        posterior.as_input("s"),
        house,
        digits=2,
    )
    return [plain, posterior, proposed]
