"""Figures of a segment set: count, travel, slots, flats, cuts, and the radii its profile is ground to."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.findings import Figure, Input, Source
from hoopwright.kernels.segment_hull import lobe_factor
from hoopwright.kernels.segment_retract import Passage, SegmentForm
from hoopwright.kernels.segment_slot import effective_half_gap, slot_needed
from hoopwright.plan.inside_face import ground_of, inside_of
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.process.face_radius import radius_at
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Workpiece
from hoopwright.tools.segment_contour import SegmentContour
from hoopwright.tools.segments import SegmentSet, named_end


def travel_figure(job: RingJob, segments: SegmentSet) -> Figure:
    """Travel of the set, rounded up."""
    better = segments.needed.better
    return reckoned(
        job.identity("segments/travel"),
        "radial travel of the segments",
        segments.travel_mm,
        "mm",
        "max ( load , unload ) , up to a step",
        Input("load", f"to load over the {named_end(better.end)} end", better.load.travel_mm, "mm", ground_of(job)),
        Input(
            "unload", f"to unload over the {named_end(better.end)} end", better.unload.travel_mm, "mm", ground_of(job)
        ),
        job.limits.travel_step_mm.as_input("step"),
        digits=1,
        note=f"collapsed edges stick out; crown against throat alone says {segments.hand_load_mm:.2f} to load",
    )


def segment_figures(
    job: RingJob, reckoning: Reckoning, surface: SegmentContour, segments: SegmentSet, travel: Figure
) -> list[Figure]:
    """Everything about the set but its radii."""
    count = _count(job, segments)
    n = count.as_input("N")
    return [
        count,
        travel,
        *_passages(job, reckoning, segments),
        *_slot(job, reckoning, segments, travel, n),
        *_cutting(job, reckoning, surface, segments, n),
    ]


def _count(job: RingJob, segments: SegmentSet) -> Figure:
    place, limits = job.identity("segments"), job.limits
    return reckoned(
        f"{place}/count",
        "segments",
        float(segments.count),
        "",
        "fewest whose flats keep inside lobes * zone",
        limits.segments.as_input("N_least"),
        limits.lobe_share.as_input("lobes"),
        Input(
            "zone",
            "restrained roundness",
            job.liner.tolerances.roundness_restrained_radial_mm,
            "mm",
            job.liner.source("tolerances"),
        ),
        digits=0,
        note="; ".join(f"{n}: travel {t:g}, slot {w:.1f}, flat {f:.3f}" for n, t, w, f in segments.weighed),
    )


def _passages(job: RingJob, reckoning: Reckoning, segments: SegmentSet) -> tuple[Figure, Figure]:
    """Travel to load and to unload over the better end."""
    place, limits, better = job.identity("segments"), job.limits, segments.needed.better
    given, clearance = ground_of(job), limits.load_clearance_mm.as_input("c")
    load = reckoned(
        f"{place}/travel-load",
        f"travel to load over the {named_end(better.end)} end",
        better.load.travel_mm,
        "mm",
        "( R - e ) cos h - sqrt ( ( q - c - e ) ^ 2 - ( ( R - e ) sin h ) ^ 2 )",
        *_passage_inputs(segments, better.load, reckoning.loaded, reckoning.hoop, given),
        limits.segment_edge_radius_mm.as_input("e"),
        clearance,
        digits=2,
    )
    unload = reckoned(
        f"{place}/travel-unload",
        f"travel to unload over the {named_end(better.end)} end",
        better.unload.travel_mm,
        "mm",
        load.formula,
        *_passage_inputs(segments, better.unload, reckoning.loaded, reckoning.free, given),
        limits.segment_edge_radius_mm.as_input("e"),
        clearance,
        digits=2,
    )
    return load, unload


def _slot(
    job: RingJob, reckoning: Reckoning, segments: SegmentSet, travel: Figure, n: Input
) -> tuple[Figure, Figure, Figure]:
    """Slot, the flat it leaves, and lobes for each mm over-open."""
    place, limits = job.identity("segments"), job.limits
    needed = slot_needed(segments.count, segments.travel_mm, limits.slot_clearance_mm.value)
    slot = reckoned(
        f"{place}/slot",
        "slot width at full size",
        segments.slot_mm,
        "mm",
        "2 s sin ( 180 / N ) + clearance , up to a step",
        travel.as_input("s"),
        n,
        limits.slot_clearance_mm.as_input("clearance"),
        digits=1,
        note=f"needed {needed:.2f}; parallel faces",
    )
    smallest = float(reckoning.tool_face_mm.min())
    flat = reckoned(
        f"{place}/flat",
        "flat that the ring keeps at a slot",
        segments.flat_mm,
        "mm",
        "0.97 ( R - sqrt ( R ^ 2 - g ^ 2 / 4 ) )",
        Input("g", "slot, widened by the rounded edges", 2.0 * _half_gap(segments), "mm", ground_of(job)),
        Input("R", "smallest radius of the segments", smallest, "mm", ground_of(job)),
        digits=3,
    )
    lobes = reckoned(
        f"{place}/lobes-per-mm",
        "lobes for each mm the segments stand off as ground",
        lobe_factor(segments.count),
        "mm_per_mm",
        "1 - cos ( 180 / N )",
        n,
        digits=4,
    )
    return slot, flat, lobes


def _cutting(
    job: RingJob, reckoning: Reckoning, surface: SegmentContour, segments: SegmentSet, n: Input
) -> tuple[Figure, Figure, Figure]:
    """Edge radius, wire cuts, and how near the profile comes to the reckoned face."""
    place = job.identity("segments")
    smallest = float(reckoning.tool_face_mm.min())
    miss = reckoned(
        f"{place}/profile-miss",
        "profile against reckoned face, largest",
        float(np.max(np.abs(surface.miss_mm))),
        "mm",
        "largest of | R_profile - R_face |",
        Input("R_face", "by station", float(smallest), "mm", ground_of(job)),
        digits=4,
        note="straights keep the drawing's angles" if surface.exact else "one offset of the whole section",
    )
    cuts = reckoned(
        f"{place}/cuts",
        "wire cuts for the slots",
        float(segments.count * _cuts(job, segments)),
        "",
        "N k",
        n,
        Input("k", "cuts for one slot", float(_cuts(job, segments)), "", ground_of(job)),
        digits=0,
        note="two cuts a slot, the strip between falls out; opposite slots in turn, so that the blank does not spring",
    )
    edge = stated(
        f"{place}/edge-radius",
        "edge radius at the slots",
        segments.edge_radius_mm,
        "mm",
        job.limits.segment_edge_radius_mm.source,
        1,
    )
    return edge, cuts, miss


def _passage_inputs(
    segments: SegmentSet, passage: Passage, loaded: Workpiece, ring: Workpiece, source: Source
) -> tuple[Input, ...]:
    """What decides one passage: radius of the segments and of the ring where they meet, and the edge's half arc."""
    tool, throat = inside_of(loaded), inside_of(ring)
    radius = float(np.interp(passage.segment_z_mm, tool.z_mm, tool.radius_mm))
    form = SegmentForm(segments.count, segments.slot_mm, segments.edge_radius_mm)
    half = math.degrees(float(form.edge_centre_rad(np.array([radius]))[0]))
    passes = float(np.interp(passage.hoop_z_mm, throat.z_mm, throat.radius_mm))
    return (
        Input("R", f"segments at z {passage.segment_z_mm:.1f}", radius, "mm", source),
        Input("q", f"ring's inside at z {passage.hoop_z_mm:.1f}", passes, "mm", source),
        Input("h", "half arc to the centre of the rounded edge", half, "deg", source),
    )


