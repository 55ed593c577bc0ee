"""Whether sheets run into each other, rings stand in their order, and the liner is as long as it says. mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.checks.sheets import Sheet, sheets_of
from hoopwright.design.shapes import Liner
from hoopwright.findings import Finding
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_crossing import clearance

NEAR_MM = 5.0
Box = tuple[float, float, float, float]


def neighbour_findings(liner: Liner, limits: HouseLimits) -> Iterator[Finding]:
    """Findings of every pair of sheets, of the order of rings and of the length."""
    for one, two, room in clearances(liner):
        joined = any({one.id, two.id} == {joint.outer, joint.inner} for joint in liner.joints)
        least = limits.lap_gap_min_mm.value if joined else 0.0
        if room < least - 1e-6:
            yield _overlap(liner, one, two, room, least, joined)
    yield from _order(liner)
    yield from _length(liner)


def clearances(liner: Liner) -> Iterator[tuple[Sheet, Sheet, float]]:
    """Every pair of sheets that come within 5 mm, with the room between them; below 0 they overlap. [mm]

    The room is the distance of the mid-surfaces less half of each thickness; at an edge this counts the edge as round,
    which is on the safe side.
    """
    for one, two in combinations(sheets_of(liner), 2):
        half = 0.5 * (one.thickness_mm + two.thickness_mm)
        apart = distance_within(one.section, two.section, NEAR_MM + half)
        if apart is not None:
            yield one, two, apart - half


def distance_within(one: Profile, two: Profile, reach: float) -> float | None:
    """Least distance of two sections; None where it is `reach` or more. [mm]

    Pairs of elements are taken nearest boxes first, and none is measured whose boxes lie further apart than the best.
    """
    best = reach
    if _apart(one.bounds, two.bounds) >= best:
        return None
    mine = [(part, part.bounds) for part in (Profile((segment,)) for segment in one)]
    theirs = [(part, part.bounds) for part in (Profile((segment,)) for segment in two)]
    pairs = sorted(((_apart(a, b), n, m) for n, (_, a) in enumerate(mine) for m, (_, b) in enumerate(theirs)))
    for apart, n, m in pairs:
        if apart >= best:
            break
        best = min(best, clearance(mine[n][0], theirs[m][0]))
    return best if best < reach else None


def _apart(a: Box, b: Box) -> float:
    """Distance of two boxes, never more than that of what is in them. [mm]"""
    return max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3], 0.0)


def _overlap(liner: Liner, one: Sheet, two: Sheet, room: float, least: float, joined: bool) -> Finding:
    half = 0.5 * (one.thickness_mm + two.thickness_mm)
    if room <= -half + 1e-9:
        what = f"{one.id} and {two.id} run through each other"
    else:
        what = f"{one.id} and {two.id} overlap by {-room:.3f} mm"
    limit = f"the house limit for a press in a lap is {-least:.3f} mm" if joined else "they are not joined"
    return Finding(
        "stop",
        f"{what}; {limit}.",
        "correct the section that is not as drawn",
        f"{one.id}/{two.id}",
        "overlap",
        source=liner.source(f"sections of {one.id} and {two.id}"),
    )


def _order(liner: Liner) -> Iterator[Finding]:
    for side in ("outer", "inner"):
        shell = sorted((ring for ring in liner.rings if ring.side == side), key=lambda ring: ring.order)
        for one, two in pairwise(shell):
            if two.section.start[0] <= one.section.start[0]:
                yield Finding(
                    "caution",
                    f"{two.id} has place {two.order} in the {side} shell, after {one.id}, but begins forward of it: "
                    f"z {two.section.start[0]:g} mm against {one.section.start[0]:g} mm.",
                    "correct order, or the section",
                    f"{two.id}/order",
                    "order",
                    source=liner.source(f"{two.id}, order"),
                )


def _length(liner: Liner) -> Iterator[Finding]:
    aft = max(ring.section.bounds[2] for ring in liner.rings)
    if liner.end_plate is not None and abs(aft - liner.length_mm) > NEAR_MM:
        yield Finding(
            "caution",
            f"{liner.id}: the aft edge of the rings lies at z {aft:g} mm; length_mm is {liner.length_mm:g} mm.",
            "correct length_mm, or the section that ends there",
            f"{liner.id}/length",
            "length",
            source=liner.source("length_mm"),
        )
