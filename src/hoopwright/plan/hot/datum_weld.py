"""The end welded to the turbine nozzle ring: held at the ring's own growth, free and held against turning."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.findings import Figure, Finding, Input, weakest
from hoopwright.kernels.shell_links import RADIAL, TURN, Hold
from hoopwright.kernels.shell_stack_stress import stack_stress
from hoopwright.plan.hot.films import run_out_mm
from hoopwright.plan.hot.judging import WORDS, judged_stress
from hoopwright.plan.hot.model import HotModel, hot_model
from hoopwright.plan.hot.startup import ASSUMED
from hoopwright.plan.hot.yielding import Led
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

NEAR_MM = 15.0


def datum_weld(model: HotModel) -> tuple[list[Figure], list[Finding]]:
    """Stress at the datum end; asks for the ring's temperature where it is not given."""
    job = model.job
    ring, part = job.liner.turbine_nozzle, job.parts[job.datum[0]]
    if ring is None:
        return [], []
    about = f"{part.id}/constraint/datum"
    if ring.inner_ring_degC is None:
        return [], [_ask(model, about)]
    grown = job.metal(ring.material).thermal_growth_eng(ring.inner_ring_degC)
    meridian = model.stack.strands[job.datum[0]]
    node = meridian.node_at(job.datum[1])
    radial = float(meridian.r[node]) * grown.value
    held = [_held(model, node, radial, turns) for turns in (False, True)]
    length = run_out_mm(job, job.datum[0])
    level = model.shape @ model.strain
    run_out = _run_out(model, ring.inner_ring_degC, length)
    step_free, step_turn = (_peak(one, model, level) for one in held)
    free, turn = (_peak(one, model, run_out) for one in held)
    source = weakest([grown.source, ASSUMED])
    figure = reckoned(
        about,
        f"{part.id}: elastic stress at the datum end, welded to the nozzle ring",
        turn,
        "MPa",
        "s_free + s_turn",
        Input("s_free", "free to turn, temperature run out along the sheet", free, "MPa", source),
        Input("s_turn", "what holding the turn adds", turn - free, "MPa", source),
        Input(
            "step", "stepping at the weld: free to turn, held", f"{step_free:.0f} {step_turn:.0f}", "MPa", grown.source
        ),
        Input("L", "length of the run-out", "not known" if length is None else f"{length:.1f}", "mm", ASSUMED),
        grown.as_input("e"),
        digits=0,
        note=WORDS,
    )
    begin = int(model.stack.offsets[job.datum[0]])
    moved = held[1].stack.displaced(run_out)
    led = [Led(job.datum[1], radial, 0.0, 0.0)]
    for tie in job.ties:
        for number, s in ((tie.outer, tie.outer_s_mm), (tie.inner, tie.inner_s_mm)):
            if number == job.datum[0] and (tie.joint.hold or "welded") == "welded":
                led.append(Led(s, *(float(v) for v in moved[begin + meridian.node_at(s)])))
    own = run_out[begin : begin + meridian.nodes]
    told, findings = judged_stress(part, figure, step_turn, (meridian.s, own), led)
    return [figure, *told], findings


def _held(model: HotModel, node: int, radial: float, turns: bool) -> HotModel:
    at = (model.job.datum[0], node)
    holds = [Hold(at, RADIAL, radial)] + ([Hold(at, TURN)] if turns else [])
    return hot_model(model.job, tuple(holds), model.stack.strands)


def _run_out(model: HotModel, ring_degC: float, length: float | None) -> Vector:
    """Free strain of all nodes, the datum part's temperature running out to the ring's; level where data lack."""
    strain = np.array(model.shape @ model.strain)
    if length is None:
        return strain
    job = model.job
    k = job.datum[0]
    part, meridian, begin = job.parts[k], model.stack.strands[k], int(model.stack.offsets[k])
    places = [p.s_mm for p in part.places], [p.metal_degC for p in part.places]
    warm = np.interp(meridian.s, *places)
    at_end = float(np.interp(job.datum[1], *places))
    warm = warm + (ring_degC - at_end) * np.exp(-np.abs(meridian.s - job.datum[1]) / length)
    strain[begin : begin + meridian.nodes] = part.strain.at(warm)
    return strain


def _peak(held: HotModel, model: HotModel, strain: Vector) -> float:
    """Largest stress near the datum: von Mises of both faces, hoop stress at the nodes."""
    k, at = model.job.datum
    stress = stack_stress(held.stack, held.stack.displaced(strain), strain)[k]
    near = np.abs(stress.s - at) < NEAR_MM
    nodes = np.abs(model.stack.strands[k].s - at) < NEAR_MM
    return float(max(stress.mises[near].max(), np.abs(stress.node_hoop[nodes]).max()))


def _ask(model: HotModel, about: str) -> Finding:
    part = model.job.parts[model.job.datum[0]]
    invented = "a weld between 790 and 650 degC metal would be the most stressed of the demonstration"
    return Finding(
        "caution",
        f"{part.id}: the temperature of the ring its datum end is welded to is not given; the stress there is not "
        "reckoned.",
        "ask for it and enter turbine_nozzle.inner_ring_degC",
        about,
        "ask-inner-ring",
        invented if model.job.liner.invented else "",
    )
