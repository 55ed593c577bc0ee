"""Air through the washers: bore gaps and pad faces, cold and hot, by one model from creeping to choked; share of the
air."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.design.shapes import Operating, Washer
from hoopwright.findings import Band, Figure, Finding, Input, Source
from hoopwright.kernels.gap_flow import gap_flux, ring_gap
from hoopwright.kernels.gas import air
from hoopwright.plan.hot import by_hand
from hoopwright.plan.hot.floats import hot_sizes
from hoopwright.plan.hot.job import HotJob
from hoopwright.process.working import reckoned

SAMPLES = 150
ENTRANCE_BAND = (0.05, 0.9)
"""Range of the contraction loss K, nominal 0.5: a rounded edge to a thin plate, from memory."""
SHARE_CAUTION_PCT = 1.0
"""Leak of all ports as a share of the air above which a look is asked for: common practice (0.3 to 1.0 %), no
source."""


@dataclass(frozen=True, slots=True, eq=False)
class Leak:
    """Figures and findings of the leak."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def plan_leak(job: HotJob) -> Leak:
    """Leak of all washers; asks where the operating point is missing."""
    liner = job.liner
    washer, nozzle, operating = liner.washer, liner.nozzle, liner.operating
    if washer is None or nozzle is None:
        return Leak((), ())
    if operating is None:
        return Leak(
            (),
            (
                Finding(
                    "caution",
                    f"{liner.id}: the leak is not reckoned, there is no operating point.",
                    "enter [operating]: air flow, pressure, temperature, pressure drop",
                    f"{washer.id}/leak",
                    "ask-operating",
                ),
            ),
        )
    bore, barrel, _, _ = hot_sizes(job)
    supply = operating.inlet_pressure_kPa * 1e-3
    back = supply - operating.pressure_drop_kPa * 1e-3
    wide = washer.bore_mm + 0.5 * washer.bore_tolerance_plus_mm
    thin = nozzle.barrel_diameter_mm - 0.5 * nozzle.barrel_tolerance_minus_mm
    figures = _at_bores(job, washer, operating, (wide, thin), (bore, barrel), (supply, back))
    _beside(job, figures, wide, thin, supply, back)
    _off_centre(job, figures, wide * bore, thin * barrel, supply, back)
    _warm_air(job, figures, wide * bore, thin * barrel, supply, back)
    _pad_face(job, figures, supply, back)
    total = next(f for f in figures if f.identity.endswith("leak/all-hot"))
    share = _share(job, washer, operating, total)
    return Leak((*figures, share), _too_much(washer, share))


def _at_bores(
    job: HotJob,
    washer: Washer,
    operating: Operating,
    sizes: tuple[float, float],
    growth: tuple[float, float],
    pressures: tuple[float, float],
) -> list[Figure]:
    """One washer and all of them, cold and hot; sizes of bore and barrel, their growth, supply and back pressure."""
    liner, ground, gas = job.liner, job.source("operating point, bore and barrel"), air(operating.inlet_degC)
    (wide, thin), (bore, barrel), (supply, back) = sizes, growth, pressures
    figures: list[Figure] = []
    for word, k_w, k_b in (("cold", 1.0, 1.0), ("hot", bore, barrel)):
        clearance = wide * k_w - thin * k_b
        diameter = 0.5 * (wide * k_w + thin * k_b)
        one = ring_gap(diameter, 0.5 * clearance, washer.thickness_mm * k_w, supply, back, gas)
        port, band = _bands(job, k_w, k_b, supply, back)
        given = (
            Input("n", "ports", float(liner.ports), "", ground),
            Input("d", "diameter of the gap", diameter, "mm", ground),
            Input("c", "diametral clearance", clearance, "mm", ground),
            Input("L", "land", washer.thickness_mm, "mm", ground),
            Input("p0", "supply", supply, "MPa", ground),
            Input("p2", "back pressure", back, "MPa", ground),
            Input("T0", "air", operating.inlet_degC, "degC", ground),
        )
        state = "choked" if one.choked else "not choked"
        note = f"series model: entrance, land, exit; Re {one.reynolds:.0f}, {state}, barrel in the middle"
        figures.append(
            reckoned(
                f"{washer.id}/leak/port-{word}",
                f"air past one washer at its bore, {word}",
                one.flow,
                "g_per_s",
                "m ( d , c , L , p0 , p2 , T0 )",
                *given[1:],
                digits=3,
                band=port,
                note=note,
            )
        )
        figures.append(
            reckoned(
                f"{washer.id}/leak/all-{word}",
                f"air past all washers at their bores, {word}",
                liner.ports * one.flow,
                "g_per_s",
                "n m1",
                given[0],
                figures[-1].as_input("m1"),
                digits=2,
                band=band,
                note=note,
            )
        )
    return figures


