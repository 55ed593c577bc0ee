"""The spring plate: stiffness by bare beam, curved bar and plate; loads cold, hot and at the worst corner; stress; free
height; load test. The plate leads, the others stand beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.design.shapes import SpringPlate
from hoopwright.errors import CardError
from hoopwright.findings import Band, Check, Figure, Finding, Input, Source, judged, weakest
from hoopwright.kernels.spring_plate import PlateSpring, rim_spring
from hoopwright.kernels.spring_plate_mesh import RimShape
from hoopwright.kernels.spring_relaxation import Relaxation, RelaxationTest, load_after, relaxation
from hoopwright.kernels.spring_rim import RimSpring, finger_on_rim
from hoopwright.kernels.stack_variation import StackResult, Varies, sampled, stack
from hoopwright.plan.hot import by_hand
from hoopwright.plan.hot.job import HotJob
from hoopwright.process.working import reckoned, stated

Vector = NDArray[np.float64]

LEG_IN_FINGERS = 1.2
"""Width of a leg in finger widths where the file gives none: assumed, no source, and asked for."""
SERVICE_H = 1000.0
ASSUMED = Source("practice", "assumed, no source; asked for")


@dataclass(frozen=True, slots=True)
class SpringForm:
    """What decides a spring plate, in mm: thickness, width and length of fingers, legs. load_share : stiffness of the plate
    over that at the form's own thickness grows with its cube."""

    thickness_mm: float
    finger_width_mm: float
    finger_length_mm: float
    rim_inner_mm: float
    rim_outer_mm: float
    fingers_deg: tuple[float, ...]
    legs_deg: tuple[float, ...]
    leg_width_mm: float
    leg_height_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Springs:
    """Figures, findings and the stacks of the spring plate. form : what was reckoned; None without a spring plate."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    form: SpringForm | None = None
    load: StackResult | None = None
    stress: StackResult | None = None
    curve: tuple[tuple[float, float, float], ...] = ()


def spring_form(job: HotJob, spring: SpringPlate) -> SpringForm:
    """The form of the liner's spring plate; legs by the drawing, else assumed."""
    return SpringForm(
        spring.thickness_mm, spring.finger_width_mm, spring.finger_length_mm, spring.rim_rho_from_mm, spring.rim_rho_to_mm,
        spring.finger_theta_local_deg, spring.legs_theta_local_deg,
        spring.leg_width_mm if spring.leg_width_mm is not None else LEG_IN_FINGERS * spring.finger_width_mm,
        spring.leg_height_mm if spring.leg_height_mm is not None else standing_height(job, spring),
    )  # fmt: skip


def standing_height(job: HotJob, spring: SpringPlate) -> float:
    """Height of a leg from the plate's forward face to the underside of the rim, from the drawing's planes. [mm]"""
    plate = job.liner.end_plate
    sheet = 0.0 if plate is None else plate.thickness_mm
    return max(0.0, -spring.rim_plane_z_mm - 0.5 * sheet - 0.5 * spring.thickness_mm)


def plate_of(form: SpringForm, young: float, poisson: float, per_half_width: int = 8) -> PlateSpring:
    """Plate model of a form."""
    shape = RimShape(
        form.rim_inner_mm, form.rim_outer_mm, form.finger_width_mm, form.finger_length_mm,
        tuple(math.radians(a) for a in form.fingers_deg), tuple(math.radians(a) for a in form.legs_deg), form.leg_width_mm,
    )  # fmt: skip
    return rim_spring(shape, young, poisson, form.thickness_mm, form.leg_height_mm, per_half_width)


def bar_of(form: SpringForm, young: float, poisson: float) -> RimSpring:
    """Curved-bar closed form of a form: legs between the fingers."""
    gap = min(abs((leg - finger + 180.0) % 360.0 - 180.0) for leg in form.legs_deg for finger in form.fingers_deg)
    arc = max(0.02, math.radians(gap) - math.asin(min(1.0, 0.5 * form.leg_width_mm / form.rim_outer_mm)))
    return finger_on_rim(
        young,
        poisson,
        form.thickness_mm,
        form.finger_width_mm,
        form.finger_length_mm,
        form.rim_inner_mm,
        form.rim_outer_mm,
        arc,
    )


