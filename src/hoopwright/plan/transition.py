"""Transition zone of rolling: how far ahead of the rolls the strip takes its shape, and what that asks of passes.

Each end of the section is a land beyond a run (see kernels.forming_zone); the strip is rolled with its edge trims on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.forming_zone import FormingZone, joggle_zone
from hoopwright.kernels.profile import Profile
from hoopwright.plan.shapes import RingJob


@dataclass(frozen=True, slots=True)
class EndZone:
    """One end of the section: the land, the run that lifts it and the height between, as they stand in the rolls.

    end : "forward" or "aft". zone : of one pass.
    """

    end: str
    land_mm: float
    run_mm: float
    height_mm: float
    zone: FormingZone


def end_zones(job: RingJob, in_rolls: Profile) -> tuple[EndZone, ...]:
    """Both ends of a section as it stands in the rolls; none where an end has no bend before it (a plain hoop)."""
    found = (
        _end_zone("forward", in_rolls, job.limits.edge_trim_mm.value, job.thickness_mm.value),
        _end_zone("aft", in_rolls.reversed(), job.limits.edge_trim_mm.value, job.thickness_mm.value),
    )
    return tuple(zone for zone in found if zone is not None)


def _end_zone(end: str, profile: Profile, trim: float, thickness: float) -> EndZone | None:
    """From the outside in: the end straight is the land; the run goes on while the section keeps its way up or down."""
    segments = profile.segments
    if segments[0].is_arc or len(segments) < 3:
        return None
    land = segments[0].length + trim
    heights = [segments[0].end[1]]
    places = [segments[0].end[0]]
    for segment in segments[1:]:
        rise = segment.end[1] - segment.start[1]
        gone = heights[-1] - heights[0]
        level = not segment.is_arc and abs(rise) < 0.02 * segment.length
        if level or gone * rise < 0.0:
            break
        heights.append(segment.end[1])
        places.append(segment.end[0])
    height, run = abs(heights[-1] - heights[0]), abs(places[-1] - places[0])
    if height < 1e-6 or run < 1e-6:
        return None
    return EndZone(end, land, run, height, joggle_zone(run, land, height, thickness))


def passes_needed(zones: tuple[EndZone, ...], strain_allowed: float) -> int:
    """Least equal passes that keep the edge strain of every end at or below the allowed one; 1 without an end zone."""
    return max((zone.zone.passes_for(strain_allowed) for zone in zones), default=1)


def end_trim(zones: tuple[EndZone, ...], passes: int) -> float:
    """Strip at each end that the last pass does not form right: the longest zone of that pass. [mm]"""
    return max((zone.zone.over(passes).length_mm for zone in zones), default=0.0)


def flange_lengths(profile: Profile) -> tuple[float, ...]:
    """Width of the section beyond the first bend from either edge, along the sheet. [mm]"""
    ends = (profile.segments[0], profile.segments[-1])
    return tuple(segment.length for segment in ends if not segment.is_arc and math.isfinite(segment.length))
