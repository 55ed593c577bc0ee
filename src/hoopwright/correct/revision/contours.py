"""How far one tool contour lies from another, and what that asks of the metal: keep, move the stop, grind, or replace.

Radii are compared at the same places along the axis, on a fine grid over what both contours cover; one that reaches
further than the old one needs metal that is not there. Metal comes off only. Of a segment set the whole profile may be
run over-open (`recut`). Of a roll pair the centres may close and the section may stand in the rolls as it does today,
whatever cant a fresh plan would choose: so a shift and a tilt are taken off first, and the range of what is left is to
be ground.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.correct.recut import Recut, recut
from hoopwright.kernels.arrays import Vector
from hoopwright.kernels.profile import Profile

STEP_MM = 0.25
CHORD_MM = 0.0005
REACH_MM = 0.02
"""An edge that reaches this much further is rounding of the file."""


@dataclass(frozen=True, slots=True, eq=False)
class Apart:
    """New radius less old along the axis, shapes (n,). beyond_mm : how far the new contour reaches past the old."""

    place_mm: Vector
    change_mm: Vector
    beyond_mm: float

    @property
    def largest_mm(self) -> float:
        """Largest change either way. [mm]"""
        return float(np.abs(self.change_mm).max())

    @property
    def range_mm(self) -> float:
        """Largest less least change: what a shift of the whole contour leaves. [mm]"""
        return float(np.ptp(self.change_mm))

    @property
    def bent_mm(self) -> float:
        """Range of the changes once a shift and a tilt are taken off. [mm]"""
        if self.place_mm.size < 3:
            return 0.0
        line = np.polynomial.polynomial.polyfit(self.place_mm, self.change_mm, 1)
        return float(np.ptp(self.change_mm - np.polynomial.polynomial.polyval(self.place_mm, line)))

    @property
    def shift_mm(self) -> float:
        """Middle of the changes. [mm]"""
        return 0.5 * float(self.change_mm.max() + self.change_mm.min())


@dataclass(frozen=True, slots=True)
class ToolVerdict:
    """verdict : "unaffected", "rework" or "replace". change_mm on radius, the largest. recut of a segment set."""

    verdict: str
    change_mm: float
    recut: Recut | None
    reason: str


def apart(old: Profile, new: Profile) -> Apart:
    """Two contours, x along the axis, y the radius."""
    was, now = (profile.polyline(CHORD_MM) for profile in (old, new))
    low, high = max(was[:, 0].min(), now[:, 0].min()), min(was[:, 0].max(), now[:, 0].max())
    place = np.linspace(low, high, max(2, int((high - low) / STEP_MM) + 2)) if high > low else np.array([low])
    change = _radius(now, place) - _radius(was, place)
    beyond = max(0.0, float(was[:, 0].min() - now[:, 0].min()), float(now[:, 0].max() - was[:, 0].max()))
    return Apart(place, change, beyond)


def _radius(points: Vector, place: Vector) -> Vector:
    order = np.argsort(points[:, 0], kind="stable")
    return np.asarray(np.interp(place, points[order, 0], points[order, 1]))


def segment_verdict(
    found: Apart, keep_mm: float, count: int, stock_mm: float | None, zone_mm: float, lobe_share: float
) -> ToolVerdict:
    """Whether a ground segment set serves the new profile.

    Parameters
    ----------
    keep_mm : what grinding scatters; a smaller change is none. stock_mm : metal left for regrinding, None where the
    register states none. zone_mm : roundness zone that lobes may take a share of.
    """
    if found.beyond_mm > REACH_MM:
        return ToolVerdict("replace", found.largest_mm, None, f"the new profile is {found.beyond_mm:.2f} mm longer")
    if found.largest_mm <= keep_mm:
        return ToolVerdict("unaffected", found.largest_mm, None, f"the profile moves {found.largest_mm:.4f} mm at most")
    have = stock_mm if stock_mm is not None else 0.0
    wanted = found.change_mm if found.range_mm > 2.0 * keep_mm else np.full_like(found.change_mm, found.shift_mm)
    names = tuple(f"z {z:.2f}" for z in found.place_mm)
    answer = recut(names, [float(d) for d in wanted], count, have, zone_mm, lobe_share)
    if found.range_mm <= 2.0 * keep_mm and answer.lobes_mm <= answer.limit_mm:
        text = f"the whole profile moves {found.shift_mm:+.3f} mm on radius: move the stop, no metal"
        return ToolVerdict("unaffected", found.shift_mm, None, text)
    verdict = "rework" if answer.possible else "replace"
    return ToolVerdict(verdict, found.largest_mm, answer, answer.why if stock_mm is not None else _none_stated(answer))


def _none_stated(answer: Recut) -> str:
    return f"{answer.why}; the register states no stock"


def roll_verdict(
    inner: Apart, outer: Apart, keep_mm: float, stock_mm: float | None, run_out_mm: float = 0.0
) -> ToolVerdict:
    """Whether a roll pair serves the new contours: both rolls are ground by what the larger of them needs.

    run_out_mm : what the old contour goes on beyond the finished edge; half of it may be given up.
    """
    beyond, change = max(inner.beyond_mm, outer.beyond_mm), max(inner.largest_mm, outer.largest_mm)
    if beyond > max(REACH_MM, 0.5 * run_out_mm):
        return ToolVerdict("replace", change, None, f"the new contour is {beyond:.2f} mm wider")
    needed = max(inner.bent_mm, outer.bent_mm)
    if needed <= keep_mm:
        text = f"the contours differ by {needed:.3f} mm once centres and cant are set"
        return ToolVerdict("unaffected", change, None, text)
    if stock_mm is None:
        text = f"{needed:.3f} mm to grind on radius; the register states no stock"
        return ToolVerdict("replace", change, None, text)
    verdict = "rework" if needed <= stock_mm else "replace"
    return ToolVerdict(verdict, change, None, f"{needed:.3f} mm to grind on radius, of {stock_mm:g} mm stock")
