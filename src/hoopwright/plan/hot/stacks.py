"""Stacks on the hot gaps: worst case, root-sum-square and sampled, contributors ranked, and the smallest mend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.findings import Band, Figure, Finding, Input, Level
from hoopwright.kernels.stack_mend import Allowed, Mend, mend
from hoopwright.kernels.stack_variation import Function, StackResult, Varies, sampled, stack
from hoopwright.plan.hot.floats import position_errors
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.joints import KEPT_OPEN_MM, Joints
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

SAMPLES = 100_000
METAL_K = 15.0
"""How far a metal temperature may lie from its stated value in a stack: assumed, common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class GapStack:
    """One stack. key, name : what it is. wanted : least value. result, samples_low_pct : what comes out. mends : ways
    to
    bring the worst case to `wanted`, each with its words."""

    key: str
    name: str
    wanted: float
    inputs: tuple[Varies, ...]
    result: StackResult
    under_pct: float
    mends: tuple[tuple[str, Mend], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Stacks:
    """All stacks with figures and findings."""

    stacks: tuple[GapStack, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def plan_stacks(job: HotJob, joints: Joints) -> Stacks:
    """Stacks of the aft groove (steady) and of the float (steady)."""
    found = [one for one in (_groove(job), _float(job, joints)) if one is not None]
    figures: list[Figure] = []
    findings: list[Finding] = []
    for one in found:
        figures += _figures(job, one)
        if one.result.low < one.wanted:
            findings.append(_finding(job, one))
    return Stacks(tuple(found), tuple(figures), tuple(findings))


def gap_stack(
    key: str,
    name: str,
    wanted: float,
    function: Function,
    inputs: Sequence[Varies],
    allowed: Sequence[tuple[str, Sequence[Allowed]]],
) -> GapStack:
    """A stack with its samples and mends; `allowed` are sets of bounds, each with its words, easiest first."""
    result = stack(function, inputs)
    under = 100.0 * float(np.mean(sampled(function, inputs, SAMPLES, 7) < wanted))

    def short(x: Vector) -> Vector:
        return np.asarray(function(x) - wanted)

    mends = []
    if result.low < wanted:
        for words, bounds in allowed:
            done = mend([short], inputs, bounds)
            if done.reached:
                mends.append((words, done))
    mends.sort(key=lambda m: sum(abs(x) for x in m[1].moved) + sum(m[1].tightened))
    return GapStack(key, name, wanted, tuple(inputs), result, under, tuple(mends))


def _groove(job: HotJob) -> GapStack | None:
    groove, aft = job.liner.turbine_nozzle, job.aft_outer
    if groove is None or aft is None:
        return None
    part = job.parts[aft]
    outside = part.section.end[1] + 0.5 * part.thickness_mm
    card = job.metal(groove.material)
    warm, cold = part.hottest_degC, groove.outer_groove_degC
    slopes = (
        (card.thermal_growth_eng(cold + 5.0).value - card.thermal_growth_eng(cold - 5.0).value) / 10.0,
        (part.alloy.thermal_growth_eng(warm + 5.0).value - part.alloy.thermal_growth_eng(warm - 5.0).value) / 10.0,
    )
    e_groove, e_part = card.thermal_growth_eng(cold).value, part.alloy.thermal_growth_eng(warm).value
    control = next(
        (c.tolerance_mm for c in job.liner.ring(part.id).controls if abs(c.z_mm - part.section.end[0]) < 10.0), None
    )
    size = 0.5 * (control if control is not None else job.liner.tolerances.circumference_diameter_mm)
    shape = 0.5 * job.liner.tolerances.roundness_restrained_radial_mm
    inputs = (
        Varies("cold gap", groove.outer_groove_cold_radial_gap_mm, 0.0, 0.0),
        Varies("size of the lip, on radius", 0.0, size, size),
        Varies("roundness of the lip", 0.0, shape, shape),
        Varies("metal temperature of the lip", 0.0, METAL_K, METAL_K, "K"),
        Varies("metal temperature of the groove", 0.0, METAL_K, METAL_K, "K"),
    )
    reach = groove.outer_groove_radius_mm

    def gap(x: Vector) -> Vector:
        return np.asarray(
            x[:, 0]
            - x[:, 1]
            - x[:, 2]
            + reach * (e_groove + slopes[0] * x[:, 4])
            - outside * (e_part + slopes[1] * x[:, 3])
        )

    fixed = [Allowed(v.nominal, v.nominal) for v in inputs]
    wider = [Allowed(inputs[0].nominal, inputs[0].nominal + 1.0), *fixed[1:]]
    tighter = [wider[0], Allowed(0.0, 0.0, 1.0, 0.5 * size, 0.8), Allowed(0.0, 0.0, 1.0, 0.5 * shape, 0.8), *fixed[3:]]
    return gap_stack(
        "groove",
        "radial gap at the aft groove, steady",
        KEPT_OPEN_MM,
        gap,
        inputs,
        (("open the cold gap", wider), ("tighten size and roundness as well", tighter)),
    )


def _float(job: HotJob, joints: Joints) -> GapStack | None:
    washer, nozzle = job.liner.washer, job.liner.nozzle
    if washer is None or nozzle is None:
        return None
    shift = next((float(g.values[0]) for g in joints.steady if g.key == "port-shift"), None)
    errors = position_errors(job)
    if shift is None or not errors:
        return None
    inputs = (
        Varies("float", washer.float_radial_max_mm, 0.0, 0.0),
        Varies(
            "nozzle circle set outward when cold",
            nozzle.pitch_radius_cold_mm - job.liner.port_pitch_radius_mm,
            0.0,
            0.0,
        ),
        *(Varies(name, 0.0, value, value) for name, value in errors),
    )

    def left(x: Vector) -> Vector:
        # errors in the direction of the shift: across it they count in second order
        return np.asarray(x[:, 0] - np.abs(shift - x[:, 1] + x[:, 2:].sum(axis=1)))

    fixed = [Allowed(v.nominal, v.nominal) for v in inputs]
    offset = [fixed[0], Allowed(inputs[1].nominal, inputs[1].nominal + abs(shift)), *fixed[2:]]
    more = [Allowed(inputs[0].nominal, inputs[0].nominal + 1.0), *fixed[1:]]
    return gap_stack(
        "float",
        "float left at full shift, steady",
        0.0,
        left,
        inputs,
        (("set the nozzles outboard when cold", offset), ("allow more float", more)),
    )


def _figures(job: HotJob, one: GapStack) -> list[Figure]:
    ground = job.source("tolerances and temperatures")
    ranked = "; ".join(f"{s.name} {100.0 * s.worst_share:.0f} %" for s in one.result.shares if s.worst > 0.0)
    inputs = tuple(Input(f"x{k}", v.name, v.nominal, v.unit, ground) for k, v in enumerate(one.inputs))
    formula = f"g ( {' , '.join(i.symbol for i in inputs)} )"
    return [
        reckoned(
            job.identity(f"stacks/{one.key}/worst"),
            f"{one.name}, worst corner",
            one.result.low,
            "mm",
            formula,
            *inputs,
            note=f"contributors: {ranked}; linear {one.result.linear_low:.3f} mm",
        ),
        reckoned(
            job.identity(f"stacks/{one.key}/nominal"),
            f"{one.name}, nominal",
            one.result.nominal,
            "mm",
            formula,
            *inputs,
            band=Band(
                one.result.rss_low, one.result.rss_high, "root-sum-square of the tolerances", 100.0 - one.under_pct
            ),
            note=f"{one.under_pct:.2f} % of {SAMPLES} samples under {one.wanted:g} mm",
        ),
    ]


def mend_words(one: GapStack, done: Mend) -> str:
    """What a mend changes, in words."""
    said = [
        f"{v.name} {v.nominal:.3f} to {v.nominal + m:.3f} {v.unit}"
        for v, m in zip(one.inputs, done.moved, strict=True)
        if abs(m) > 5e-4
    ]
    said += [
        f"tolerance of {v.name} {v.half:.3f} to {v.half - c:.3f} {v.unit}"
        for v, c in zip(one.inputs, done.tightened, strict=True)
        if c > 5e-4
    ]
    return ", ".join(said)


def _finding(job: HotJob, one: GapStack) -> Finding:
    ways = [f"{words}: {mend_words(one, done)}" for words, done in one.mends[:1]]
    remedy = ways[0] if ways else "no allowed change mends it alone; ask the designer for other dimensions"
    leader = one.result.shares[0]
    level: Level = "stop" if one.under_pct > 0.135 else "caution"
    return Finding(
        level,
        f"{one.name[0].upper()}{one.name[1:]}: {one.result.nominal:.3f} mm nominal, {one.result.low:.3f} mm at "
        "the worst corner; "
        f"{one.wanted:g} mm is asked for.",
        remedy,
        job.identity(f"stacks/{one.key}/worst"),
        f"stack-{one.key}",
        f"{leader.name} is {100.0 * leader.worst_share:.0f} % of it; {one.under_pct:.1f} % of samples fall short",
    )
