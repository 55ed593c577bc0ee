"""Segments, pin and stops of one ring: profile, count, slots, travel, press load, stop table, hits."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.kernels.segment_hull import lobe_factor
from hoopwright.kernels.segment_retract import Contour, Passage, SegmentForm
from hoopwright.kernels.segment_slot import effective_half_gap, slot_needed
from hoopwright.plan.job import with_trims
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.process.face_radius import mean_strain, radius_at, section_mean
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Workpiece
from hoopwright.tools.expander import StopRow, StopSetting, rounded_to, shims_about, stop_for_girth, stop_rows
from hoopwright.tools.press_load import PressAsk, PressLoad, press_load
from hoopwright.tools.segment_contour import FacePoints, SegmentContour, segment_contour
from hoopwright.tools.segments import SegmentRule, SegmentSet, choose_set, named_end


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


def ground_of(job: RingJob) -> Source:
    """What anything taken from the walk stands on."""
    return shop_card(job).ground


def plan_sizing(job: RingJob, reckoning: Reckoning) -> SizingSet:
    """Segment set, press load and stops.

    Raises
    ------
    InputError
        A ring that no travel frees from its segments, or a pin that jams.
    """
    held = tuple(control.z_mm for control in job.ring.controls)
    whole = with_trims(job.section, job.limits.edge_trim_mm.value)
    surface = segment_contour(whole, face_points(job, reckoning), held)
    segments = choose_set(
        _surface_contour(reckoning), inside_of(reckoning.hoop), inside_of(reckoning.free), segment_rule(job)
    )
    travel = _travel_figure(job, segments)
    tension = tension_figure(job, reckoning.tension_N, reckoning.loaded.area_mm2)
    press = press_of(job, segments.count, tension, travel, reckoning.springback_mm)
    full = press.drive.stroke(segments.travel_mm)
    stops = _stops(job, press, full)
    table = _table(job, reckoning, segments, press, stops)
    figures = [
        *_segment_figures(job, reckoning, surface, segments, travel),
        *_radius_figures(job, reckoning, surface),
        tension,
        *press.figures,
        *_stop_figures(job, press, segments, stops),
    ]
    findings = [*press.findings, *_findings(job, segments, travel, figures)]
    return SizingSet(surface, segments, press, stops, table, tuple(figures), tuple(findings))


def face_points(job: RingJob, reckoning: Reckoning) -> FacePoints:
    """Loaded inside face by station."""
    half = 0.5 * reckoning.loaded.thickness_mm
    return FacePoints(
        job.stations.x + np.sin(job.stations.angle) * half,
        reckoning.tool_face_mm,
        reckoning.loaded.thickness_mm,
        job.stations.segment,
    )


def inside_of(workpiece: Workpiece) -> Contour:
    """Inside face of a ring along the axis."""
    half = 0.5 * workpiece.thickness_mm
    place = workpiece.z_mm + np.sin(workpiece.angle_rad) * half
    radius = workpiece.r_mm - np.cos(workpiece.angle_rad) * half
    keep = np.concatenate(([True], np.diff(np.maximum.accumulate(place)) > 1e-9))
    return Contour(place[keep], radius[keep])


def _surface_contour(reckoning: Reckoning) -> Contour:
    return inside_of(reckoning.loaded)


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
    ground = shop_card(job).ground
    return reckoned(
        job.identity("press/tension"), "hoop tension of the section, edge trims on", tension_N * 1e-3, "kN", "s A / 1000",
        Input("s", "hoop stress on the segments, mean", tension_N / area_mm2, "MPa", ground),
        Input("A", "area of the section on the segments", area_mm2, "mm2", ground), digits=2,
        note="at full size, in a gap",
    )  # fmt: skip


def press_of(job: RingJob, count: int, tension: Figure, travel: Figure, springback_mm: float) -> PressLoad:
    """Press load of a set of `count` segments."""
    limits = job.limits
    ask = PressAsk(
        job.ring.id, count, tension, travel, springback_mm, limits.pin_half_angle_deg, limits.release_margin_min_deg
    )
    return press_load(ask, job.friction, job.machines.expander)


def _travel_figure(job: RingJob, segments: SegmentSet) -> Figure:
    better = segments.needed.better
    return reckoned(
        job.identity("segments/travel"), "radial travel of the segments", segments.travel_mm, "mm",
        "max ( load , unload ) , up to a step",
        Input("load", f"to load over the {named_end(better.end)} end", better.load.travel_mm, "mm", ground_of(job)),
        Input("unload", f"to unload over the {named_end(better.end)} end", better.unload.travel_mm, "mm", ground_of(job)),
        job.limits.travel_step_mm.as_input("step"), digits=1,
        note=f"edges of collapsed segments stick out; crown against throat alone would say {segments.hand_load_mm:.2f} to load",
    )  # fmt: skip


def _segment_figures(
    job: RingJob, reckoning: Reckoning, surface: SegmentContour, segments: SegmentSet, travel: Figure
) -> list[Figure]:
    place, limits, better = job.identity("segments"), job.limits, segments.needed.better
    given = ground_of(job)
    clearance = limits.load_clearance_mm.as_input("c")
    count = reckoned(
        f"{place}/count", "segments", float(segments.count), "", "fewest whose flats keep inside lobes * zone",
        limits.segments.as_input("N_least"), limits.lobe_share.as_input("lobes"),
        Input("zone", "restrained roundness", job.liner.tolerances.roundness_restrained_radial_mm, "mm", job.liner.source("tolerances")),
        digits=0,
        note="; ".join(f"{n}: travel {t:g}, slot {w:.1f}, flat {f:.3f}" for n, t, w, f in segments.weighed),
    )  # fmt: skip
    n = count.as_input("N")
    load = reckoned(
        f"{place}/travel-load", f"travel to load over the {named_end(better.end)} end", better.load.travel_mm, "mm",
        "( R - e ) cos h - sqrt ( ( q - c - e ) ^ 2 - ( ( R - e ) sin h ) ^ 2 )",
        *_passage_inputs(segments, better.load, reckoning.loaded, reckoning.hoop, given),
        limits.segment_edge_radius_mm.as_input("e"), clearance, digits=2,
    )  # fmt: skip
    unload = reckoned(
        f"{place}/travel-unload", f"travel to unload over the {named_end(better.end)} end", better.unload.travel_mm, "mm",
        load.formula,
        *_passage_inputs(segments, better.unload, reckoning.loaded, reckoning.free, given),
        limits.segment_edge_radius_mm.as_input("e"), clearance, digits=2,
    )  # fmt: skip
    slot = reckoned(
        f"{place}/slot", "slot width at full size", segments.slot_mm, "mm", "2 s sin ( 180 / N ) + clearance , up to a step",
        travel.as_input("s"), n, limits.slot_clearance_mm.as_input("clearance"), digits=1,
        note=f"needed {slot_needed(segments.count, segments.travel_mm, limits.slot_clearance_mm.value):.2f}; parallel faces",
    )  # fmt: skip
    smallest = float(reckoning.tool_face_mm.min())
    flat = reckoned(
        f"{place}/flat", "flat that the ring keeps at a slot", segments.flat_mm, "mm", "0.97 ( R - sqrt ( R ^ 2 - g ^ 2 / 4 ) )",
        Input("g", "slot, widened by the rounded edges", 2.0 * _half_gap(segments), "mm", ground_of(job)),
        Input("R", "smallest radius of the segments", smallest, "mm", ground_of(job)), digits=3,
    )  # fmt: skip
    lobes = reckoned(
        f"{place}/lobes-per-mm", "lobes for each mm the segments stand off as ground", lobe_factor(segments.count), "mm_per_mm",
        "1 - cos ( 180 / N )", n, digits=4,
    )  # fmt: skip
    miss = reckoned(
        f"{place}/profile-miss", "profile against reckoned face, largest", float(np.max(np.abs(surface.miss_mm))), "mm",
        "largest of | R_profile - R_face |", Input("R_face", "by station", float(smallest), "mm", ground_of(job)), digits=4,
        note="straights keep the drawing's angles" if surface.exact else "one offset of the whole section",
    )  # fmt: skip
    cuts = reckoned(
        f"{place}/cuts", "wire cuts for the slots", float(segments.count * _cuts(job, segments)), "", "N k", n,
        Input("k", "cuts for one slot", float(_cuts(job, segments)), "", ground_of(job)), digits=0,
        note="two cuts a slot and the strip between falls out; opposite slots in turn, so that the blank does not spring",
    )  # fmt: skip
    edge = stated(
        f"{place}/edge-radius", "edge radius at the slots", segments.edge_radius_mm, "mm",
        limits.segment_edge_radius_mm.source, 1,
    )  # fmt: skip
    return [count, travel, load, unload, slot, flat, lobes, edge, cuts, miss]


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


def _radius_figures(job: RingJob, reckoning: Reckoning, surface: SegmentContour) -> list[Figure]:
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
        job.identity(f"segments/radius-{word}"), f"segment radius, {word}, z {z:.1f}", value, "mm",
        "r_free + u - t_loaded / 2 - m", Input("r_free", "mid radius, free", free, "mm", ground),
        Input("u", "springback on radius", reckoning.springback_mm, "mm", ground),
        Input("t_loaded", "thickness on the segments", thick, "mm", ground),
        Input("m", "what lines and arcs of the profile leave there", miss, "mm", ground), digits=3,
        note="ground in the loaded position, slots open",
    )  # fmt: skip


def _stops(job: RingJob, press: PressLoad, full: float) -> tuple[StopSetting, ...]:
    """First hit low by the house's amount on diameter, then full size."""
    step = job.machines.expander.stop_step_mm.value
    low = stop_for_girth(press.drive, full, -job.limits.first_hit_low_mm.value, step)
    return (low, StopSetting(rounded_to(full, step), 0.0))