def force_stress(form: SpringForm, young: float, poisson: float) -> float:
    """Greatest stress per N on one finger: finger root 6 L/(w t^2), or the rim's bending and twist. [MPa/N]"""
    root = 6.0 * form.finger_length_mm / (form.finger_width_mm * form.thickness_mm**2)
    return max(root, bar_of(form, young, poisson).stress)


def loss_of(spring: SpringPlate) -> tuple[Relaxation | None, float, float, str]:
    """Relaxation used: model from tests, share lost, its standard deviation, and words."""
    hours = spring.service_hours if spring.service_hours is not None else SERVICE_H
    near = [t for t in spring.relaxation_tests if abs(t.metal_degC - spring.metal_degC) <= 15.0]
    if near:
        model = relaxation([RelaxationTest(t.hours, t.loss_share) for t in near])
        return model, model.loss(hours), model.spread(hours), f"{len(near)} relaxation readings, carried to {hours:g} h"
    prior = relaxation([])
    return None, spring.relaxation_share, prior.spread(hours), "relaxation_share of the liner file, no test"


def plan_springs(job: HotJob) -> Springs:
    """Everything about the spring plate."""
    spring = job.liner.spring_plate
    if spring is None:
        return Springs((), ())
    card = job.metal(spring.material)
    form = spring_form(job, spring)
    figures: list[Figure] = []
    findings = list(_asked(job, spring))
    cold_E, hot_E, nu = card.young_modulus_MPa(), card.young_modulus_MPa(spring.metal_degC), card.poisson()
    _by_hand(job, spring, figures, cold_E, hot_E)
    stiff = _stiffness(job, spring, form, figures, cold_E, nu)
    model, loss, spread, said = loss_of(spring)
    ratio = hot_E.value / cold_E.value
    n = len(form.fingers_deg)
    per_force = force_stress(form, cold_E.value, nu.value)
    varies = _varies(spring, loss, spread, model is not None)

    def hot_load(x: Vector) -> Vector:
        return np.asarray(stiff.value * ratio * (x[:, 1] / spring.thickness_mm) ** 3 * (1.0 - x[:, 2]) * x[:, 0])

    def stress(x: Vector) -> Vector:
        return np.asarray(stiff.value / n * per_force * (x[:, 1] / spring.thickness_mm) * x[:, 0])

    load, strained = stack(hot_load, varies), stack(stress, varies)
    drawn = sampled(hot_load, varies, 20_000, 3)
    _load_figures(job, spring, figures, stiff, ratio, loss, said, load, drawn)
    _stress_figures(job, spring, figures, strained, per_force, stiff, card)
    findings += _load_findings(spring, figures, load, drawn)
    findings += _stress_findings(job, spring, figures, strained, card)
    _height(job, spring, figures)
    _test_limits(job, spring, figures, findings, stiff, ratio, loss, per_force, n, card)
    if model is not None and (model.curved or loss > 0.2):
        findings.append(Finding("caution", f"{spring.id}: the relaxation readings bend in log time or pass 20 %: that is creep, the carried value is no "
                                "forecast.", "test to the service time, or lower temperature or stress", f"{spring.id}/spring/loss", "creep"))  # fmt: skip
    curve = tuple((d, stiff.value * d, stiff.value * ratio * max(0.0, d - loss * spring.preload_deflection_mm))
                  for d in np.linspace(0.0, 1.4 * spring.preload_deflection_mm, 15).tolist())  # fmt: skip
    return Springs(tuple(figures), tuple(findings), form, load, strained, curve)


def _varies(spring: SpringPlate, loss: float, spread: float, tested: bool) -> list[Varies]:
    wide = min(loss, 2.0 * spread) if tested else 0.0
    d, t = spring.preload_deflection_tolerance_mm, spring.thickness_tolerance_mm
    return [
        Varies("deflection", spring.preload_deflection_mm, d, d),
        Varies("thickness", spring.thickness_mm, t, t),
        Varies("relaxation", loss, wide, wide, ""),
    ]


