"""Bands: where each figure falls in 9 of 10 rings, linearised over the spread card.

The tools and settings stay as planned. Each thing that scatters is moved one standard deviation up and down and the
whole forward walk is run again; the difference of every figure, halved, is what that thing contributes. Contributions
are independent, so they add by squares; 5 and 95 % of a normal distribution lie 1.645 standard deviations off. The runs
are made on a coarser twin of the job (fewer stations and layers): only differences are taken from them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from hoopwright.findings import Band, Figure
from hoopwright.kernels.flow import LUDWIK, SWIFT, FlowCurve
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.segment_hull import girth_factor
from hoopwright.kernels.sizing_weld import scaled
from hoopwright.plan.settings import Shift
from hoopwright.plan.shapes import RingJob

NINE_IN_TEN = 1.6448536269514722
"""Standard deviations from the middle to 95 % of a normal distribution."""

FORCES = ("kN", "N", "J")
"""Units of figures that vanish but do not turn round."""

Run = Callable[[RingJob, Shift], Iterable[Figure]]


@dataclass(frozen=True, slots=True)
class Scatter:
    """One thing that scatters: the job or the settings moved up and down by one standard deviation."""

    name: str
    up: tuple[RingJob, Shift]
    down: tuple[RingJob, Shift] | None


def scatters(job: RingJob, count: int, taper_tan: float) -> Iterator[Scatter]:
    """Everything on the spread card that moves the walk.

    Lengths and tool radii act in a straight line, so that one run serves for both signs.

    Parameters
    ----------
    count : segments. taper_tan : tangent of the pin's half angle, by which a stop becomes a radius.
    """
    spread, none = job.spread, Shift()

    def metal(new: Metal) -> tuple[RingJob, Shift]:
        young = replace(job.young_MPa, value=new.youngs_modulus_MPa)
        return replace(job, metal=new, young_MPa=young), none

    def sheet(step: float) -> tuple[RingJob, Shift]:
        return replace(job, thickness_mm=replace(job.thickness_mm, value=job.thickness_mm.value + step)), none

    step = spread.sheet_thickness_mm.value
    yield Scatter("sheet thickness", sheet(step), sheet(-step))
    share = spread.flow_stress_pct.value / 100.0
    flows = [replace(job.metal, flow=scaled(job.metal.flow, 1.0 + s)) for s in (share, -share)]
    yield Scatter("flow stress", metal(flows[0]), metal(flows[1]))
    if job.metal.flow.law[0] in (SWIFT, LUDWIK):
        rise = spread.hardening_n.value
        exponents = [replace(job.metal, flow=hardened(job.metal.flow, s)) for s in (rise, -rise)]
        yield Scatter("hardening exponent", metal(exponents[0]), metal(exponents[1]))
    modulus, soft = job.metal.youngs_modulus_MPa, spread.modulus_pct.value / 100.0
    stiff = [replace(job.metal, youngs_modulus_MPa=modulus * (1.0 + s)) for s in (soft, -soft)]
    yield Scatter("Young's modulus", metal(stiff[0]), metal(stiff[1]))
    mu = spread.friction_mu.value
    yield Scatter("friction", (slippery(job, mu), none), (slippery(job, -mu), none))
    yield Scatter("weld shrink", (job, Shift(shrinkage_mm=spread.weld_shrink_mm.value)), None)
    yield Scatter("cut length", (job, Shift(cut_length_mm=spread.cut_length_mm.value)), None)
    stop = spread.pin_stop_mm.value * taper_tan * girth_factor(count)
    tool = math.hypot(spread.segment_radius_mm.value, stop)
    yield Scatter("segment radius and pin stop", (job, Shift(tool_radius_mm=tool)), None)


def hardened(flow: FlowCurve, step: float) -> FlowCurve:
    """A power-law curve with another exponent."""
    law = flow.law
    return replace(flow, law=(*law[:3], law[3] + step))


def slippery(job: RingJob, step: float) -> RingJob:
    """The job with every friction coefficient moved together, none below 0."""
    names = ("mu_pin", "mu_base", "mu_segment_ring", "mu_roll", "mu_press")
    moved = {
        name: replace(getattr(job.friction, name), value=max(0.0, getattr(job.friction, name).value + step))
        for name in names
    }
    return replace(job, friction=replace(job.friction, **moved))


@dataclass(frozen=True, slots=True)
class Deviation:
    """Standard deviation of a figure, and its least value in any of the runs."""

    sd: float
    least: float


def deviations(run: Run, job: RingJob, all_scatters: Iterable[Scatter]) -> dict[str, Deviation]:
    """How far every figure scatters, by identity."""
    middle = {figure.identity: figure.value for figure in run(job, Shift())}
    squares, least = dict.fromkeys(middle, 0.0), dict(middle)
    for one in all_scatters:
        up = {figure.identity: figure.value for figure in run(*one.up)}
        down = middle if one.down is None else {figure.identity: figure.value for figure in run(*one.down)}
        span = 1.0 if one.down is None else 0.5
        for identity in squares:
            if identity in up and identity in down:
                squares[identity] += (span * (up[identity] - down[identity])) ** 2
                least[identity] = min(least[identity], up[identity], down[identity])
    return {identity: Deviation(math.sqrt(square), least[identity]) for identity, square in squares.items()}


def banded(
    figure: Figure, deviation: Mapping[str, Deviation], how: str, limits: Mapping[str, tuple[float, float]]
) -> Figure:
    """The figure with its band; with the share inside its drawing limits, where it has any.

    Where nothing moves the figure its band has no width. A force that no run takes below 0 has no band below 0. A band
    that the figure has of its own (an uncertain model) is widened by squares.
    """
    found = deviation.get(figure.identity)
    if found is None or not math.isfinite(found.sd):
        return figure
    if figure.band is not None and not found.sd > 0.0:
        return figure
    half = NINE_IN_TEN * found.sd
    below = above = half
    if figure.band is not None:
        below = math.hypot(half, figure.value - figure.band.low)
        above = math.hypot(half, figure.band.high - figure.value)
        how = f"{figure.band.how}; and {how}"
    low = figure.value - below
    if found.least >= 0.0 and figure.unit in FORCES:
        low = max(low, 0.0)
    inside = None
    if figure.identity in limits and found.sd > 0.0:
        floor, ceiling = limits[figure.identity]
        share = normal_share((ceiling - figure.value) / found.sd) - normal_share((floor - figure.value) / found.sd)
        inside = 100.0 * share
    return replace(figure, band=Band(low, figure.value + above, how, inside))


def normal_share(deviations_off: float) -> float:
    """Share of a normal distribution below so many standard deviations from its middle.

    Examples
    --------
    >>> round(normal_share(NINE_IN_TEN), 4)
    0.95
    """
    return 0.5 * (1.0 + math.erf(deviations_off / math.sqrt(2.0)))