def _stop_figures(job: RingJob, press: PressLoad, segments: SegmentSet, stops: tuple[StopSetting, ...]) -> list[Figure]:
    half = job.limits.pin_half_angle_deg.as_input("a")
    n = Input("N", "segments", float(segments.count), "", ground_of(job))
    beta = math.pi / segments.count
    across = press.drive.diameter_per_stroke
    figures = [
        reckoned(
            job.identity("stop/across-per-mm"), "diameter across segment middles, for 1 mm of pin", across, "mm_per_mm",
            "2 tan a", half, digits=4,
        ),
        reckoned(
            job.identity("stop/girth-per-mm"), "diameter a girth tape reads, for 1 mm of pin", across * math.sin(beta) / beta,
            "mm_per_mm", "2 tan a sin ( 180 / N ) / ( pi / N )", half, n, digits=4,
        ),
    ]  # fmt: skip
    for number, stop in enumerate(stops, start=1):
        figures.append(
            reckoned(
                job.identity(f"size/hit-{number}/stop"), f"pin stop of hit {number}, stroke from collapsed", stop.stop_mm, "mm",
                "travel / tan a + shim , to a step", Input("travel", "travel of the segments", segments.travel_mm, "mm", ground_of(job)), half,
                Input("shim", "against the full stop", stop.standing_mm * 2.0 / across, "mm", ground_of(job)), digits=2,
            )  # fmt: skip
        )
    figures.append(
        reckoned(
            job.identity("stop/first-hit-lobes"), "lobes the first hit prints", abs(stops[0].standing_mm) * lobe_factor(segments.count),
            "mm", "d ( 1 - cos ( 180 / N ) )", Input("d", "segments stand off as ground", abs(stops[0].standing_mm), "mm", ground_of(job)), n,
            digits=3, note="the second hit, half a pitch on, takes them out",
        )
    )  # fmt: skip
    figures.append(
        reckoned(
            job.identity("stop/seam-angle"), "seam from the nearest segment centre, each hit", 360.0 / segments.count / 4.0, "deg",
            "360 / N / 4", n, digits=2, note="a quarter pitch off: after a half-pitch index it lies at the mirrored quarter",
        )
    )  # fmt: skip
    return figures


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