def _asked(job: HotJob, spring: SpringPlate) -> list[Finding]:
    found = []
    lacking = [
        name
        for name, value in (("leg_width_mm", spring.leg_width_mm), ("leg_height_mm", spring.leg_height_mm))
        if value is None
    ]
    if lacking:
        found.append(Finding(
            "caution", f"{spring.id}: {' and '.join(lacking)} not given; legs {LEG_IN_FINGERS * spring.finger_width_mm:g} mm wide are assumed, their height "
            f"{standing_height(job, spring):.2f} mm follows from the drawing's planes.", "enter them in [spring_plate]; four clamped beams would be five times stiffer",
            f"{spring.id}/spring/stiffness", "ask-legs", "the rim between the legs gives way more than the fingers",
        ))  # fmt: skip
    if not spring.relaxation_tests:
        found.append(Finding(
            "caution", f"{spring.id}: no relaxation test is given; the liner file's {100.0 * spring.relaxation_share:g} % stands in.",
            "hold springs at temperature and enter spring_plate.relaxation_test readings; never take it from creep tables", f"{spring.id}/spring/loss", "ask-relaxation",
            "springs of nickel alloys have lost load one to three orders faster than bar creep predicts",
        ))  # fmt: skip
    return found


def _by_hand(job: HotJob, spring: SpringPlate, figures: list[Figure], cold: Figure, hot: Figure) -> None:
    stiff, load, stress = by_hand.spring(spring.fingers, cold.value, spring.finger_width_mm, spring.thickness_mm,
                                         spring.finger_length_mm, spring.preload_deflection_mm)  # fmt: skip
    given = job.source("spring plate")
    base = (Input("w", "finger width", spring.finger_width_mm, "mm", given), Input("t", "thickness", spring.thickness_mm, "mm", given),
            Input("L", "finger length", spring.finger_length_mm, "mm", given), Input("n", "fingers", float(spring.fingers), "", given))  # fmt: skip
    note = "hand formula: four clamped beams; the rim and legs are not in it"
    figures.append(
        reckoned(
            f"{spring.id}/by-hand/stiffness",
            "stiffness of bare beams",
            stiff,
            "N_per_mm",
            "n E w t^3 / ( 4 L^3 )",
            *base,
            cold.as_input("E"),
            digits=2,
            note=note,
        )
    )
    figures.append(reckoned(f"{spring.id}/by-hand/load-cold", "cold load of bare beams", load, "N", "k d", figures[-1].as_input("k"),
                            Input("d", "deflection", spring.preload_deflection_mm, "mm", given), digits=1, note=note))  # fmt: skip
    figures.append(reckoned(f"{spring.id}/by-hand/load-hot", "hot load of bare beams", load * hot.value / cold.value * (1.0 - spring.relaxation_share), "N",
                            "F E_hot / E ( 1 - s )", figures[-1].as_input("F"), hot.as_input("E_hot"), cold.as_input("E"),
                            Input("s", "relaxation", spring.relaxation_share, "", given), digits=1, note=note))  # fmt: skip
    figures.append(reckoned(f"{spring.id}/by-hand/stress", "root stress of bare beams", stress, "MPa", "3 E d t / ( 2 L^2 )", cold.as_input("E"), *base[1:3],
                            Input("d", "deflection", spring.preload_deflection_mm, "mm", given), digits=0, note=note))  # fmt: skip


def _stiffness(
    job: HotJob, spring: SpringPlate, form: SpringForm, figures: list[Figure], young: Figure, nu: Figure
) -> Figure:
    n = len(form.fingers_deg)
    plate, bar = plate_of(form, young.value, nu.value), bar_of(form, young.value, nu.value)
    given = job.source("spring plate")
    legs = given if spring.leg_width_mm is not None else ASSUMED
    ground = (Input("w_leg", "width of a leg", form.leg_width_mm, "mm", legs), Input("h_leg", "height of a leg", form.leg_height_mm, "mm",
              given if spring.leg_height_mm is not None else Source("derived", "rim plane and plate of the drawing")))  # fmt: skip
    figures.append(reckoned(
        f"{spring.id}/spring/stiffness-bar", "stiffness, finger and rim as curved bar", n * bar.whole, "N_per_mm", "n / ( 1 / k_f + 1 / k_r )",
        Input("n", "fingers", float(n), "", given), Input("k_f", "clamped finger", bar.finger, "N_per_mm", young.source),
        Input("k_r", "rim between the legs", bar.rim, "N_per_mm", young.source), *ground[:1], digits=2,
        note="first look, legs clamped" + ("" if bar.in_range else "; outside the range it was tested in"),
    ))  # fmt: skip
    # our runs: plate 2 % stiffer than a 3-D model, modulus as dear as a test of it
    band = Band(
        0.94 * n * plate.stiffness, 1.02 * n * plate.stiffness, "plate against 3-D model, -4 to 0 %, and modulus 2 %"
    )
    figures.append(reckoned(
        f"{spring.id}/spring/stiffness", "stiffness of the spring plate", n * plate.stiffness, "N_per_mm", "n k_1",
        Input("n", "fingers", float(n), "", given), Input("k_1", "one finger, all pressed alike", plate.stiffness, "N_per_mm", young.source),
        *ground, young.as_input("E"), nu.as_input("nu"), digits=2, band=band, note="plate model of fingers, rim and standing legs",
    ))  # fmt: skip
    return figures[-1]


