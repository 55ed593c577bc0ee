"""Segments, pin and stops of one ring: profile, count, slots, travel, press load, stop table, hits."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hoopwright.findings import Figure, Finding, Input
from hoopwright.plan.edge_marks import edge_marks
from hoopwright.plan.inside_face import face_points, ground_of, inside_of
from hoopwright.plan.job import with_trims
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.segment_figures import radius_figures, segment_figures, travel_figure
from hoopwright.plan.segment_findings import segment_findings
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.stop_figures import stop_figures
from hoopwright.process.face_radius import mean_strain, radius_at, section_mean
from hoopwright.process.working import reckoned
from hoopwright.tools.expander import StopRow, StopSetting, rounded_to, shims_about, stop_for_girth, stop_rows
from hoopwright.tools.press_load import PressAsk, PressLoad, press_load
from hoopwright.tools.segment_contour import SegmentContour, segment_contour
from hoopwright.tools.segments import SegmentRule, SegmentSet, choose_set

__all__ = ["SizingSet", "inside_of", "plan_sizing", "press_of", "segment_rule", "tension_figure"]


@dataclass(frozen=True, slots=True, eq=False)
class SizingSet:
    """Everything that makes the size.

    surface : profile the segments are ground to, in the loaded position. stops : of each hit. table : stop table.
    """

    surface: SegmentContour
    segments: SegmentSet
    press: PressLoad
    stops: tuple[StopSetting, ...]
    table: tuple[StopRow, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def plan_sizing(job: RingJob, reckoning: Reckoning, proof: Proof | None = None) -> SizingSet:
    """Segment set, press load and stops.

    Parameters
    ----------
    proof : Proof, optional
        Its correction of the segments' profile.

    Raises
    ------
    InputError
        A ring that no travel frees from its segments, or a pin that jams.
    """
    held = tuple(control.z_mm for control in job.ring.controls)
    whole = with_trims(job.section, job.limits.edge_trim_mm.value)
    face = face_points(job, reckoning)
    if proof is not None:
        face = replace(face, radius_mm=face.radius_mm + np.array(proof.face_shift_mm))
    surface = segment_contour(whole, face, held)
    segments = choose_set(
        inside_of(reckoning.loaded), inside_of(reckoning.hoop), inside_of(reckoning.free), segment_rule(job)
    )
    travel = travel_figure(job, segments)
    tension = tension_figure(job, reckoning.tension_N, reckoning.loaded.area_mm2)
    press = press_of(job, segments.count, tension, travel, reckoning.springback_mm)
    full = press.drive.stroke(segments.travel_mm)
    stops = _stops(job, press, full)
    table = _table(job, reckoning, segments, press, stops)
    edges, marks = edge_marks(job, reckoning, segments)
    figures = [
        *segment_figures(job, reckoning, surface, segments, travel),
        *edges,
        *radius_figures(job, reckoning, surface),
        tension,
        *press.figures,
        *stop_figures(job, press, segments, stops),
    ]
    found = segment_findings(job, segments, figures, segment_rule(job).lobes_allowed_mm)
    findings = [*press.findings, *found, *marks]
    return SizingSet(surface, segments, press, stops, table, tuple(figures), tuple(findings))


def segment_rule(job: RingJob) -> SegmentRule:
    """What the house and the drawing ask of a segment set."""
    limits = job.limits
    least = round(limits.segments.value)
    return SegmentRule(
        least_count=least,
        most_count=max(least, round(limits.segments_max.value)),
        edge_radius_mm=limits.segment_edge_radius_mm.value,
        load_clearance_mm=limits.load_clearance_mm.value,
        slot_clearance_mm=limits.slot_clearance_mm.value,
        travel_step_mm=limits.travel_step_mm.value,
        slot_step_mm=limits.slot_step_mm.value,
        zone_mm=job.liner.tolerances.roundness_restrained_radial_mm,
        lobe_share=limits.lobe_share.value,
    )


def tension_figure(job: RingJob, tension_N: float, area_mm2: float) -> Figure:
    """Hoop tension of the whole section at full size."""
    ground = ground_of(job)
    return reckoned(
        job.identity("press/tension"),
        "hoop tension of the section, edge trims on",
        tension_N * 1e-3,
        "kN",
        "s A / 1000",
        Input("s", "hoop stress on the segments, mean", tension_N / area_mm2, "MPa", ground),
        Input("A", "area of the section on the segments", area_mm2, "mm2", ground),
        digits=2,
        note="at full size, in a gap",
    )


def press_of(job: RingJob, count: int, tension: Figure, travel: Figure, springback_mm: float) -> PressLoad:
    """Press load of a set of `count` segments."""
    limits = job.limits
    ask = PressAsk(
        job.ring.id, count, tension, travel, springback_mm, limits.pin_half_angle_deg, limits.release_margin_min_deg
    )
    return press_load(ask, job.friction, job.machines.expander)


def _stops(job: RingJob, press: PressLoad, full: float) -> tuple[StopSetting, ...]:
    """First hit low by the house's amount on diameter, then full size."""
    step = job.machines.expander.stop_step_mm.value
    low = stop_for_girth(press.drive, full, -job.limits.first_hit_low_mm.value, step)
    return (low, StopSetting(rounded_to(full, step), 0.0))


def _table(
    job: RingJob, reckoning: Reckoning, segments: SegmentSet, press: PressLoad, stops: tuple[StopSetting, ...]
) -> tuple[StopRow, ...]:
    controls = job.ring.controls
    loaded = tuple(2.0 * radius_at(reckoning.loaded, c.z_mm, c.face) for c in controls)
    free = tuple(2.0 * radius_at(reckoning.free, c.z_mm, c.face) for c in controls)
    circle = segments.circle(float(reckoning.tool_face_mm.min()))
    shims = shims_about(job.machines.expander.stop_step_mm.value, stops[0].stop_mm - stops[-1].stop_mm)
    return stop_rows(press.drive, stops[-1].stop_mm, loaded, free, _free_per_loaded(job, reckoning), circle, shims)


def _free_per_loaded(job: RingJob, reckoning: Reckoning) -> float:
    """How a free diameter follows a loaded one near full size: 1 - rise of the springback with the stretch."""
    strain = section_mean(reckoning.loaded, mean_strain(reckoning.loaded))
    slope = job.metal.flow.slope(strain)
    return 1.0 - slope / job.metal.youngs_modulus_MPa
