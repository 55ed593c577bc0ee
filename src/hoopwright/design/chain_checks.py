"""Whether lines and arcs make one smooth line: gaps, turned elements, round arcs, their sense, kinks, self-crossing.

The same troubles become faults when a file is read and findings when a section was made in code. Units mm and deg.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from hoopwright.kernels.profile import Profile, Segment
from hoopwright.kernels.profile_crossing import self_crossings

# Coordinates are printed to 0.0001 mm, so ends and spokes miss by up to 0.0003 mm; three times that is no rounding.
JOIN_MM = 0.001
# An offset line is defined to this turn (kernels.profile_offset); a rounding of 0.0001 mm on a short line stays below.
KINK_DEG = 0.2


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing wrong with an element (counted from 0): which of its values, what it is, must be, and what to do."""

    element: int
    key: str
    value: str
    unit: str
    must: str
    remedy: str
    topic: str


def chain_troubles(segments: Sequence[Segment], radii: Sequence[float | None] | None = None) -> list[Trouble]:
    """Everything that keeps a chain from being one smooth line, in the order of the chain.

    Parameters
    ----------
    segments : lines and arcs in the order of the file. [mm]
    radii : the radius a file prints for each arc, None for a line; left out where there is none. [mm]
    """
    found = [t for number, segment in enumerate(segments) for t in _element(number, segment, radii)]
    spoilt = {trouble.element for trouble in found}
    for number in range(len(segments)):
        if number not in spoilt and _turned_the_wrong_way(segments, number):
            spoilt.add(number)
            found.append(_wrong_sense(number, segments[number]))
    for number, (one, two) in enumerate(pairwise(segments), start=1):
        gap = math.dist(one.end, two.start)
        if gap > JOIN_MM:
            found.append(_gap(number, one, two, gap))
        elif number not in spoilt and number - 1 not in spoilt:
            found += _kink(number, one, two)
    return sorted(found, key=lambda trouble: trouble.element) or _crossing(segments)


def kink_deg(one: Segment, two: Segment) -> float:
    """Turn of direction from the end of one to the start of the next. [deg]"""
    turn = (two.angle_at(0.0) - one.angle_at(one.length) + math.pi) % (2.0 * math.pi) - math.pi
    return math.degrees(turn)


def _element(number: int, segment: Segment, radii: Sequence[float | None] | None) -> list[Trouble]:
    if math.dist(segment.start, segment.end) < 1e-6:
        must, remedy = "apart from p0_mm", "remove the element, or correct one of its ends"
        return [Trouble(number, "p1_mm", _point(segment.end), "mm", must, remedy, "no-length")]
    if segment.centre is None:
        return []
    spokes = (math.dist(segment.start, segment.centre), math.dist(segment.end, segment.centre))
    if abs(spokes[0] - spokes[1]) > JOIN_MM:
        value = f"{spokes[0]:.4f} from its start and {spokes[1]:.4f} from its end"
        remedy = "correct the centre, or the end that is wrong"
        return [Trouble(number, "c_mm", value, "mm", "equally far from both ends of the arc", remedy, "arc-radius")]
    printed = radii[number] if radii is not None else None
    if printed is not None and abs(printed - spokes[0]) > JOIN_MM:
        must = f"the distance of both ends from the centre, {spokes[0]:.4f}"
        return [Trouble(number, "rad_mm", f"{printed:g}", "mm", must, "correct radius or centre", "arc-radius")]
    return []


def _turned_the_wrong_way(segments: Sequence[Segment], number: int) -> bool:
    """Whether an arc meets its neighbours smoothly only when it turns the other way."""
    segment = segments[number]
    if not segment.is_arc:
        return False
    other = replace(segment, ccw=not segment.ccw)
    neighbours = [(segments[number - 1], "before")] if number else []
    neighbours += [(segments[number + 1], "after")] if number + 1 < len(segments) else []

    def turn(bow: Segment, neighbour: Segment, side: str) -> float:
        return abs(kink_deg(neighbour, bow) if side == "before" else kink_deg(bow, neighbour))

    joined = [(n, s) for n, s in neighbours if n.length > 0.0 and _touch(n, segment, s)]
    return bool(joined) and all(turn(segment, n, s) > 90.0 and turn(other, n, s) < 90.0 for n, s in joined)


def _touch(neighbour: Segment, segment: Segment, side: str) -> bool:
    ends = (neighbour.end, segment.start) if side == "before" else (segment.end, neighbour.start)
    return math.dist(*ends) <= JOIN_MM


def _wrong_sense(number: int, segment: Segment) -> Trouble:
    shown = str(segment.ccw).lower()
    must = f"{str(not segment.ccw).lower()}: as it stands the arc leaves its neighbours backward"
    return Trouble(number, "ccw", shown, "", must, "turn ccw round, or exchange the centre's side", "arc-sense")


def _gap(number: int, one: Segment, two: Segment, gap: float) -> Trouble:
    remedy = "make it equal to the end before, or enter the missing element"
    if math.dist(one.end, two.end) <= JOIN_MM:
        remedy = "exchange p0_mm and p1_mm of this element" + (" and turn ccw round" if two.is_arc else "")
    value = f"{_point(two.start)}, {gap:.4f} mm from the end before,"
    return Trouble(number, "p0_mm", value, "", f"{_point(one.end)}, the end of the element before", remedy, "gap")


def _kink(number: int, one: Segment, two: Segment) -> list[Trouble]:
    turn = kink_deg(one, two)
    if abs(turn) <= KINK_DEG:
        return []
    value = f"{_point(two.start)}, where the line turns by {turn:.2f} deg at once,"
    must = f"smooth within {KINK_DEG:g} deg"
    remedy = "put a tangent arc there, or correct the point"
    return [Trouble(number, "p0_mm", value, "", must, remedy, "kink")]


def _crossing(segments: Sequence[Segment]) -> list[Trouble]:
    """Where a chain that is sound otherwise runs through itself."""
    return [
        Trouble(
            second,
            "p0_mm",
            f"on a line that meets element {first + 1} at {_point(point)}",
            "",
            "free of crossings",
            "correct the element that strays; a sheet cannot pass through itself",
            "self-crossing",
        )
        for first, second, point in self_crossings(Profile(tuple(segments)))
    ]


def _point(point: tuple[float, float]) -> str:
    return f"[{point[0]:g}, {point[1]:g}]"