def _share(job: HotJob, washer: Washer, operating: Operating, total: Figure) -> Figure:
    """Share of the engine's air."""
    flow = operating.air_flow_kg_per_s * 1e3
    assert total.band is not None
    return reckoned(
        f"{washer.id}/leak/share",
        "share of the air that leaks past the washers, hot",
        100.0 * total.value / flow,
        "pct",
        "100 m / m_air",
        total.as_input("m"),
        Input("m_air", "air", flow, "g_per_s", job.source("operating point, bore and barrel")),
        digits=2,
        band=Band(100.0 * total.band.low / flow, 100.0 * total.band.high / flow, total.band.how),
    )


def _too_much(washer: Washer, share: Figure) -> tuple[Finding, ...]:
    if share.value <= SHARE_CAUTION_PCT:
        return ()
    sentence = (
        f"{washer.id}: {share.value:.2f} % of the air leaks past the washers; {SHARE_CAUTION_PCT:g} % is usual at most."
    )
    return (Finding("caution", sentence, "lessen the cold clearance", share.identity, "leak-share"),)


def _bands(job: HotJob, k_w: float, k_b: float, supply: float, back: float) -> tuple[Band, Band]:
    """One port and all of them: samples over limits of size, contraction loss and place of the barrel in the bore."""
    washer, nozzle, operating = job.liner.washer, job.liner.nozzle, job.liner.operating
    assert washer is not None and nozzle is not None and operating is not None
    rng = np.random.default_rng(5)
    bore = washer.bore_mm + washer.bore_tolerance_plus_mm * rng.uniform(0.0, 1.0, (SAMPLES, job.liner.ports))
    barrel = nozzle.barrel_diameter_mm - nozzle.barrel_tolerance_minus_mm * rng.uniform(0.0, 1.0, bore.shape)
    gap = 0.5 * (bore * k_w - barrel * k_b)
    loss = rng.triangular(ENTRANCE_BAND[0], 0.5, ENTRANCE_BAND[1], (SAMPLES, 1)) + 0.0 * gap
    off = rng.uniform(0.0, 1.0, bore.shape)
    slices = np.pi * (np.arange(4) + 0.5) / 4.0
    width = np.maximum(gap[..., None] * (1.0 + off[..., None] * np.cos(slices)), 1e-4)
    loss_all = np.broadcast_to(loss[..., None], width.shape)
    # channels of a gap differ only in width: a table over widths serves for all
    flux = gap_flux(
        2.0 * width.ravel(), washer.thickness_mm, supply, back, air(operating.inlet_degC), loss_all.ravel()
    ).flux.reshape(width.shape)
    flow = (flux * width).mean(axis=2) * np.pi * bore
    how = (
        f"{SAMPLES} samples: limits of size, entrance loss {ENTRANCE_BAND[0]:g} to {ENTRANCE_BAND[1]:g}, barrel "
        "anywhere in its bore"
    )
    one, every = (tuple(float(v) for v in np.quantile(q, [0.05, 0.95])) for q in (flow.ravel(), flow.sum(axis=1)))
    return Band(one[0], one[1], how), Band(every[0], every[1], how)


