"""Backward: blank length, curl and tool radii from which the forward walk ends on the drawing.

Size on a fixed tool radius, never by percentage. In the order of solving:

1. The hoop as welded stands at the drawing's section, moved inward so that the smallest mid-surface radius is stretched
   by the planned share when it comes to the drawing:  r_in = r - r_min e / (1 + e).
2. The rolled section is curled so that it springs back to that hoop; the fibre whose length it keeps is the neutral
   fibre, and the strip is cut to its girth plus the weld's shrinkage. Of an arc blank, whose own flat radius changes
   across the width, only the height above its cone is curl; its scale follows from the same balance.
3. Wanted free radius of each station: the drawing,
on the faces its control sizes belong to (the sheet is thinner then).
   Loaded radius = free + springback; tool radius = loaded mid radius - thinned half thickness.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from hoopwright.errors import NotConverged
from hoopwright.findings import weakest
from hoopwright.kernels.chain_contour import ring_stretched
from hoopwright.kernels.curl import curl_for
from hoopwright.kernels.layers import midpoint_layers
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.route import RouteInRolls
from hoopwright.plan.seam.numbers import seam_numbers
from hoopwright.plan.shapes import Array, BlankLine, RingJob
from hoopwright.process import close, curl, roll, weld
from hoopwright.process.anneal import annealed
from hoopwright.process.sheet import sheet
from hoopwright.process.shop import ShopCard
from hoopwright.process.state import hoop_of, strip_of
from hoopwright.process.workpiece import Workpiece

LAYERS = 21
LENGTH_STEP_MM, CURL_STEP_MM = 0.01, 0.1
"""What a length can be cut to, and a curl set to."""

FIRST_SPRING = 0.0025
"""First guess of the springback as a share of the radius; any guess that stretches the ring leads to the same."""


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """Settings found, and the states they were found on.

    shape : flat radius of the blank by station over that of its middle, shape (n,). contour : what the rolls make.
    curl_radius_mm : loaded, of the neutral fibre, as it can be set; plain_curl_radius_mm : the same of a plain cone.
    cut_length_mm : before welding, on the neutral fibre.
    wanted_mm : free mid-surface radius wanted, shape (n,). tool_face_mm : radius of the segments under each station.
    """

    line: BlankLine
    shape: Array
    contour: roll.Contour
    flat: Workpiece
    rolled: Workpiece
    hoop: Workpiece
    curl_radius_mm: float
    plain_curl_radius_mm: float
    cut_length_mm: float
    wanted_mm: Array
    tool_face_mm: Array


@lru_cache(maxsize=64)
def shop_card(job: RingJob) -> ShopCard:
    """The card every operation of a job is run with; kept, since each figure of a walk asks for it."""
    limits = job.limits
    rests_on = (
        job.flow_source,
        job.thickness_mm.source,
        job.young_MPa.source,
        job.poisson.source,
        limits.stretch_plan_eng.source,
        limits.weld_shrink_mm.source,
    )
    ground = replace(weakest(rests_on), where="forward walk of this plan: " + weakest(rests_on).where)
    return ShopCard(job.metal, job.young_MPa, job.uniform_strain_log, limits, job.machines, job.friction, ground)


def incoming_radius(job: RingJob) -> Array:
    """Mid-surface radius of the welded hoop by station, shape (n,)."""
    stretch = job.limits.stretch_plan_eng.value
    least = job.section.bounds[1]
    return job.stations.y - least * stretch / (1.0 + stretch)


def solve(job: RingJob, chosen: RouteInRolls, proof: Proof | None = None) -> Solved:
    """All settings of one ring; see the module for the order.

    Parameters
    ----------
    proof : Proof, optional
        Its cut length and curl take the place of those solved here.

    Raises
    ------
    NotConverged
        A curl or a springback that does not settle: the flow curve or the section is out of the ordinary.
    """
    card = shop_card(job)
    middle = 0.5 * job.section.length
    shape = (1.0 + chosen.ratio_per_mm * job.stations.s) / (1.0 + chosen.ratio_per_mm * middle)
    wanted_in = incoming_radius(job)
    flat = flat_blank(job, shape, wanted_in)
    reference = _reference(shape, wanted_in, flat.weight_mm)
    contour = roll_contour(job, shape, flat.weight_mm, chosen.ratio_per_mm)
    rolled = roll.rolled(flat, contour, 1.0, "roll", card)
    loaded, natural = curl_for(strip_of(rolled), card.metal, reference, level="axis")
    curl_radius = settable(loaded.neutral_radius_mm, CURL_STEP_MM)
    shrink = job.limits.weld_shrink_mm.value
    cut = 2.0 * math.pi * natural.neutral_radius_mm + shrink
    strip = curl.run(rolled, curl.Curl(curl_radius), card).workpiece
    first = welded(job, strip, cut, shape, card, chosen.route.anneal)
    wanted, tool = _tool(job, first)
    cut = _length_for_stretch(job, first, cut, shape, wanted) if proof is None else round(proof.length.cut_mm, 6)
    hoop = welded(job, strip, cut, shape, card, chosen.route.anneal)
    wanted, tool = _tool(job, hoop, tool)
    neutral = cut - shrink
    scale = neutral / (2.0 * math.pi) / (1.0 + chosen.ratio_per_mm * middle)
    line = BlankLine(scale, scale * chosen.ratio_per_mm, job.section.length)
    plain = curl_radius
    if chosen.route.rolling == "closed-cone":
        cone = replace(flat, angle_rad=np.full_like(flat.r_mm, contour.pitch_angle_rad))
        plain = settable(
            curl_for(strip_of(cone), card.metal, reference, level="axis")[0].neutral_radius_mm, CURL_STEP_MM
        )
    if proof is not None:
        proven = settable(proof.curl.radius_mm, CURL_STEP_MM)
        curl_radius, plain = (curl_radius, proven) if chosen.route.rolling == "closed-cone" else (proven, proven)
    return Solved(line, shape, contour, flat, rolled, hoop, curl_radius, plain, cut, wanted, tool)


def settable(value: float, step: float) -> float:
    """The nearest value that can be set.

    Examples
    --------
    >>> settable(99.53, 0.1)
    99.5
    """
    return round(round(value / step) * step, 9)


def _length_for_stretch(job: RingJob, hoop: Workpiece, cut: float, shape: Array, wanted: Array) -> float:
    """Cut length, rounded down to what can be cut, that stretches the smallest radius as planned or a hair more.

    hoop : welded from a strip of the length `cut`.
    """
    least = int(np.argmin(wanted))
    miss = float(wanted[least]) / (1.0 + job.limits.stretch_plan_eng.value) - float(hoop.r_mm.min())
    exact = cut + 2.0 * math.pi * miss / float(shape[least])
    return round(math.floor(exact / LENGTH_STEP_MM + 1e-6) * LENGTH_STEP_MM, 6)


def welded(
    job: RingJob,
    sprung: Workpiece,
    cut_length_mm: float,
    shape: Array,
    card: ShopCard,
    anneal: bool = False,
    shrinkage_mm: float | None = None,
) -> Workpiece:
    """The curled strip closed, welded and, where planned, annealed, without a word about it.

    The shop's own prior strain, where given, takes the place of the chain's map.
    """
    hoop = close.run(sprung, close.Close(cut_length_mm, shape), card).workpiece
    shrink = job.limits.weld_shrink_mm.value if shrinkage_mm is None else shrinkage_mm
    seam = seam_numbers(job)
    joined = weld.joined(with_given_prior(job, hoop), job.ring.seam_theta_deg, shrink, seam.zone_mm, seam)
    return annealed(joined) if anneal else joined


def with_given_prior(job: RingJob, hoop: Workpiece) -> Workpiece:
    """The hoop with the shop's own value of the strain carried into sizing, where there is one."""
    if job.prior_strain_log is None:
        return hoop
    return hoop.after(
        "prior strain as given", plastic_strain=np.full_like(hoop.plastic_strain, job.prior_strain_log.value)
    )


