"""Figures of the spring plate: stiffness, loads, stress, free height, load test."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.design.shapes import SpringPlate
from hoopwright.findings import Band, Figure, Finding, Input, Source, weakest
from hoopwright.kernels.spring_relaxation import load_after
from hoopwright.kernels.stack_variation import StackResult
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.spring_form import (
    ASSUMED,
    SpringForm,
    bar_of,
    plate_of,
    yield_of,
)
from hoopwright.process.working import reckoned, stated

Vector = NDArray[np.float64]


def stiffness_figure(
    job: HotJob, spring: SpringPlate, form: SpringForm, figures: list[Figure], young: Figure, nu: Figure
) -> Figure:
    n = len(form.fingers_deg)
    plate, bar = plate_of(form, young.value, nu.value), bar_of(form, young.value, nu.value)
    given = job.source("spring plate")
    legs = given if spring.leg_width_mm is not None else ASSUMED
    ground = (
        Input("w_leg", "width of a leg", form.leg_width_mm, "mm", legs),
        Input(
            "h_leg",
            "height of a leg",
            form.leg_height_mm,
            "mm",
            given if spring.leg_height_mm is not None else Source("derived", "rim plane and plate of the drawing"),
        ),
    )
    figures.append(
        reckoned(
            f"{spring.id}/spring/stiffness-bar",
            "stiffness, finger and rim as curved bar",
            n * bar.whole,
            "N_per_mm",
            "n / ( 1 / k_f + 1 / k_r )",
            Input("n", "fingers", float(n), "", given),
            Input("k_f", "clamped finger", bar.finger, "N_per_mm", young.source),
            Input("k_r", "rim between the legs", bar.rim, "N_per_mm", young.source),
            *ground[:1],
            digits=2,
            note="first look, legs clamped" + ("" if bar.in_range else "; outside the range it was tested in"),
        )
    )
    # our runs: plate 2 % stiffer than a 3-D model, modulus as dear as a test of it
    band = Band(
        0.94 * n * plate.stiffness, 1.02 * n * plate.stiffness, "plate against 3-D model, -4 to 0 %, and modulus 2 %"
    )
    figures.append(
        reckoned(
            f"{spring.id}/spring/stiffness",
            "stiffness of the spring plate",
            n * plate.stiffness,
            "N_per_mm",
            "n k_1",
            Input("n", "fingers", float(n), "", given),
            Input("k_1", "one finger, all pressed alike", plate.stiffness, "N_per_mm", young.source),
            *ground,
            young.as_input("E"),
            nu.as_input("nu"),
            digits=2,
            band=band,
            note="plate model of fingers, rim and standing legs",
        )
    )
    return figures[-1]


def load_figures(
    job: HotJob,
    spring: SpringPlate,
    figures: list[Figure],
    stiff: Figure,
    ratio: float,
    loss: float,
    said: str,
    load: StackResult,
    drawn: Vector,
    cold: Vector,
) -> None:
    given = job.source("spring plate")
    d = Input("d", "deflection at assembly", spring.preload_deflection_mm, "mm", given)
    s = Input(
        "s", "share lost by relaxation", loss, "", given if not spring.relaxation_tests else Source("measured", said)
    )
    figures.append(
        stated(f"{spring.id}/spring/loss", "load lost by relaxation", 100.0 * loss, "pct", s.source, 1, said)
    )
    figures.append(
        reckoned(
            f"{spring.id}/spring/load-cold",
            "cold load on a washer",
            stiff.value * spring.preload_deflection_mm,
            "N",
            "k d",
            stiff.as_input("k"),
            d,
            digits=1,
            band=_sampled_band(cold),
        )
    )
    low, high = (float(v) for v in np.quantile(drawn, [0.05, 0.95]))
    hot = load_after(stiff.value * ratio, spring.preload_deflection_mm, loss, spring.preload_deflection_mm)
    share = 100.0 * float(np.mean(drawn >= spring.load_min_hot_N))
    figures.append(
        reckoned(
            f"{spring.id}/spring/load-hot",
            "hot load on a washer, relaxed",
            hot,
            "N",
            "k q ( d - s d )",
            stiff.as_input("k"),
            Input("q", "modulus hot over cold", ratio, "", stiff.source),
            d,
            s,
            digits=1,
            band=Band(low, high, "20000 samples, tolerances as 3 sd", share),
            note=said,
        )
    )
    ranked = "; ".join(f"{one.name} {100.0 * one.worst_share:.0f} %" for one in load.shares)
    figures.append(
        reckoned(
            f"{spring.id}/spring/load-hot-worst",
            "hot load on a washer at the worst corner",
            load.low,
            "N",
            "k q ( d - s d )",
            stiff.as_input("k"),
            Input("q", "modulus hot over cold", ratio, "", stiff.source),
            replace(d, value=load.low_corner[0]),
            s,
            Input("t", "thickness", load.low_corner[1], "mm", given),
            digits=2,
            note=f"contributors: {ranked}; linear worst {load.linear_low:.2f}, root-sum-square {load.rss_low:.2f} N",
        )
    )


def stress_figures(
    job: HotJob,
    spring: SpringPlate,
    figures: list[Figure],
    strained: StackResult,
    per_force: float,
    stiff: Figure,
    drawn: Vector,
) -> None:
    ground = weakest([stiff.source])
    base = (
        Input("k_1", "stiffness of one finger", stiff.value / spring.fingers, "N_per_mm", stiff.source),
        Input("g", "stress per N on a finger", per_force, "MPa_per_N", ground),
    )
    for word, said, value, corner in (
        ("stress", "greatest stress of the spring plate", strained.nominal, spring.preload_deflection_mm),
        (
            "stress-worst",
            "greatest stress at the worst corner",
            strained.high,
            spring.preload_deflection_mm + spring.preload_deflection_tolerance_mm,
        ),
    ):
        figures.append(
            reckoned(
                f"{spring.id}/spring/{word}",
                said,
                value,
                "MPa",
                "k_1 g d",
                *base,
                Input("d", "deflection", corner, "mm", job.source("spring plate")),
                digits=0,
                band=_sampled_band(drawn) if word == "stress" else None,
                note="plate, elastic, further than two thicknesses from sharp corners; there it hangs on their radii",
            )
        )


def _sampled_band(drawn: Vector) -> Band:
    low, high = (float(v) for v in np.quantile(drawn, [0.05, 0.95]))
    return Band(low, high, f"{drawn.size} samples, tolerances as 3 sd")


def height_figures(job: HotJob, spring: SpringPlate) -> list[Figure]:
    """Free height of what presses the washer: working height and deflection, before and after ageing."""
    plate, washer = job.liner.end_plate, job.liner.washer
    if plate is None or plate.port is None or washer is None:
        return []
    given = job.source("drawing planes")
    work = -spring.rim_plane_z_mm - plate.port.pad_height_mm - 0.5 * plate.thickness_mm - washer.thickness_mm
    shift = spring.ageing_shift_mm if spring.ageing_shift_mm is not None else 0.0
    base = (
        Input("h", "height in place, rim plane to washer", work, "mm", given),
        Input("d", "deflection", spring.preload_deflection_mm, "mm", given),
    )
    after = reckoned(
        f"{spring.id}/spring/free-height-aged",
        "free height after ageing",
        work + spring.preload_deflection_mm,
        "mm",
        "h + d",
        *base,
        digits=2,
        band=Band(
            work + spring.preload_deflection_mm - spring.preload_deflection_tolerance_mm,
            work + spring.preload_deflection_mm + spring.preload_deflection_tolerance_mm,
            "both ends of the tolerance of the deflection",
        ),
    )
    note = (
        ""
        if spring.ageing_shift_mm is not None
        else "ageing shift not measured yet: taken as nil, measure it on the first plates"
    )
    return [
        after,
        reckoned(
            f"{spring.id}/spring/free-height-formed",
            "free height as formed, before ageing",
            after.value - shift,
            "mm",
            "h_aged - shift",
            after.as_input("h_aged"),
            Input("shift", "change in ageing", shift, "mm", given),
            digits=2,
            note=note,
        ),
    ]


def load_test_limits(
    job: HotJob,
    spring: SpringPlate,
    figures: list[Figure],
    findings: list[Finding],
    stiff: Figure,
    ratio: float,
    loss: float,
    per_force: float,
    n: int,
    card: Alloy,
) -> None:
    """Cold load at the working height that a plate must show: enough when hot and relaxed, not too much stress."""
    given = job.source("spring plate")
    low = spring.load_min_hot_N / (ratio * (1.0 - loss))
    limit = yield_of(card)
    hot_worst = stiff.value * ratio
    margin = spring.preload_deflection_mm * (1.0 - loss) - spring.load_min_hot_N / hot_worst
    figures.append(
        reckoned(
            f"{spring.id}/spring/wear-margin",
            "wear of pad, washer and tips until the hot load is at its least",
            margin,
            "mm",
            "d ( 1 - s ) - F / k_hot",
            Input("d", "deflection", spring.preload_deflection_mm, "mm", given),
            Input("s", "relaxation", loss, "", given),
            Input("F", "least hot load", spring.load_min_hot_N, "N", given),
            Input("k_hot", "stiffness hot", hot_worst, "N_per_mm", stiff.source),
            note="below nil: the load is short already" if margin < 0.0 else "",
        )
    )
    figures.append(
        reckoned(
            f"{spring.id}/spring/test-low",
            "load test at working height, cold, least",
            low,
            "N",
            "F / ( q ( 1 - s ) )",
            Input("F", "least hot load", spring.load_min_hot_N, "N", given),
            Input("q", "modulus hot over cold", ratio, "", stiff.source),
            Input("s", "relaxation", loss, "", given),
            digits=1,
        )
    )
    allowed = spring.wear_allowance_mm
    if allowed is not None and margin < allowed:
        findings.append(
            Finding(
                "stop",
                f"{spring.id}: {max(margin, 0.0):.2f} mm of wear is left until the hot load is at its least; "
                f"{allowed:g} mm is asked for.",
                "more deflection or a stiffer plate; see the alternatives",
                f"{spring.id}/spring/wear-margin",
                "wear-short",
            )
        )
    if limit is None:
        return
    high = n * job.limits.spring_stress_share_max.value * limit.value / per_force
    figures.append(
        reckoned(
            f"{spring.id}/spring/test-high",
            "load test at working height, cold, greatest",
            high,
            "N",
            "n b Y / g",
            Input("n", "fingers", float(n), "", given),
            Input(
                "b",
                "share of yield allowed",
                job.limits.spring_stress_share_max.value,
                "",
                job.limits.spring_stress_share_max.source,
            ),
            limit.as_input("Y"),
            Input("g", "stress per N on a finger", per_force, "MPa_per_N", stiff.source),
            digits=1,
        )
    )
    if low > high:
        findings.append(
            Finding(
                "stop",
                f"{spring.id}: no plate can pass the load test: {low:.1f} N is needed, {high:.1f} N is the most "
                "its stress allows.",
                "change the form; see the alternatives",
                f"{spring.id}/spring/test-low",
                "no-test-window",
            )
        )
