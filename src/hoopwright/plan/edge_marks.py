"""Whether the edges of the segments mark the ring: the chord over a slot bends round them and presses along a line."""

from __future__ import annotations

import numpy as np

from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.kernels.line_contact import contact_modulus, edge_load, line_contact
from hoopwright.plan.inside_face import ground_of
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.process.face_radius import mean_strain, section_mean
from hoopwright.process.working import reckoned
from hoopwright.tools.segments import SegmentSet

MARK_FACTOR = 1.7
MARK_SOURCE = Source(
    "memory", "first yield below a line contact at 1.7 times the yield stress; contact mechanics, from memory"
)


def edge_marks(job: RingJob, reckoning: Reckoning, segments: SegmentSet) -> tuple[tuple[Figure, ...], list[Finding]]:
    """Line load and peak pressure at a segment's edge, against 1.7 times the yield stress of the stretched sheet."""
    ground = ground_of(job)
    width = float(reckoning.loaded.weight_mm.sum())
    radius = float(np.min(reckoning.tool_face_mm))
    per_width = Input("T", "hoop tension for each mm of width", reckoning.tension_N / width, "N_per_mm", ground)
    slot = Input("w", "slot", segments.slot_mm, "mm", ground)
    around = Input("R", "smallest radius of the segments", radius, "mm", ground)
    load = reckoned(
        job.identity("segments/edge-load"),
        "load along a segment's edge",
        edge_load(float(per_width.value), radius, segments.slot_mm),
        "N_per_mm",
        "T w / ( 2 R )",
        per_width,
        slot,
        around,
        digits=1,
        note="of a string; beside a wide slot a ring lifts off and bears up to three times that: run it on segments",
    )
    modulus = contact_modulus(job.metal.youngs_modulus_MPa, job.metal.poisson)
    contact = line_contact(load.value, segments.edge_radius_mm, modulus)
    pressure = reckoned(
        job.identity("segments/edge-pressure"),
        "peak pressure along a segment's edge",
        contact.peak_pressure_MPa,
        "MPa",
        "sqrt ( q E / ( 2 ( 1 - nu ^ 2 ) pi r_e ) )",
        load.as_input("q"),
        job.young_MPa.as_input("E"),
        job.poisson.as_input("nu"),
        job.limits.segment_edge_radius_mm.as_input("r_e"),
        digits=0,
        note="segments taken as stiff as the sheet",
    )
    strain = section_mean(reckoning.loaded, mean_strain(reckoning.loaded))
    check = Check(
        "the edges of the segments leave no mark",
        pressure.value,
        MARK_FACTOR * job.metal.flow.stress(strain),
        "<=",
        "MPa",
        MARK_SOURCE,
        "caution",
        "round the edges of the segments more, or put film on them",
        pressure.identity,
    )
    place = f"The edges of the segments press {pressure.value:.0f} MPa into {job.ring.id}"
    sentence = f"{place}; marks begin at {check.limit:.0f}."
    found = judged(check, sentence, "edge-marks") if not check.ok else None
    return (load, pressure), [found] if found else []
