"""Washers: float needed at the worst corner, overlap left, clearance hot, uncovering, climb over a step, jam and
tilt."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.design.checks.seals import pad_of
from hoopwright.findings import Band, Check, Figure, Finding, Input, Level, judged, weakest
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.joints import Joints
from hoopwright.plan.hot.model import HotModel, port_place
from hoopwright.process.working import reckoned, stated

Vector = NDArray[np.float64]

FRICTION = (0.2, 0.4)
"""Metal on metal, hot, dry: common practice, no source."""
EDGE_STEP_MM = 0.05
SAMPLES = 20_000


@dataclass(frozen=True, slots=True, eq=False)
class Floats:
    """Figures and findings of the washers."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]

    def value(self, end: str) -> float | None:
        """Value of the figure whose identity ends so."""
        return next((f.value for f in self.figures if f.identity.endswith(end)), None)


def plan_floats(model: HotModel, joints: Joints) -> Floats:
    """Float, overlap and clearance of the washers; empty without washers."""
    job = model.job
    if job.liner.washer is None or job.liner.nozzle is None or job.plate is None:
        return Floats((), ())
    figures: list[Figure] = []
    findings: list[Finding] = []
    needed = _float(model, joints, figures, findings)
    _overlap(job, figures, findings, needed)
    _clearance(model, figures, findings)
    _motion(job, figures)
    return Floats(tuple(figures), tuple(findings))


def position_errors(job: HotJob) -> tuple[tuple[str, float], ...]:
    """Radial errors of port, nozzle and axis, where the drawing gives them. [mm]"""
    t = job.liner.tolerances
    found = []
    if t.port_position_diameter_mm is not None:
        found.append(("port position", 0.5 * t.port_position_diameter_mm))
    if t.nozzle_position_diameter_mm is not None:
        found.append(("nozzle position", 0.5 * t.nozzle_position_diameter_mm))
    if t.liner_to_casing_concentricity_radial_mm is not None:
        found.append(("liner to casing", t.liner_to_casing_concentricity_radial_mm))
    return tuple(found)


def float_samples(shift: float, errors: Vector, count: int, seed: int, disc: bool) -> Vector:
    """Float needed in samples: position errors are vectors in discs of these radii, evenly spread or normal (3 sd)."""
    rng = np.random.default_rng(seed)
    turn = rng.uniform(0.0, 2.0 * math.pi, (count, errors.size))
    if disc:
        reach = errors * np.sqrt(rng.uniform(0.0, 1.0, (count, errors.size)))
    else:
        reach = errors / 3.0 * np.hypot(*rng.standard_normal((2, count, errors.size)))
    x, y = shift + (reach * np.cos(turn)).sum(axis=1), (reach * np.sin(turn)).sum(axis=1)
    return np.asarray(np.hypot(x, y))


def _float(model: HotModel, joints: Joints, figures: list[Figure], findings: list[Finding]) -> float:
    job = model.job
    washer = job.liner.washer
    assert washer is not None and job.liner.nozzle is not None
    cold = job.liner.port_pitch_radius_mm - job.liner.nozzle.pitch_radius_cold_mm
    steady = next((float(g.values[0]) for g in joints.steady if g.key == "port-shift"), 0.0) + cold
    cycle = joints.extremes("port-shift")
    worst = steady if cycle is None else max((steady, cycle.greatest + cold, cycle.least + cold), key=abs)
    errors = position_errors(job)
    ground = job.source("tolerances of position")
    inputs = tuple(Input(f"p{k}", name, value, "mm", ground) for k, (name, value) in enumerate(errors))
    terms = " + ".join(["| s |", *(i.symbol for i in inputs)])
    sizes = np.array([v for _, v in errors])
    for word, said, shift in (("steady", "steady", steady), ("cycle", "over the cycle", worst)):
        drawn = float_samples(shift, sizes, SAMPLES, 11, True) if sizes.size else np.array([abs(shift)])
        low, high = (float(v) for v in np.quantile(drawn, [0.05, 0.95]))
        figures.append(
            reckoned(
                f"{washer.id}/float/needed-{word}",
                f"float needed at the worst corner, {said}",
                abs(shift) + float(sizes.sum()),
                "mm",
                terms,
                Input("s", "port outward against nozzle", shift, "mm", ground),
                *inputs,
                band=Band(low, high, f"{SAMPLES} samples, errors evenly spread over their zones"),
                note=joints.said if word == "cycle" else "errors all in the direction of the shift",
            )
        )
    needed = figures[-1].value
    check = Check(
        f"{washer.id}: float against what is needed at the worst corner",
        needed,
        washer.float_radial_max_mm,
        "<=",
        "mm",
        weakest([figures[-1].source]),
        "stop" if figures[-2].value > washer.float_radial_max_mm else "caution",
        f"set the nozzles {0.5 * abs(worst):.2f} mm towards the hot place when cold, or allow more float",
        figures[-1].identity,
    )
    found = judged(
        check,
        f"{washer.id}: {needed:.3f} mm of float is needed at the worst corner, {washer.float_radial_max_mm:g} mm "
        "is there.",
        "float-short",
        joints.said,
    )
    findings += [found] if found else []
    return needed