def _reference(shape: Array, wanted_in: Array, width: Array) -> float:
    """Level of height 0: the mean radius of the welded hoop, the blank's own fall taken out."""
    return float(np.average(wanted_in / shape, weights=width))


def roll_contour(job: RingJob, shape: Array, width: Array, ratio_per_mm: float) -> roll.Contour:
    """The contour the rolls make: heights above the blank's line, of mean 0."""
    wanted_in = incoming_radius(job)
    reference = _reference(shape, wanted_in, width)
    return roll.Contour(
        z_mm=job.stations.x,
        height_mm=wanted_in / shape - reference,
        angle_rad=job.stations.angle,
        curvature_per_mm=job.stations.curvature,
        pitch_angle_rad=math.asin(max(-1.0, min(1.0, ratio_per_mm * reference))),
    )


def flat_blank(job: RingJob, shape: Array, wanted_in: Array, layers: int = LAYERS) -> Workpiece:
    """The flat blank: each width wider by half the hoop strain that will narrow it; the edge trims as they are."""
    st = job.stations
    reference = _reference(shape, wanted_in, st.weight)
    on_ring = (st.s >= 0.0) & (st.s <= job.section.length)
    strain = np.where(on_ring, np.log(st.y / (reference * shape)), 0.0)
    width = st.weight * np.exp(0.5 * strain)
    place = np.cumsum(width) - 0.5 * width
    return sheet(job.ring.id, place, width, job.thickness_mm.value, midpoint_layers(layers), 1.0)


