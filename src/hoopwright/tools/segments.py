"""Segment set of a ring: count, slots, flats, travel over either end, edges."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError
from hoopwright.findings import Figure
from hoopwright.kernels.arrays import rounded_up
from hoopwright.kernels.segment_hull import SegmentCircle
from hoopwright.kernels.segment_retract import Contour, LeadingEnd, SegmentForm, leading_end, travel_crown_throat
from hoopwright.kernels.segment_slot import effective_half_gap, flat_depth, slot_needed
from hoopwright.process.workpiece import Array

KEPT_SHARE = 0.97
"""Share of the segments' envelope that the ring keeps when let off (method paper on segmented sizing, section 1)."""


@dataclass(frozen=True, slots=True)
class SegmentRule:
    """What the shop sets for a segment set; all from the house limits.

    zone_mm : restrained roundness of the drawing, radial. lobe_share : share of it that the tool may use.
    """

    least_count: int
    most_count: int
    edge_radius_mm: float
    load_clearance_mm: float
    slot_clearance_mm: float
    travel_step_mm: float
    slot_step_mm: float
    zone_mm: float
    lobe_share: float

    @property
    def lobes_allowed_mm(self) -> float:
        """Peak-to-valley that the choice of the set may cost."""
        return self.lobe_share * self.zone_mm


@dataclass(frozen=True, slots=True, eq=False)
class SegmentSet:
    """A set for one ring.

    count : N. travel_mm : radial, rounded up; needed : over either end. slot_mm : parallel slot. flat_mm : depth of the
    flats the ring keeps at the slots, at its smallest radius. wish_end : the end the designer named, None for either.
    weighed : (count, travel, slot, flat) of every count that was looked at.
    """

    count: int
    travel_mm: float
    needed: LeadingEnd
    slot_mm: float
    flat_mm: float
    edge_radius_mm: float
    hand_load_mm: float
    weighed: tuple[tuple[int, float, float, float], ...]

    @property
    def half_pitch_deg(self) -> float:
        """Half the angle from segment to segment."""
        return 180.0 / self.count

    def circle(self, turned_radius_mm: float, standing_mm: float = 0.0) -> SegmentCircle:
        """The set at one axial station."""
        return SegmentCircle(self.count, turned_radius_mm, standing_mm, self.slot_mm)


def choose_set(segments: Contour, incoming: Contour, released: Contour, rule: SegmentRule) -> SegmentSet:
    """The fewest segments whose flats keep inside the lobes allowed; the most the shop builds where none does.

    Parameters
    ----------
    segments : Contour
        Surface of the set, loaded.
    incoming, released : Contour
        Inside face of the ring as welded and as stretched, in the same frame.

    Raises
    ------
    InputError
        A ring no travel can free: the segments stand in it for good.
    """
    weighed: list[SegmentSet] = []
    for count in range(rule.least_count, rule.most_count + 1, 2 if rule.least_count % 2 == 0 else 1):
        found = _set_of(count, segments, incoming, released, rule)
        if found is None:
            continue
        weighed.append(found)
        if found.flat_mm <= rule.lobes_allowed_mm:
            break
    if not weighed:
        raise InputError(
            "segment set",
            rule.most_count,
            "segments",
            "able to let the ring off",
            "split the ring or lessen its undercut",
        )
    best = weighed[-1] if weighed[-1].flat_mm <= rule.lobes_allowed_mm else min(weighed, key=lambda one: one.flat_mm)
    rows = tuple((one.count, one.travel_mm, one.slot_mm, one.flat_mm) for one in weighed)
    return SegmentSet(
        best.count,
        best.travel_mm,
        best.needed,
        best.slot_mm,
        best.flat_mm,
        best.edge_radius_mm,
        best.hand_load_mm,
        rows,
    )


def _set_of(
    count: int, segments: Contour, incoming: Contour, released: Contour, rule: SegmentRule
) -> SegmentSet | None:
    """The set of one count; slot and travel settle together. None where no travel frees the ring."""
    slot, travel = 0.0, 0.0
    needed = None
    for _ in range(4):
        form = SegmentForm(count, slot, rule.edge_radius_mm)
        needed = leading_end(segments, incoming, released, form, rule.load_clearance_mm)
        if not math.isfinite(needed.better.travel_mm):
            return None
        travel = rounded_up(needed.better.travel_mm, rule.travel_step_mm)
        wider = rounded_up(slot_needed(count, travel, rule.slot_clearance_mm), rule.slot_step_mm)
        if wider == slot:
            break
        slot = wider
    assert needed is not None
    smallest = float(segments.radius_mm.min())
    if slot >= 2.0 * smallest * math.sin(math.pi / count):
        return None
    flat = KEPT_SHARE * flat_depth(smallest, 2.0 * effective_half_gap(slot, rule.edge_radius_mm))
    hand = _hand_travel(segments, incoming, needed.better.end, rule.load_clearance_mm)
    return SegmentSet(count, travel, needed, slot, flat, rule.edge_radius_mm, hand, ())


def _hand_travel(segments: Contour, incoming: Contour, end: str, clearance: float) -> float:
    """Travel by crown against throat alone, over the same end."""
    order = slice(None) if end == "plus" else slice(None, None, -1)
    tool, throat = segments.radius_mm[order], incoming.radius_mm[order]
    passing = np.minimum.accumulate(throat)
    places, hoop_places = segments.z_mm[order], incoming.z_mm[order]
    sign = 1.0 if end == "plus" else -1.0
    free = np.interp(sign * places, sign * hoop_places, passing)
    worst = int(np.argmax(tool - free))
    return travel_crown_throat(float(tool[worst]), float(free[worst]), clearance)


def contour_of(z_mm: Array, radius_mm: Array) -> Contour:
    """A contour from stations in rising order of z."""
    return Contour(z_mm, radius_mm)


def named_end(end: str) -> str:
    """The end in the shop's words."""
    return "aft" if end == "plus" else "forward"


__all__ = ["Figure", "SegmentRule", "SegmentSet", "choose_set", "contour_of", "named_end"]