def _load_figures(
    job: HotJob,
    spring: SpringPlate,
    figures: list[Figure],
    stiff: Figure,
    ratio: float,
    loss: float,
    said: str,
    load: StackResult,
    drawn: Vector,
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
        )
    )
    low, high = (float(v) for v in np.quantile(drawn, [0.05, 0.95]))
    hot = load_after(stiff.value * ratio, spring.preload_deflection_mm, loss, spring.preload_deflection_mm)
    share = 100.0 * float(np.mean(drawn >= spring.load_min_hot_N))
    figures.append(reckoned(
        f"{spring.id}/spring/load-hot", "hot load on a washer, relaxed", hot, "N", "k q ( d - s d )", stiff.as_input("k"),
        Input("q", "modulus hot over cold", ratio, "", stiff.source), d, s, digits=1,
        band=Band(low, high, "20000 samples, tolerances as 3 sd", share), note=said,
    ))  # fmt: skip
    ranked = "; ".join(f"{one.name} {100.0 * one.worst_share:.0f} %" for one in load.shares)
    figures.append(reckoned(
        f"{spring.id}/spring/load-hot-worst", "hot load on a washer at the worst corner", load.low, "N", "k q ( d - s d )", stiff.as_input("k"),
        Input("q", "modulus hot over cold", ratio, "", stiff.source), replace(d, value=load.low_corner[0]), s,
        Input("t", "thickness", load.low_corner[1], "mm", given), digits=2,
        note=f"contributors: {ranked}; linear worst {load.linear_low:.2f}, root-sum-square {load.rss_low:.2f} N",
    ))  # fmt: skip


def _yield(card: Alloy) -> Figure | None:
    try:
        return card.figure("yield_strength_aged_MPa")
    except CardError:
        try:
            return card.yield_MPa()
        except CardError:
            return None


def _stress_figures(
    job: HotJob,
    spring: SpringPlate,
    figures: list[Figure],
    strained: StackResult,
    per_force: float,
    stiff: Figure,
    card: Alloy,
) -> None:
    ground = weakest([stiff.source])
    base = (Input("k_1", "stiffness of one finger", stiff.value / spring.fingers, "N_per_mm", stiff.source),
            Input("g", "stress per N on a finger", per_force, "MPa_per_N", ground))  # fmt: skip
    for word, said, value, corner in (("stress", "greatest stress of the spring plate", strained.nominal, spring.preload_deflection_mm),
                                      ("stress-worst", "greatest stress at the worst corner", strained.high, spring.preload_deflection_mm + spring.preload_deflection_tolerance_mm)):  # fmt: skip
        figures.append(reckoned(f"{spring.id}/spring/{word}", said, value, "MPa", "k_1 g d", *base, Input("d", "deflection", corner, "mm", job.source("spring plate")), digits=0,
                                note="finger root or rim, elastic; corners of the legs are higher locally"))  # fmt: skip


def _load_findings(spring: SpringPlate, figures: list[Figure], load: StackResult, drawn: Vector) -> list[Finding]:
    found = []
    hot = next(f for f in figures if f.identity.endswith("spring/load-hot"))
    worst = next(f for f in figures if f.identity.endswith("load-hot-worst"))
    for figure, value, said in ((hot, hot.value, "nominal"), (worst, load.low, "at the worst corner")):
        check = Check(f"{spring.id}: hot load, {said}", value, spring.load_min_hot_N, ">=", "N", figure.source, "stop",
                      "see the alternatives on the spring load sheet, worst case first", figure.identity)  # fmt: skip
        share = 100.0 * float(np.mean(drawn < spring.load_min_hot_N))
        one = judged(check, f"{spring.id}: the hot load is {value:.1f} N {said}; {spring.load_min_hot_N:g} N is asked for.", "spring-load",
                     f"{share:.1f} % of samples lie under it")  # fmt: skip
        if one is not None:
            found.append(one)
    return found


