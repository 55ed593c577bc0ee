"""The proof walk: flat blank to trimmed ring on the section kernel, one history all the way."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import NotConverged
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.kernels.segment_hull import girth_factor
from hoopwright.plan.prove.curl_setting import find_curl
from hoopwright.plan.prove.forming import CurlSetting, Shop, ring_before_rolls, wanted_curl
from hoopwright.plan.prove.start import Start, least_radius
from hoopwright.process import proof_close, proof_curl, proof_roll, proof_size, proof_trim
from hoopwright.process.proof_piece import SectionPiece, carried, piece_of, section_of
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Seam, Workpiece


@dataclass(frozen=True, slots=True, eq=False)
class Formed:
    """Flat blank to welded hoop.

    setting : of the curl, solved on this mesh. hoop : welded, laid on the drawing. rolled : as the contour stood when
    let go after the rolls, in the frame of the rolls. lean_rad : of the section in the hoop. runs : of the curl.
    """

    steps: tuple[Step, ...]
    setting: CurlSetting
    hoop: SectionPiece
    rolled: Section
    runs: int


def form(start: Start, shop: Shop, middle: Profile, strip_length_mm: float, guess: CurlSetting) -> Formed:
    """Roll pass by pass, curl, close and weld.

    Raises
    ------
    NotConverged
        A pass or a curl the kernel cannot follow.
    """
    flat = piece_of(shop.plan.job.ring.id, start.section, strip_length_mm, ("cut",))
    if shop.closed_cone:
        return _formed_in_ring(start, shop, middle, strip_length_mm, guess, flat)
    steps = _passes(start, shop, middle, flat, False) if shop.how != "plain rolls" else []
    before = steps[-1].workpiece if steps else flat
    wanted = wanted_curl(start, strip_length_mm, False)
    found = find_curl(start, shop, section_of(before), middle, wanted, guess)
    curl = _curl_step(start, shop, middle, before, found.setting)
    close = proof_close.run(curl.workpiece, _close(start, shop, strip_length_mm), shop.card)
    rolled = section_of(curl.workpiece)
    return Formed((*steps, curl, close), found.setting, as_welded(shop, close.workpiece), rolled, found.runs)


def as_welded(shop: Shop, hoop: Workpiece) -> SectionPiece:
    """The hoop that is stretched: annealed where the plan anneals it, with the shop's own prior strain where given."""
    job, section = shop.plan.job, section_of(hoop)
    made = "weld"
    if job.prior_strain_log is not None:
        section, made = section.with_plastic_strain(job.prior_strain_log.value), "prior strain as given"
    if shop.plan.settings.route.anneal:
        layers = np.zeros_like(section.layers)
        section, made = replace(section, layers=layers), "anneal"
    return carried(hoop, section, made)


def _curl_step(start: Start, shop: Shop, middle: Profile, before: object, setting: CurlSetting) -> Step:
    rolls = shop.rolls(middle) if shop.how == "second closing" else None
    operation = proof_curl.ProofCurl(setting.curl_per_mm, setting.camber_per_mm, start.node, shop.how, rolls)
    assert isinstance(before, SectionPiece)
    return proof_curl.run(before, operation, shop.card)


def _passes(start: Start, shop: Shop, middle: Profile, piece: SectionPiece, closed: bool) -> list[Step]:
    """Pass by pass; a pass part of the way down that the kernel cannot hold still is taken together with the next."""
    steps: list[Step] = []
    settings, radius = shop.plan.settings, shop.plan.job.limits.roll_pitch_radius_mm.value
    for number, one in enumerate(settings.passes, start=1):
        operation = proof_roll.ProofPass(
            number, len(settings.passes), one.share, shop.rolls(middle), start.node, radius, closed, one.figures
        )
        try:
            steps.append(proof_roll.run(steps[-1].workpiece if steps else piece, operation, shop.card))
        except NotConverged:
            if number == len(settings.passes):
                raise
    return steps


def _close(start: Start, shop: Shop, strip_length_mm: float) -> proof_close.ProofClose:
    job = shop.plan.job
    seam = Seam(job.ring.seam_theta_deg, shop.plan.settings.shrinkage_mm, 0.0)
    return proof_close.ProofClose(strip_length_mm, job.section, start.node, start.place_mm, seam)


def _formed_in_ring(
    start: Start, shop: Shop, middle: Profile, strip_length_mm: float, guess: CurlSetting, flat: SectionPiece
) -> Formed:
    """A plain cone closed first; the contour rolled into the ring."""
    wanted = wanted_curl(start, strip_length_mm, True)
    found = find_curl(start, shop, start.section, middle, wanted, guess)
    curl = _curl_step(start, shop, middle, flat, found.setting)
    operation = _close(start, shop, strip_length_mm)
    close = proof_close.run(curl.workpiece, operation, shop.card)
    ready = ring_before_rolls(start, shop, section_of(curl.workpiece), strip_length_mm)
    steps = _passes(start, shop, middle, carried(close.workpiece, ready, "between the rolls"), True)
    rolled = section_of(steps[-1].workpiece)
    ring = proof_close.out_of_rolls(rolled, start.cant_rad, strip_length_mm)
    ring, _lean = proof_close.laid(ring, operation.drawing, start.node, start.place_mm)
    hoop = as_welded(shop, carried(steps[-1].workpiece, ring, "out of the rolls"))
    return Formed((curl, close, *steps), found.setting, hoop, rolled, found.runs)


def sized(
    start: Start, shop: Shop, hoop: SectionPiece, surface: Profile, stop: proof_size.Stop = "none"
) -> tuple[Step, ...]:
    """Every hit on segments of this profile, then the edges trimmed off."""
    plan, card = shop.plan, shop.card
    job, settings = plan.job, plan.settings
    least = least_radius(hoop.section, start.least)
    steps: list[Step] = []
    for number, setting in enumerate(settings.stops, start=1):
        operation = proof_size.ProofSize(
            number,
            len(settings.stops),
            surface,
            setting.standing_mm * girth_factor(settings.segments.count),
            job.friction.mu_segment_ring.value,
            job.ring.controls,
            least,
            start.least,
            stop,
            (settings.stop_figures[number - 1],),
        )
        steps.append(proof_size.run(steps[-1].workpiece if steps else hoop, operation, card))
    last = steps[-1].workpiece
    steps.append(proof_trim.run(last, proof_trim.ProofTrim(start.first, start.last), card))
    return tuple(steps)
