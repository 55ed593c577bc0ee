"""Which seam a ring is planned with: the shop's own card of its alloy and sheet, or what usually comes."""

from __future__ import annotations

import math
from dataclasses import replace

from hoopwright.cards.seam import SeamCard
from hoopwright.findings import Figure, Source
from hoopwright.plan.shapes import RingJob
from hoopwright.process.seam_numbers import SeamNumbers, hoop_shape, hoop_weld
from hoopwright.process.working import stated


def seam_numbers(job: RingJob) -> SeamNumbers:
    """The seam of a job as plain numbers; what its card leaves out is the house's."""
    card = job.seam
    mismatch = job.limits.butt_mismatch_max_t.value * job.thickness_mm.value
    return SeamNumbers(
        job.limits.weld_shrink_mm.value,
        job.spread.weld_shrink_mm.value,
        math.radians(card.angle_deg.value),
        card.softened_width_mm.value,
        mismatch if card.mismatch_mm is None else card.mismatch_mm.value,
        None if card.strength_ratio is None else card.strength_ratio.value,
    )


def card_of_numbers(seam: SeamNumbers, source: Source, card_id: str = "own") -> SeamCard:
    """A seam card from plain numbers that stand on one ground."""

    def figure(name: str, value: float, unit: str) -> Figure:
        return stated(f"{card_id}/{name}", name.replace("_", " "), value, unit, source)

    strength = seam.strength_ratio
    return SeamCard(
        card_id,
        figure("angle_deg", math.degrees(seam.angle_rad), "deg"),
        figure("softened_width_mm", seam.zone_mm, "mm"),
        None,
        None,
        figure("shrinkage_mm", seam.shrinkage_mm, "mm"),
        figure("shrinkage_sd_mm", seam.shrinkage_sd_mm, "mm"),
        None if strength is None else figure("strength_ratio", strength, "1"),
        figure("mismatch_mm", seam.mismatch_mm, "mm"),
    )


def job_with_card(job: RingJob, card: SeamCard) -> RingJob:
    """The job with a seam card: its shrinkage and scatter take the place of the house's first estimate."""
    limits, spread = job.limits, job.spread
    if card.shrinkage_mm is not None:
        limits = replace(limits, weld_shrink_mm=_in_place_of(limits.weld_shrink_mm, card.shrinkage_mm))
    if card.shrinkage_sd_mm is not None:
        spread = replace(spread, weld_shrink_mm=_in_place_of(spread.weld_shrink_mm, card.shrinkage_sd_mm))
    return replace(job, limits=limits, spread=spread, seam=card)


def job_with_seam(job: RingJob, seam: SeamNumbers, source: Source) -> RingJob:
    """The job with a seam given as plain numbers."""
    return job_with_card(job, card_of_numbers(seam, source))


def _in_place_of(old: Figure, new: Figure) -> Figure:
    return replace(old, value=new.value, source=new.source, note="of this seam, in place of the house estimate")


__all__ = [
    "SeamNumbers",
    "card_of_numbers",
    "hoop_shape",
    "hoop_weld",
    "job_with_card",
    "job_with_seam",
    "seam_numbers",
]
