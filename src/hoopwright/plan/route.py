"""Choosing the route of a ring, with the reasons: strip or arc blank, and how the contour is rolled."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.findings import Check, Figure, Finding, Input, judged
from hoopwright.kernels.cone_development import blank_on_slope, fit_blank
from hoopwright.kernels.roll_slip import Cant, cant_for_least_depth, conical_pitch, slip_map, steering
from hoopwright.kernels.strip_blank import radius_range_log
from hoopwright.plan.section_points import section_points
from hoopwright.plan.shapes import Array, BlankKind, RingJob, Rolling, Route, RouteOption
from hoopwright.process.working import reckoned

HITS = 2
"""One stretch is two hits by practice: the second, half a pitch on, wipes out the lobes of the first."""

NEAR_SHARE = 0.97
"""A radius range this close below its limit is said to be at the limit."""

WIDE_SPREAD_LOG = 0.06
"""Spread of hoop strain across an arc blank above which a trial ring is asked for: the caution limit of a strip."""

STEEPEST_DEG = 60.0
CLOSED_CONE_MARGIN = 0.02
"""Slip by which rolling in the closed cone must be better before it is taken. House rule proposed here, no source."""

ROLLED: dict[Rolling, str] = {
    "level": "section level, straight pitch lines",
    "canted": "section canted, straight pitch lines",
    "conical": "conical pitch lines through the apex of the blank",
    "closed-cone": "contour rolled in the closed cone",
}


@dataclass(frozen=True, slots=True)
class RouteInRolls:
    """A route with the ratio b/a of its blank line [1/mm]."""

    route: Route
    ratio_per_mm: float


@dataclass(frozen=True, slots=True)
class Slip:
    """Where the faces of two rolls slip most.

    height_mm : over the pitch line there; half_depth_mm : half the depth of the contour in the rolls. local_pitch :
    pitch radius there over the middle one, pitch_mm. steer : speed by which blank and rolls disagree, whole range.
    """

    height_mm: float
    half_depth_mm: float
    local_pitch: float
    steer: float
    pitch_mm: float

    @property
    def worst(self) -> float:
        """Slip as a share: twice the height over the local pitch radius, and half of what steers."""
        return 2.0 * self.height_mm / (self.pitch_mm * self.local_pitch) + 0.5 * self.steer


def choose_route(job: RingJob) -> RouteInRolls:
    """Blank by the radius range, rolling by the slip that is left; every other way with the reason against it."""
    _, low, _, high = job.section.bounds
    spread = radius_range_log(low, high)
    kind = _blank_kind(job, spread)
    s, z, r = section_points(job.section)
    line = fit_blank(s, r, 0.0) if kind == "arc" else blank_on_slope(s, r, 0.0, 0.0)
    ratio = line.slope / line.base_mm
    options = _strip_options(job, r) if kind == "strip" else _arc_options(job, s, z, r, ratio)
    chosen = next(option for option in options if option.chosen)
    ranged = _range_figure(job, spread)
    figures = [ranged, chosen.slip]
    findings = _blank_findings(job, spread, kind, ranged)
    if kind == "arc":
        figure, found = _wide_arc(job, line.spread_log)
        figures.append(figure)
        findings += found
        findings += _rolling_findings(job, options, chosen)
    route = Route(kind, chosen.rolling, 1, HITS, False, tuple(options), tuple(figures), tuple(findings))
    return RouteInRolls(route, ratio)


def _blank_kind(job: RingJob, spread: float) -> BlankKind:
    wish = job.ring.route
    if wish is not None:
        return "strip" if wish == "straight" else "arc"
    return "strip" if spread <= job.limits.straight_strip_caution_log.value else "arc"


def _range_figure(job: RingJob, spread: float) -> Figure:
    _, low, _, high = job.section.bounds
    source = job.liner.source(f"{job.ring.id}, section")
    return reckoned(
        job.identity("route/radius-range"),
        "radius range of the section",
        100.0 * spread,
        "pct",
        "100 ln ( r_max / r_min )",
        Input("r_max", "largest mid-surface radius", high, "mm", source),
        Input("r_min", "smallest mid-surface radius", low, "mm", source),
        digits=2,
    )


def _blank_findings(job: RingJob, spread: float, kind: BlankKind, figure: Figure) -> list[Finding]:
    comfort, caution = job.limits.straight_strip_comfort_log, job.limits.straight_strip_caution_log
    ring, value = job.ring.id, figure.value
    if kind == "arc":
        if spread <= comfort.value:
            return [
                Finding(
                    "note",
                    f"{ring} is planned as an arc blank, though its radii differ by {value:.2f} % only; a strip "
                    f"serves up to {100 * comfort.value:g} %.",
                    "leave out the route in the liner file and let the plan choose",
                    figure.identity,
                    "strip-or-arc",
                )
            ]
        return []
    stop = spread > caution.value
    limit = caution if stop else comfort
    check = Check(
        "the radius range is small enough for a straight strip",
        spread,
        limit.value,
        "<=",
        "log",
        limit.source,
        "stop" if stop else "caution",
        "cut an arc blank" if stop else "plan trial rings, or cut an arc blank",
        figure.identity,
    )
    found = judged(
        check,
        f"The radii of {ring} differ by {value:.2f} %; a straight strip serves up to {100 * limit.value:g} %.",
        "strip-or-arc",
        "the difference is hoop strain that must come from somewhere: edges wave or gather",
    )
    if found:
        return [found]
    if spread > NEAR_SHARE * comfort.value:
        return [
            Finding(
                "note",
                f"{ring} is a straight strip by a hair: radii differ by {value:.2f} %, the rule ends at "
                f"{100 * comfort.value:g} %.",
                "plan one trial ring before cutting the batch",
                figure.identity,
                "strip-at-limit",
                check=check,
            )
        ]
    return []


def _slip_figure(job: RingJob, word: Rolling, slip: Slip) -> Figure:
    """Worst slip of one way, and how it comes about."""
    source = job.liner.source(f"{job.ring.id}, section")
    pitch = job.limits.roll_pitch_radius_mm.as_input("R_p")
    height = Input("h", "height over the pitch line at the worst place", slip.height_mm, "mm", source)
    inputs, formula = [height, pitch], "200 h / R_p"
    if slip.local_pitch != 1.0:
        inputs.append(Input("q", "pitch radius there over the middle one", slip.local_pitch, "", source))
        formula = "200 h / ( R_p q )"
    if slip.steer:
        inputs.append(Input("g", "speed by which blank and rolls disagree", slip.steer, "", source))
        formula += " + 50 g"
    return reckoned(
        job.identity(f"roll/{word}/slip"),
        f"worst slip in the rolls, {ROLLED[word]}",
        100.0 * slip.worst,
        "pct",
        formula,
        *inputs,
        digits=2,
        note=f"depth in the rolls {2.0 * slip.half_depth_mm:.2f}, pitch line at mid-depth",
    )


def _strip_options(job: RingJob, r: Array) -> list[RouteOption]:
    half = 0.5 * float(np.ptp(r))
    slip = _slip_figure(job, "level", Slip(half, half, 1.0, 0.0, job.limits.roll_pitch_radius_mm.value))
    name = "straight strip, " + ROLLED["level"]
    return [RouteOption("strip", "level", name, slip, True, "the radius range allows it")]


def _arc_options(job: RingJob, s: Array, z: Array, r: Array, ratio: float) -> list[RouteOption]:
    """Every way of rolling an arc blank; the least slip is taken, the machine's cant kept."""
    pitch = job.limits.roll_pitch_radius_mm.value
    slant = (1.0 + ratio * s) / abs(ratio) if ratio else np.full_like(s, 1e9)
    allowed = job.machines.roll.cant_max_deg.value
    cant = cant_for_least_depth(z, r, math.radians(allowed))
    free = cant_for_least_depth(z, r, math.radians(STEEPEST_DEG))
    steer, half = steering(slant, pitch), 0.5 * float(np.ptp(r))
    turned, wanted = (abs(math.degrees(way.angle_rad)) for way in (cant, free))
    held = f"canted by {turned:.1f}°" + (
        f" of {wanted:.1f}°, more the machine has not" if wanted > turned + 0.05 else ""
    )
    weighed: list[tuple[Rolling, Slip, str]] = [
        ("level", Slip(half, half, 1.0, steer, pitch), "the whole radius range slips, and a curved blank steers"),
        (
            "canted",
            Slip(0.5 * cant.depth_mm, 0.5 * cant.depth_mm, 1.0, steer, pitch),
            f"{held}; a curved blank steers on straight pitch lines",
        ),
        ("conical", _conical(job, cant, slant), f"{held}; the blank runs true"),
        (
            "closed-cone",
            _conical(job, free, slant),
            "the ring cannot steer, but rolling eats a hundredth of its size and the inner roll stands in the ring",
        ),
    ]
    # rolling in the closed ring costs stretch and trials, so it has to win by a clear margin
    best = min(weighed, key=lambda way: way[1].worst + (CLOSED_CONE_MARGIN if way[0] == "closed-cone" else 0.0))[0]
    return [
        RouteOption("arc", word, "arc blank, " + ROLLED[word], _slip_figure(job, word, slip), word == best, why)
        for word, slip, why in weighed
    ]