def _half_gap(segments: SegmentSet) -> float:
    return effective_half_gap(segments.slot_mm, segments.edge_radius_mm)


def _cuts(job: RingJob, segments: SegmentSet) -> int:
    """Cuts for one slot: one makes it as wide as its kerf, a wider one takes two."""
    return 1 if segments.slot_mm <= job.machines.wire.kerf_mm.value else 2


def radius_figures(job: RingJob, reckoning: Reckoning, surface: SegmentContour) -> list[Figure]:
    """Radius of the profile at each control size, and at crown and throat."""
    figures = []
    for control in sorted(job.ring.controls, key=lambda one: one.z_mm):
        word = control.name.split("_")[0]
        figures.append(_radius_figure(job, reckoning, surface, word, control.z_mm))
    z = inside_of(reckoning.loaded)
    for word, where in (("largest", int(np.argmax(z.radius_mm))), ("smallest", int(np.argmin(z.radius_mm)))):
        figures.append(_radius_figure(job, reckoning, surface, word, float(z.z_mm[where])))
    return figures


def _radius_figure(job: RingJob, reckoning: Reckoning, surface: SegmentContour, word: str, z: float) -> Figure:
    value = float(surface.radius_at(np.array([z]))[0])
    free, ground = radius_at(reckoning.free, z), ground_of(job)
    thick = float(np.interp(z, reckoning.loaded.z_mm, reckoning.loaded.thickness_mm))
    miss = free + reckoning.springback_mm - 0.5 * thick - value
    return reckoned(
        job.identity(f"segments/radius-{word}"),
        f"segment radius, {word}, z {z:.1f}",
        value,
        "mm",
        "r_free + u - t_loaded / 2 - m",
        Input("r_free", "mid radius, free", free, "mm", ground),
        Input("u", "springback on radius", reckoning.springback_mm, "mm", ground),
        Input("t_loaded", "thickness on the segments", thick, "mm", ground),
        Input("m", "what lines and arcs of the profile leave there", miss, "mm", ground),
        digits=3,
        note="ground in the loaded position, slots open",
    )
