"""What scatters from ring to ring, one standard normal draw each, and the job and sizing a row of draws gives."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import InputError
from hoopwright.findings import Figure
from hoopwright.kernels.flow import LUDWIK, SWIFT
from hoopwright.kernels.hoop import Harmonic
from hoopwright.kernels.sizing_weld import scaled
from hoopwright.plan.bands import hardened, slippery
from hoopwright.plan.hooping.ask import Incoming, on_segments
from hoopwright.plan.settings import Settings, Shift
from hoopwright.plan.shapes import Array, RingJob
from hoopwright.process.hooping.operation import SizeOnSegments
from hoopwright.process.workpiece import Workpiece

LEAST_RATIO = 0.05
"""A strength or a zone is never drawn below this share of its middle."""


@dataclass(frozen=True, slots=True)
class Scattered:
    """One thing that scatters. key : stable word. sd : one standard deviation, in the unit of its figure."""

    key: str
    name: str
    sd: float
    figure: Figure


def scattered(job: RingJob, count: int) -> tuple[tuple[Scattered, ...], tuple[str, ...]]:
    """Everything that scatters, in a fixed order, and the names of what no card gives a spread for.

    Parameters
    ----------
    count : segments of the set; each has an error of its own.
    """
    found: list[Scattered] = []
    missing: list[str] = []
    for key, name, figure in _rows(job, count):
        if figure is None:
            missing.append(name)
        elif figure.value > 0.0:
            found.append(Scattered(key, name, figure.value, figure))
    return tuple(found), tuple(dict.fromkeys(missing))


def _rows(job: RingJob, count: int) -> Iterator[tuple[str, str, Figure | None]]:
    spread, seam = job.spread, job.seam
    yield "sheet_thickness", "sheet thickness", spread.sheet_thickness_mm
    yield "flow_stress", "flow stress (yield)", spread.flow_stress_pct
    if job.metal.flow.law[0] in (SWIFT, LUDWIK):
        yield "hardening", "hardening exponent", spread.hardening_n
    yield "modulus", "Young's modulus", spread.modulus_pct
    yield "friction", "friction", spread.friction_mu
    yield "weld_strength", "strength of the seam", spread.weld_zone_strength_pct
    yield "weld_width", "width of the seam's soft zone", seam.softened_width_sd_mm
    yield "seam_angle", "angle across the seam", seam.angle_sd_deg
    yield "cut_length", "cut length", spread.cut_length_mm
    yield "weld_shrink", "shrink of the seam", spread.weld_shrink_mm
    yield "set_radius", "ground radius of the set", spread.segment_radius_mm
    yield "pin_stop", "where the pin stops", spread.pin_stop_mm
    for number in range(1, count + 1):
        yield f"segment_{number}", "radius of single segments", spread.segment_error_mm
    for word in ("cos", "sin"):
        yield f"two_lobes_{word}", "two lobes of the welded hoop", spread.hoop_two_lobes_mm
    for word in ("cos", "sin"):
        yield f"three_lobes_{word}", "three lobes of the welded hoop", spread.hoop_three_lobes_mm


def moved_job(job: RingJob, moves: dict[str, float]) -> tuple[RingJob, Shift]:
    """The job with sheet, metal, friction and seam moved, and the shift of lengths."""
    metal = replace(job.metal, flow=scaled(job.metal.flow, 1.0 + 0.01 * moves.get("flow_stress", 0.0)))
    if "hardening" in moves:
        metal = replace(metal, flow=hardened(metal.flow, moves["hardening"]))
    stiff = metal.youngs_modulus_MPa * (1.0 + 0.01 * moves.get("modulus", 0.0))
    metal = replace(metal, youngs_modulus_MPa=stiff)
    thick = replace(job.thickness_mm, value=job.thickness_mm.value + moves.get("sheet_thickness", 0.0))
    angle = replace(job.seam.angle_deg, value=job.seam.angle_deg.value + moves.get("seam_angle", 0.0))
    twin = replace(
        job,
        metal=metal,
        young_MPa=replace(job.young_MPa, value=stiff),
        thickness_mm=thick,
        seam=replace(job.seam, angle_deg=angle),
    )
    shift = Shift(cut_length_mm=moves.get("cut_length", 0.0), shrinkage_mm=moves.get("weld_shrink", 0.0))
    return slippery(twin, moves.get("friction", 0.0)), shift


def moved_sizing(
    job: RingJob, settings: Settings, hoop: Workpiece, incoming: Incoming, moves: dict[str, float]
) -> SizeOnSegments:
    """The sizing of a moved ring: set, stops, seam and out-of-round moved."""
    plain = on_segments(job, settings, hoop, incoming)
    errors = np.array(plain.errors_mm) if plain.errors_mm else np.zeros(plain.count)
    errors = errors + np.array([moves.get(f"segment_{k}", 0.0) for k in range(1, plain.count + 1)])
    stop = moves.get("pin_stop", 0.0) * math.tan(settings.drive.half_angle_rad)
    hits = tuple(replace(hit, standing_mm=hit.standing_mm + stop) for hit in plain.hits)
    seam = plain.seam
    if seam is not None:
        seam = replace(
            seam,
            width_mm=max(LEAST_RATIO * seam.width_mm, seam.width_mm + moves.get("weld_width", 0.0)),
            strength_ratio=seam.strength_ratio * max(LEAST_RATIO, 1.0 + 0.01 * moves.get("weld_strength", 0.0)),
        )
    return replace(
        plain,
        surface_mm=np.asarray(plain.surface_mm + moves.get("set_radius", 0.0), dtype=np.float64),
        errors_mm=tuple(float(e) for e in errors),
        hits=hits,
        drive=replace(plain.drive, friction_pin=job.friction.mu_pin.value, friction_base=job.friction.mu_base.value),
        seam=seam,
        waves=(*plain.waves, *_lobes(moves)),
    )


def _lobes(moves: dict[str, float]) -> Iterator[Harmonic]:
    for order, word in ((2, "two_lobes"), (3, "three_lobes")):
        a, b = moves.get(f"{word}_cos", 0.0), moves.get(f"{word}_sin", 0.0)
        if a or b:
            yield Harmonic(order, math.hypot(a, b), math.atan2(b, a) / order)


def moves_of(inputs: tuple[Scattered, ...], draw: Array) -> dict[str, float]:
    """Departures by key, in the unit of each figure, of a row of standard normal draws, shape (d,).

    Raises
    ------
    InputError
        A row of another length.
    """
    if draw.shape != (len(inputs),):
        raise InputError("row of draws", draw.shape, "", f"of shape ({len(inputs)},)", "draw one number an input")
    return {one.key: one.sd * float(z) for one, z in zip(inputs, draw, strict=True)}
