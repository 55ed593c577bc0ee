"""Finished rings of the old revision: which serve the new one as they are, which can be brought to it, which are dead.

A ring grows on the press and never shrinks; an edge is trimmed and never grown; a hole is made and never closed.
Whether a serial's own readings lie inside the new limits is asked of the readings, not here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.correct.revision.contours import REACH_MM, apart
from hoopwright.design.shapes import HolePattern, Liner, Ring

SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class PartVerdict:
    """verdict : "use", "re-stretch", "rework" or "scrap". zone : of the largest change. strain_log : there, at most."""

    verdict: str
    zone: str
    strain_log: float
    reason: str


def finished_verdict(old: Liner, new: Liner, ring_id: str, largest_restretch_log: float) -> PartVerdict:
    """What becomes of a finished ring of this number."""
    if all(ring.id != ring_id for ring in new.rings):
        return PartVerdict("scrap", "", 0.0, f"revision {new.revision} has no {ring_id}")
    was, now = old.ring(ring_id), new.ring(ring_id)
    for name, unit in (("material", ""), ("thickness_mm", " mm")):
        one, two = getattr(was, name), getattr(now, name)
        if one != two:
            word = name.removesuffix("_mm")
            return PartVerdict("scrap", "", 0.0, f"the sheet's {word} goes from {one}{unit} to {two}{unit}")
    found = [_shape(was, now, new, largest_restretch_log), _edges(was, now), _holes(old, new, ring_id)]
    ranked = sorted(found, key=lambda v: ("scrap", "rework", "re-stretch", "use").index(v.verdict))
    worst = ranked[0]
    if worst.verdict in ("scrap", "use"):
        return worst if worst.reason else PartVerdict("use", "", 0.0, "nothing of its shape differs")
    stretch = next(v for v in found if v is found[0])
    verdict = "re-stretch" if stretch.verdict == "re-stretch" else "rework"
    reasons = "; ".join(v.reason for v in found if v.reason)
    return PartVerdict(verdict, stretch.zone, stretch.strain_log, reasons)


def _shape(was: Ring, now: Ring, new: Liner, largest: float) -> PartVerdict:
    """Radius along the axis: smaller than the profile zone allows is dead; larger is stretched, up to a limit."""
    found = apart(was.section, now.section)
    half = 0.5 * new.tolerances.profile_restrained_mm
    if found.largest_mm <= SAME_MM:
        return PartVerdict("use", "", 0.0, "")
    place = int(np.argmax(np.abs(found.change_mm)))
    zone, change = f"z {found.place_mm[place]:.1f}", float(found.change_mm[place])
    least = float(found.change_mm.min())
    if least < -half:
        at = found.place_mm[int(np.argmin(found.change_mm))]
        return PartVerdict("scrap", f"z {at:.1f}", 0.0, f"it would have to shrink {-least:.3f} mm on radius there")
    if found.largest_mm <= half:
        text = f"the shape moves {change:+.3f} mm on radius at most, inside the profile zone: measure it"
        return PartVerdict("use", zone, 0.0, text)
    radius = next(r for z, r in _points(was) if abs(z - found.place_mm[place]) < 0.5)
    strain = math.log((radius + change) / radius)
    if strain > largest:
        text = f"{100.0 * strain:.2f} % more stretch there, over {100.0 * largest:.2f} %"
        return PartVerdict("scrap", zone, strain, text)
    return PartVerdict("re-stretch", zone, strain, f"{change:+.3f} mm on radius there, {100.0 * strain:.2f} % stretch")


def _points(ring: Ring) -> list[tuple[float, float]]:
    return [(float(z), float(r)) for z, r in ring.section.polyline(0.0005)] + [
        ring.section.point_at(s)[:2] for s in np.linspace(0.0, ring.section.length, 400)
    ]


def _edges(was: Ring, now: Ring) -> PartVerdict:
    words: list[str] = []
    verdict = "use"
    for name, sign in (("forward", 1.0), ("aft", -1.0)):
        one = was.section.start[0] if name == "forward" else was.section.end[0]
        two = now.section.start[0] if name == "forward" else now.section.end[0]
        off = sign * (two - one)
        if off < -REACH_MM:
            return PartVerdict("scrap", name, 0.0, f"the {name} edge would have to grow {-off:.2f} mm")
        if off > REACH_MM:
            verdict = "rework"
            words.append(f"trim {off:.2f} mm off the {name} edge")
    return PartVerdict(verdict, "", 0.0, "; ".join(words))


def _holes(old: Liner, new: Liner, ring_id: str) -> PartVerdict:
    was, now = ({_place(p): p for p in liner.holes_of(ring_id)} for liner in (old, new))
    words: list[str] = []
    for place, pattern in was.items():
        then = now.get(place)
        if then is None:
            return PartVerdict("scrap", "", 0.0, f"its {pattern.kind} holes at z {pattern.z_mm:g} are no longer there")
        if then.diameter_mm < pattern.diameter_mm - SAME_MM:
            text = f"its {pattern.kind} holes are {pattern.diameter_mm:g} mm and would have to be {then.diameter_mm:g}"
            return PartVerdict("scrap", "", 0.0, text)
        if then.diameter_mm > pattern.diameter_mm + SAME_MM:
            words.append(f"open the {pattern.kind} holes to {then.diameter_mm:g} mm")
    words += [f"make {p.count} {p.kind} holes at z {p.z_mm:g}" for place, p in now.items() if place not in was]
    return PartVerdict("rework" if words else "use", "", 0.0, "; ".join(words))


def _place(pattern: HolePattern) -> tuple[str, float, int, float]:
    return pattern.kind, pattern.z_mm, pattern.count, pattern.first_theta_deg