def _findings(job: RingJob, segments: SegmentSet, travel: Figure, figures: list[Figure]) -> list[Finding]:
    flat = next(figure for figure in figures if figure.identity.endswith("/flat"))
    allowed = segment_rule(job).lobes_allowed_mm
    found: list[Finding | None] = [
        judged(
            Check(
                "the flats at the slots keep inside the lobes allowed", flat.value, allowed, "<=", "mm",
                job.limits.lobe_share.source, "caution",
                "turn the blank with spacers in the final position, or size in more hits with an index between",
                flat.identity,
            ),
            f"{segments.count} segments leave flats of {flat.value:.3f} on {job.ring.id}; the drawing's roundness leaves {allowed:.3f}.",
            "segment-flats",
        ),
        _end_finding(job, segments),
        _more_segments(job, segments),
    ]  # fmt: skip
    return [finding for finding in found if finding is not None]


def _end_finding(job: RingJob, segments: SegmentSet) -> Finding | None:
    """The better end, where it is not the one the designer named."""
    better, wish = segments.needed.better, job.ring.release_direction
    other = segments.needed.plus if better.end == "minus" else segments.needed.minus
    name = named_end(better.end)
    if wish == name or other.travel_mm - better.travel_mm < 0.05:
        return None

    def told(value: float) -> str:
        return f"{value:.2f}" if math.isfinite(value) else "no travel is enough"

    sentence = (
        f"{job.ring.id} comes off better with its {name} end leading: {told(better.load.travel_mm)} to load and "
        f"{told(better.unload.travel_mm)} to unload, against {told(other.load.travel_mm)} and {told(other.unload.travel_mm)}."
    )
    wished = "the liner file leaves it open" if wish == "either" else f"the liner file says {wish}"
    return Finding(
        "note", sentence, f"lead with the {name} end" + ("" if wish == "either" else f", and write release_direction {name}"),
        job.identity("segments/travel"), "leading-end", wished,
    )  # fmt: skip


def _more_segments(job: RingJob, segments: SegmentSet) -> Finding | None:
    least = round(job.limits.segments.value)
    if segments.count == least:
        return None
    first = segments.weighed[0]
    return Finding(
        "note",
        f"{job.ring.id} needs {segments.count} segments; {first[0]} would leave flats of {first[3]:.3f}.",
        "turn the blank with spacers in the final position if fewer are wanted",
        job.identity("segments/count"),
        "segment-count",
        f"a travel of {segments.travel_mm:g} opens the slots to {segments.slot_mm:.1f}",
    )
