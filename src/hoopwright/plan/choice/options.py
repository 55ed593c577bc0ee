"""The choices there are: count, edge radius, radius turned to, hits and index, stretch; slot and travel follow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.sizing_set import inside_of, segment_rule
from hoopwright.tools.segments import SegmentSet, choose_set

HitPlan = Literal["one", "low-then-full", "twice", "second-lower"]
HIT_PLANS: tuple[HitPlan, ...] = ("one", "low-then-full", "twice", "second-lower")

HIT_WORDS: dict[HitPlan, str] = {
    "one": "one hit",
    "low-then-full": "a low hit, half a pitch on, full size",
    "twice": "full size, half a pitch on, full size again",
    "second-lower": "full size, half a pitch on, lower until the lobes vanish",
}

EDGE_SHARES = (0.5, 1.0, 1.5)
"""Edge radii looked at, as shares of the house's."""

UNDER_TURNED_MM = 0.4
"""How far a set is looked at that was turned small, so that it can be turned again for a larger ring."""

STRETCH_MORE_ENG = 0.005
"""Stretch looked at above the house's planned one."""


@dataclass(frozen=True, slots=True)
class Option:
    """One choice. under_mm : how far the set stands past the radius it was turned to, at full size."""

    count: int
    slot_mm: float
    travel_mm: float
    edge_radius_mm: float
    under_mm: float
    hits: HitPlan
    stretch_eng: float

    @property
    def cuts(self) -> int:
        """Wire cuts: two a slot."""
        return 2 * self.count

    @property
    def index_deg(self) -> float:
        """By how much the ring is turned before the second hit."""
        return 0.0 if self.hits == "one" else 180.0 / self.count

    def words(self) -> str:
        """The choice in a few words."""
        turned = f", turned {self.under_mm:g} small" if self.under_mm else ""
        return (
            f"{self.count} segments, slots {self.slot_mm:g}, edges {self.edge_radius_mm:g}{turned}, "
            f"{HIT_WORDS[self.hits]}, stretch {100.0 * self.stretch_eng:.1f} %"
        )


def sets(job: RingJob, reckoning: Reckoning) -> Iterator[SegmentSet]:
    """The set of each count from the house's usual to its most, by twos, that lets the ring off at all."""
    rule = segment_rule(job)
    for count in range(rule.least_count, rule.most_count + 1, 2 if rule.least_count % 2 == 0 else 1):
        alone = replace(rule, least_count=count, most_count=count)
        yield choose_set(inside_of(reckoning.loaded), inside_of(reckoning.hoop), inside_of(reckoning.free), alone)


def first_options(job: RingJob, reckoning: Reckoning) -> Iterator[Option]:
    """Every count with every edge radius and way of hitting, at the planned stretch, turned where it sizes."""
    edge, stretch = job.limits.segment_edge_radius_mm.value, job.limits.stretch_plan_eng.value
    for one in sets(job, reckoning):
        for share in EDGE_SHARES:
            for hits in HIT_PLANS:
                yield Option(one.count, one.slot_mm, one.travel_mm, round(share * edge, 3), 0.0, hits, stretch)


def variants(job: RingJob, option: Option) -> Iterator[Option]:
    """A good choice with another stretch, and turned small."""
    limits = job.limits
    for stretch in (limits.stretch_min_eng.value, limits.stretch_plan_eng.value + STRETCH_MORE_ENG):
        if stretch != option.stretch_eng:
            yield replace(option, stretch_eng=stretch)
    yield replace(option, under_mm=UNDER_TURNED_MM)
