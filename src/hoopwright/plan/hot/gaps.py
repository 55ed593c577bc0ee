"""Gaps that open and close with temperature: aft groove, nozzles in their ports, slip along the axis. Steady and
through
time, by the shell and by the chain of lengths beside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.thermal_strain import StrainTable
from hoopwright.plan.hot.history import HotTimes
from hoopwright.plan.hot.job import HotJob, free_strain
from hoopwright.plan.hot.model import HotModel, port_place

Vector = NDArray[np.float64]

HALVINGS = 14
EXTREME_MM = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Neighbours:
    """Free strain tables of groove, casing and barrel, where the liner has them."""

    groove: StrainTable | None
    casing: StrainTable | None


def neighbours(job: HotJob) -> Neighbours:
    """Tables of what the liner meets. Raises CardError where a card has no expansion."""
    groove, nozzle = job.liner.turbine_nozzle, job.liner.nozzle
    return Neighbours(
        None if groove is None else free_strain(job.metal(groove.material)),
        None if nozzle is None else free_strain(job.metal(nozzle.casing_material)),
    )


@dataclass(frozen=True, slots=True, eq=False)
class GapCourse:
    """A gap through time. key : short name. name : the shop's words. values : (n,) [mm]; closes : whether below 0 means
    that metal touches; cold : drawn value. missing : columns it lacks."""

    key: str
    name: str
    values: Vector
    cold: float
    closes: bool


def places_strain(times: HotTimes) -> Vector:
    """Free strain of every given place through time, (m, n)."""
    places = [part for part in times.job.parts for _ in part.places]
    return np.array([part.strain.at(warm) for part, warm in zip(places, times.warm, strict=True)])


def courses(model: HotModel, times: HotTimes, met: Neighbours) -> tuple[GapCourse, ...]:
    """Every gap for which the temperatures are known, through time."""
    job, liner = model.job, model.job.liner
    strain = places_strain(times)
    found: list[GapCourse] = []
    aft, plate = job.aft_outer, job.plate
    if aft is not None:
        node = model.end(aft)
        u = np.einsum("cm,mt->ct", model.rows[node], strain)
        groove = liner.turbine_nozzle
        if groove is not None and met.groove is not None and "groove" in times.neighbours:
            own = 0.5 * job.parts[aft].thickness_mm * strain[model.columns[aft] + len(job.parts[aft].places) - 1]
            grown = groove.outer_groove_radius_mm * met.groove.at(times.neighbours["groove"])
            cold = groove.outer_groove_cold_radial_gap_mm
            found.append(
                GapCourse(
                    "aft-radial-gap",
                    "radial gap of the outer shell in its groove",
                    cold + grown - u[0] - own,
                    cold,
                    True,
                )
            )
        found.append(GapCourse("aft-slip", "aft end of the outer shell along the axis", u[1], 0.0, False))
    if plate is not None and liner.nozzle is not None and met.casing is not None and liner.port_pitch_radius_mm > 0.0:
        u = np.einsum("cm,mt->ct", model.rows[model.node(plate, port_place(job))], strain)
        nozzle = liner.nozzle
        if "casing_mean" in times.neighbours:
            casing = nozzle.casing_length_datum_to_mount_mm * met.casing.at(times.neighbours["casing_mean"])
            found.append(GapCourse("nozzle-slide", "port forward over its nozzle", -u[1] - casing, 0.0, False))
        if "casing" in times.neighbours:
            reach = nozzle.pitch_radius_cold_mm + (nozzle.stem_length_mm or 0.0)
            out = reach * met.casing.at(times.neighbours["casing"])
            found.append(GapCourse("port-shift", "port outward against its nozzle", u[0] - out, 0.0, False))
    return tuple(found)


def steady_times(job: HotJob) -> HotTimes:
    """The steady state as a history of one row."""
    liner = job.liner
    warm = np.array([[p.metal_degC] for part in job.parts for p in part.places])
    beside: dict[str, Vector] = {}
    if liner.turbine_nozzle is not None:
        beside["groove"] = np.array([liner.turbine_nozzle.outer_groove_degC])
    if liner.nozzle is not None:
        beside["casing"] = np.array([liner.nozzle.casing_degC])
        beside["casing_mean"] = np.array([liner.nozzle.casing_mean_degC])
    return HotTimes(job, np.zeros(1), warm, beside, "steady temperatures of the liner file")


def refined(model: HotModel, times: HotTimes, met: Neighbours) -> HotTimes:
    """The same course with times put in where an extreme or a closing lies between two rows: temperatures run straight
    between rows, gaps do not. Halved until extremes move by less than 1 um."""
    whole = times
    last: Vector | None = None
    for _ in range(HALVINGS):
        found = courses(model, whole, met)
        ends = np.array([[g.values.min(), g.values.max()] for g in found])
        if whole.times.size < 2 or (last is not None and np.abs(ends - last).max(initial=0.0) < EXTREME_MM):
            return whole
        last = ends
        wanted: set[int] = set()
        for gap in found:
            for k in (int(np.argmin(gap.values)), int(np.argmax(gap.values))):
                wanted |= {k - 1, k}
            if gap.closes:
                wanted |= {int(k) for k in np.flatnonzero(np.diff(np.signbit(gap.values)))}
        whole = _halved(whole, sorted(k for k in wanted if 0 <= k < whole.times.size - 1))
    return whole


def _halved(times: HotTimes, intervals: list[int]) -> HotTimes:
    at = np.array(intervals, dtype=np.int64)
    middle = 0.5 * (times.times[at] + times.times[at + 1])
    put = at + 1

    def mid(values: Vector) -> Vector:
        return np.insert(values, put, 0.5 * (values[..., at] + values[..., at + 1]), axis=-1)

    beside = {name: mid(values) for name, values in times.neighbours.items()}
    return HotTimes(times.job, np.insert(times.times, put, middle), mid(times.warm), beside, times.said)


@dataclass(frozen=True, slots=True)
class Extremes:
    """Least and greatest of a course, when, when it first closes (None if never), and how long it is closed. [mm, s]"""

    least: float
    least_at: float
    greatest: float
    greatest_at: float
    first_closed: float | None
    closed_for: float


def extremes(times: Vector, values: Vector) -> Extremes:
    """Extremes of a course that is straight between its times.

    Examples
    --------
    >>> extremes(np.array([0.0, 1.0, 2.0]), np.array([1.0, -1.0, 1.0])).first_closed
    0.5
    """
    low, high = int(np.argmin(values)), int(np.argmax(values))
    first: float | None = None
    closed = 0.0
    if values[0] < 0.0:
        first = float(times[0])
    for k in range(1, values.size):
        a, b, step = float(values[k - 1]), float(values[k]), float(times[k] - times[k - 1])
        if a >= 0.0 > b:
            cross = float(times[k - 1]) + step * a / (a - b)
            first = cross if first is None else first
            closed += float(times[k]) - cross
        elif a < 0.0 <= b:
            closed += step * a / (a - b)
        elif a < 0.0 and b < 0.0:
            closed += step
    return Extremes(float(values[low]), float(times[low]), float(values[high]), float(times[high]), first, closed)
