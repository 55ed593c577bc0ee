"""What the welded lots of a shop have shown of a seam: shrinkage, strength, mismatch; and whether it has moved.

Shrinkage of all rings: normal posterior, prior the house's estimate, each reading with its tape and the ring to ring
scatter. Strength: every coupon over the mean of its own sheet, logarithms, coupons of a lot sharing its parent's error.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.seam import SeamCard
from hoopwright.design.readings import LotRing, WeldLot
from hoopwright.errors import InputError
from hoopwright.findings import Band, Figure, Finding, Input, Source, gravest_first
from hoopwright.kernels.seam_shrinkage import READING_SD, RING_TO_RING, Learned, posterior
from hoopwright.plan.seam.card_text import CardFigure, ring_scatter, seam_card_text
from hoopwright.plan.seam.weld_lot import SHRINK_PRIOR_SD_MM
from hoopwright.process.working import reckoned

NINE_IN_TEN: Final = 1.6448536269514722
MOVED_SD: Final = 3.0


@dataclass(frozen=True, slots=True)
class SeamLearned:
    """What lots have shown. lots : their names; strength : geometric mean ratio and its standard deviation, None
    without coupons; mismatch_mm : worst of the rings that the house lets pass, None without rings."""

    lots: tuple[str, ...]
    rings: int
    coupons: int
    shrinkage: Learned | None
    strength: tuple[float, float] | None
    mismatch_mm: float | None
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def learn_seam(name: str, lots: Sequence[WeldLot], thickness_mm: float, limits: HouseLimits) -> SeamLearned:
    """Learn from lots of one alloy, sheet and procedure.

    Parameters
    ----------
    name : str
        Of the seam, in figures ("N06002-0.80").

    Raises
    ------
    InputError
        No lot, or none with a ring or two coupons.
    """
    if not lots:
        raise InputError("weld lots", "none", "", "one or more of this alloy and sheet", "enter a lot first")
    rings = [ring for lot in lots for ring in lot.rings]
    shrinkage = _shrinkage(rings, limits.weld_shrink_mm.value)
    strength, coupons = _strength(lots)
    if shrinkage is None and strength is None:
        raise InputError("weld lots", len(lots), "", "lots with rings or coupons", "enter lengths or strengths first")
    allowed = limits.butt_mismatch_max_t.value * thickness_mm
    met = [worst for ring in rings if (worst := _worst(ring)) <= allowed + 1e-9]
    mismatch = max(met) if met else None
    source = Source("measured", f"weld lots {', '.join(lot.lot for lot in lots)}")
    figures = _figures(name, shrinkage, strength, mismatch, source, limits)
    findings = gravest_first(_moved(name, lots))
    return SeamLearned(
        tuple(lot.lot for lot in lots), len(rings), coupons, shrinkage, strength, mismatch, figures, findings
    )


def learned_card(learned: SeamLearned, material: str, thickness_mm: float, before: SeamCard) -> str:
    """The seam card that a plan takes: what was learned, and what else the card in use says."""
    told = f"weld lots {', '.join(learned.lots)}"
    rows = []
    if learned.shrinkage is not None:
        read = Source("measured", f"{told}: {learned.rings} rings by tape, prior of the house")
        mean, sd = learned.shrinkage.mean, learned.shrinkage.sd
        rows.append(CardFigure("shrinkage_mm", mean, "mm", read))
        rows.append(CardFigure("shrinkage_sd_mm", ring_scatter(mean, sd), "mm", read))
    if learned.strength is not None:
        tested = Source("measured", f"{told}: {learned.coupons} coupons, each over its own sheet")
        rows.append(CardFigure("strength_ratio", learned.strength[0], "1", tested))
    if learned.mismatch_mm is not None:
        rows.append(
            CardFigure("mismatch_mm", learned.mismatch_mm, "mm", Source("measured", f"{told}: worst ring kept"))
        )
    return seam_card_text(material, thickness_mm, f"as {len(learned.lots)} lots showed it", rows, before)


def ring_shrinkage(ring: LotRing) -> float:
    """Length before less circumference after. [mm]"""
    return ring.length_cut_mm - ring.circumference_after_weld_mm


def _worst(ring: LotRing) -> float:
    return max(ring.mismatch_forward_mm, ring.mismatch_middle_mm, ring.mismatch_aft_mm)


def _shrinkage(rings: Sequence[LotRing], prior_mm: float) -> Learned | None:
    if not rings:
        return None
    deviation = math.hypot(READING_SD, RING_TO_RING * prior_mm)
    return posterior(prior_mm, SHRINK_PRIOR_SD_MM, [ring_shrinkage(r) for r in rings], [deviation] * len(rings))


def _strength(lots: Sequence[WeldLot]) -> tuple[tuple[float, float] | None, int]:
    """Geometric mean of coupon over own sheet with its standard deviation, and the count of coupons.

    Lots weigh by the inverse variance of their own mean difference; one scatter for all.
    """
    means, squares, freedom, shares, count = [], 0.0, 0, [], 0
    for lot in lots:
        if len(lot.coupons) < 2 or len(lot.parent_tensile_MPa) < 2:
            continue
        weld = np.log([c.tensile_MPa for c in lot.coupons])
        parent = np.log(lot.parent_tensile_MPa)
        means.append(float(weld.mean() - parent.mean()))
        squares += float(((weld - weld.mean()) ** 2).sum() + ((parent - parent.mean()) ** 2).sum())
        freedom += weld.size + parent.size - 2
        shares.append(1.0 / weld.size + 1.0 / parent.size)
        count += weld.size
    if not means:
        return None, 0
    weight = 1.0 / np.array(shares)
    s = math.sqrt(squares / freedom)
    mean = float(weight @ np.array(means) / weight.sum())
    return (math.exp(mean), s / math.sqrt(float(weight.sum()))), count


def _figures(
    name: str,
    shrinkage: Learned | None,
    strength: tuple[float, float] | None,
    mismatch: float | None,
    source: Source,
    limits: HouseLimits,
) -> tuple[Figure, ...]:
    made = []
    if shrinkage is not None:
        half = NINE_IN_TEN * ring_scatter(shrinkage.mean, shrinkage.sd)
        made.append(
            reckoned(
                f"seam/{name}/shrinkage",
                "strip length the seam consumes, learned",
                shrinkage.mean,
                "mm",
                "posterior of s0 with s",
                limits.weld_shrink_mm.as_input("s0"),
                Input("s", "rings read", shrinkage.count, "rings", source),
                band=Band(
                    shrinkage.mean - half, shrinkage.mean + half, "next ring: doubt of the mean and ring to ring"
                ),
                note=f"mean of the readings alone {shrinkage.plain:.3f}; doubt of the mean {shrinkage.sd:.3f}",
            )
        )
    if strength is not None:
        ratio, sd = strength
        made.append(
            reckoned(
                f"seam/{name}/strength-ratio",
                "strength over parent of the same sheet, learned",
                ratio,
                "1",
                "mean ( R )",
                Input("R", "coupons over their own sheets", "logarithms, by lot", "", source),
                band=Band(ratio * math.exp(-NINE_IN_TEN * sd), ratio * math.exp(NINE_IN_TEN * sd), "of the mean"),
            )
        )
    if mismatch is not None:
        made.append(
            reckoned(
                f"seam/{name}/mismatch",
                "worst mismatch of the rings that pass",
                mismatch,
                "mm",
                "max ( e )",
                Input("e", "mismatch of the rings", "forward, middle, aft", "mm", source),
                digits=2,
            )
        )
    return tuple(made)


def _moved(name: str, lots: Sequence[WeldLot]) -> list[Finding]:
    """Whether the last lot's shrinkage departs from that of all lots before it."""
    groups = [[ring_shrinkage(ring) for ring in lot.rings] for lot in lots if lot.rings]
    if len(groups) < 2:
        return []
    before, last = [value for group in groups[:-1] for value in group], groups[-1]
    one = math.hypot(READING_SD, RING_TO_RING * sum(before) / len(before))
    apart = sum(last) / len(last) - sum(before) / len(before)
    sd = one * math.sqrt(1.0 / len(last) + 1.0 / len(before))
    if abs(apart) <= MOVED_SD * sd:
        return []
    return [
        Finding(
            "caution",
            f"Shrinkage of the last lot is {apart:+.3f} mm off the lots before it; {MOVED_SD * sd:.3f} is chance.",
            "look at clamps, power at the work and the tape before the cut length is changed",
            f"seam/{name}/shrinkage",
            "seam-moved",
        )
    ]
