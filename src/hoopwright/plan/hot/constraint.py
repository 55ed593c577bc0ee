"""Stress where parts at different temperatures are welded: elastic, axisymmetric, from the temperatures given; no
life."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import CardError, RangeError
from hoopwright.findings import Check, Figure, Finding, Input, Source, weakest
from hoopwright.kernels.shell_edges import welded_pair
from hoopwright.kernels.shell_links import RADIAL, TURN, Hold
from hoopwright.kernels.shell_stack_stress import stack_stress
from hoopwright.kernels.shell_weld_solid import REACH
from hoopwright.kernels.thermal_sheet import conducted
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.model import HotModel, hot_model
from hoopwright.plan.hot.startup import ASSUMED, SHEET_AIR_W_PER_M2K
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

CAUTION_SHARE, YIELD_SHARE = 0.8, 1.0
WORDS = "estimate of elastic constraint stress, axisymmetric, from the temperatures given; not a life"
DERIVED = Source("derived", "linear shell of the whole liner")


@dataclass(frozen=True, slots=True, eq=False)
class Constraint:
    """Stress of every part: figures and findings. mises : of each part's elements, with temperatures stepping at the
    welds.
    places : distance along the section of each element."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    places: tuple[Vector, ...]
    mises: tuple[Vector, ...]


def plan_constraint(model: HotModel) -> Constraint:
    """Elastic stress of every part against its yield where it is hottest, with and without conduction along the
    sheet."""
    job = model.job
    strain = model.shape @ model.strain
    stepped = stack_stress(model.stack, model.moved(), strain)
    smooth = _smoothed(model)
    figures: list[Figure] = []
    findings: list[Finding] = []
    for tie in job.ties:
        figures += _joint(model, tie.outer, tie.inner, tie.joint.id)
    for k, part in enumerate(job.parts):
        step_at, step = _peak(model, k, stepped[k].s, stepped[k].mises)
        soft = _peak(model, k, smooth[k][0], smooth[k][1])[1] if smooth else step
        figure = reckoned(
            f"{part.id}/constraint/peak",
            f"{part.id}: largest elastic stress from constraint, off the welds",
            soft,
            "MPa",
            "s_step f",
            Input("s_step", "the same with temperature stepping at the welds", step, "MPa", DERIVED),
            Input("f", "what conduction along the sheet leaves of it", soft / step if step else 1.0, "", ASSUMED),
            digits=0,
            note=f"{WORDS}; at {step_at:.1f} mm along the section; nothing within one thickness of a weld",
        )
        figures.append(figure)
        findings += _judged(job, k, figure, step)
    findings += _datum_findings(model, figures)
    return Constraint(tuple(figures), tuple(findings), tuple(s.s for s in stepped), tuple(s.mises for s in stepped))


def _peak(model: HotModel, part: int, s: Vector, mises: Vector) -> tuple[float, float]:
    """Place and size of the largest stress off the welds: further than one and a half thicknesses from a tie, or
    outside the stretch that a weld of known width replaces by its solid."""
    job = model.job
    clear = np.ones(s.size, dtype=bool)
    for tie in job.ties:
        far = (REACH + 0.1 if tie.joint.weld_width_mm is not None else 1.5) * job.parts[part].thickness_mm
        for number, at in ((tie.outer, tie.outer_s_mm), (tie.inner, tie.inner_s_mm)):
            if number == part:
                clear &= np.abs(s - at) > far
    worst = int(np.argmax(np.where(clear, mises, -1.0)))
    return float(s[worst]), float(mises[worst])


def _smoothed(model: HotModel) -> tuple[tuple[Vector, Vector], ...]:
    """Stress with temperatures conducted along the sheet, film coefficients assumed; empty where the cards lack
    data."""
    job = model.job
    if job.liner.operating is None:
        return ()
    settled, begin = [], 0
    warm = np.array([p.metal_degC for part in job.parts for p in part.places])
    for meridian in model.stack.strands:
        settled.append(model.shape[begin : begin + meridian.nodes] @ warm)
        begin += meridian.nodes
    try:
        conduct = [p.alloy.conductivity_W_per_mK(p.places[0].metal_degC).value * 1e-3 for p in job.parts]
    except (CardError, RangeError):
        return ()
    gas, air = job.liner.operating.exit_gas_degC, job.liner.operating.inlet_degC
    film = []
    for part in job.parts:
        mean = float(np.mean([p.metal_degC for p in part.places]))
        hot = SHEET_AIR_W_PER_M2K * (mean - air) / (gas - mean) if air < mean < gas else SHEET_AIR_W_PER_M2K
        film.append(1e-6 * (hot + SHEET_AIR_W_PER_M2K))
    smooth = conducted(model.stack.strands, model.links, settled, conduct, film)
    strain = np.concatenate([p.strain.at(t) for p, t in zip(job.parts, smooth, strict=True)])
    told = stack_stress(model.stack, model.stack.displaced(strain), strain)
    return tuple((one.s, one.mises) for one in told)


