"""Pass schedule and roll contours of a ring: passes, depths, gap, curl, load, and both rolls to cut."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.roll_slip import cant_for_least_depth
from hoopwright.kernels.strip_shape import free_curl
from hoopwright.plan.corners import CornerRow, corner_figures, corner_rows
from hoopwright.plan.pass_load import pass_forces
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.roll_fit import roll_fit
from hoopwright.plan.route import STEEPEST_DEG
from hoopwright.plan.section_points import section_points
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.transition import EndZone, end_trim, end_zones, flange_lengths, passes_needed
from hoopwright.process.working import reckoned
from hoopwright.tools.rolls import RollPair, roll_pair

GUIDE_MM = 5.0
SCHEDULE = Source("derived", "pass schedule of this plan")


@dataclass(frozen=True, slots=True)
class PassRow:
    """One pass: share of every corner's turn that stands after it, depth then, and the new depth it takes. [mm]"""

    number: int
    share: float
    depth_mm: float
    new_depth_mm: float


@dataclass(frozen=True, slots=True)
class PassPlan:
    """How the section is rolled. in_rolls : the section as it stands in the rolls (canted where the route says so)."""

    rolls: RollPair
    in_rolls: Profile
    rows: tuple[PassRow, ...]
    zones: tuple[EndZone, ...]
    corners: tuple[CornerRow, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def cant_of(job: RingJob, reckoning: Reckoning) -> float:
    """Turn of the section in the rolls by the route, 0 where it stands as drawn. [rad]

    In the closed cone it is the ring that stands aslant, so the machine's shafts do not limit the turn.
    """
    rolling = reckoning.route.rolling
    if rolling == "level":
        return 0.0
    most = math.radians(STEEPEST_DEG if rolling == "closed-cone" else job.machines.roll.cant_max_deg.value)
    _, z, r = section_points(job.section)
    return -cant_for_least_depth(z, r, most).angle_rad


def slant_of(reckoning: Reckoning) -> float:
    """Slant radius of the blank's middle, positive with the apex aft; infinite for straight pitch lines. [mm]"""
    line = reckoning.line
    if reckoning.route.rolling not in ("conical", "closed-cone") or line.slope == 0.0:
        return math.inf
    return (line.base_mm + 0.5 * line.slope * line.developed_mm) / -line.slope


def plan_passes(job: RingJob, reckoning: Reckoning, proof: Proof | None = None) -> PassPlan:
    """Passes, settings, loads and roll contours.

    Parameters
    ----------
    proof : Proof, optional
        Its corrected contour and its loads take the place of first estimates.

    Raises
    ------
    GeometryError
        When a roll cannot be cut (it would lose its radius, or an inside corner its own).
    """
    cant = cant_of(job, reckoning)
    in_rolls = job.section.turned(cant, job.section.start)
    radius = job.limits.roll_pitch_radius_mm
    run_out = job.limits.edge_trim_mm.value + GUIDE_MM
    contour = job.section if proof is None else proof.profile()
    rolls = roll_pair(contour, job.thickness_mm.value, radius.value, run_out, cant, slant_of(reckoning))
    # a closed ring has no ends, and nothing runs up flat to the rolls
    zones = () if reckoning.route.rolling == "closed-cone" else end_zones(job, in_rolls)
    depth = in_rolls.bounds[3] - in_rolls.bounds[1]
    count, count_figure, findings = _count(job, zones, depth)
    rows = tuple(PassRow(k, k / count, depth * k / count, depth / count) for k in range(1, count + 1))
    forces = pass_forces(job, in_rolls, depth, depth / count, proof) if depth > 1e-6 else None
    corners = corner_rows(job)
    figures = [count_figure, *_schedule_figures(job, depth, count), *_zone_figures(job, zones, count)]
    if forces is not None:
        figures += [*forces.figures, *_gaps(job, forces.spring)]
        findings += forces.findings
    fit_figures, fit_findings = roll_fit(job, rolls)
    figures += [*_roll_figures(job, rolls, proof is not None), *fit_figures, *corner_figures(job, corners)]
    findings += fit_findings
    findings += [*_end_trim_finding(job, zones, count), *_curl_findings(job, reckoning)]
    if proof is None:
        findings.append(_not_proven(job))
    return PassPlan(rolls, in_rolls, rows, zones, corners, tuple(figures), tuple(findings))


def _count(job: RingJob, zones: tuple[EndZone, ...], depth: float) -> tuple[int, Figure, list[Finding]]:
    """Passes: enough for the new depth of each and for the edge strain ahead of the rolls, at most the house's."""
    limits, t = job.limits, job.thickness_mm.value
    by_depth = max(1, math.ceil(depth / (limits.roll_depth_per_pass_max_t.value * t) - 1e-9))
    yield_strain = job.metal.yield_strain
    caution, stop = limits.edge_wave_caution_yield, limits.edge_wave_stop_yield
    by_edge = passes_needed(zones, caution.value * yield_strain)
    most = round(limits.roll_passes_max.value)
    count = min(max(by_depth, by_edge), most)
    figure = reckoned(
        job.identity("roll/passes"),
        "rolling passes",
        float(count),
        "1",
        "min ( max ( n_d , n_e ) , n_max )",
        Input("n_d", "passes for the new depth each may take", float(by_depth), "1", SCHEDULE),
        Input("n_e", "passes that keep the edge strain ahead of the rolls elastic", float(by_edge), "1", SCHEDULE),
        limits.roll_passes_max.as_input("n_max"),
        digits=0,
    )
    findings: list[Finding] = []
    for zone in zones:
        strain = zone.zone.over(count).edge_strain_log
        level_stop = strain > stop.value * yield_strain
        limit = stop if level_stop else caution
        check = Check(
            f"the {zone.end} edge stays elastic ahead of the rolls",
            strain,
            limit.value * yield_strain,
            "<=",
            "log",
            limit.source,
            "stop" if level_stop else "caution",
            "take more passes, or a longer run-up between stands"
            if count < most
            else "lower the lift of that land, or roll the contour in the closed ring",
            job.identity("roll/passes"),
            ("an upper estimate: a strip without pull shares the strain",),
        )
        found = judged(
            check,
            f"The {zone.end} edge takes {100 * strain:.2f} % ahead of the rolls in {count} passes; "
            f"{100 * check.limit:.2f} % is {limit.value:g} × the yield strain.",
            "edge-wave",
            "an edge stretched past yield waves or bows the strip",
        )
        if found:
            findings.append(found)
    return count, figure, findings


def _schedule_figures(job: RingJob, depth: float, count: int) -> list[Figure]:
    whole = Input("H", "depth of the section in the rolls", depth, "mm", SCHEDULE)
    number = Input("n", "passes", float(count), "1", SCHEDULE, job.identity("roll/passes"))
    return [
        reckoned(
            job.identity(f"roll/pass-{k}/depth"),
            f"depth after pass {k}",
            depth * k / count,
            "mm",
            f"{k} H / n",
            whole,
            number,
            digits=2,
        )
        for k in range(1, count + 1)
    ]


def _zone_figures(job: RingJob, zones: tuple[EndZone, ...], count: int) -> list[Figure]:
    figures: list[Figure] = []
    for zone in zones:
        last = zone.zone.over(count)
        drawn = job.liner.source("section")
        inputs = (
            Input("b", "run", zone.run_mm, "mm", drawn),
            Input("c", "land beyond the run, edge trim on", zone.land_mm, "mm", drawn),
            Input("h", "lift in the last pass", zone.height_mm / count, "mm", SCHEDULE),
            job.thickness_mm.as_input("t"),
        )
        figures.append(
            reckoned(
                job.identity(f"roll/{zone.end}-zone"),
                f"length over which the {zone.end} land takes its shape, last pass",
                last.length_mm,
                "mm",
                "√( 4 b ( c + b / 3 ) h / t )",
                *inputs,
                digits=0,
            )
        )
        figures.append(
            reckoned(
                job.identity(f"roll/{zone.end}-edge-strain"),
                f"strain of the {zone.end} edge ahead of the rolls, each pass",
                100.0 * last.edge_strain_log,
                "pct",
                "100 h t / ( 2 b ( c + b / 3 ) )",
                *inputs,
                digits=2,
                note="an upper estimate: a strip without pull shares the strain",
            )
        )
    return figures


def _gaps(job: RingJob, spring: Figure) -> list[Figure]:
    """Running gap on the flats and what is set for it: the load springs shafts and frame."""
    thick = job.thickness_mm.value + 2.0 * job.spread.sheet_thickness_mm.value
    thickest = Input(
        "t_max", "thickest sheet, nominal and two standard deviations", thick, "mm", job.thickness_mm.source
    )
    over = job.limits.roll_gap_over_sheet_mm
    running = reckoned(
        job.identity("roll/running-gap"),
        "gap on the flats, running",
        thick + over.value,
        "mm",
        "t_max + g",
        thickest,
        over.as_input("g"),
        note="measure the sheet in hand and put its own thickest place here",
    )
    set_gap = reckoned(
        job.identity("roll/set-gap"),
        "gap to set, rolls empty",
        running.value - spring.value,
        "mm",
        "g_run - spring",
        running.as_input("g_run"),
        spring.as_input("spring"),
        note="confirm by lead wire on the first strip: the load behind the spring is an estimate",
    )
    return [set_gap, running]


def _roll_figures(job: RingJob, rolls: RollPair, proven: bool) -> list[Figure]:
    drawn = job.liner.source("section")
    pitch = job.limits.roll_pitch_radius_mm.as_input("R_p")
    height = Input("r_p", "pitch line, mid-depth of the section in the rolls", rolls.pitch_height_mm, "mm", drawn)
    figures = [
        reckoned(
            job.identity("roll/pitch-line"),
            "pitch line, mid-surface radius at mid-depth",
            rolls.pitch_height_mm,
            "mm",
            "r_p",
            height,
        )
    ]
    for name, contour in (("inner", rolls.inner), ("outer", rolls.outer)):
        _, least, _, most = contour.bounds
        for word, value in (("largest", most), ("least", least)):
            figures.append(
                reckoned(
                    job.identity(f"roll/{name}-{word}-radius"),
                    f"{word} radius of the {name} roll",
                    value,
                    "mm",
                    "R_p ± ( r_face - r_p )",
                    pitch,
                    height,
                    job.thickness_mm.as_input("t"),
                    note="cut to the contour of the proof run, whose section lands on the drawing"
                    if proven
                    else "cut to the part's own faces; first estimate, not yet proven",
                )
            )
    return figures


def _end_trim_finding(job: RingJob, zones: tuple[EndZone, ...], count: int) -> list[Finding]:
    needed, planned = end_trim(zones, count), job.limits.end_trim_mm
    check = Check(
        "the end trim takes off all that the last pass does not form right",
        planned.value,
        needed,
        ">=",
        "mm",
        planned.source,
        "caution",
        f"plan an end trim of {math.ceil(needed):.0f}"
        + (", or one more pass" if count < job.limits.roll_passes_max.value else ""),
        job.identity("roll/passes"),
    )
    found = judged(
        check,
        f"The last pass leaves {needed:.1f} of each end of {job.ring.id} badly formed; {planned.value:g} is trimmed.",
        "end-trim",
    )
    return [found] if found else []


def _curl_findings(job: RingJob, reckoning: Reckoning) -> list[Finding]:
    """A free curl after the rolls bends the flanges over; only a second closing in the contour keeps them."""
    second = job.machines.roll.second_closing
    if (second is not None and second.value >= 1.0) or reckoning.route.rolling == "closed-cone":
        return []
    radius = float(reckoning.hoop.r_mm.min())
    findings: list[Finding] = []
    for length in flange_lengths(job.section):
        bounds = free_curl(length + job.limits.edge_trim_mm.value, job.thickness_mm.value)
        check = Check(
            "the flange outlives a curl outside the contoured rolls",
            radius,
            bounds.lost_below_mm,
            ">=",
            "mm",
            Source("derived", "plastic moment of the sheet against the pull of the curled flange"),
            "stop",
            "curl by a second closing in the contoured rolls, or roll the contour in the closed ring",
            job.identity("curl/natural-radius"),
        )
        found = judged(
            check,
            f"Curled to {radius:.0f} behind the rolls, a flange of {length:.1f} loses its place: below "
            f"{bounds.lost_below_mm:.0f} it goes over, above {bounds.untouched_above_mm:.0f} it stays as rolled.",
            "free-curl",
            "this machine has only an exit roll",
        )
        if found:
            findings.append(found)
    return findings


def _not_proven(job: RingJob) -> Finding:
    return Finding(
        "note",
        f"The roll contours of {job.ring.id} are not yet proven.",
        "roll three strips and trace the section before the rolls are hardened",
        job.identity("roll/inner-largest-radius"),
        "rolls-not-proven",
        "they are cut to the part's own faces; closed rolls of this shape make a section a little too deep",
    )
