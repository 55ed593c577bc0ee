"""From a ring's plan to the tools its sheets show: blank, rolls, segment set, stop table. Choice and wording only."""

from __future__ import annotations

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile
from hoopwright.papers.drawing.items import polyline
from hoopwright.papers.pictures.blanks import Blank, SectorBlank, StripBlank
from hoopwright.papers.pictures.ring_drawing import control_name
from hoopwright.papers.pictures.segments import ControlRadius, SegmentView
from hoopwright.papers.walk_content import RollsShown, StopLine, StopTableShown
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.ring_tools import set_of
from hoopwright.plan.sizing_set import inside_of
from hoopwright.process.face_radius import radius_at
from hoopwright.process.workpiece import Workpiece


def blank_of(plan: RingPlan) -> Blank:
    """The blank as cut from the sheet."""
    job, blank, limits = plan.job, plan.blank, plan.job.limits
    if blank.sector is None:
        return StripBlank(
            job.ring.id,
            blank.length_mm,
            blank.width_mm,
            plan.settings.cut_length_mm,
            limits.end_trim_mm.value,
            limits.edge_trim_mm.value,
            job.thickness_mm.value,
        )
    # the closed blank is narrower where the apex lies: the edge with the lesser radius is the inner arc
    return SectorBlank(
        job.ring.id,
        blank.sector,
        plan.reckoning.line.slope > 0.0,
        limits.end_trim_mm.value,
        limits.edge_trim_mm.value,
        job.thickness_mm.value,
    )


def roll_words(plan: RingPlan) -> str:
    """How firm the contour of the rolls is."""
    if plan.proof is None:
        return "First estimate, cut to the part's own faces: not yet proven."
    rolls = plan.proof.rolls
    return (
        f"Corrected by the proof run: section off the drawing by {rolls.greatest_mm:.3f} at most, rms "
        f"{rolls.rms_mm:.3f}."
    )


def rolls_of(plan: RingPlan) -> RollsShown:
    """The roll pair, with how firm it is."""
    words = roll_words(plan)
    return RollsShown(plan.passes.rolls, f"for {plan.job.ring.id}", words)


def segments_of(plan: RingPlan) -> SegmentView:
    """Segment set with its control radii and the loaded ring on it; its bore as the set is shaped, where it can be."""
    try:
        form = set_of(plan)
    except InputError:
        bore, top = None, None
    else:
        bore, top = form.bore_mm, form.bore_top_mm
    return SegmentView(
        f"Segments for {plan.job.ring.id}",
        plan.sizing.surface.profile,
        plan.sizing.segments.count,
        plan.sizing.segments.slot_mm,
        control_radii(plan),
        line_of(plan.reckoning.loaded),
        float(np.mean(plan.reckoning.loaded.thickness_mm)),
        bore,
        top,
    )


def line_of(piece: Workpiece) -> Profile:
    """Mid-surface of a workpiece through its stations, for a picture."""
    points = [(float(z), float(r)) for z, r in zip(piece.z_mm, piece.r_mm, strict=True)]
    return Profile(polyline(points))


def control_radii(plan: RingPlan) -> tuple[ControlRadius, ...]:
    """Radii at every control size and at the largest and smallest place of the profile, forward to aft."""
    loaded, free = plan.reckoning.loaded, plan.reckoning.free
    inside = inside_of(loaded)
    places = [(control_name(c), c.name.split("_")[0], c.z_mm) for c in plan.job.ring.controls]
    for word, where in (("largest", np.argmax(inside.radius_mm)), ("smallest", np.argmin(inside.radius_mm))):
        places.append((word, word, float(inside.z_mm[int(where)])))
    found: list[ControlRadius] = []
    for name, word, z in sorted(places, key=lambda place: place[2]):
        segment = plan.figure(f"segments/radius-{word}").value
        found.append(ControlRadius(name, z, radius_at(free, z), radius_at(loaded, z), segment))
    return tuple(found)


def stop_table_of(plan: RingPlan) -> StopTableShown:
    """The stop table of all control sizes, with the hits written beside their settings."""
    controls = plan.job.ring.controls
    rows = plan.sizing.table
    good = [k for k, row in enumerate(rows) if _inside(plan, row.free_mm)]
    stops = [stop.stop_mm for stop in plan.settings.stops]
    nearest = {min(range(len(rows)), key=lambda k: abs(rows[k].stop_mm - stop)): n for n, stop in enumerate(stops, 1)}
    lines = tuple(
        StopLine(row.stop_mm, row.shim_mm, row.loaded_mm, row.free_mm, _note(nearest.get(k), len(stops)))
        for k, row in enumerate(rows)
    )
    last = next((k for k, n in nearest.items() if n == len(stops)), None)
    return StopTableShown(tuple(control_name(c) for c in controls), lines, (good[0], good[-1]) if good else None, last)


def _inside(plan: RingPlan, free_mm: tuple[float, ...]) -> bool:
    pairs = zip(plan.job.ring.controls, free_mm, strict=True)
    return all(abs(size - control.diameter_mm) <= control.tolerance_mm + 1e-9 for control, size in pairs)


def _note(hit: int | None, hits: int) -> str:
    if hit is None:
        return ""
    return f"hit {hit}" if hit < hits else f"hit {hit}, to size"
