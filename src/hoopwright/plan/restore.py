"""One stretch or two, an anneal or none: weighed against seam, strain budget and the grain trap."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hoopwright.plan.shapes import Reckoning, Restore, RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.process.anneal import grain_trap
from hoopwright.process.budget import strain_budget
from hoopwright.process.face_radius import mean_strain, section_mean
from hoopwright.process.weld import seam_strain
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Weighed:
    """Whether the welded hoop is annealed before its stretch, and every way with its reason."""

    anneal: bool
    restores: tuple[Restore, ...]


def weigh_restore(job: RingJob, reckoning: Reckoning) -> Weighed:
    """Anneal only where seam or budget ask for it and no part of the width would grow coarse grain.

    A stretch of half the planned one leaves the flats in the middle of the critical range,
    so that two stretches with an
    anneal between are possible only where the house's range says so.
    """
    card = shop_card(job)
    # a contour rolled in the closed ring works the seam as it works the rest
    beside = 0.0 if reckoning.route.rolling == "closed-cone" else 1.0
    prior = beside * section_mean(reckoning.hoop, mean_strain(reckoning.hoop))
    stretch = section_mean(reckoning.hoop, reckoning.sizing_strain_log)
    seam = seam_strain(job.metal, prior, stretch)
    allowed = job.limits.seam_strain_share_max.value * job.uniform_strain_log.value
    used = strain_budget(reckoning.free, card).worst.value
    asked = seam > allowed or used > 100.0
    welded, half = grain_trap(reckoning.hoop, card)[0].value, grain_trap(_half_stretched(reckoning), card)[0].value
    anneal = asked and welded <= 0.0
    taken = "necks" if math.isinf(seam) else f"takes {100 * seam:.1f} %"
    plain = f"the seam {taken} of {100 * allowed:.1f} % allowed; {used:.0f} % of the strain budget is used"
    return Weighed(
        anneal,
        (
            Restore("one stretch, no anneal", not anneal, plain),
            Restore("the welded hoop annealed, then one stretch", anneal, _trap_words(welded)),
            Restore("two stretches with an anneal between", False, _trap_words(half)),
        ),
    )


def _half_stretched(reckoning: Reckoning) -> Workpiece:
    """The welded hoop after half its stretch, for its strain alone."""
    gained = 0.5 * (reckoning.free.plastic_strain - reckoning.hoop.plastic_strain)
    return replace(reckoning.hoop, plastic_strain=reckoning.hoop.plastic_strain + gained)


def _trap_words(share_pct: float) -> str:
    if share_pct <= 0.0:
        return "no part of the width would grow coarse grain"
    return f"{share_pct:.0f} % of the width would grow coarse grain in the furnace"
