"""Settings of forming, sought on a coarse mesh: curl and camber, roll contour, and the length of strip in the hoop."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.kernels.section.hoop import closed_hoop
from hoopwright.plan.prove.contour import changes_of
from hoopwright.plan.prove.contour_fit import ContourFit, deviation, fit_contour
from hoopwright.plan.prove.curl_setting import CurlFound, find_curl
from hoopwright.plan.prove.forming import CurlSetting, Shop, curl_of, in_closed_ring, rolled, wanted_curl
from hoopwright.plan.prove.record import GOOD_MM
from hoopwright.plan.prove.start import Start, anchor, least_radius, smallest
from hoopwright.plan.solve import LENGTH_STEP_MM
from hoopwright.process.proof_close import laid
from hoopwright.process.proof_piece import section_metal

LENGTH_ENOUGH_MM = 0.03
LEAST_RADIUS_T = 2.0
TURNS = 4
HAIR = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """Settings found. middle : mid-line of the rolls in their frame. hoop : as welded. runs : of the kernel.
    unguided_rad : lean of a strip whose camber is let go in the rolls, None where it is curled in plain rolls."""

    middle: Profile
    setting: CurlSetting
    strip_length_mm: float
    fit: ContourFit
    hoop: Section
    unguided_rad: float | None
    runs: int


def search(start: Start, shop: Shop) -> Search:
    """Curl for the contour as drawn, then the contour, then curl and length in turn.

    Raises
    ------
    NotConverged
        A pass the kernel cannot follow, or a curl that does not settle.
    """
    settings = shop.plan.settings
    length = settings.cut_length_mm - settings.shrinkage_mm
    wanted = wanted_curl(start, length, shop.closed_cone)
    first = settings.plain_curl_radius_mm if shop.closed_cone else settings.curl_radius_mm
    ratio = wanted.curl_per_mm * length / (2.0 * math.pi)
    guess = CurlSetting(ratio / first, start.camber_per_mm)
    middle = start.middle
    found = find_curl(start, shop, rolled(start, shop, middle), middle, wanted, guess)
    fit = _fitted(start, shop, found, length)
    unguided = _unguided(start, shop, found, fit.middle)
    runs = found.runs + fit.runs + (unguided is not None)
    setting = found.setting
    for _ in range(TURNS):
        wanted = wanted_curl(start, length, shop.closed_cone)
        found = find_curl(start, shop, rolled(start, shop, fit.middle), fit.middle, wanted, setting)
        setting, hoop = found.setting, welded_hoop(start, shop, found, fit.middle, length)
        runs += found.runs
        better = length_for(start, shop, length, hoop)
        if abs(better - length) < LENGTH_ENOUGH_MM:
            break
        length = better
    return Search(fit.middle, setting, length, fit, hoop, unguided, runs)


def _fitted(start: Start, shop: Shop, found: CurlFound, length: float) -> ContourFit:
    """The contour that brings the section to the drawing, judged after the curl, or in the closed ring."""
    plain = found.done.section

    def form(middle: Profile) -> Section:
        if shop.closed_cone:
            return in_closed_ring(start, shop, plain, middle, length)[1].section
        return curl_of(start, shop, rolled(start, shop, middle), middle, found.setting).section

    held = anchor(shop.plan.job.section)
    least = LEAST_RADIUS_T * shop.plan.job.thickness_mm.value
    drawing = start.middle
    few, every = changes_of(drawing, False), changes_of(drawing, True)
    if not few or (shop.how != "second closing" and not shop.closed_cone):
        as_it_is = deviation(form(drawing), drawing)
        return ContourFit(drawing, (), _nothing(), as_it_is, as_it_is, 1)
    fit = fit_contour(drawing, few, form, held, least, None, 2)
    if fit.after.greatest_mm <= GOOD_MM:
        return fit
    return fit_contour(drawing, every, form, held, least, fit, 1)


def _nothing() -> Vector:
    return np.zeros(0)


def _unguided(start: Start, shop: Shop, found: CurlFound, middle: Profile) -> float | None:
    """Lean of the strip against its rolls when nothing holds its camber."""
    if shop.how != "second closing":
        return None
    free = curl_of(start, shop, rolled(start, shop, middle), middle, found.setting, free=True).section
    return math.atan2(free.camber_per_mm, free.curl_per_mm) + start.cant_rad


def welded_hoop(start: Start, shop: Shop, found: CurlFound, middle: Profile, length: float) -> Section:
    """The welded hoop of a curled strip, its contour rolled in where that is done in the closed ring."""
    if shop.closed_cone:
        hoop = in_closed_ring(start, shop, found.done.section, middle, length)[0]
    else:
        hoop = closed_hoop(found.done.section, section_metal(shop.card.metal), length).section
    return laid(hoop, shop.plan.job.section, start.node, start.place_mm)[0]


def length_for(start: Start, shop: Shop, length_mm: float, hoop: Section) -> float:
    """Length of strip that would leave the smallest radius as much below the free ring's as is to be stretched, or a
    hair more, rounded down to what can be cut. [mm]"""
    job = shop.plan.job
    low, high = smallest(job.section)
    inside = (job.stations.s >= low) & (job.stations.s <= high)
    free, least_mm = float(shop.plan.reckoning.free.r_mm[inside].mean()), least_radius(hoop, start.least)
    goal = free / (1.0 + job.limits.stretch_plan_eng.value + HAIR)
    exact = length_mm * goal / least_mm + shop.plan.settings.shrinkage_mm
    return round(math.floor(exact / LENGTH_STEP_MM + 1e-6) * LENGTH_STEP_MM - shop.plan.settings.shrinkage_mm, 6)
