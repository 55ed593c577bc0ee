"""Making the job of one ring ready: its section with the edge trims on, the stations, the metal and the cards."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile, Stations, line
from hoopwright.plan.seam.numbers import job_with_card
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.shelf import Shelf
from hoopwright.process.working import stated

STATION_STEP_MM = 1.0
ARC_POINTS = 5


def ring_job(liner: Liner, ring_id: str, shelf: Shelf) -> RingJob:
    """The job of one ring of a liner.

    Raises
    ------
    InputError
        No such ring; a section that turns back on itself along the axis.
    CardError
        A card, or a figure on it, is not there (an alloy without a first-loading curve is refused here).
    """
    ring = liner.ring(ring_id)
    limits, sheet = shelf.limits(liner), shelf.sheet_metal(ring.material)
    thickness = stated(
        f"{ring.id}/sheet/thickness",
        "sheet thickness",
        ring.thickness_mm,
        "mm",
        liner.source(f"{ring.id}, thickness_mm"),
        3,
    )
    prior = None
    if ring.prior_strain_log is not None:
        prior = stated(
            f"{ring.id}/size/prior-strain-given",
            "plastic strain carried into sizing, the shop's own value",
            ring.prior_strain_log,
            "log",
            liner.source(f"{ring.id}, prior_strain_log"),
            4,
        )
    job = RingJob(
        liner=liner,
        ring=ring,
        section=ring.section,
        stations=strip_stations(ring.id, ring.section, limits.edge_trim_mm.value),
        thickness_mm=thickness,
        alloy=sheet.alloy,
        metal=sheet.metal,
        young_MPa=sheet.young_MPa,
        poisson=sheet.poisson,
        uniform_strain_log=sheet.uniform_strain_log,
        density_kg_per_m3=sheet.density_kg_per_m3,
        limits=limits,
        machines=shelf.machines(liner.cards),
        spread=shelf.spread(liner.cards.spread),
        friction=shelf.friction(liner),
        seam=shelf.seam(ring.material, ring.thickness_mm),
        prior_strain_log=prior,
        flow_source=sheet.flow_source,
    )
    return job_with_card(job, job.seam)


def with_trims(section: Profile, trim_mm: float) -> Profile:
    """The section with a straight strip of metal at each edge, which comes off after sizing."""
    if trim_mm <= 0.0:
        return section

    def beyond(point: tuple[float, float], angle: float) -> tuple[float, float]:
        return (point[0] + trim_mm * math.cos(angle), point[1] + trim_mm * math.sin(angle))

    first, last = section.segments[0].angle_at(0.0), section.segments[-1].angle_at(section.segments[-1].length)
    forward = line(beyond(section.start, first + math.pi), section.start, "forward trim")
    aft = line(section.end, beyond(section.end, last), "aft trim")
    return Profile((forward, *section.segments, aft), section.name)


def strip_stations(
    ring_id: str,
    section: Profile,
    trim_mm: float,
    step_mm: float = STATION_STEP_MM,
    arc_points: int = ARC_POINTS,
) -> Stations:
    """Stations of the section and both edge trims; s = 0 at the forward edge of the drawing.

    Raises
    ------
    InputError
        A section that turns back along the axis: segments that move straight outward cannot hold it.
    """
    found = with_trims(section, trim_mm).stations(step_mm, arc_points)
    steepest = float(np.min(np.cos(found.angle)))
    if steepest <= 0.05:
        raise InputError(
            f"{ring_id} section",
            f"{math.degrees(math.acos(max(-1.0, steepest))):.1f}",
            "deg",
            "nowhere steeper than 87 against the axis",
            "make it a pressed part, or split the ring",
        )
    return replace(found, s=found.s - max(trim_mm, 0.0))
