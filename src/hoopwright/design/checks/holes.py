"""Holes: on a cylinder, clear of seam, welds, laps, edges and each other; seams clear of ports and other seams."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.checks.laps import lap_of
from hoopwright.design.checks.sheets import ROUNDING_MM, arc_length, levels, radius_span, sheet_of, turn_apart_deg
from hoopwright.design.shapes import HolePattern, Liner, Ring
from hoopwright.findings import Check, Figure, Finding, judged, weakest


def hole_findings(liner: Liner, limits: HouseLimits) -> Iterator[Finding]:
    """Findings of all hole patterns."""
    rings = {ring.id: ring for ring in liner.rings}
    for pattern in liner.hole_patterns:
        if pattern.ring in rings:
            yield from _pattern(liner, rings[pattern.ring], pattern, limits)
    for ring in liner.rings:
        for one, two in combinations(liner.holes_of(ring.id), 2):
            yield from _between(liner, ring, one, two)


def hole_angles(pattern: HolePattern) -> tuple[float, ...]:
    """Angles of the holes of a pattern. [deg]"""
    return tuple(pattern.first_theta_deg + k * 360.0 / pattern.count for k in range(pattern.count))


def outside_radius_at(ring: Ring, z: float) -> float | None:
    """Radius of the outside face at z where the ring is a cylinder; None off the ring. [mm]"""
    found = levels(ring.section, z)
    return max(found) + 0.5 * ring.thickness_mm if found else None


def _about(pattern: HolePattern) -> str:
    return f"{pattern.ring}/holes/{pattern.kind}"


def _words(pattern: HolePattern) -> str:
    return f"{pattern.ring}, {pattern.kind} holes at z {pattern.z_mm:g} mm"


def _pattern(liner: Liner, ring: Ring, pattern: HolePattern, limits: HouseLimits) -> Iterator[Finding]:
    source = liner.source(_words(pattern))
    radius = outside_radius_at(ring, pattern.z_mm)
    half = 0.5 * pattern.diameter_mm
    mid = levels(ring.section, pattern.z_mm)
    span = radius_span(ring.section, pattern.z_mm - half, pattern.z_mm + half, max(mid), 5.0) if mid else None
    if radius is None or span is None:
        low, _, high, _ = ring.section.bounds
        sentence = f"{_words(pattern)}: they leave the ring, which stands from {low:g} to {high:g} mm."
        yield Finding("stop", sentence, "correct z_mm of the holes", _about(pattern), "hole-off-ring", source=source)
        return
    if span[1] - span[0] > ROUNDING_MM:
        yield Finding(
            "stop",
            f"{_words(pattern)}: the section is no cylinder there, its radius runs from {span[0]:.3f} to "
            f"{span[1]:.3f} mm over the hole.",
            "move the holes to a straight part of the section, or make them smaller",
            _about(pattern),
            "hole-not-on-cylinder",
            source=source,
        )
    yield from _seam(liner, ring, pattern, radius, limits)
    yield from _welds(liner, ring, pattern, limits)
    yield from _row(liner, ring, pattern, radius)


def _seam(liner: Liner, ring: Ring, pattern: HolePattern, radius: float, limits: HouseLimits) -> Iterator[Finding]:
    apart = min(turn_apart_deg(angle, ring.seam_theta_deg) for angle in hole_angles(pattern))
    clear = arc_length(apart, radius) - 0.5 * pattern.diameter_mm
    yield from _least(
        liner, clear, limits.seam_to_hole_edge_min_mm, _words(pattern), "hole edge to seam", _about(pattern),
        "hole-seam", "turn first_theta_deg by half a pitch, or move the seam",
    )  # fmt: skip
    if pattern.kind == "igniter":
        yield from _least(
            liner, apart, limits.seam_to_igniter_min_deg, _words(pattern), "seam to igniter", _about(pattern),
            "seam-igniter", "move the seam",
        )  # fmt: skip


def _least(
    liner: Liner, value: float, limit: Figure, words: str, what: str, about: str, topic: str, remedy: str
) -> Iterator[Finding]:
    """A caution where a distance is less than the house limit, a stop where it is below 0."""
    check = Check(
        name=f"{words}, {what}",
        value=round(value, 6),
        limit=limit.value,
        sense=">=",
        unit=limit.unit,
        source=weakest([liner.source(words), limit.source]),
        level="stop" if value < 0.0 else "caution",
        remedy=remedy,
        about=about,
    )
    sentence = f"{words}: {what} is {value:.2f} {limit.unit}; the house limit is {limit.value:g} {limit.unit}."
    found = judged(check, sentence, topic)
    if found is not None:
        yield found


def _welds(liner: Liner, ring: Ring, pattern: HolePattern, limits: HouseLimits) -> Iterator[Finding]:
    """Holes on a weld line, or where the other part of a lap covers them."""
    half = 0.5 * pattern.diameter_mm
    for joint in liner.joints_of(ring.id):
        clear = abs(pattern.z_mm - joint.weld_z_mm) - half
        words = f"{_words(pattern)}, joint {joint.id}"
        yield from _least(
            liner, clear, limits.edge_to_weld_min_mm, words, "hole edge to lap weld", _about(pattern), "hole-weld",
            "move the holes away from the weld",
        )  # fmt: skip
        lap = lap_of(liner, joint)
        if lap is None:
            continue
        other = lap.inner if lap.outer.id == ring.id else lap.outer
        sheet = sheet_of(ring)
        covered = [
            room
            for z in (pattern.z_mm - half, pattern.z_mm, pattern.z_mm + half)
            for mine in levels(sheet.section, z)
            for room in (abs(mine - theirs) for theirs in levels(other.section, z))
        ]
        touching = 0.5 * (sheet.thickness_mm + other.thickness_mm) + 0.5 * min(sheet.thickness_mm, other.thickness_mm)
        if covered and min(covered) < touching:
            yield Finding(
                "stop",
                f"{words}: {other.id} covers the holes, its mid-surface {min(covered):.2f} mm away.",
                "move the holes off the lap",
                _about(pattern),
                "hole-under-lap",
                source=liner.source(words),
            )


def _row(liner: Liner, ring: Ring, pattern: HolePattern, radius: float) -> Iterator[Finding]:
    if pattern.count > 1:
        yield from _ligament(
            liner,
            ring,
            arc_length(360.0 / pattern.count, radius) - pattern.diameter_mm,
            _words(pattern),
            _about(pattern),
        )


def _between(liner: Liner, ring: Ring, one: HolePattern, two: HolePattern) -> Iterator[Finding]:
    radius = outside_radius_at(ring, one.z_mm)
    if radius is None:
        return
    along = abs(one.z_mm - two.z_mm)
    apart = min(turn_apart_deg(a, b) for a in hole_angles(one) for b in hole_angles(two))
    around = arc_length(apart, radius)
    room = (along**2 + around**2) ** 0.5 - 0.5 * (one.diameter_mm + two.diameter_mm)
    words = f"{_words(one)} and {two.kind} holes at z {two.z_mm:g} mm"
    yield from _ligament(liner, ring, room, words, _about(one))


def _ligament(liner: Liner, ring: Ring, room: float, words: str, about: str) -> Iterator[Finding]:
    """Metal between holes; less than a thickness is none to speak of (common practice, no source)."""
    if room < ring.thickness_mm:
        yield Finding(
            "stop" if room <= 0.0 else "caution",
            f"{words}: the metal between holes is {room:.2f} mm wide; the sheet is {ring.thickness_mm:g} mm thick.",
            "use fewer or smaller holes, or move a row",
            about,
            "hole-ligament",
            source=liner.source(words),
        )


def seam_findings(liner: Liner, limits: HouseLimits) -> Iterator[Finding]:
    """Seams against ports and against the other seams of their shell."""
    for ring in liner.rings:
        if liner.ports:
            ports = [liner.first_port_theta_deg + k * 360.0 / liner.ports for k in range(liner.ports)]
            apart = min(turn_apart_deg(port, ring.seam_theta_deg) for port in ports)
            yield from _least(
                liner, apart, limits.seam_to_port_min_deg, f"{ring.id}, seam", "seam to port", f"{ring.id}/seam",
                "seam-port", "turn seam_theta_deg to the middle between two ports",
            )  # fmt: skip
    for one, two in combinations(liner.rings, 2):
        if one.side == two.side:
            apart = turn_apart_deg(one.seam_theta_deg, two.seam_theta_deg)
            near = abs(one.order - two.order) == 1
            limit = limits.seam_neighbour_min_deg if near else limits.seam_any_min_deg
            what = "seam to the seam of its neighbour" if near else "seam to another seam of the shell"
            yield from _least(
                liner, apart, limit, f"{one.id} and {two.id}", what, f"{two.id}/seam", "seam-seam",
                "turn one of the two rings",
            )  # fmt: skip
