"""Release of a weld lot: strength against the same sheet, retest, rings, shrinkage; one sentence with its reason.

Every reading is kept. Two more coupons are enough only where the failed one has a measured cause (mismatch, underfill
over its limit); otherwise twelve. There is no third try.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.readings import Coupon, LotRing, WeldLot
from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Check, Figure, Finding, Source, gravest_first
from hoopwright.kernels.seam_shrinkage import Learned, posterior, worth_changing
from hoopwright.kernels.seam_stats_ratio import RatioResult, compare
from hoopwright.kernels.seam_stats_retest import LotKind, Rule, share_released
from hoopwright.kernels.seam_stats_tolerance import share_shown
from hoopwright.plan.seam.lot_figures import CouponResult, lot_figures

Decision = Literal["released", "not released", "rejected"]
RingState = Literal["released", "on hold", "rejected"]
SHRINK_PRIOR_SD_MM: Final = 0.03
SHRINK_READING_SD_MM: Final = 0.032
RETEST: Final = Source("practice", "house rule of retest, no source; its error rates are reckoned beside it")


@dataclass(frozen=True, slots=True)
class RingResult:
    """One ring of the lot. shrinkage_mm : length before less circumference after."""

    serial: str
    state: RingState
    reason: str
    shrinkage_mm: float


@dataclass(frozen=True, slots=True)
class RuleOdds:
    """Share of lots that a rule releases, by what the lots truly are."""

    rule: Rule
    good: float
    fair: float
    poor: float
    tenth_bad: float


@dataclass(frozen=True, slots=True)
class LotVerdict:
    """What is decided, in one sentence with its reason.

    comparison : bounds and equivalence of weld against parent; without_failed : the same without failed coupons, for
    information only. shrinkage : posterior. retest_coupons : how many more are asked for, 0 when none.
    """

    lot: str
    decision: Decision
    sentence: str
    reason: str
    coupons: tuple[CouponResult, ...]
    rings: tuple[RingResult, ...]
    parent_mean_MPa: float
    mean_ratio: float
    comparison: RatioResult
    without_failed: RatioResult | None
    retest_coupons: int
    shrinkage: Learned | None
    odds: tuple[RuleOdds, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def judge_lot(
    lot: WeldLot,
    thickness_mm: float,
    limits: HouseLimits,
    cut_length_mm: float | None = None,
    retest: Sequence[Coupon] = (),
    specified_MPa: float | None = None,
) -> LotVerdict:
    """Decide on a lot.

    Parameters
    ----------
    cut_length_mm : float, optional
        Cut length in use; gives the proposal when shrinkage has been learned.
    retest : sequence of Coupon
        Coupons of the one retest, if it has been made.
    specified_MPa : float, optional
        Tensile strength the material specification asks for; passing it is no substitute for the ratio.

    Raises
    ------
    InputError
        Too few coupons; a retest that nobody asked for, or with fewer coupons than were asked for.
    """
    t = require_positive("sheet thickness", thickness_mm, "mm")
    if len(lot.coupons) < 2 or len(lot.parent_tensile_MPa) < 2:
        n = f"{len(lot.coupons)} weld, {len(lot.parent_tensile_MPa)} parent"
        raise InputError(f"coupons of lot {lot.lot}", n, "", "two of each or more", "test more coupons")
    parent = sum(lot.parent_tensile_MPa) / len(lot.parent_tensile_MPa)
    first = tuple(_coupon(c, parent, t, limits) for c in lot.coupons)
    again = tuple(_coupon(c, parent, t, limits) for c in retest)
    decision, wanted, sentence, reason = _decided(lot, first, again, limits)
    every = (*first, *again)
    strengths = [c.ratio * parent for c in every]
    compared = compare(strengths, lot.parent_tensile_MPa)
    sound = [c.ratio * parent for c in every if c.passed]
    alone = compare(sound, lot.parent_tensile_MPa) if 2 <= len(sound) < len(every) else None
    rings = tuple(_ring(r, t, limits, decision) for r in lot.rings)
    learned = _learned(lot, limits)
    mean = sum(c.ratio for c in every) / len(every)
    figures = lot_figures(lot, every, parent, mean, compared, learned, cut_length_mm, limits)
    verdict = LotVerdict(
        lot.lot,
        decision,
        sentence,
        reason,
        every,
        rings,
        parent,
        mean,
        compared,
        alone,
        wanted,
        learned,
        rule_odds(),
        figures,
        (),
    )
    return replace(verdict, findings=_findings(verdict, lot, limits, t, cut_length_mm, specified_MPa))


def _coupon(c: Coupon, parent: float, t: float, limits: HouseLimits) -> CouponResult:
    ratio = c.tensile_MPa / parent
    passed = ratio >= limits.weld_strength_each_min.value
    most = limits.butt_mismatch_max_t.value * t
    deep = min(limits.underfill_max_t.value * t, limits.underfill_max_mm.value)
    causes = []
    if c.mismatch_mm > most + 1e-9:
        causes.append(f"mismatch {c.mismatch_mm:.2f} over {most:.2f}")
    if c.underfill_mm > deep + 1e-9:
        causes.append(f"underfill {c.underfill_mm:.2f} over {deep:.2f}")
    return CouponResult(c.id, ratio, passed, "" if passed else " and ".join(causes), c.fracture)


def _decided(
    lot: WeldLot, first: Sequence[CouponResult], again: Sequence[CouponResult], limits: HouseLimits
) -> tuple[Decision, int, str, str]:
    """Decision, coupons of the retest asked for, sentence and reason."""
    each, mean_min = limits.weld_strength_each_min.value, limits.weld_strength_mean_min.value
    failed = [c for c in first if not c.passed]
    mean = sum(c.ratio for c in first) / len(first)
    if not failed and mean >= mean_min:
        if again:
            raise InputError("retest", len(again), "coupons", "none: the first test passed", "leave them out")
        return "released", 0, f"Weld lot {lot.lot} is released.", _passed_words(first, mean)
    caused = len(failed) == 1 and bool(failed[0].cause) and mean >= mean_min
    wanted = 2 if caused else 12
    why = _failed_words(failed, mean, each, mean_min)
    if not again:
        return "not released", wanted, f"Weld lot {lot.lot} is not released.", why
    if len(again) < wanted:
        raise InputError("retest", len(again), "coupons", f"{wanted} or more", "test as many as were asked for")
    every = [*first, *again]
    total = sum(c.ratio for c in every) / len(every)
    if all(c.passed for c in again) and total >= mean_min:
        words = f"{len(again)} more coupons pass and all {len(every)} together hold {100 * total:.1f} %; {why}"
        return "released", 0, f"Weld lot {lot.lot} is released after its one retest.", words
    least = min(c.ratio for c in again)
    words = f"the retest fails at {100 * least:.1f} %, mean {100 * total:.1f} %, and there is no third try"
    return "rejected", 0, f"Weld lot {lot.lot} is rejected.", words


def _passed_words(coupons: Sequence[CouponResult], mean: float) -> str:
    least = min(c.ratio for c in coupons)
    return f"each coupon holds {100 * least:.1f} % of parent strength or more, their mean {100 * mean:.1f} %"


def _failed_words(failed: Sequence[CouponResult], mean: float, each: float, mean_min: float) -> str:
    said = [
        f"coupon {c.id} held {100 * c.ratio:.1f} % of parent strength; each must hold {100 * each:.0f} %"
        + (f"; its {c.cause} mm allowed: the cause is the fit-up" if c.cause else "; no cause was measured")
        for c in failed
    ]
    if mean < mean_min:
        said.append(f"the mean is {100 * mean:.1f} %; it must be {100 * mean_min:.0f} %")
    return "; ".join(said)


def _ring(ring: LotRing, t: float, limits: HouseLimits, decision: Decision) -> RingResult:
    most = limits.butt_mismatch_max_t.value * t
    places = (("forward", ring.mismatch_forward_mm), ("middle", ring.mismatch_middle_mm), ("aft", ring.mismatch_aft_mm))
    shrink = ring.length_cut_mm - ring.circumference_after_weld_mm
    worst = max(places, key=lambda p: p[1])
    if worst[1] > most + 1e-9:
        return RingResult(
            ring.serial, "rejected", f"mismatch {worst[1]:.2f} at the {worst[0]} end, over {most:.2f}", shrink
        )
    if decision == "released":
        return RingResult(ring.serial, "released", "lot released, mismatch inside", shrink)
    if decision == "rejected":
        return RingResult(ring.serial, "rejected", "its weld lot is rejected", shrink)
    return RingResult(ring.serial, "on hold", "waits for the retest of its lot", shrink)


def _learned(lot: WeldLot, limits: HouseLimits) -> Learned | None:
    read = [r.length_cut_mm - r.circumference_after_weld_mm for r in lot.rings]
    if not read:
        return None
    return posterior(limits.weld_shrink_mm.value, SHRINK_PRIOR_SD_MM, read, [SHRINK_READING_SD_MM] * len(read))


def rule_odds(cv: float = 0.02, lots: int = 20_000, seed: int = 1) -> tuple[RuleOdds, ...]:
    """Error rates of the two retest rules in use and of no retest: what each releases of four kinds of lots."""
    kinds = (LotKind(1.0, cv), LotKind(0.98, cv), LotKind(0.95, cv), LotKind(0.985, 0.01, 0.1))
    rules: tuple[Rule, ...] = ("none", "two more", "twelve more")
    return tuple(RuleOdds(rule, *(share_released(k, rule, lots, seed) for k in kinds)) for rule in rules)


def _findings(
    v: LotVerdict, lot: WeldLot, limits: HouseLimits, t: float, cut: float | None, specified: float | None
) -> tuple[Finding, ...]:
    at = f"lot/{lot.lot}"
    most = limits.butt_mismatch_max_t.value * t
    found = []
    if v.decision != "released":
        asked = f"weld {_number(v.retest_coupons)} more coupons at mismatch {most:.2f} mm or less; every result is kept"
        worst = min(v.coupons, key=lambda c: c.ratio)
        check = Check(
            "each coupon holds its share of parent strength",
            worst.ratio,
            limits.weld_strength_each_min.value,
            ">=",
            "1",
            limits.weld_strength_each_min.source,
            "stop",
            asked,
            at,
        )
        why = v.reason
        if specified is not None and worst.ratio * v.parent_mean_MPa >= specified and not worst.passed:
            held_MPa = worst.ratio * v.parent_mean_MPa
            why += f"; {held_MPa:.0f} MPa passes the specified {specified:.0f} MPa, which is no release"
        remedy = asked if v.retest_coupons else "scrap the rings of the lot, find the cause, qualify again"
        found.append(Finding("stop", v.sentence, remedy, at, "weld-lot", why, check, RETEST))
    for ring in v.rings:
        if ring.state == "rejected":
            found.append(
                Finding(
                    "stop",
                    f"Ring {ring.serial} is rejected: {ring.reason} mm.",
                    "cut the seam out or scrap the ring",
                    f"{at}/ring/{ring.serial}",
                    "weld-ring",
                    "",
                    None,
                    limits.butt_mismatch_max_t.source,
                )
            )
    held = [r.serial for r in v.rings if r.state == "on hold"]
    if held:
        found.append(
            Finding(
                "caution", f"On hold: {', '.join(held)}.", "keep them apart until the retest is read", at, "weld-hold"
            )
        )
    if not v.comparison.equivalent:
        found.append(
            Finding(
                "caution",
                "Weld and parent are not shown to be equivalent within 5 %.",
                "test more parent coupons of the same sheet first; they are the bottleneck",
                at,
                "weld-equivalence",
                "no significant difference would be no claim either",
            )
        )
    if v.shrinkage is not None and v.shrinkage.plain is not None:
        change = v.shrinkage.mean - limits.weld_shrink_mm.value
        if worth_changing(change, v.shrinkage.sd):
            target = "" if cut is None else f", cut length {cut + change:.2f}"
            found.append(
                Finding(
                    "caution",
                    f"The seam takes {v.shrinkage.mean:.3f} mm, not {limits.weld_shrink_mm.value:.2f}.",
                    f"set the shrinkage to {v.shrinkage.mean:.2f} mm{target}",
                    at,
                    "weld-shrinkage",
                    f"plain mean of {v.shrinkage.count} rings {v.shrinkage.plain:.3f}, "
                    f"posterior plus or minus {v.shrinkage.sd:.3f}",
                )
            )
    found.append(
        Finding(
            "note",
            f"{len(v.coupons)} coupons without a failure would prove "
            f"{100 * share_shown(len(v.coupons)):.0f} % good welds.",
            "measure the fit-up of every ring; coupons do not see a tenth of bad welds",
            at,
            "weld-coupons-few",
        )
    )
    return gravest_first(found)


def _number(n: int) -> str:
    return {2: "two", 12: "twelve"}.get(n, str(n))
