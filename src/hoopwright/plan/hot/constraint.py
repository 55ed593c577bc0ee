"""Stress where parts at different temperatures are welded: elastic, axisymmetric, from the temperatures given; no
life."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.findings import Band, Figure, Finding, Input, Source, weakest
from hoopwright.kernels.shell_edges import welded_pair
from hoopwright.kernels.shell_stack_stress import StackStress, stack_stress
from hoopwright.kernels.shell_weld_solid import REACH
from hoopwright.plan.hot.datum_weld import datum_weld
from hoopwright.plan.hot.films import conducted_degC
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.judging import WORDS, judged_stress
from hoopwright.plan.hot.model import HotModel
from hoopwright.plan.hot.startup import ASSUMED
from hoopwright.plan.hot.warm_band import METAL_SD_K, NINE_IN_TEN, band_of, strain_step
from hoopwright.plan.hot.yielding import Led
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

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


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """The shell under one field of free strain. strain : of all nodes; moved : of all nodes; stress : of each part."""

    strain: Vector
    moved: Vector
    stress: tuple[StackStress, ...]


def plan_constraint(model: HotModel) -> Constraint:
    """Elastic stress of every part against its yield where it is hottest, with and without conduction along the
    sheet; above yield the part runs on the section kernel."""
    job = model.job
    strain = model.shape @ model.strain
    stepped = _State(strain, model.moved(), stack_stress(model.stack, model.moved(), strain))
    smooth = _smoothed(model)
    spread = _spread(model, smooth is not None)
    figures: list[Figure] = []
    findings: list[Finding] = []
    for tie in job.ties:
        figures += _joint(model, tie.outer, tie.inner, tie.joint.id)
    for k, part in enumerate(job.parts):
        step = _peak(model, k, stepped.stress[k].s, stepped.stress[k].mises)[1]
        state = smooth or stepped
        at, soft = _peak(model, k, state.stress[k].s, state.stress[k].mises)
        figure = reckoned(
            f"{part.id}/constraint/peak",
            f"{part.id}: largest elastic stress from constraint, off the welds",
            soft,
            "MPa",
            "s_step f",
            Input("s_step", "the same with temperature stepping at the welds", step, "MPa", DERIVED),
            Input("f", "what conduction along the sheet leaves of it", soft / step if step else 1.0, "", ASSUMED),
            digits=0,
            band=_peak_band(soft, [told[k] for told in spread[0]], [told[k] for told in spread[1]]),
            note=f"{WORDS}; at {at:.1f} mm along the section; nothing within one thickness of a weld",
        )
        told = judged_stress(part, figure, step, *_alone(model, k, state))
        figures += [figure, *told[0]]
        findings += told[1]
    figures_there, findings_there = datum_weld(model)
    stress = stepped.stress
    return Constraint(
        (*figures, *figures_there),
        (*findings, *findings_there),
        tuple(s.s for s in stress),
        tuple(s.mises for s in stress),
    )


def _alone(model: HotModel, k: int, state: _State) -> tuple[tuple[Vector, Vector], tuple[Led, ...]]:
    """Free strain along a part, and how its welds and datum move: what the part alone needs."""
    job, meridian, begin = model.job, model.stack.strands[k], int(model.stack.offsets[k])
    free = (meridian.s, state.strain[begin : begin + meridian.nodes])
    led = []
    for tie in job.ties:
        lock = tie.joint.hold or "welded"
        for number, s in ((tie.outer, tie.outer_s_mm), (tie.inner, tie.inner_s_mm)):
            if number != k or lock == "slides-axially":
                continue
            out, along, turn = (float(v) for v in state.moved[begin + meridian.node_at(s)])
            led.append(Led(s, out, along, turn) if lock == "welded" else Led(s, None, along, None))
    if k == job.datum[0]:
        led.append(Led(job.datum[1], None, 0.0, None))
    return free, tuple(led)


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


def _smoothed(model: HotModel) -> _State | None:
    """The shell with temperatures conducted along the sheet, film coefficients assumed; None where data lack."""
    warm = conducted_degC(model)
    if not warm:
        return None
    strain = _strain_of(model, warm)
    moved = model.stack.displaced(strain)
    return _State(strain, moved, stack_stress(model.stack, moved, strain))


def _spread(model: HotModel, conducts: bool) -> tuple[list[list[float]], list[list[float]]]:
    """Peaks of all parts with each metal temperature a standard deviation off, and with films halved and doubled."""
    job = model.job
    warm = np.array([p.metal_degC for part in job.parts for p in part.places])
    tables = [part.strain for part in job.parts for _ in part.places]
    cases = []
    for k, table in enumerate(tables):
        other = warm.copy()
        other[k] += METAL_SD_K if warm[k] + METAL_SD_K <= table.last else -METAL_SD_K
        if conducts:
            cases.append(_strain_of(model, conducted_degC(model, other)))
        else:
            own = np.array([float(t.at(w)) for t, w in zip(tables, other, strict=True)])
            cases.append(np.asarray(model.shape @ own))
    films = [_strain_of(model, conducted_degC(model, None, f)) for f in (0.5, 2.0)] if conducts else []
    moved = model.stack.displaced(np.stack([*cases, *films], axis=1))
    peaks = []
    for k, strain in enumerate((*cases, *films)):
        stress = stack_stress(model.stack, moved[:, :, k], strain)
        peaks.append([_peak(model, n, one.s, one.mises)[1] for n, one in enumerate(stress)])
    return peaks[: len(cases)], peaks[len(cases) :]


def _strain_of(model: HotModel, warm: tuple[Vector, ...]) -> Vector:
    return np.concatenate([p.strain.at(t) for p, t in zip(model.job.parts, warm, strict=True)])


def _peak_band(peak: float, warm: list[float], films: list[float]) -> Band:
    """Squares of temperatures and of half the range of the films added."""
    by_films = 0.5 * (max(films) - min(films)) if films else 0.0
    band = band_of(peak, [*(w - peak for w in warm), by_films / NINE_IN_TEN])
    how = f"{band.how}{', films within a factor of 2' if films else ''}; expansion and modulus as read"
    return Band(max(0.0, band.low), band.high, how)


def _joint(model: HotModel, outer: int, inner: int, name: str) -> list[Figure]:
    """Misfit of free strain at a weld, and the stress two equal long cylinders would have from it."""
    job = model.job
    strains, steps = [], []
    for k, s in ((outer, _tie_place(job, name, True)), (inner, _tie_place(job, name, False))):
        columns = slice(model.columns[k], model.columns[k] + len(job.parts[k].places))
        node = model.node(k, s)
        strains.append(float(model.shape[node, columns] @ model.strain[columns]))
        own = [strain_step(job.parts[k].strain, p.metal_degC) for p in job.parts[k].places]
        steps += (model.shape[node, columns] * np.array(own)).tolist()
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
        band=band_of(1e6 * (strains[0] - strains[1]), [1e6 * s for s in steps]),
    )
    radius = model.place_of(model.node(outer, _tie_place(job, name, True)))[1]
    young = part.alloy.young_modulus_MPa(part.places[0].metal_degC)
    nu = part.alloy.poisson()
    pair = welded_pair(radius, part.thickness_mm, young.value, nu.value, strains[0] - strains[1], part.thickness_mm)
    first = reckoned(
        job.identity(f"joints/{name}/pair-stress"),
        f"{name}: stress of two long cylinders with this misfit",
        pair.mises,
        "MPa",
        "0.47 E de",
        young.as_input("E"),
        misfit.as_input("de"),
        digits=0,
        band=band_of(pair.mises, [pair.mises / max(abs(strains[0] - strains[1]), 1e-12) * s for s in steps]),
        note="first look: equal long cylinders, beyond one thickness, temperature stepping; laps are shorter",
    )
    return [misfit, first]


def _tie_place(job: HotJob, name: str, outer: bool) -> float:
    tie = next(t for t in job.ties if t.joint.id == name)
    return tie.outer_s_mm if outer else tie.inner_s_mm
