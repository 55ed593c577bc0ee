"""One choice run: half a pitch of the ring without seam and oval, which every choice meets alike, and what it gives."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import HoopwrightError, InputError
from hoopwright.kernels.hoop.round_tool import round_hits
from hoopwright.kernels.line_contact import contact_modulus, line_contact
from hoopwright.kernels.sizing_weld import weld_strain
from hoopwright.kernels.taper_drive import TaperDrive, drive_forces
from hoopwright.plan.choice.options import HitPlan, Option
from hoopwright.plan.settings import Settings
from hoopwright.plan.shapes import Array, Reckoning, RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.plan.walk import tool_face
from hoopwright.process.face_radius import mean_strain, section_mean
from hoopwright.process.hooping.fibres import hoop_fibres
from hoopwright.process.hooping.measures import equivalent_tension, held_peak_to_valley, round_of
from hoopwright.process.hooping.operation import Hooped, SegmentHit, SizeOnSegments, hooped
from hoopwright.process.workpiece import Workpiece

LOWEST_MM = 0.12
"""Least radius a lowered second hit is looked for at."""

LOBE_NIL_MM = 2e-4


@dataclass(frozen=True, slots=True)
class Weighed:
    """What a choice gives; sizes of the last hit. lowered_mm : radius of the second hit below the first.

    seam_deg : best place of the seam from the middle of segment 1 at the first hit. seam_strain_log : its stretch
    there. rocking : stiffness of a segment against rocking, over the planned set's. refused : why it could not be run.
    """

    option: Option
    lowered_mm: float
    lobes_mm: float
    peak_to_valley_mm: float
    thinnest_mm: float
    strain_peak_pct: float
    limit_used_pct: float
    pull_kN: float
    edge_pressure_MPa: float
    seam_deg: float
    seam_strain_log: float
    overlap_mm: float
    rocking: float
    refused: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What all choices of a ring share."""

    job: RingJob
    settings: Settings
    reckoning: Reckoning

    @property
    def wanted_free_mm(self) -> float:
        """Mean radius the free ring is to have, by area."""
        return section_mean(self.reckoning.free, self.reckoning.free.r_mm)


def weigh(bench: Bench, option: Option) -> Weighed:
    """Run one choice; one that cannot be run says why."""
    try:
        ring = _incoming(bench, option.stretch_eng)
        plain = _sizing(bench, ring, option)
        lowered = 0.0
        if option.hits == "second-lower":
            lowered = _lowered(ring, plain, bench.job)
            plain = _second(plain, -lowered)
        return _read(bench, option, hooped(ring, plain, bench.job.metal), plain, lowered)
    except HoopwrightError as refusal:
        nothing = math.nan
        return Weighed(option, 0.0, *(nothing,) * 11, refused=str(refusal))


def _incoming(bench: Bench, stretch_eng: float) -> Workpiece:
    """The welded ring of another stretch, from a shorter or longer strip; without waves, which all choices meet."""
    least = bench.job.section.bounds[1]
    planned = bench.job.limits.stretch_plan_eng.value
    shift = least * (planned / (1.0 + planned) - stretch_eng / (1.0 + stretch_eng))
    hoop = bench.reckoning.hoop
    return replace(hoop, r_mm=hoop.r_mm + shift, harmonics=())


def _hits(plan: HitPlan, low_mm: float, count: int) -> tuple[SegmentHit, ...]:
    half = 180.0 / count
    first = SegmentHit(low_mm if plan == "low-then-full" else 0.0)
    return (first,) if plan == "one" else (first, SegmentHit(0.0, half))


def _sizing(bench: Bench, ring: Workpiece, option: Option) -> SizeOnSegments:
    """The sizing whose last hit leaves the wanted mean radius on a round tool."""
    job, settings = bench.job, bench.settings
    low = settings.stops[0].standing_mm
    plain = SizeOnSegments(
        surface_mm=tool_face(job, settings, 0.0),
        count=option.count,
        slot_mm=option.slot_mm,
        edge_radius_mm=option.edge_radius_mm,
        friction=job.friction.mu_segment_ring.value,
        hits=_hits(option.hits, low, option.count),
        controls=job.ring.controls,
        drawn_mm=(job.section.start[0], job.section.end[0]),
        drive=TaperDrive(
            option.count, settings.drive.half_angle_rad, settings.drive.friction_pin, settings.drive.friction_base
        ),
    )
    full = _shift_to_size(bench, ring, plain.surface_mm)
    moved = replace(plain, surface_mm=np.asarray(plain.surface_mm + full - option.under_mm))
    hits = tuple(replace(hit, standing_mm=hit.standing_mm + option.under_mm) for hit in plain.hits)
    return replace(moved, hits=hits)


