"""From a plan to the sizing on its segments: what is in the plan, and what a person may say about seam and oval."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.hoop import Harmonic
from hoopwright.plan.settings import Settings
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.walk import tool_face
from hoopwright.process.hooping.operation import SeamZone, SegmentHit, SizeOnSegments
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Incoming:
    """What comes to the segments beside the section.

    zone_mm, strength_ratio : of the seam's soft zone, None for what the weld of the plan leaves. waves : (order,
    amplitude [mm], place of a crest from the middle of segment 1 [deg]) of the welded hoop, beside the seam's own.
    seam_deg : seam from the middle of segment 1 at the first hit, None for a quarter pitch, as the shop places it.
    errors_mm : how far each segment stands out by itself, () for none.
    """

    zone_mm: float | None = None
    strength_ratio: float | None = None
    waves: tuple[tuple[int, float, float], ...] = ()
    seam_deg: float | None = None
    errors_mm: tuple[float, ...] = ()


def seam_zone(hoop: Workpiece, incoming: Incoming, place_deg: float) -> SeamZone | None:
    """The seam's soft zone: as said, else as the weld of the plan leaves it; None where no width is known."""
    seam = hoop.seam
    width, strength = incoming.zone_mm, incoming.strength_ratio
    if width is None and seam is not None:
        width = seam.softened_width_mm
    if strength is None and seam is not None:
        strength = seam.strength_ratio
    return SeamZone(width, 1.0 if strength is None else strength, place_deg) if width else None


def on_segments(job: RingJob, settings: Settings, hoop: Workpiece, incoming: Incoming) -> SizeOnSegments:
    """Settings of the sizing of a planned ring; every hit after the first indexed half a pitch from the one before."""
    segments = settings.segments
    pitch = 360.0 / segments.count
    quarter = 0.25 * pitch if incoming.seam_deg is None else require_finite("place of the seam", incoming.seam_deg)
    hits = tuple(SegmentHit(stop.standing_mm, 0.5 * pitch * (k % 2)) for k, stop in enumerate(settings.stops))
    return SizeOnSegments(
        surface_mm=tool_face(job, settings, 0.0),
        count=segments.count,
        slot_mm=segments.slot_mm,
        edge_radius_mm=segments.edge_radius_mm,
        friction=job.friction.mu_segment_ring.value,
        hits=hits,
        controls=job.ring.controls,
        drawn_mm=(job.section.start[0], job.section.end[0]),
        drive=settings.drive,
        seam=seam_zone(hoop, incoming, quarter),
        errors_mm=incoming.errors_mm,
        waves=tuple(_wave(*wave) for wave in incoming.waves),
        settings=settings.stop_figures,
    )


def _wave(order: int, amplitude_mm: float, crest_deg: float) -> Harmonic:
    if not isinstance(order, int):
        raise InputError("order of a wave", order, "", "a whole number, 2 or more", "write order,amplitude,crest")
    return Harmonic(order, amplitude_mm, math.radians(require_finite("place of the crest", crest_deg, "deg")))