def _overlap(job: HotJob, figures: list[Figure], findings: list[Finding], needed: float) -> None:
    plate, washer = job.liner.end_plate, job.liner.washer
    assert plate is not None and washer is not None and job.plate is not None
    pad = None if plate.port is None else pad_of(plate.port)
    if pad is None:
        return
    part = job.parts[job.plate]
    grown_pad = 1.0 + float(part.strain.at(part.hottest_degC))
    grown_washer = 1.0 + job.metal(washer.material).thermal_growth_eng(washer.metal_degC).value
    ground = job.source("pad and washer")
    reach = 0.5 * washer.outside_diameter_mm
    for word, side, cold_pad, sense in (("inside", "inner", pad[0], 1.0), ("outside", "outer", pad[1], -1.0)):
        cold = sense * (reach - cold_pad) - washer.float_radial_max_mm
        hot = sense * (reach * grown_washer - cold_pad * grown_pad) - washer.float_radial_max_mm
        at_need = sense * (reach * grown_washer - cold_pad * grown_pad) - needed
        formula = "r_w - r_p - f" if sense > 0 else "r_p - r_w - f"
        for name, value, note in ((f"overlap-{word}", cold, "cold"), (f"overlap-{word}-hot", hot, "hot")):
            figures.append(
                reckoned(
                    f"{washer.id}/float/{name}",
                    f"pad left at the {side} edge at full float, {note}",
                    value,
                    "mm",
                    formula,
                    Input("r_w", "half the washer's outside diameter", reach, "mm", ground),
                    Input("r_p", f"{side} edge of the pad", cold_pad, "mm", ground),
                    Input("f", "float", washer.float_radial_max_mm, "mm", ground),
                    digits=3,
                    note=note,
                )
            )
        limit = job.limits.washer_overlap_min_mm
        level: Level = "stop" if hot <= 0.0 or at_need <= 0.0 else "caution" if sense > 0 else "note"
        bound = limit.value if sense > 0 else 0.5
        check = Check(
            f"{washer.id}: pad left at its {side} edge at full float",
            hot,
            bound,
            ">=",
            "mm",
            weakest([ground, limit.source]),
            level,
            "lessen the float, or widen the pad on that side",
            f"{washer.id}/float/overlap-{word}-hot",
        )
        what = (
            "the port is uncovered"
            if sense > 0 and hot <= 0.0
            else "the washer hangs over the pad's edge"
            if hot <= 0.0
            else f"{hot:.2f} mm of pad is left"
        )
        found = judged(
            check,
            f"{washer.id}: at full float {what} at the {side} edge of the pad; {bound:g} mm is asked for.",
            f"overlap-{word}",
        )
        findings += [found] if found else []


def hot_sizes(job: HotJob) -> tuple[float, float, float, float]:
    """Growth factors of bore and barrel, least and greatest diametral clearance hot. [-, -, mm, mm]"""
    washer, nozzle = job.liner.washer, job.liner.nozzle
    assert washer is not None and nozzle is not None
    bore = 1.0 + job.metal(washer.material).thermal_growth_eng(washer.metal_degC).value
    barrel_card = job.metal(nozzle.barrel_material or nozzle.casing_material)
    barrel = (
        1.0
        + barrel_card.thermal_growth_eng(
            nozzle.barrel_degC if nozzle.barrel_degC is not None else nozzle.casing_degC
        ).value
    )
    least = washer.bore_mm * bore - nozzle.barrel_diameter_mm * barrel
    most = (washer.bore_mm + washer.bore_tolerance_plus_mm) * bore - (
        nozzle.barrel_diameter_mm - nozzle.barrel_tolerance_minus_mm
    ) * barrel
    return bore, barrel, least, most