def _conical(job: RingJob, cant: Cant, slant: Array) -> Slip:
    """Slip on cones through the blank's apex: only the height over the conical pitch line slips."""
    pitch = job.limits.roll_pitch_radius_mm.value
    slips = slip_map(cant.height_mm, conical_pitch(slant, pitch), job.thickness_mm.value)
    where = slips.worst_station
    local = float(slips.pitch_radius_mm[where]) / pitch
    return Slip(abs(float(slips.height_mm[where])), 0.5 * cant.depth_mm, local, 0.0, pitch)


def _wide_arc(job: RingJob, spread: float) -> tuple[Figure, list[Finding]]:
    figure = reckoned(
        job.identity("route/arc-spread"),
        "spread of hoop strain across the arc blank",
        100.0 * spread,
        "pct",
        "100 ( max - min of ln ( r / ( a + b s ) ) )",
        Input("r", "section of the drawing", job.section.length, "mm", job.liner.source(f"{job.ring.id}, section")),
        digits=2,
        note="the best straight line a + b s along the developed section",
    )
    if spread <= WIDE_SPREAD_LOG:
        return figure, []
    finding = Finding(
        "caution",
        f"The arc blank of {job.ring.id} leaves {figure.value:.1f} % of hoop strain between its places.",
        "plan a trial ring before the batch is cut",
        figure.identity,
        "wide-arc",
        "no straight line follows the section closer; the contour has to be drawn in and out in the rolls",
    )
    return figure, [finding]


def _rolling_findings(job: RingJob, options: list[RouteOption], chosen: RouteOption) -> list[Finding]:
    others = "; ".join(f"{o.name.split(', ', 1)[1]}: {o.slip.value:.1f} %" for o in options if o is not chosen)
    found = [
        Finding(
            "note",
            f"{job.ring.id}, {chosen.name.split(', ', 1)[1]}: slip {chosen.slip.value:.1f} %.",
            "weigh one roll idling or split rolls before the pair is drawn",
            chosen.slip.identity,
            "rolling-route",
            f"{chosen.reason}. Against it stand {others}",
        )
    ]
    if chosen.rolling == "closed-cone":
        found.append(
            Finding(
                "caution",
                f"The contour of {job.ring.id} is rolled in the closed cone, which draws the ring in.",
                "weld one trial ring 1.2 % larger, roll it, and take its girth",
                chosen.slip.identity,
                "closed-cone-eats-stretch",
                "one ring reckoned with a full section kernel lost 1.2 % of its mean radius in the rolls",
            )
        )
    return found
