"""One ring of a study: a row of draws in, what comes off the segments out, as plain numbers that hosts can share."""

from __future__ import annotations

import copyreg
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from hoopwright.errors import HoopwrightError
from hoopwright.kernels.taper_drive import drive_forces
from hoopwright.plan.hooping.ask import Incoming
from hoopwright.plan.job import strip_stations
from hoopwright.plan.ring_plan import COARSE_ARC_POINTS, COARSE_LAYERS, COARSE_STEP_MM
from hoopwright.plan.settings import Settings
from hoopwright.plan.shapes import Array, RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.plan.study.inputs import Scattered, moved_job, moved_sizing, moves_of
from hoopwright.plan.walk import walk
from hoopwright.process.face_radius import radius_at
from hoopwright.process.hooping.measures import equivalent_tension, round_of
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments, hooped
from hoopwright.process.size_figures import control_word


def read_only(plain: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    """A mapping that cannot be written to."""
    return MappingProxyType(plain)


# cards keep their figures read-only; other processes and hosts must be able to get them all the same
copyreg.pickle(MappingProxyType, lambda kept: (read_only, (dict(kept),)))

PLACES = 720
"""Places round the girth at which the free ring is kept: half a degree."""


@dataclass(frozen=True, slots=True, eq=False)
class StudyAsk:
    """What every run of a study shares. job : on coarse stations. inputs : in the order of the draws."""

    job: RingJob
    settings: Settings
    incoming: Incoming
    inputs: tuple[Scattered, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Ran:
    """One run. number : of the row. values : plain results by name. profile_mm : free ring about its centre less its
    mean, at `PLACES` angles from the middle of segment 1. refused : why it was not found, "" where it was.
    """

    number: int
    values: dict[str, float]
    profile_mm: Array
    refused: str = ""


def coarse(job: RingJob) -> RingJob:
    """The job on the stations bands are made with."""
    trim = job.limits.edge_trim_mm.value
    stations = strip_stations(job.ring.id, job.section, trim, COARSE_STEP_MM, COARSE_ARC_POINTS)
    return replace(job, stations=stations)


def study_ask(job: RingJob, settings: Settings, incoming: Incoming, inputs: tuple[Scattered, ...]) -> StudyAsk:
    """The ask of a planned ring; only the last rolling pass is walked, as bands are."""
    return StudyAsk(coarse(job), replace(settings, passes=settings.passes[-1:]), incoming, inputs)


def forward(ask: StudyAsk, number: int, draw: Array) -> Ran:
    """Run one row: roll, close and weld on the coarse twin, then the hoop on its segments."""
    try:
        job, shift = moved_job(ask.job, moves := moves_of(ask.inputs, draw))
        steps = walk(job, ask.settings, shift, COARSE_LAYERS)
        ring = [step.workpiece for step in steps if step.kind not in ("size", "trim", "drill")][-1]
        operation = moved_sizing(job, ask.settings, ring, ask.incoming, moves)
        return _read(number, hooped(ring, operation, job.metal), operation, job)
    except HoopwrightError as refusal:
        return Ran(number, {}, np.zeros(PLACES), str(refusal))


def _read(number: int, done: Hooped, operation: SizeOnSegments, job: RingJob) -> Ran:
    last, card = done.last, shop_card(job)
    values = {f"free-{control_word(c)}": 2.0 * radius_at(last.free, c.z_mm, c.face) for c in operation.controls}
    around = round_of(done, last.number, operation.drawn_mm, card)
    tension = max(equivalent_tension(done, hit.number) for hit in done.hits)
    values["springback"] = last.hoop.loaded.mean_diameter_mm - last.hoop.free.mean_diameter_mm
    values["pull"] = drive_forces(operation.drive, tension).pull_N * 1e-3
    parent = around.parent
    values["thinnest"] = float(around.least_thickness_mm[parent].min())
    values["strain-peak"] = 100.0 * float(around.strain_log[parent].max())
    values["strain-least"] = 100.0 * float(around.strain_log[parent].min())
    values["parent-used"] = float(around.share_pct[parent].max())
    if around.seam.any():
        values["seam-used"] = float(around.share_pct[around.seam].max())
    free = last.hoop.free
    places = np.linspace(0.0, 2.0 * np.pi, PLACES, endpoint=False)
    profile = _around(places, free.angle_rad - last.hoop.index_rad, free.radius_mm)
    return Ran(number, values, profile - profile.mean())


def _around(places: Array, angle: Array, values: Array) -> Array:
    return np.asarray(np.interp(places, angle % (2.0 * np.pi), values, period=2.0 * np.pi), dtype=np.float64)
