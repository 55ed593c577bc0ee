"""Figures of the pin's stop: what a millimetre of pin gives, the stop of each hit, lobes and seam."""

from __future__ import annotations

import math

from hoopwright.findings import Figure, Input
from hoopwright.kernels.segment_hull import lobe_factor
from hoopwright.plan.inside_face import ground_of
from hoopwright.plan.shapes import RingJob
from hoopwright.process.working import reckoned
from hoopwright.tools.expander import StopSetting
from hoopwright.tools.press_load import PressLoad
from hoopwright.tools.segments import SegmentSet


def stop_figures(job: RingJob, press: PressLoad, segments: SegmentSet, stops: tuple[StopSetting, ...]) -> list[Figure]:
    """Pin against size, then each hit's stop, then what the first hit prints and where the seam goes."""
    half = job.limits.pin_half_angle_deg.as_input("a")
    count = Input("N", "segments", float(segments.count), "", ground_of(job))
    return [
        *_rates(job, press, segments.count, half, count),
        *(_stop(job, press, segments, number, stop, half) for number, stop in enumerate(stops, start=1)),
        _lobes(job, segments.count, stops[0], count),
        _seam(job, segments.count, count),
    ]


def _rates(job: RingJob, press: PressLoad, segments: int, half: Input, count: Input) -> list[Figure]:
    beta, across = math.pi / segments, press.drive.diameter_per_stroke
    return [
        reckoned(
            job.identity("stop/across-per-mm"),
            "diameter across segment middles, for 1 mm of pin",
            across,
            "mm_per_mm",
            "2 tan a",
            half,
            digits=4,
        ),
        reckoned(
            job.identity("stop/girth-per-mm"),
            "diameter a girth tape reads, for 1 mm of pin",
            across * math.sin(beta) / beta,
            "mm_per_mm",
            "2 tan a sin ( 180 / N ) / ( pi / N )",
            half,
            count,
            digits=4,
        ),
    ]


def _stop(job: RingJob, press: PressLoad, segments: SegmentSet, number: int, stop: StopSetting, half: Input) -> Figure:
    ground = ground_of(job)
    shim = 2.0 * stop.standing_mm / press.drive.diameter_per_stroke
    return reckoned(
        job.identity(f"size/hit-{number}/stop"),
        f"pin stop of hit {number}, stroke from collapsed",
        stop.stop_mm,
        "mm",
        "travel / tan a + shim , to a step",
        Input("travel", "travel of the segments", segments.travel_mm, "mm", ground),
        half,
        Input("shim", "against the stop at which they are ground", shim, "mm", ground),
        digits=2,
        note=f"segments stand {stop.standing_mm:+.3f} off as ground",
    )


def _lobes(job: RingJob, segments: int, first: StopSetting, count: Input) -> Figure:
    off = abs(first.standing_mm)
    return reckoned(
        job.identity("stop/first-hit-lobes"),
        "lobes the first hit prints",
        off * lobe_factor(segments),
        "mm",
        "d ( 1 - cos ( 180 / N ) )",
        Input("d", "segments stand off as ground", off, "mm", ground_of(job)),
        count,
        digits=3,
        note="the second hit, half a pitch on, takes them out",
    )


def _seam(job: RingJob, segments: int, count: Input) -> Figure:
    return reckoned(
        job.identity("stop/seam-angle"),
        "seam from the nearest segment centre, each hit",
        90.0 / segments,
        "deg",
        "360 / N / 4",
        count,
        digits=2,
        note="a quarter pitch off: after a half-pitch index it lies at the mirrored quarter",
    )
