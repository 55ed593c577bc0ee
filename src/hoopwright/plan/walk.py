"""Forward: the whole walk of a ring on its settings, from sheet to drilled ring, step by step."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.findings import Figure, Input
from hoopwright.kernels.segment_hull import girth_factor
from hoopwright.plan.seam.numbers import seam_numbers
from hoopwright.plan.seam.ring_seam import seam_figures
from hoopwright.plan.settings import PassShare, Settings, Shift
from hoopwright.plan.shapes import Array, RingJob
from hoopwright.plan.solve import (
    LAYERS,
    flat_blank,
    incoming_radius,
    roll_contour,
    shop_card,
    welded,
    with_given_prior,
)
from hoopwright.process import anneal, close, curl, cut, drill, roll, size, trim, weld
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Workpiece

NO_SHIFT = Shift()
HIT_WORDS = (
    "seam a quarter pitch off a segment centre",
    "ring indexed half a pitch, seam at the mirrored quarter pitch",
)


def walk(job: RingJob, settings: Settings, shift: Shift = NO_SHIFT, layers: int = LAYERS) -> tuple[Step, ...]:
    """All steps of one ring.

    Parameters
    ----------
    job : RingJob
        Drawing, metal and cards; for a band, with its metal or sheet changed.
    settings : Settings
        What is set and cut; kept as it is when the metal changes.
    shift : Shift
        Departure of lengths and tool radii from the settings.
    layers : int
        Through the sheet.
    """
    card = shop_card(job)
    shape = blank_shape(job, settings.ratio_per_mm)
    flat = flat_blank(job, shape, incoming_radius(job), layers)
    steps = [cut.run(flat, _cut(job, settings), card)]
    contour = roll_contour(job, shape, flat.weight_mm, settings.ratio_per_mm)
    if settings.route.rolling == "closed-cone":
        steps += _rolled_closed(job, settings, shift, steps[-1].workpiece, contour, shape, card)
    else:
        steps += _rolled(job, settings, steps[-1].workpiece, contour, card)
        steps += _closed(job, settings, shift, steps[-1].workpiece, settings.curl_radius_mm, shape, card)
    if settings.route.anneal:
        furnace = job.alloy.figure("solution_anneal_degC")
        steps.append(anneal.run(steps[-1].workpiece, anneal.Anneal(furnace.value, (furnace,)), card))
    steps += _sized(job, settings, shift, steps[-1].workpiece, card)
    steps += _finished(job, settings, steps[-1].workpiece, card)
    return tuple(steps)


def blank_shape(job: RingJob, ratio_per_mm: float) -> Array:
    """Flat radius of the blank at each station over that of its middle, shape (n,)."""
    return np.asarray((1.0 + ratio_per_mm * job.stations.s) / (1.0 + ratio_per_mm * 0.5 * job.section.length))


def _cut(job: RingJob, settings: Settings) -> cut.Cut:
    width = float(job.stations.weight.sum())
    kind = "strip" if settings.route.blank == "strip" else "arc blank"
    rough = settings.cut_length_mm + 2.0 * job.limits.end_trim_mm.value
    return cut.Cut(kind, rough, width, job.limits.edge_trim_mm.value, settings.cut)


def _rolled(
    job: RingJob, settings: Settings, workpiece: Workpiece, contour: roll.Contour, card: ShopCard
) -> list[Step]:
    steps: list[Step] = []
    for number, one in enumerate(settings.passes, start=1):
        steps.append(roll.run(workpiece, _roll_pass(job, settings, number, contour, one), card))
        workpiece = steps[-1].workpiece
    return steps


def _closed(
    job: RingJob,
    settings: Settings,
    shift: Shift,
    workpiece: Workpiece,
    curl_radius_mm: float,
    shape: Array,
    card: ShopCard,
) -> list[Step]:
    """Curl, close and weld."""
    plain = settings.route.rolling == "closed-cone"
    radius = stated(
        job.identity("curl/loaded-radius"),
        "curl in the rolls, radius of the neutral fibre",
        curl_radius_mm,
        "mm",
        card.ground,
        1,
        "" if plain else "where the machine cannot hold it in the contour, see the findings",
    )
    curled = curl.run(workpiece, curl.Curl(curl_radius_mm, (radius,), plain), card)
    length = settings.cut_length_mm + shift.cut_length_mm
    girth = _cut_length(job, settings, length, _where_measured(curled), card)
    shut = _with_prior(job, close.run(curled.workpiece, close.Close(length, shape, (girth,)), card))
    seam = seam_numbers(job)
    mean = float(np.average(shut.workpiece.r_mm, weights=shut.workpiece.weight_mm))
    operation = weld.Weld(
        job.ring.seam_theta_deg,
        settings.shrinkage_mm + shift.shrinkage_mm,
        seam.zone_mm,
        settings.stretch_log,
        (_shrink(job, settings, shift),),
        settings.route.anneal,
        seam,
        seam_figures(job, mean),
    )
    return [curled, shut, weld.run(shut.workpiece, operation, card)]


def _rolled_closed(
    job: RingJob,
    settings: Settings,
    shift: Shift,
    flat: Workpiece,
    contour: roll.Contour,
    shape: Array,
    card: ShopCard,
) -> list[Step]:
    """Plain cone curled, closed and welded; then the contour rolled into the closed ring.

    The ring comes out as the same contour curled from the flat would (forces round the ring balance either way); the
    method's own draw-in is told by a finding, not reckoned.
    """
    level = np.full_like(flat.r_mm, contour.pitch_angle_rad)
    run = (flat.s_mm - flat.s_mm[0]) * math.cos(contour.pitch_angle_rad)
    plain = flat.after("cut", z_mm=contour.z_mm[0] + run, angle_rad=level)
    steps = _closed(job, settings, shift, plain, settings.plain_curl_radius_mm, shape, card)
    cone = steps[-1].workpiece
    rolled = roll.rolled(flat, contour, 1.0, "roll", card)
    length = settings.cut_length_mm + shift.cut_length_mm
    shrink = settings.shrinkage_mm + shift.shrinkage_mm
    sprung = curl.run(rolled, curl.Curl(settings.curl_radius_mm), card).workpiece
    ring = welded(job, sprung, length, shape, card, shrinkage_mm=shrink)
    count = len(settings.passes)
    for number, one in enumerate(settings.passes, start=1):
        operation = _roll_pass(job, settings, number, contour, one)
        steps.append(roll.run_closed(cone, ring, operation, card, last=number == count))
    return steps


def _roll_pass(job: RingJob, settings: Settings, number: int, contour: roll.Contour, one: PassShare) -> roll.RollPass:
    chosen = next(option for option in settings.route.options if option.chosen)
    count, radius = len(settings.passes), job.limits.roll_pitch_radius_mm
    return roll.RollPass(number, count, one.share, contour, radius, chosen.slip, one.figures)


def _cut_length(job: RingJob, settings: Settings, length: float, where: str, card: ShopCard) -> Figure:
    radius = (length - settings.shrinkage_mm) / (2.0 * math.pi)
    return reckoned(
        job.identity("close/cut-length"),
        "cut length, on the neutral fibre",
        length,
        "mm",
        "2 pi R_n + shrink",
        Input("R_n", "radius of the neutral fibre, welded", radius, "mm", card.ground),
        job.limits.weld_shrink_mm.as_input("shrink"),
        digits=2,
        note=where,
    )


def _where_measured(step: Step) -> str:
    height = next(figure for figure in step.figures if figure.identity.endswith("neutral-height"))
    place = f"the neutral fibre lies {height.value:.2f} above the lowest mid-surface"
    return f"{place}; measure on the flat strip before it is rolled, or there"


def _shrink(job: RingJob, settings: Settings, shift: Shift) -> Figure:
    return reckoned(
        job.identity("weld/shrinkage"),
        "strip length the weld consumes",
        settings.shrinkage_mm + shift.shrinkage_mm,
        "mm",
        "shrink",
        job.limits.weld_shrink_mm.as_input("shrink"),
        digits=2,
        note="read the length before and the girth after, and enter the difference on the house card",
    )


def _with_prior(job: RingJob, step: Step) -> Step:
    if job.prior_strain_log is None:
        return step
    return Step(
        step.kind,
        step.title,
        step.subtitle,
        with_given_prior(job, step.workpiece),
        step.settings,
        (*step.figures, job.prior_strain_log),
        step.findings,
    )


def tool_face(job: RingJob, settings: Settings, standing_mm: float) -> Array:
    """Mean radius of the segments' hull under the inside face of each station, shape (n,)."""
    half = 0.5 * settings.thinned_share * job.thickness_mm.value
    place = job.stations.x + np.sin(job.stations.angle) * half
    return settings.surface.radius_at(place) + standing_mm * girth_factor(settings.segments.count)


def _sized(job: RingJob, settings: Settings, shift: Shift, workpiece: Workpiece, card: ShopCard) -> list[Step]:
    least_in = float(workpiece.r_mm.min())
    steps: list[Step] = []
    for number, stop in enumerate(settings.stops, start=1):
        settings_read = (settings.stop_figures[number - 1], job.limits.hold_s)
        face = tool_face(job, settings, stop.standing_mm) + shift.tool_radius_mm
        operation = size.Size(
            number,
            len(settings.stops),
            face,
            job.ring.controls,
            least_in,
            HIT_WORDS[min(number, len(HIT_WORDS)) - 1],
            settings_read,
        )
        steps.append(size.run(workpiece, operation, card))
        workpiece = steps[-1].workpiece
    return steps


def _finished(job: RingJob, settings: Settings, workpiece: Workpiece, card: ShopCard) -> list[Step]:
    forward, aft = job.section.start[0], job.section.end[0]
    steps = [trim.run(workpiece, trim.Trim(forward, aft, settings.trim), card)]
    if settings.holes:
        steps.append(drill.run(steps[-1].workpiece, drill.Drill(settings.holes, settings.drill), card))
    return steps
