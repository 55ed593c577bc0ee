"""Hole programme: every hole after sizing, counted from the seam mark, with flow areas and clearances."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.design.shapes import HolePattern
from hoopwright.findings import Check, Figure, Finding, Input, judged
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.process.working import reckoned


@dataclass(frozen=True, slots=True)
class HoleRow:
    """One hole: theta_deg on the liner, from_seam_deg as the drill head counts it (0 to 360), z_mm, face radius."""

    pattern: str
    number: int
    theta_deg: float
    from_seam_deg: float
    z_mm: float
    face_radius_mm: float
    diameter_mm: float


@dataclass(frozen=True, slots=True)
class HolePlan:
    """Hole table of a ring in the order of drilling: pattern by pattern, the first hole the first after the seam."""

    rows: tuple[HoleRow, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def pattern_word(pattern: HolePattern) -> str:
    """Short name of a pattern that is unique on its ring: kind and place ("film-z40.5")."""
    return f"{pattern.kind}-z{pattern.z_mm:g}"


def plan_holes(job: RingJob, reckoning: Reckoning) -> HolePlan:
    """Hole table, flow area and distance from the seam of every pattern on the ring.

    Parameters
    ----------
    job : the ring. reckoning : taken for the common form of the chapters; holes are made in the sized ring.
    """
    rows: list[HoleRow] = []
    figures: list[Figure] = []
    findings: list[Finding] = []
    for pattern in job.liner.holes_of(job.ring.id):
        levels = levels_at(job.section, pattern.z_mm)
        if not levels:
            continue
        face = levels[0] + 0.5 * job.thickness_mm.value
        rows += _rows(job, pattern, face)
        figures.append(_flow_area(job, pattern))
        margin = _seam_margin(job, pattern, face)
        figures.append(margin)
        findings += _findings(job, pattern, margin, face)
    return HolePlan(tuple(rows), tuple(figures), tuple(findings))


def _rows(job: RingJob, pattern: HolePattern, face: float) -> list[HoleRow]:
    pitch = 360.0 / pattern.count
    thetas = [(pattern.first_theta_deg + k * pitch) % 360.0 for k in range(pattern.count)]
    seam = job.ring.seam_theta_deg
    ordered = sorted(thetas, key=lambda theta: (theta - seam) % 360.0)
    word = pattern_word(pattern)
    return [
        HoleRow(word, k + 1, theta, (theta - seam) % 360.0, pattern.z_mm, face, pattern.diameter_mm)
        for k, theta in enumerate(ordered)
    ]


def _inputs(job: RingJob, pattern: HolePattern) -> tuple[Input, Input]:
    given = job.liner.source(f"holes of {job.ring.id}, {pattern.kind}")
    return (
        Input("n", "holes", float(pattern.count), "1", given),
        Input("d", "hole diameter", pattern.diameter_mm, "mm", given),
    )


def _flow_area(job: RingJob, pattern: HolePattern) -> Figure:
    return reckoned(
        job.identity(f"holes/{pattern_word(pattern)}/flow-area"),
        f"flow area, {pattern.count} {pattern.kind} hole{'s' if pattern.count != 1 else ''}",
        pattern.count * math.pi * pattern.diameter_mm**2 / 4.0,
        "mm2",
        "n π d ² / 4",
        *_inputs(job, pattern),
        digits=1,
        note="geometric; no discharge coefficient",
    )


def _seam_margin(job: RingJob, pattern: HolePattern, face: float) -> Figure:
    """Distance along the outside face from the seam to the nearest hole edge."""
    pitch = 360.0 / pattern.count
    off = min(
        abs((pattern.first_theta_deg + k * pitch - job.ring.seam_theta_deg + 180.0) % 360.0 - 180.0)
        for k in range(pattern.count)
    )
    given = job.liner.source(f"{job.ring.id}, seam and holes")
    return reckoned(
        job.identity(f"holes/{pattern_word(pattern)}/edge-to-seam"),
        f"{pattern.kind} hole edge to seam, on the outside face",
        math.radians(off) * face - 0.5 * pattern.diameter_mm,
        "mm",
        "R θ - ½ d",
        Input("R", "outside face radius at the holes", face, "mm", given),
        Input("θ", "nearest hole off the seam", math.radians(off), "rad", given),
        _inputs(job, pattern)[1],
        digits=2,
    )


def _findings(job: RingJob, pattern: HolePattern, margin: Figure, face: float) -> list[Finding]:
    limit = job.limits.seam_to_hole_edge_min_mm
    found: list[Finding | None] = []
    half_pitch = 180.0 / pattern.count
    found.append(
        judged(
            Check(
                f"{job.ring.id}: {pattern.kind} holes at z {pattern.z_mm:g} clear of the seam",
                margin.value,
                limit.value,
                ">=",
                "mm",
                limit.source,
                "stop",
                f"start the pattern half a pitch off the seam, at {(job.ring.seam_theta_deg + half_pitch) % 360:g}°",
                margin.identity,
            ),
            f"A {pattern.kind} hole of {job.ring.id} ends {margin.value:.2f} from the seam; the house keeps "
            f"{limit.value:g}.",
            "hole-near-seam",
        )
    )
    bridge = 2.0 * math.pi * face / pattern.count - pattern.diameter_mm
    if pattern.count > 1:
        found.append(
            judged(
                Check(
                    f"{job.ring.id}: metal between {pattern.kind} holes",
                    bridge,
                    job.thickness_mm.value,
                    ">=",
                    "mm",
                    job.limits.seam_to_hole_edge_min_mm.source,
                    "caution",
                    "use fewer or smaller holes, or two staggered rows",
                    job.identity(f"holes/{pattern_word(pattern)}"),
                    ("limit: one sheet thickness; common practice, no source",),
                ),
                f"Only {bridge:.2f} of metal is left between the {pattern.kind} holes of {job.ring.id}; one thickness "
                f"is {job.thickness_mm.value:.2f}.",
                "hole-bridge",
            )
        )
    if pattern.kind == "igniter":
        found.append(_igniter(job, pattern))
    return [finding for finding in found if finding is not None]


def _igniter(job: RingJob, pattern: HolePattern) -> Finding | None:
    off = abs((pattern.first_theta_deg - job.ring.seam_theta_deg + 180.0) % 360.0 - 180.0)
    limit = job.limits.seam_to_igniter_min_deg
    return judged(
        Check(
            f"{job.ring.id}: igniter clear of the seam",
            off,
            limit.value,
            ">=",
            "deg",
            limit.source,
            "stop",
            "turn the seam to another angle",
            job.identity("holes/igniter"),
        ),
        f"The igniter of {job.ring.id} stands {off:.0f}° from the seam; the house keeps {limit.value:g}°.",
        "igniter-near-seam",
    )
