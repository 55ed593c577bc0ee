"""Where the strip's edges run in every pass of a roll pair closed in steps. Units mm; x along the rolls.

The neutral fibre keeps its length, so the strip is widest as it comes flat into the first pass and draws in from pass
to pass. It is laid so that the middle between its outermost corners stays: creases then wander least, and equally to
both sides. Trim and what the blank was rounded up by lie half at each edge.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_part import part_turned
from hoopwright.tools.rolls import extended

Edges = tuple[float, float]


@dataclass(frozen=True, slots=True)
class StripPass:
    """Outermost places of the strip, both faces, before a pass and after it: forward and aft edge along x."""

    number: int
    entering_mm: Edges
    leaving_mm: Edges

    @property
    def entering_width_mm(self) -> float:
        """Width that must pass the guides."""
        return self.entering_mm[1] - self.entering_mm[0]


def strip_passes(
    section: Profile, run_out_mm: float, blank_width_mm: float, thickness_mm: float, shares: Sequence[float]
) -> tuple[StripPass, ...]:
    """Edges of the strip before and after every pass, in the frame of the roll contours.

    Parameters
    ----------
    section : mid-surface as it stands in the closed rolls. run_out_mm : what the rolls' contours go on beyond it.
    blank_width_mm : of the strip as cut. shares : of every corner's turn, standing after each pass.

    Raises
    ------
    InputError
        A strip narrower than the section is long; no pass.
    """
    require_positive("sheet thickness", thickness_mm, "mm")
    over = blank_width_mm - section.length
    if over < 0.0:
        raise InputError(
            "width of the strip", round(blank_width_mm, 3), "mm", f"{section.length:.3f} or more", "cut a wider strip"
        )
    if not shares:
        raise InputError("passes", 0, "", "at least one", "plan the passes")
    whole = extended(section, run_out_mm)
    middle = 0.5 * (whole.start[0] + whole.end[0])
    strip = extended(section, 0.5 * over)
    bent = _bent(strip)
    stays = _middle(strip, bent) - middle
    runs = []
    for share in (0.0, *shares):
        stood = part_turned(strip, share)
        runs.append(_edges(stood, stays - _middle(stood, bent), thickness_mm))
    pairs = itertools.pairwise(runs)
    return tuple(StripPass(k, before, after) for k, (before, after) in enumerate(pairs, start=1))


def _bent(profile: Profile) -> Edges:
    """Distances along a contour at which its first corner begins and its last ends; its middle where it has none."""
    bends = [k for k, segment in enumerate(profile.segments) if segment.is_arc]
    if not bends:
        return 0.5 * profile.length, 0.5 * profile.length
    return float(profile.breaks[bends[0]]), float(profile.breaks[bends[-1] + 1])


def _middle(profile: Profile, bent: Edges) -> float:
    return 0.5 * (profile.point_at(bent[0])[0] + profile.point_at(bent[1])[0])


def _edges(strip: Profile, move: float, thickness: float) -> Edges:
    """Outermost places of both faces; lands that lean reach further by half a thickness' share."""
    lean = [0.5 * thickness * abs(math.sin(strip.angle_at(s))) for s in (0.0, strip.length)]
    x0, _, x1, _ = strip.bounds
    return min(strip.start[0] - lean[0], x0) + move, max(strip.end[0] + lean[1], x1) + move
