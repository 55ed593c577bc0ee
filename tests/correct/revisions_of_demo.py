"""Second revisions of the demonstration, made in code: an end moved in or out, its control size with it."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.design.demo import demo_liner
from hoopwright.design.shapes import Liner, Ring
from hoopwright.kernels.profile import Profile, Segment
from hoopwright.kernels.profile_build import from_corners

Point = tuple[float, float]


def crossing(one: Segment, two: Segment, lift: float) -> Point:
    """Where two straights would meet, the second one lifted."""
    (x1, y1), (x2, y2) = one.start, one.end
    (x3, y3), (x4, y4) = two.start, two.end
    y3, y4 = y3 + lift, y4 + lift
    det = (x1 - x2) * (y3 - y4) - (y1 - y2) * (x3 - x4)
    a, b = x1 * y2 - y1 * x2, x3 * y4 - y3 * x4
    return (a * (x3 - x4) - (x1 - x2) * b) / det, (a * (y3 - y4) - (y1 - y2) * b) / det


def with_end_moved(ring: Ring, end: str, lift: float) -> Ring:
    """The ring with its forward or aft straight moved by `lift` on radius, radii of the bends kept."""
    lines = [segment for segment in ring.section if not segment.is_arc]
    radii = [segment.radius for segment in ring.section if segment.is_arc]
    lifts = [0.0] * len(lines)
    lifts[0 if end == "forward" else -1] = lift
    corners: list[Point] = [(lines[0].start[0], lines[0].start[1] + lifts[0])]
    for k in range(len(lines) - 1):
        one = lines[k]
        moved = Segment((one.start[0], one.start[1] + lifts[k]), (one.end[0], one.end[1] + lifts[k]))
        corners.append(crossing(moved, lines[k + 1], lifts[k + 1]))
    corners.append((lines[-1].end[0], lines[-1].end[1] + lifts[-1]))
    section: Profile = from_corners(corners, radii)
    which = min if end == "forward" else max
    place = which(control.z_mm for control in ring.controls)
    controls = tuple(
        replace(c, diameter_mm=round(c.diameter_mm + 2.0 * lift, 6)) if c.z_mm == place else c for c in ring.controls
    )
    return replace(ring, section=section, controls=controls)


def revision(*rings: Ring, letter: str = "B") -> Liner:
    """The demonstration at another revision, with these rings in place of its own."""
    liner, known = demo_liner(), {ring.id: ring for ring in rings}
    return replace(liner, revision=letter, rings=tuple(known.get(ring.id, ring) for ring in liner.rings))