def _shift_to_size(bench: Bench, ring: Workpiece, surface: Array) -> float:
    """How far the planned surface moves so that this ring comes off at the wanted mean radius. [mm]"""
    area = ring.weight_mm * ring.thickness_mm
    tool = float(area @ surface / area.sum())
    inside = ring.r_mm - 0.5 * np.cos(ring.angle_rad) * ring.thickness_mm
    stretch = math.log(tool / float(area @ inside / area.sum()))
    fibres = hoop_fibres(ring, bench.job.metal, ring.width_mm, max(stretch, 0.0))
    shift = 0.0
    for _ in range(6):
        free = round_hits(fibres.section, fibres.axis_radius_mm, [tool + shift], [False])[0].free_radius_mm
        shift += bench.wanted_free_mm - free
    return shift


def _second(operation: SizeOnSegments, by_mm: float) -> SizeOnSegments:
    first, second = operation.hits
    return replace(operation, hits=(first, replace(second, standing_mm=second.standing_mm + by_mm)))


def _lowered(ring: Workpiece, operation: SizeOnSegments, job: RingJob) -> float:
    """How much lower in radius the second hit must stand for the lobes to vanish, by secant between both ends. [mm]

    Raises
    ------
    InputError
        A set whose lobes do not change sign: they are too small for it, or the second hit no longer touches.
    """

    def lobes(lower: float) -> float:
        return hooped(ring, _second(operation, -lower), job.metal).last.hoop.free.lobe_mm

    low, high = 0.0, 0.02
    at_low = lobes(low)
    at_high = lobes(high)
    while at_low * at_high > 0.0:
        if high >= LOWEST_MM:
            must = f"of a set whose lobes change sign within {LOWEST_MM:g}"
            raise InputError("second hit, lowered", high, "mm", must, "take the second hit at full size")
        low, at_low, high = high, at_high, min(2.0 * high, LOWEST_MM)
        at_high = lobes(high)
    for _ in range(8):
        middle = low - at_low * (high - low) / (at_high - at_low)
        middle = min(max(middle, low + 0.1 * (high - low)), high - 0.1 * (high - low))
        found = lobes(middle)
        if abs(found) <= LOBE_NIL_MM:
            return middle
        if found * at_low > 0.0:
            low, at_low = middle, found
        else:
            high, at_high = middle, found
    return 0.5 * (low + high)


def _read(bench: Bench, option: Option, done: Hooped, operation: SizeOnSegments, lowered: float) -> Weighed:
    job, last = bench.job, done.last
    around = round_of(done, last.number, operation.drawn_mm, shop_card(job))
    tension = max(equivalent_tension(done, hit.number) for hit in done.hits)
    edge = max(float(hit.hoop.segments.edge_N_per_mm.max()) for hit in done.hits)
    modulus = contact_modulus(job.metal.youngs_modulus_MPa, job.metal.poisson)
    place, strain = _seam(bench, done, operation)
    return Weighed(
        option=option,
        lowered_mm=lowered,
        lobes_mm=last.hoop.free.lobe_mm,
        peak_to_valley_mm=held_peak_to_valley(last.hoop.free),
        thinnest_mm=float(around.least_thickness_mm.min()),
        strain_peak_pct=100.0 * float(around.strain_log.max()),
        limit_used_pct=float(around.share_pct.max()),
        pull_kN=drive_forces(operation.drive, tension).pull_N * 1e-3,
        edge_pressure_MPa=line_contact(edge, option.edge_radius_mm, modulus).peak_pressure_MPa,
        seam_deg=place,
        seam_strain_log=strain,
        overlap_mm=max(0.0, -min(hit.hoop.slot_gap_at_touch_mm for hit in done.hits)),
        rocking=rocking(option.count, option.slot_mm, bench),
    )


def _seam(bench: Bench, done: Hooped, operation: SizeOnSegments) -> tuple[float, float]:
    """Place in the first pitch where the metal is stretched least after all hits, and the seam's stretch there."""
    state = done.last.hoop.loaded
    pitch = 2.0 * math.pi / operation.count
    angle = state.angle_rad % (2.0 * math.pi)
    half = angle <= 0.5 * pitch
    # the seam's zone reaches to both sides: the mean over a tenth of a pitch counts, not one node
    places = np.linspace(0.0, 0.5 * pitch, 19)
    order = np.argsort(angle[half])
    there = np.interp(places, angle[half][order], state.strain_log[half][order])
    smooth = np.convolve(np.pad(there, 2, mode="reflect"), np.full(5, 0.2), mode="valid")
    least = int(np.argmin(smooth))
    prior = section_mean(done.incoming, mean_strain(done.incoming))
    seam = bench.reckoning.hoop.seam
    ratio = 1.0 if seam is None or seam.strength_ratio is None else seam.strength_ratio
    strain = weld_strain(bench.job.metal, float(smooth[least]), ratio, prior, 0.0)
    return math.degrees(float(places[least])), strain


def rocking(count: int, slot_mm: float, bench: Bench) -> float:
    """Stiffness of a segment against rocking over the planned set's: the cube of its width. Common practice, no
    source: a segment is a block on its back, and its width is what it stands on."""

    def width(n: int, slot: float) -> float:
        return 2.0 * float(bench.reckoning.tool_face_mm.min()) * math.sin(math.pi / n) - slot

    planned = bench.settings.segments
    return (width(count, slot_mm) / width(planned.count, planned.slot_mm)) ** 3
