"""Choosing the route of a ring, with the reasons: strip or arc blank, and how the contour is rolled."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.findings import Check, Figure, Finding, Input, judged
from hoopwright.kernels.cone_development import blank_on_slope, fit_blank
from hoopwright.kernels.roll_slip import cant_for_least_depth, conical_pitch, slip_map, steering
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


@dataclass(frozen=True, slots=True, eq=False)
class RouteInRolls:
    """A route with what the rolls need: ratio b/a of the blank line [1/mm] and depth in the rolls [mm]."""

    route: Route
    ratio_per_mm: float
    depth_mm: float


def choose_route(job: RingJob) -> RouteInRolls:
    """Blank by the radius range, rolling by the slip that is left; every other way with the reason against it."""
    _, low, _, high = job.section.bounds
    spread = radius_range_log(low, high)
    kind = _blank_kind(job, spread)
    s, z, r = section_points(job.section)
    line = fit_blank(s, r, 0.0) if kind == "arc" else blank_on_slope(s, r, 0.0, 0.0)
    ratio = line.slope / line.base_mm
    options = _strip_options(job, z, r) if kind == "strip" else _arc_options(job, s, z, r, ratio)
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
    depth = chosen.slip.inputs[0].value
    return RouteInRolls(route, ratio, float(depth))


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


def _slip_figure(job: RingJob, word: str, depth: float, slip: float, steer: float) -> Figure:
    source = job.liner.source(f"{job.ring.id}, section")
    return reckoned(
        job.identity(f"roll/{word}/slip"),
        f"worst slip in the rolls, {ROLLED[_rolling(word)]}",
        100.0 * slip,
        "pct",
        "100 ( depth / R_p + steer / 2 )" if steer else "100 depth / R_p",
        Input("depth", "depth of the contour in the rolls", depth, "mm", source),
        job.limits.roll_pitch_radius_mm.as_input("R_p"),
        *((Input("steer", "speed the blank and the rolls disagree by", steer, "", source),) if steer else ()),
        digits=2,
        note="pitch line at mid-depth; R_p changes along a conical pitch line",
    )


def _rolling(word: str) -> Rolling:
    return {"level": "level", "canted": "canted", "conical": "conical", "closed-cone": "closed-cone"}[word]  # type: ignore[return-value]


def _strip_options(job: RingJob, z: Array, r: Array) -> list[RouteOption]:
    depth = float(np.ptp(r))
    slip = _slip_figure(job, "level", depth, depth / job.limits.roll_pitch_radius_mm.value, 0.0)
    return [RouteOption("strip", "level", "straight strip, " + ROLLED["level"], slip, True, "the radius range allows it")]


def _arc_options(job: RingJob, s: Array, z: Array, r: Array, ratio: float) -> list[RouteOption]:
    """Every way of rolling an arc blank; the least slip among those the machine's shafts allow is taken."""
    pitch, thickness = job.limits.roll_pitch_radius_mm.value, job.thickness_mm.value
    slant = (1.0 + ratio * s) / abs(ratio) if ratio else np.full_like(s, 1e9)
    allowed = job.machines.roll.cant_max_deg.value
    cant = cant_for_least_depth(z, r, math.radians(allowed))
    free = cant_for_least_depth(z, r, math.radians(STEEPEST_DEG))
    level = float(np.ptp(r))
    steer = steering(slant, pitch)
    cone = slip_map(cant.height_mm, conical_pitch(slant, pitch), thickness).worst
    closed = slip_map(free.height_mm, conical_pitch(slant, pitch), thickness).worst
    turned, wanted = (abs(math.degrees(way.angle_rad)) for way in (cant, free))
    held = f"canted by {turned:.1f}°" + (f" of {wanted:.1f}°, more the machine has not" if wanted > turned + 0.05 else "")
    weighed: list[tuple[Rolling, float, float, float, str]] = [
        ("level", level, level / pitch + 0.5 * steer, steer, "the whole radius range slips, and a curved blank steers"),
        (
            "canted",
            cant.depth_mm,
            cant.depth_mm / pitch + 0.5 * steer,
            steer,
            f"{held}; a curved blank steers on straight pitch lines",
        ),
        (
            "conical",
            cant.depth_mm,
            cone,
            0.0,
            f"{held}; the blank runs true",
        ),
        (
            "closed-cone",
            free.depth_mm,
            closed,
            0.0,
            "the ring cannot steer, but rolling eats about a hundredth of its size and the inner roll stands in the ring",
        ),
    ]
    # rolling in the closed ring costs stretch and trials, so it has to win by a clear margin
    best = min(weighed, key=lambda way: way[2] + (CLOSED_CONE_MARGIN if way[0] == "closed-cone" else 0.0))[0]
    return [
        RouteOption("arc", way, "arc blank, " + ROLLED[way], _slip_figure(job, way, depth, slip, turn), way == best, why)
        for way, depth, slip, turn, why in weighed
    ]


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
            f"{job.ring.id} is rolled with {chosen.name.split(', ', 1)[1]}: slip {chosen.slip.value:.1f} %.",
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