def _tool(job: RingJob, hoop: Workpiece, guess: Array | None = None) -> tuple[Array, Array]:
    """Wanted free mid radii and the tool radii that give them; the face of each control size is held exactly.

    Every turn moves the tool by what the free ring still misses; a free radius follows the tool by all but some
    thousandths, so that the miss falls by that factor each turn.
    """
    incoming, sense = hoop_of(hoop), _face_sense(job)
    thick, normal = job.thickness_mm.value, np.cos(job.stations.angle)
    wanted = job.stations.y
    tool = wanted * (1.0 + FIRST_SPRING) - 0.5 * thick * normal if guess is None else guess
    for _ in range(12):
        sized = ring_stretched(incoming, tool, job.metal)
        thinned = thick - sized.released.thickness_mm
        wanted = job.stations.y + sense * 0.5 * thinned / normal
        miss = wanted - sized.released.radius_mm
        if float(np.max(np.abs(miss))) <= 1e-6:
            return wanted, tool
        tool = tool + miss
    raise NotConverged(
        f"tool radii of {job.ring.id} still move by {np.max(np.abs(miss)):.2g} mm", tool, "check the metal"
    )


def _face_sense(job: RingJob) -> Array:
    """+1 where the outside face is held, -1 where the inside is, shape (n,).

    Level over the straight that carries a control size, in proportion along z between two of them.
    """
    nodes: list[tuple[float, float]] = []
    for control in sorted(job.ring.controls, key=lambda control: control.z_mm):
        sense = 1.0 if control.face == "outside" else -1.0
        nodes += [(z, sense) for z in _straight_at(job, control.z_mm)]
    nodes.sort()
    if not nodes:
        return np.zeros_like(job.stations.x)
    places, senses = zip(*nodes, strict=True)
    return np.asarray(np.interp(job.stations.x, places, senses), dtype=np.float64)


def _straight_at(job: RingJob, z_mm: float) -> tuple[float, float]:
    """Ends, along the axis, of the straight over z; z itself where an arc stands there."""
    for segment in job.section:
        low, high = sorted((segment.start[0], segment.end[0]))
        if low <= z_mm <= high and not segment.is_arc:
            return low, high
    return z_mm, z_mm