def _joint(model: HotModel, outer: int, inner: int, name: str) -> list[Figure]:
    """Misfit of free strain at a weld, and the stress two equal long cylinders would have from it."""
    job = model.job
    strains = []
    for k, s in ((outer, _tie_place(job, name, True)), (inner, _tie_place(job, name, False))):
        columns = slice(model.columns[k], model.columns[k] + len(job.parts[k].places))
        node = model.node(k, s)
        strains.append(float(model.shape[node, columns] @ model.strain[columns]))
    part, other = job.parts[outer], job.parts[inner]
    ground = weakest([p.alloy.thermal_growth_eng(p.places[0].metal_degC).source for p in (part, other)])
    misfit = reckoned(
        job.identity(f"joints/{name}/misfit"),
        f"{name}: free strain of {part.id} less that of {other.id}",
        1e6 * (strains[0] - strains[1]),
        "um_per_m",
        "1e6 ( e_o - e_i )",
        Input("e_o", f"free strain of {part.id}", strains[0], "eng", ground),
        Input("e_i", f"free strain of {other.id}", strains[1], "eng", ground),
        digits=0,
    )
    radius = model.place_of(model.node(outer, _tie_place(job, name, True)))[1]
    young = part.alloy.young_modulus_MPa(part.places[0].metal_degC)
    nu = part.alloy.poisson()
    pair = welded_pair(radius, part.thickness_mm, young.value, nu.value, strains[0] - strains[1], part.thickness_mm)
    first = reckoned(
        job.identity(f"joints/{name}/pair-stress"),
        f"{name}: stress of two long cylinders with this misfit, beyond one thickness",
        pair.mises,
        "MPa",
        "0.47 E de",
        young.as_input("E"),
        misfit.as_input("de"),
        digits=0,
        note="first look: equal long cylinders, temperature stepping at the weld; laps are shorter",
    )
    return [misfit, first]


def _tie_place(job: HotJob, name: str, outer: bool) -> float:
    tie = next(t for t in job.ties if t.joint.id == name)
    return tie.outer_s_mm if outer else tie.inner_s_mm


def _judged(job: HotJob, k: int, figure: Figure, step: float) -> list[Finding]:
    part = job.parts[k]
    try:
        limit = part.alloy.yield_MPa(part.hottest_degC)
    except (CardError, RangeError) as problem:
        return [
            Finding(
                "caution",
                f"{part.id}: yield at {part.hottest_degC:g} degC is not known.",
                "enter hot tensile rows on a card of your own",
                figure.identity,
                "constraint-yield-unknown",
                str(problem).partition(" Do: ")[0],
            )
        ]
    share = figure.value / limit.value
    check = Check(
        f"{part.id}: elastic constraint stress against yield when hot",
        figure.value,
        CAUTION_SHARE * limit.value,
        "<=",
        "MPa",
        weakest([figure.source, limit.source]),
        "caution",
        "lessen the difference of temperature across the weld, or let the joint slide",
        figure.identity,
        (WORDS,),
    )
    if check.ok:
        return []
    yields = share > YIELD_SHARE
    sentence = (
        f"{part.id}: {figure.value:.0f} MPa of elastic constraint stress, {share:.2f} of the yield of "
        f"{limit.value:.0f} MPa at "
        f"{part.hottest_degC:g} degC{': it yields, the elastic number is no longer a stress' if yields else ''}."
    )
    why = (
        "each start and stop strains it by up to "
        f"{1e2 * figure.value / part.alloy.young_modulus_MPa(part.hottest_degC).value:.2f} % "
        f"(elastic); {step:.0f} MPa if temperature steps at the weld; {WORDS}"
    )
    remedy = check.remedy + ("; ask for a run of the section kernel with this temperature" if yields else "")
    return [
        Finding(
            "caution",
            sentence,
            remedy,
            figure.identity,
            "constraint-yield" if yields else "constraint",
            why,
            check,
            check.source,
        )
    ]


def _datum_findings(model: HotModel, figures: list[Figure]) -> list[Finding]:
    """The end welded to the turbine nozzle ring: held radially at the ring's own growth, with rotation free and
    held."""
    job = model.job
    ring, part = job.liner.turbine_nozzle, job.parts[job.datum[0]]
    if ring is None:
        return []
    about = f"{part.id}/constraint/datum"
    if ring.inner_ring_degC is None:
        return [
            Finding(
                "caution",
                f"{part.id}: the temperature of the ring its datum end is welded to is not given; the stress "
                "there is not reckoned.",
                "ask for it and enter turbine_nozzle.inner_ring_degC",
                about,
                "ask-inner-ring",
                "a weld between 790 and 650 degC metal would be the most stressed of the demonstration"
                if job.liner.invented
                else "",
            )
        ]
    grown = job.metal(ring.material).thermal_growth_eng(ring.inner_ring_degC)
    strand = model.stack.strands[job.datum[0]]
    at = (job.datum[0], strand.node_at(job.datum[1]))
    radius = float(strand.r[at[1]])
    peaks = []
    for turns in (False, True):
        holds = [Hold(at, RADIAL, radius * grown.value)] + ([Hold(at, TURN)] if turns else [])
        held = hot_model(job, tuple(holds))
        moved = held.stack.displaced(held.shape @ held.strain)
        stress = stack_stress(held.stack, moved, held.shape @ held.strain)[job.datum[0]]
        near = np.abs(stress.s - job.datum[1]) < 15.0
        peaks.append(float(max(stress.mises[near].max(), np.abs(stress.node_hoop).max() if not turns else 0.0)))
    figure = reckoned(
        about,
        f"{part.id}: elastic stress at the datum end, welded to the nozzle ring",
        peaks[1],
        "MPa",
        "s_free + s_turn",
        Input("s_free", "free to turn", peaks[0], "MPa", DERIVED),
        Input("s_turn", "what holding the turn adds", peaks[1] - peaks[0], "MPa", DERIVED),
        grown.as_input("e"),
        digits=0,
        note=f"{WORDS}; temperature stepping at the weld overstates it",
    )
    figures.append(figure)
    return _judged(job, job.datum[0], figure, peaks[1])
