"""Forming a blank to its welded hoop, as one function of what can be set: contour, curl, camber, length."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Release, Section
from hoopwright.kernels.section.hoop import closed_hoop
from hoopwright.plan.prove.start import Start
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.solve import shop_card
from hoopwright.process.proof_close import into_rolls, out_of_rolls
from hoopwright.process.proof_closing import Closed, RollGap, closing
from hoopwright.process.proof_curl import Curled, How, ProofCurl, curled
from hoopwright.process.proof_piece import section_metal
from hoopwright.process.shop import ShopCard


@dataclass(frozen=True, slots=True, eq=False)
class Shop:
    """What stays the same while settings are sought: the plan, its card, how it curls, gap and friction in the rolls.

    closed_cone : the contour is rolled in the closed ring.
    """

    plan: RingPlan
    card: ShopCard
    how: How
    gap_mm: float
    friction: float
    closed_cone: bool

    def rolls(self, middle: Profile) -> RollGap:
        """The pair cut to a mid-line in the frame of the rolls."""
        return RollGap(middle, self.plan.job.thickness_mm.value, self.gap_mm, self.friction)


@dataclass(frozen=True, slots=True)
class CurlSetting:
    """Loaded curl and camber in the frame of the rolls. [1/mm]"""

    curl_per_mm: float
    camber_per_mm: float


def shop_of(plan: RingPlan) -> Shop:
    """The shop of a plan. Where the machine cannot close again with the curl, the strip is curled behind open rolls."""
    job = plan.job
    second = job.machines.roll.second_closing
    closed_cone = plan.reckoning.route.rolling == "closed-cone"
    how: How = "second closing" if second is not None and second.value >= 1.0 else "open rolls"
    if closed_cone or not any(segment.is_arc for segment in job.section):
        how = "plain rolls"
    gap = plan.figure("roll/running-gap").value if _contoured(plan) else job.thickness_mm.value
    return Shop(plan, shop_card(job), how, gap, job.friction.mu_roll.value, closed_cone)


def _contoured(plan: RingPlan) -> bool:
    return any(segment.is_arc for segment in plan.job.section)


def rolled(start: Start, shop: Shop, middle: Profile) -> Section:
    """The flat blank after one pass between rolls of this contour; as it was where there is nothing to roll first."""
    if shop.how != "second closing" and (shop.closed_cone or not _contoured(shop.plan)):
        return start.section
    return closing(start.section, shop.rolls(middle), start.node, section_metal(shop.card.metal)).section


def curl_of(
    start: Start, shop: Shop, rolled_section: Section, middle: Profile, setting: CurlSetting, free: bool = False
) -> Curled:
    """The rolled blank curled; `free` with the camber let go."""
    rolls = shop.rolls(middle) if shop.how == "second closing" else None
    camber = None if free else setting.camber_per_mm
    return curled(rolled_section, ProofCurl(setting.curl_per_mm, camber, start.node, shop.how, rolls), shop.card)


def wanted_curl(start: Start, strip_length_mm: float, closed_cone: bool) -> CurlSetting:
    """Curl and camber a strip must have, let go, to close without a moment and without a lean; in the rolls' frame."""
    size = 2.0 * math.pi / strip_length_mm
    if closed_cone:
        # a plain cone stands level in plain rolls: its camber is the blank's own
        return CurlSetting(math.sqrt(size**2 - start.camber_per_mm**2), start.camber_per_mm)
    return CurlSetting(size * math.cos(start.cant_rad), -size * math.sin(start.cant_rad))


def in_closed_ring(
    start: Start, shop: Shop, strip: Section, middle: Profile, strip_length_mm: float
) -> tuple[Section, Closed]:
    """A plain cone closed and welded, and the contour rolled into it in one pass: the hoop, and the closing."""
    ready = ring_before_rolls(start, shop, strip, strip_length_mm)
    metal = section_metal(shop.card.metal)
    done = closing(
        ready, shop.rolls(middle), start.node, metal, release=Release(held=("curl", "camber")), straight=None
    )  # fmt: skip
    return out_of_rolls(done.section, start.cant_rad, strip_length_mm), done


def ring_before_rolls(start: Start, shop: Shop, strip: Section, strip_length_mm: float) -> Section:
    """The plain hoop as it lies between the open rolls."""
    hoop = closed_hoop(strip, section_metal(shop.card.metal), strip_length_mm).section
    ready = into_rolls(hoop, start.cant_rad)
    goal = start.section.x_mm[start.node]
    return ready.moved(float(goal - ready.x_mm[start.node]), 0.0)


def at_least(section: Section) -> float:
    """Least radius of a hoop's mid-surface. [mm]"""
    return float(section.y_mm.min())


__all__ = [
    "CurlSetting", "Shop", "at_least", "curl_of", "in_closed_ring", "ring_before_rolls", "rolled", "shop_of",
    "wanted_curl",
]  # fmt: skip