def _beside(job: HotJob, figures: list[Figure], wide: float, thin: float, supply: float, back: float) -> None:
    washer, operating = job.liner.washer, job.liner.operating
    assert washer is not None and operating is not None
    area, flow = by_hand.leak(wide, thin, supply, back, operating.inlet_degC)
    ground = job.source("operating point, bore and barrel")
    figures.append(
        reckoned(
            f"{washer.id}/by-hand/leak",
            "leak of all washers, cold, by an orifice with Cd 0.65",
            job.liner.ports * flow,
            "g_per_s",
            "n Cd A v",
            Input("n", "ports", float(job.liner.ports), "", ground),
            Input(
                "Cd", "discharge coefficient", by_hand.DISCHARGE, "", Source("practice", "common practice, no source")
            ),
            Input("A", "area of a gap", area, "mm2", ground),
            Input(
                "v", "mass flux at the density of the supply", flow / by_hand.DISCHARGE / area, "g_per_s_mm2", ground
            ),
            digits=2,
            note="hand formula: incompressible, no land friction",
        )
    )


def _off_centre(job: HotJob, figures: list[Figure], wide: float, thin: float, supply: float, back: float) -> None:
    washer, operating = job.liner.washer, job.liner.operating
    assert washer is not None and operating is not None
    ground = job.source("operating point, bore and barrel")
    touching = ring_gap(
        0.5 * (wide + thin), 0.5 * (wide - thin), washer.thickness_mm, supply, back, air(operating.inlet_degC), 1.0
    )
    figures.append(
        reckoned(
            f"{washer.id}/leak/all-touching",
            "air past all washers, hot, every barrel against its bore",
            job.liner.ports * touching.flow,
            "g_per_s",
            "n m ( e )",
            Input("n", "ports", float(job.liner.ports), "", ground),
            Input("e", "eccentricity", 1.0, "", ground),
            Input("m", "one port", touching.flow, "g_per_s", ground),
            digits=2,
            note="channels c ( 1 + e cos t ), no cross flow",
        )
    )


def _warm_air(job: HotJob, figures: list[Figure], wide: float, thin: float, supply: float, back: float) -> None:
    """The same gap if its walls have warmed the air half-way to the washer's temperature: less leaks."""
    washer, operating = job.liner.washer, job.liner.operating
    assert washer is not None and operating is not None
    warm = 0.5 * (operating.inlet_degC + washer.metal_degC)
    through = ring_gap(0.5 * (wide + thin), 0.5 * (wide - thin), washer.thickness_mm, supply, back, air(warm))
    ground = job.source("operating point, bore and barrel")
    figures.append(
        reckoned(
            f"{washer.id}/leak/all-warm-air",
            "air past all washers, hot, air warmed half-way to the washer",
            job.liner.ports * through.flow,
            "g_per_s",
            "n m ( T )",
            Input("n", "ports", float(job.liner.ports), "", ground),
            Input("T", "air in the gap", warm, "degC", ground),
            Input("m", "one port", through.flow, "g_per_s", ground),
            digits=2,
            note="how much the gap's walls warm the air is not known",
        )
    )


def _pad_face(job: HotJob, figures: list[Figure], supply: float, back: float) -> None:
    """What a pad and washer out of flat let through under the washer, if the gap were half the sum of both all
    round."""
    from hoopwright.design.checks.seals import pad_of

    liner = job.liner
    washer, plate, operating = liner.washer, liner.end_plate, liner.operating
    flat = liner.tolerances.pad_flatness_mm
    if washer is None or plate is None or plate.port is None or flat is None or operating is None:
        return
    pad = pad_of(plate.port)
    if pad is None:
        return
    outer = 0.5 * washer.outside_diameter_mm
    gap = 0.5 * (flat + washer.flatness_mm)
    through = ring_gap(pad[0] + outer, gap, outer - pad[0], supply, back, air(operating.inlet_degC))
    ground = job.source("flatness of pad and washer")
    figures.append(
        reckoned(
            f"{washer.id}/leak/pad-face",
            "air under one washer, pad and washer at their limits of flatness",
            through.flow,
            "g_per_s",
            "m ( h , L )",
            Input("h", "mean gap, half of both flatnesses", gap, "mm", ground),
            Input("L", "land", outer - pad[0], "mm", ground),
            digits=2,
            note="a dished pad matters as much as the bore",
        )
    )