def _clearance(model: HotModel, figures: list[Figure], findings: list[Finding]) -> None:
    job = model.job
    washer, nozzle = job.liner.washer, job.liner.nozzle
    assert washer is not None and nozzle is not None
    bore, barrel, least, most = hot_sizes(job)
    ground = weakest(
        [job.source("bore and barrel"), job.metal(washer.material).thermal_growth_eng(washer.metal_degC).source]
    )
    cold_least = washer.bore_mm - nozzle.barrel_diameter_mm
    cold_most = cold_least + washer.bore_tolerance_plus_mm + nozzle.barrel_tolerance_minus_mm
    for word, low, high in (("cold", cold_least, cold_most), ("hot", least, most)):
        figures.append(
            reckoned(
                f"{washer.id}/float/clearance-{word}",
                f"diametral clearance on the barrel, {word}, middle of the limits",
                0.5 * (low + high),
                "mm",
                "D k_w - d k_b",
                Input("D", "bore, middle", washer.bore_mm + 0.5 * washer.bore_tolerance_plus_mm, "mm", ground),
                Input(
                    "d",
                    "barrel, middle",
                    nozzle.barrel_diameter_mm - 0.5 * nozzle.barrel_tolerance_minus_mm,
                    "mm",
                    ground,
                ),
                Input("k_w", "growth of the washer", bore if word == "hot" else 1.0, "", ground),
                Input("k_b", "growth of the barrel", barrel if word == "hot" else 1.0, "", ground),
                band=Band(low, high, "both ends of the limits of size"),
            )
        )
    lean = abs(float(model.moved()[model.node(job.plate or 0, port_place(job)), 2]))
    eaten = washer.thickness_mm * lean
    left = min(least, cold_least) - eaten - washer.flatness_mm
    figures.append(
        reckoned(
            f"{washer.id}/float/clearance-left",
            "clearance left when the plate leans, least",
            left,
            "mm",
            "c - t psi - w",
            Input("c", "least clearance, cold or hot", min(least, cold_least), "mm", ground),
            Input("t", "washer", washer.thickness_mm, "mm", ground),
            Input("psi", "lean of the plate", lean, "rad", ground),
            Input("w", "flatness of the washer", washer.flatness_mm, "mm", ground),
        )
    )
    if left < 0.0:
        findings.append(
            Finding(
                "stop",
                f"{washer.id}: the washer jams on its barrel: {left:.3f} mm of clearance is left.",
                "open the bore",
                figures[-1].identity,
                "washer-jams",
                f"the plate leans by {1e3 * lean:.1f} mrad",
            )
        )
    if nozzle.barrel_material is None:
        findings.append(
            Finding(
                "note",
                f"{washer.id}: the barrel's alloy and temperature are not given; the casing's stand in.",
                "enter nozzle.barrel_material and nozzle.barrel_degC",
                f"{washer.id}/float/clearance-hot",
                "ask-barrel",
            )
        )


def _motion(job: HotJob, figures: list[Figure]) -> None:
    """What it takes to slide, to climb a step, and where a side push jams."""
    washer, spring, operating = job.liner.washer, job.liner.spring_plate, job.liner.operating
    assert washer is not None
    from hoopwright.findings import Source

    practice = Source("practice", "friction 0.2 to 0.4, metal on metal, hot and dry: common practice, no source")
    plate = job.liner.end_plate
    pad = None if plate is None or plate.port is None else pad_of(plate.port)
    drop = 0.0 if operating is None else operating.pressure_drop_kPa * 1e-3
    seat = 0.0 if pad is None else math.pi * (pad[0] ** 2 - (0.5 * washer.bore_mm) ** 2)
    load = 0.0 if spring is None else spring.load_min_hot_N
    push = [mu * (load + drop * seat) for mu in FRICTION]
    ground = weakest([practice, job.source("spring load and pressure")])
    figures.append(
        reckoned(
            f"{washer.id}/float/slide-force",
            "side push that moves the washer",
            0.5 * sum(push),
            "N",
            "mu ( F + dp A )",
            Input("mu", "friction, middle", 0.5 * sum(FRICTION), "", practice),
            Input("F", "least hot spring load", load, "N", job.source("spring")),
            Input("dp", "pressure drop", drop, "MPa", job.source("operating")),
            Input("A", "area pressed on the pad", seat, "mm2", ground),
            digits=1,
            band=Band(push[0], push[1], "friction 0.2 to 0.4"),
        )
    )
    radius = EDGE_STEP_MM / (1.0 - math.cos(math.atan(1.0) - math.atan(0.3)))
    figures.append(
        reckoned(
            f"{washer.id}/float/edge-radius",
            "edge radius that climbs a step of 0.05 mm, pushed as hard as loaded",
            radius,
            "mm",
            "s / ( 1 - cos ( atan ( 1 ) - atan ( mu ) ) )",
            Input("s", "step", EDGE_STEP_MM, "mm", practice),
            Input("mu", "friction", 0.3, "", practice),
            digits=2,
            note="an edge radius under the step never climbs it",
        )
    )
    figures.append(
        reckoned(
            f"{washer.id}/float/jam-lever",
            "side push further from the bore than this jams the washer",
            washer.thickness_mm / (2.0 * 0.3),
            "mm",
            "t / ( 2 mu )",
            Input("t", "land of the bore", washer.thickness_mm, "mm", job.source("washer")),
            Input("mu", "friction", 0.3, "", practice),
            digits=1,
        )
    )
    figures.append(
        stated(f"{washer.id}/float/seat-area", "area pressed on the pad", seat, "mm2", job.source("pad and washer"), 0)
    )
