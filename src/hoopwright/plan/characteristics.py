"""What is inspected on a ring, what holds each characteristic, and how it is measured."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.design.shapes import ControlSize
from hoopwright.findings import Figure, Finding, Input, Source
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.process.working import reckoned

TAPE = "diameter tape, one tension, twice in opposite directions, corrected to 20 °C"


@dataclass(frozen=True, slots=True)
class Characteristic:
    """One line of the inspection plan.

    number : balloon. wanted : value with its tolerance, as printed. held_by : what makes it right. method, support :
    how it is measured and how the part is held. readings : least number of readings.
    """

    number: int
    name: str
    wanted: str
    held_by: str
    method: str
    support: str
    readings: int


@dataclass(frozen=True, slots=True)
class Characteristics:
    """The list of a ring; `readings_a_turn` is the figure behind the roundness lines."""

    rows: tuple[Characteristic, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def list_characteristics(job: RingJob, reckoning: Reckoning, segments: int) -> Characteristics:
    """Every characteristic of one ring in the order of inspection: free state first, then restrained.

    Parameters
    ----------
    job, reckoning : the ring. segments : count of the segment set, which sets how many readings see its lobes.
    """
    turn = readings_a_turn(job, segments)
    count = round(turn.value)
    rows = [
        *(_size(control) for control in job.ring.controls),
        *_shape(job, count),
        *_edges(job),
        *_metal(job),
        *_holes(job),
    ]
    numbered = tuple(
        Characteristic(k + 1, r.name, r.wanted, r.held_by, r.method, r.support, r.readings) for k, r in enumerate(rows)
    )
    return Characteristics(numbered, (turn,), ())


def readings_a_turn(job: RingJob, segments: int) -> Figure:
    """Least number of roundness readings: enough for the second harmonic of the segments, and never below the house's.

    4 N + 1 readings resolve harmonics to 2 N without aliasing (sampling theorem); the floor is house practice.
    """
    factor, floor = job.limits.readings_per_lobe, job.limits.readings_min
    value = max(factor.value * segments + 1.0, floor.value)
    return reckoned(
        job.identity("inspect/readings-a-turn"),
        "roundness readings a turn, least",
        value,
        "1",
        "max ( k N + 1 , n0 )",
        factor.as_input("k"),
        Input("N", "segments", float(segments), "1", Source("derived", "segment set of this plan")),
        floor.as_input("n0"),
        digits=0,
    )


def _row(name: str, wanted: str, held: str, method: str, support: str, readings: int) -> Characteristic:
    return Characteristic(0, name, wanted, held, method, support, readings)


def _size(control: ControlSize) -> Characteristic:
    word = control.name.replace("_", " ")
    if control.measured_as == "circumference":
        method = TAPE if control.face == "outside" else "girth of the outside less two measured thicknesses; " + TAPE
    else:
        method = "two-point diameter, four directions, mean and range"
    support = "restrained on its plug or in its ring" if control.state == "restrained" else "free, edge on a plate"
    wanted = f"Ø {control.diameter_mm:.2f} ± {control.tolerance_mm:.2f} {control.face} at z {control.z_mm:g}"
    return _row(word, wanted, "segment set and pin stop", method, support, 2)


def _shape(job: RingJob, readings: int) -> list[Characteristic]:
    zone = job.liner.tolerances
    by = "rotary table and indicator, no reading within 3 mm of seam or slot mark dropped without a second one"
    return [
        _row(
            "roundness, free",
            f"{zone.roundness_free_state_radial_mm:.2f} radial zone",
            "stretch and handling",
            by,
            "free, forward edge on a surface plate",
            readings,
        ),
        _row(
            "roundness, restrained",
            f"{zone.roundness_restrained_radial_mm:.2f} radial zone",
            "segment set and index",
            by,
            "restrained on its plug",
            readings,
        ),
        _row(
            "section profile",
            f"{zone.profile_restrained_mm:.2f} zone",
            "rolls and segment profile",
            "contour trace at three places, best fit; also once before sizing, which hides a bad roll pass",
            "restrained",
            3,
        ),
    ]


def _edges(job: RingJob) -> list[Characteristic]:
    tolerance = job.liner.tolerances.edge_axial_position_mm
    return [
        _row(
            f"{end} edge",
            f"z {edge:g} ± {tolerance:.2f}",
            "trim programme, from the contour",
            "height gauge from the contour feature, four places",
            "restrained",
            4,
        )
        for end, edge in (("forward", job.section.start[0]), ("aft", job.section.end[0]))
    ]


def _metal(job: RingJob) -> list[Characteristic]:
    least = job.liner.tolerances.thickness_min_after_forming_mm
    mismatch = job.limits.butt_mismatch_max_t.value * job.thickness_mm.value
    return [
        _row(
            "thickness",
            f"{least:.2f} least",
            "sheet, roll gap and stretch",
            "ball micrometer at seam, slot, mid-segment and every corner",
            "free",
            8,
        ),
        _row(
            "seam mismatch",
            f"{mismatch:.2f} most",
            "trim fixture and weld clamps",
            "step gauge at forward, middle, aft, before dressing",
            "in the weld fixture",
            3,
        ),
        _row(
            "seam", "no crack, no pore line", "weld procedure", "penetrant after dressing; radiograph as ordered", "", 1
        ),
    ]


def _holes(job: RingJob) -> list[Characteristic]:
    return [
        _row(
            f"{pattern.kind} holes at z {pattern.z_mm:g}",
            f"{pattern.count} × Ø {pattern.diameter_mm:g}, first at {pattern.first_theta_deg:g}°",
            "drill programme, indexed to the seam mark",
            "pin gauges; angle from the seam mark",
            "restrained",
            max(3, pattern.count // 12),
        )
        for pattern in job.liner.holes_of(job.ring.id)
    ]
