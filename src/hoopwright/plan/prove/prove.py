"""Prove a ring: its whole walk on the section kernel, and contour, curl, length and segments corrected by it.

Settings are sought on a coarse mesh; the walk that counts is run on a fine one, pass by pass. Its control sizes are
brought to the drawing by correcting the segments, and what stays is told.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import numpy as np

from hoopwright.findings import Figure
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.plan.hooping.ask import Incoming, on_segments
from hoopwright.plan.prove.contour_fit import ContourFit, depth_miss, deviation
from hoopwright.plan.prove.forming import Shop, shop_of
from hoopwright.plan.prove.record import (
    CurlProof,
    LengthProof,
    PlaceProof,
    Proof,
    RollProof,
    SizeProof,
    contour_rows,
)
from hoopwright.plan.prove.search import HAIR, Search, length_for, search
from hoopwright.plan.prove.start import COARSE, Start, least_radius, start_of
from hoopwright.plan.prove.surface import Corrected, corrected, misses
from hoopwright.plan.prove.walk import Formed, form, sized
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.process.hooping.operation import hooped
from hoopwright.process.proof_piece import PLASTIC, section_of
from hoopwright.process.proof_size import diameter_at, face_parts
from hoopwright.process.size_figures import control_word
from hoopwright.process.step import Step

Progress = Callable[[str], None]
POINTS, POINTS_FLAT = 4, 8
"""Layers through each half of the sheet; a flat curl is nearly elastic, and takes 16 in all."""

STRETCH_ENOUGH = 3e-4
"""Stretch by which the fine mesh may pass the planned one before the length is corrected once more."""


def prove_ring(plan: RingPlan, key: str, progress: Progress | None = None) -> Proof:
    """The proof of one plan.

    Parameters
    ----------
    plan : as reckoned, without a proof. key : digest the proof is kept under.

    Raises
    ------
    NotConverged, InputError
        A ring whose walk the kernels cannot follow; its plan stays unproven, and the reason is the message.
    """
    began = time.process_time()
    tell = progress or (lambda _: None)
    ring = plan.job.ring.id
    shop = shop_of(plan)
    tell(f"{ring}: proof, rolls and curl")
    layers = POINTS_FLAT if shop.how == "plain rolls" else POINTS
    coarse = start_of(plan, COARSE, layers)
    found = search(coarse, shop)
    tell(f"{ring}: proof, whole walk")
    start = start_of(plan, None, layers)
    formed, length = _formed(start, shop, found)
    tell(f"{ring}: proof, segments")
    added = segments_add(plan)
    per_size = (added,) * len(plan.job.ring.controls)
    tool = corrected(plan, lambda profile, stop: sized(start, shop, formed.hoop, profile, stop), per_size)
    return _record(plan, key, coarse, start, found, formed, length, tool, added, time.process_time() - began)


def _formed(start: Start, shop: Shop, found: Search) -> tuple[Formed, float]:
    """The welded hoop on the fine mesh; once more where its length misses the stretch that is planned."""
    length = found.strip_length_mm
    formed = form(start, shop, found.middle, length, found.setting)
    better = length_for(start, shop, length, formed.hoop.section)
    if -HAIR <= length / better - 1.0 <= HAIR or better >= length > better * (1.0 - STRETCH_ENOUGH):
        return formed, length
    return form(start, shop, found.middle, better, formed.setting), better


def segments_add(plan: RingPlan) -> float:
    """What slots and flats of the segments add to a free girth diameter, by the hoop kernel. [mm]"""
    hoop = plan.reckoning.hoop
    asked = on_segments(plan.job, plan.settings, hoop, Incoming(strength_ratio=1.0))
    return hooped(hoop, asked, plan.job.metal).last.added_free_mm


def _record(
    plan: RingPlan,
    key: str,
    coarse: Start,
    start: Start,
    found: Search,
    formed: Formed,
    length: float,
    tool: Corrected,
    added: float,
    spent_s: float,
) -> Proof:
    job, final = plan.job, section_of(tool.steps[-1].workpiece)
    figures = tuple(figure for step in (*formed.steps, *tool.steps) for figure in step.figures)
    last_roll = [step for step in formed.steps if step.kind == "roll"][-1:]
    force, load, torque = _roll_values(last_roll)
    sizes = _sizes(plan, tool, added)
    profile = deviation(final, job.section)
    hit = tool.steps[-2]
    loaded = {figure.identity.rsplit("/", 1)[1]: figure.value for figure in hit.figures}
    loads = [(loaded[n], loaded["free" + n[6:]]) for n in loaded if n.startswith("loaded-")]
    return Proof(
        ring=job.ring.id,
        key=key,
        elements=start.section.elements,
        layers=int(start.section.share.size),
        section=contour_rows(_in_ring(found.middle, start, job.section)),
        face_shift_mm=tuple(float(v) for v in tool.shift_mm),
        line_force_N_per_mm=force,
        roll_load_kN=load,
        torque_Nm=torque,
        rolls=_rolls(coarse, found.fit, formed, start),
        curl=_curl(plan, start, formed, found),
        length=_length(plan, start, length, formed),
        sizes=sizes,
        places=places_of(plan, final),
        profile_mm=(profile.greatest_mm, profile.rms_mm),
        stretch_pct=loaded["stretch"],
        springback_mm=max((a - b for a, b in loads), default=0.0),
        volume_share=final.volume_mm3() / final.volume_start_mm3() - 1.0,
        ledge=tool.stop,
        ledge_kN=abs(loaded["stop-force"]) if tool.stop != "none" else 0.0,
        figures=figures,
        reason=reason_of(plan, sizes, tool),
        runs=found.runs + formed.runs + len(formed.steps) + len(tool.steps) * (tool.turns + 1),
        processor_s=spent_s,
    )


def _roll_values(last: list[Step]) -> tuple[float, float, float]:
    if not last:
        return 0.0, 0.0, 0.0
    known = {figure.identity.rsplit("/", 1)[1]: figure.value for figure in last[0].figures}
    return known["line-force"], known["load"], known["torque"]


def _in_ring(middle: Profile, start: Start, drawing: Profile) -> Profile:
    """The contour of the rolls turned back to the frame of the ring."""
    return middle.turned(-start.cant_rad, drawing.start)


def _rolls(coarse: Start, fit: ContourFit, formed: Formed, start: Start) -> RollProof:
    """Deviations on the mesh of the proof; those of the contour as drawn on the coarse one they were sought on."""
    done = deviation(formed.rolled, start.middle)
    offset = float(np.sum(start.section.length_start_mm[: start.first]))
    return RollProof(
        fit.before.greatest_mm,
        fit.before.rms_mm,
        depth_miss(coarse.section, fit.before, coarse.middle, offset),
        done.greatest_mm,
        done.rms_mm,
        depth_miss(formed.rolled, done, start.middle, offset),
        len(fit.changes),
        fit.runs,
    )


def _curl(plan: RingPlan, start: Start, formed: Formed, found: Search) -> CurlProof:
    step = next(step for step in formed.steps if step.kind == "curl")
    known: dict[str, Figure] = {figure.identity.rsplit("/", 1)[1]: figure for figure in step.figures}
    setting = formed.setting
    guide = math.atan2(setting.camber_per_mm, setting.curl_per_mm)
    closed_cone = plan.reckoning.route.rolling == "closed-cone"
    settings = plan.settings
    return CurlProof(
        how=step.subtitle,
        radius_mm=1.0 / math.hypot(setting.curl_per_mm, setting.camber_per_mm),
        reckoned_mm=settings.plain_curl_radius_mm if closed_cone else settings.curl_radius_mm,
        guide_deg=0.0 if step.subtitle == "plain rolls" else math.degrees(guide + start.cant_rad),
        moment_Nm=known["moment"].value,
        side_moment_Nm=known["side-moment"].value,
        unguided_deg=None if found.unguided_rad is None else math.degrees(found.unguided_rad),
    )


def _length(plan: RingPlan, start: Start, length: float, formed: Formed) -> LengthProof:
    settings, least = plan.settings, least_radius(formed.hoop.section, start.least)
    reckoned = settings.cut_length_mm - settings.shrinkage_mm
    hand = plan.figure("strip/hand-length").value
    free = plan.job.section.bounds[1]
    return LengthProof(
        reckoned_mm=settings.cut_length_mm,
        cut_mm=length + settings.shrinkage_mm,
        hand_mm=hand + settings.shrinkage_mm,
        least_reckoned_mm=float(plan.reckoning.hoop.r_mm.min()),
        least_mm=least * reckoned / length,
        hand_pct=100.0 * (free / (least * hand / length) - 1.0),
    )


def _sizes(plan: RingPlan, tool: Corrected, added: float) -> tuple[SizeProof, ...]:
    job = plan.job
    first = misses(job, section_of(tool.before[-1].workpiece), (added,) * len(job.ring.controls))
    word = {f.identity: f.value for f in tool.steps[-2].figures}
    rows: list[SizeProof] = []
    last = len(plan.settings.stops)
    for number, control in enumerate(job.ring.controls):
        name = control_word(control)
        loaded = next(v for k, v in word.items() if k.endswith(f"/loaded-{name}"))
        rows.append(
            SizeProof(
                name=control.name,
                z_mm=control.z_mm,
                wanted_mm=control.diameter_mm,
                tolerance_mm=control.tolerance_mm,
                reckoned_mm=plan.figure(f"size/hit-{last}/free-{name}").value,
                first_mm=control.diameter_mm + first[number],
                loaded_mm=loaded,
                free_mm=control.diameter_mm + tool.missed_mm[number],
                segments_mm=added,
            )
        )
    return tuple(rows)


def places_of(plan: RingPlan, final: Section) -> tuple[PlaceProof, ...]:
    """The trimmed ring at the stations of the reckoning."""
    job, told = plan.job, plan.reckoning
    middle = 0.5 * (final.x_mm[1:] + final.x_mm[:-1])
    weight = final.weight_mm3 / final.weight_mm3.sum(axis=1, keepdims=True)
    plastic = final.layers[:, :, PLASTIC]
    hoop, mean = final.strains()[1], (plastic * weight).sum(axis=1)
    z = job.stations.x
    inside = np.flatnonzero((job.stations.s >= 0.0) & (job.stations.s <= job.section.length))
    inside = inside[(z[inside] >= middle[0]) & (z[inside] <= middle[-1])]

    def at(values: object, k: int) -> float:
        return float(np.interp(z[k], middle, np.asarray(values, dtype=np.float64)))

    return tuple(
        PlaceProof(
            z_mm=float(z[k]),
            radius_mm=float(np.interp(z[k], final.x_mm, final.y_mm)),
            thickness_mm=at(final.thickness_mm, k),
            thickness_reckoned_mm=float(told.free.thickness_mm[k]),
            hoop_log=at(hoop, k),
            hoop_reckoned_log=float(told.total_strain_log[k]),
            plastic=at(mean, k),
            plastic_reckoned=float(told.free.plastic_strain[k].mean()),
            inside=at(plastic[:, 0], k),
            outside=at(plastic[:, -1], k),
        )
        for k in inside
    )


LIFTED_MM = 0.02


def reason_of(plan: RingPlan, sizes: tuple[SizeProof, ...], tool: Corrected) -> str:
    """Why a residual stays: the ring does not lie on its segments there, or the correction does not settle."""
    left = [size for size in sizes if not size.holds]
    if not left:
        return ""
    worst = max(left, key=lambda size: abs(size.residual_mm))
    control = next(c for c in plan.job.ring.controls if c.name == worst.name)
    on_tool = section_of(tool.steps[-2].workpiece)
    radius, (thick, cosine) = face_parts(on_tool, control.z_mm)
    spring = 0.5 * (worst.loaded_mm - diameter_at(on_tool, control.z_mm, control.face))
    face = radius + spring - 0.5 * thick / cosine
    lift = face - float(tool.surface.radius_at(np.array([control.z_mm]))[0])
    if lift > LIFTED_MM:
        return (
            f"the ring stands {lift:.2f} off its segments under {worst.name}, so that they cannot move it there: its "
            "metal is longer there than the segments are round"
        )
    return f"the correction of the segments does not settle under {worst.name} in {tool.turns} turns"
