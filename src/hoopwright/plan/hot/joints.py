"""Gaps over the whole cycle: when they close, which closes first, by how much; steady alone is no verdict."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.findings import Band, Check, Figure, Finding, Input, Source
from hoopwright.plan.hot.gaps import Extremes, GapCourse, Neighbours, courses, extremes, refined, steady_times
from hoopwright.plan.hot.history import HotTimes
from hoopwright.plan.hot.laps import lap_figures
from hoopwright.plan.hot.model import HotModel
from hoopwright.plan.hot.startup import ASSUMED, Start, start_of, started
from hoopwright.plan.hot.warm_band import gap_bands
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

SAMPLES = 200
KEPT_OPEN_MM = 0.05
"""A sliding gap under this seizes on scale and out-of-round: common practice, no source."""
THICK_RATIO = 3.0
"""Time constants this far apart make steady temperatures no verdict: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Joints:
    """Gaps: steady and through time. times, gaps : None where there is neither history nor operating point; start : the
    lumped start when there is no history."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    steady: tuple[GapCourse, ...]
    times: Vector | None
    gaps: tuple[GapCourse, ...]
    start: Start | None
    said: str

    def extremes(self, key: str) -> Extremes | None:
        """Extremes of a gap through time; None where it is not known."""
        found = [g for g in self.gaps if g.key == key]
        return extremes(self.times, found[0].values) if found and self.times is not None else None


def plan_joints(
    model: HotModel, met: Neighbours, history: HotTimes | None, history_model: HotModel | None = None
) -> Joints:
    """Gap courses, figures and findings.

    Parameters
    ----------
    history : temperatures through time, if there are any; else a lumped start is reckoned and said to be one.
    history_model : the shell with the history's own places.
    """
    job = model.job
    steady = courses(model, steady_times(job), met)
    bands = gap_bands(model, steady_times(job), met)
    figures = [_steady_figure(model, gap, bands[gap.key]) for gap in steady]
    findings: list[Finding] = []
    start: Start | None = None
    drawn: tuple[HotTimes, ...] = ()
    times = history
    if history is None:
        findings.append(_ask_history(model))
        try:
            start = start_of(job)
        except InputError as problem:
            findings.append(
                Finding(
                    "caution",
                    f"{job.liner.id}: no lumped start is reckoned: {str(problem).partition(' Do: ')[0]}",
                    problem.remedy,
                    job.identity("joints/start"),
                    "no-start",
                )
            )
        if start is not None:
            times, drawn = started(job, start, SAMPLES)
            findings += _asked_of_start(model, start)
    gaps: tuple[GapCourse, ...] = ()
    if times is not None:
        used = history_model if history_model is not None else model
        if history is not None:
            times = refined(used, times, met)
        gaps = courses(used, times, met)
        figures += lap_figures(used, times)
        sampled = [courses(used, one, met) for one in drawn]
        for number, gap in enumerate(gaps):
            spread = [(float(s[number].values.min()), float(s[number].values.max())) for s in sampled]
            figures += _time_figures(model, gap, times, spread, lambda row: gap_bands(used, times, met, row))
            findings += _time_findings(model, gap, times, spread, steady)
    findings += _steady_findings(model, steady, times, start)
    said = times.said if times is not None else "steady only"
    return Joints(tuple(figures), tuple(findings), steady, None if times is None else times.times, gaps, start, said)


def _steady_figure(model: HotModel, gap: GapCourse, band: Band) -> Figure:
    job = model.job
    value = float(gap.values[0])
    ground = job.source("metal temperatures")
    return reckoned(
        job.identity(f"joints/{gap.key}/steady"),
        f"{gap.name}, steady",
        value,
        "mm",
        "g_cold + change",
        Input("g_cold", "cold", gap.cold, "mm", ground),
        Input("change", "what heat changes", value - gap.cold, "mm", ground),
        digits=3,
        band=band,
        note="by the shell",
    )


def _time_figures(
    model: HotModel,
    gap: GapCourse,
    times: HotTimes,
    spread: list[tuple[float, float]],
    measured: Callable[[int], dict[str, Band]],
) -> list[Figure]:
    job, told = model.job, extremes(times.times, gap.values)
    ground = ASSUMED if spread else Source("measured", times.said)
    figures = []
    for word, name, value, at in (
        ("least", "least", told.least, told.least_at),
        ("greatest", "greatest", told.greatest, told.greatest_at),
    ):
        band = None
        if not spread:
            band = measured(int(np.argmin(np.abs(times.times - at))))[gap.key]
        if spread:
            values = [low if word == "least" else high for low, high in spread]
            low, high = (float(v) for v in np.quantile(values, [0.05, 0.95]))
            share = 100.0 * float(np.mean([low < 0.0 for low, _ in spread])) if gap.closes else None
            band = Band(
                low,
                high,
                f"{len(spread)} starts, films within a factor of 2, thick walls within the root of 2",
                None if share is None else 100.0 - share,
            )
        figures.append(
            reckoned(
                job.identity(f"joints/{gap.key}/{word}"),
                f"{gap.name}, {name} of the cycle",
                value,
                "mm",
                "g ( t )",
                Input("t", "at", at, "s", ground),
                Input("g", gap.name, value, "mm", ground),
                digits=3,
                band=band,
                note=times.said,
            )
        )
    return figures


def _time_findings(
    model: HotModel, gap: GapCourse, times: HotTimes, spread: list[tuple[float, float]], steady: tuple[GapCourse, ...]
) -> list[Finding]:
    job, told = model.job, extremes(times.times, gap.values)
    if not gap.closes or told.least >= KEPT_OPEN_MM:
        return []
    about = job.identity(f"joints/{gap.key}/least")
    source = ASSUMED if spread else Source("measured", times.said)
    remedy = "open the cold gap"
    why = (
        f"{times.said}; steady it stands open by {next(float(g.values[0]) for g in steady if g.key == gap.key):.3f} mm"
    )
    if spread:
        share = 100.0 * float(np.mean([low < 0.0 for low, _ in spread]))
        needed = gap.cold + KEPT_OPEN_MM - float(np.quantile([low for low, _ in spread], 0.05))
        remedy = (
            f"ask for the temperature of the slow part through a start; a cold gap of {needed:.2f} mm stays "
            "open in 95 % of these starts"
        )
        why += f"; closed in {share:.0f} % of {len(spread)} starts with other coefficients"
    check = Check(
        f"{gap.name} stays open through the cycle",
        told.least,
        KEPT_OPEN_MM,
        ">=",
        "mm",
        source,
        "caution" if spread else "stop",
        remedy,
        about,
    )
    if told.first_closed is not None:
        sentence = (
            f"{gap.name[0].upper()}{gap.name[1:]} closes {told.first_closed:.0f} s after light-off and would be "
            f"{-told.least:.3f} mm too "
            f"small at {told.least_at:.0f} s."
        )
    else:
        sentence = f"{gap.name[0].upper()}{gap.name[1:]} falls to {told.least:.3f} mm at {told.least_at:.0f} s; "
        f"it must stay above {KEPT_OPEN_MM:g} mm."
    return [Finding(check.level, sentence, remedy, about, f"{gap.key}-closes", why, check, source)]


def _steady_findings(
    model: HotModel, steady: tuple[GapCourse, ...], times: HotTimes | None, start: Start | None
) -> list[Finding]:
    job, found = model.job, []
    for gap in steady:
        value = float(gap.values[0])
        if not gap.closes:
            continue
        about = job.identity(f"joints/{gap.key}/steady")
        if value < KEPT_OPEN_MM:
            check = Check(
                f"{gap.name} stays open in steady service",
                value,
                KEPT_OPEN_MM,
                ">=",
                "mm",
                job.source(gap.name),
                "stop",
                f"open the cold gap by {KEPT_OPEN_MM - value:.2f} mm or more",
                about,
            )
            found.append(
                Finding(
                    "stop",
                    f"{gap.name[0].upper()}{gap.name[1:]} is {value:.3f} mm in steady service; it must stay "
                    f"above {KEPT_OPEN_MM:g} mm.",
                    check.remedy,
                    about,
                    f"{gap.key}-steady",
                    "",
                    check,
                )
            )
        elif (times is None or start is not None) and _slow_faces_quick(model, start):
            found.append(
                Finding(
                    "caution",
                    f"{gap.name[0].upper()}{gap.name[1:]} is {value:.3f} mm open in steady service; this is no "
                    "verdict: "
                    "thin sheet faces a thicker, slower part.",
                    "ask for the slow part's temperature through start, load change and stop",
                    about,
                    f"{gap.key}-no-verdict",
                    "the sheet follows the gas in seconds, the ring in a minute or more",
                )
            )
    return found


def _slow_faces_quick(model: HotModel, start: Start | None) -> bool:
    """Whether thin sheet faces a much slower wall; taken as so where nothing is known of the walls."""
    aft = model.job.aft_outer
    if start is None or aft is None or "groove" not in start.names:
        return True
    taus = {name: wall.time_constant for name, wall in zip(start.names, start.walls, strict=True)}
    return taus["groove"] > THICK_RATIO * taus[model.job.parts[aft].id]


def _ask_history(model: HotModel) -> Finding:
    liner = model.job.liner
    return Finding(
        "caution",
        f"{liner.id}: no temperatures through start, load change and stop are given.",
        "ask for metal temperatures through the cycle (CSV) and name the file in thermal.history_file or with "
        "--history",
        model.job.identity("joints/history"),
        "ask-history",
        "slip joints are there for transients; steady growth of both shells is nearly alike",
    )


def _asked_of_start(model: HotModel, start: Start) -> list[Finding]:
    lacking = [a for a in start.assumptions if not a.given]
    if not lacking:
        return []
    said = ", ".join(f"{a.name} {a.value:g} {a.unit}" for a in lacking)
    return [
        Finding(
            "note",
            f"A lumped start stands in for the history; assumed: {said}.",
            "enter what the shop knows in thermal.start_up, "
            "turbine_nozzle.outer_groove_thickness_mm and nozzle.casing_thickness_mm",
            model.job.identity("joints/start"),
            "start-assumed",
            "it shows the order of gaps, not their size",
            source=ASSUMED,
        )
    ]