def _stress_findings(
    job: HotJob, spring: SpringPlate, figures: list[Figure], strained: StackResult, card: Alloy
) -> list[Finding]:
    limit = _yield(card)
    about = f"{spring.id}/spring/stress-worst"
    if limit is None:
        return [
            Finding(
                "caution",
                f"{spring.id}: card {card.id} has no yield; the stress is not judged.",
                "enter a measured yield of the aged strip",
                about,
                "spring-yield-unknown",
            )
        ]
    share = job.limits.spring_stress_share_max
    hot = Finding("note", f"{spring.id}: yield at {spring.metal_degC:g} degC is not on card {card.id}; the room temperature value of {limit.value:g} MPa stands in.",
                  "test aged strip at temperature and enter it on a card of your own", about, "ask-hot-yield", source=limit.source)  # fmt: skip
    check = Check(f"{spring.id}: stress at the worst corner", strained.high, share.value * limit.value, "<=", "MPa", weakest([limit.source, share.source]),
                  "caution", "thinner or longer fingers, or less deflection", about)  # fmt: skip
    one = judged(check, f"{spring.id}: {strained.high:.0f} MPa at the worst corner, {100.0 * strained.high / limit.value:.0f} % of the yield of {limit.value:g} MPa; "
                 f"{100.0 * share.value:g} % is the house limit.", "spring-stress")  # fmt: skip
    return [hot] + ([one] if one else [])


def _height(job: HotJob, spring: SpringPlate, figures: list[Figure]) -> None:
    """Free height of the tips under the rim's middle plane: working height and deflection, before and after ageing."""
    plate, washer = job.liner.end_plate, job.liner.washer
    if plate is None or plate.port is None or washer is None:
        return
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
    )
    note = (
        ""
        if spring.ageing_shift_mm is not None
        else "ageing shift not measured yet: taken as nil, measure it on the first plates"
    )
    figures += [after, reckoned(f"{spring.id}/spring/free-height-formed", "free height as formed, before ageing", after.value - shift, "mm", "h_aged - shift",
                                after.as_input("h_aged"), Input("shift", "change in ageing", shift, "mm", given), digits=2, note=note)]  # fmt: skip


def _test_limits(
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
    limit = _yield(card)
    hot_worst = stiff.value * ratio
    margin = spring.preload_deflection_mm * (1.0 - loss) - spring.load_min_hot_N / hot_worst
    figures.append(reckoned(
        f"{spring.id}/spring/wear-margin", "wear of pad, washer and tips until the hot load is at its least", margin, "mm", "d ( 1 - s ) - F / k_hot",
        Input("d", "deflection", spring.preload_deflection_mm, "mm", given), Input("s", "relaxation", loss, "", given),
        Input("F", "least hot load", spring.load_min_hot_N, "N", given), Input("k_hot", "stiffness hot", hot_worst, "N_per_mm", stiff.source),
        note="below nil: the load is short already" if margin < 0.0 else "",
    ))  # fmt: skip
    figures.append(reckoned(f"{spring.id}/spring/test-low", "load test at working height, cold, least", low, "N", "F / ( q ( 1 - s ) )",
                            Input("F", "least hot load", spring.load_min_hot_N, "N", given), Input("q", "modulus hot over cold", ratio, "", stiff.source),
                            Input("s", "relaxation", loss, "", given), digits=1))  # fmt: skip
    if limit is None:
        return
    high = n * job.limits.spring_stress_share_max.value * limit.value / per_force
    figures.append(reckoned(f"{spring.id}/spring/test-high", "load test at working height, cold, greatest", high, "N", "n b Y / g", Input("n", "fingers", float(n), "", given),
                            Input("b", "share of yield allowed", job.limits.spring_stress_share_max.value, "", job.limits.spring_stress_share_max.source),
                            limit.as_input("Y"), Input("g", "stress per N on a finger", per_force, "MPa_per_N", stiff.source), digits=1))  # fmt: skip
    if low > high:
        findings.append(Finding("stop", f"{spring.id}: no plate can pass the load test: {low:.1f} N is needed, {high:.1f} N is the most its stress allows.",
                                "change the form; see the alternatives", f"{spring.id}/spring/test-low", "no-test-window"))  # fmt: skip
