"""Welded laps through time: how far the two parts would stand apart if nothing held them, at the worst moment."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.findings import Figure, Input, Source
from hoopwright.plan.hot.gaps import places_strain
from hoopwright.plan.hot.history import HotTimes
from hoopwright.plan.hot.model import HotModel
from hoopwright.plan.hot.startup import ASSUMED
from hoopwright.plan.hot.warm_band import band_of, places_step
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]


def lap_figures(model: HotModel, times: HotTimes) -> list[Figure]:
    """Radial misfit of every welded lap where it is greatest in the cycle: radius times difference of free strain."""
    job = model.job
    strain = places_strain(times)
    source = ASSUMED if "lumped" in times.said else Source("measured", times.said)
    figures = []
    for tie in job.ties:
        if (tie.joint.hold or "welded") != "welded":
            continue
        nodes = [model.node(k, s) for k, s in ((tie.outer, tie.outer_s_mm), (tie.inner, tie.inner_s_mm))]
        outer, inner = (model.shape[node] @ strain for node in nodes)
        radius = model.place_of(nodes[0])[1]
        apart = radius * (outer - inner)
        worst = int(np.argmax(np.abs(apart)))
        steps, shape = places_step(times, worst), model.shape[nodes[0]] - model.shape[nodes[1]]
        pair = f"{job.parts[tie.outer].id} over {job.parts[tie.inner].id}"
        figures.append(
            reckoned(
                job.identity(f"joints/{tie.joint.id}/misfit-cycle"),
                f"{tie.joint.id}: {pair} if free, greatest of the cycle",
                float(apart[worst]),
                "mm",
                "r ( e_o - e_i )",
                Input("r", "radius of the weld", radius, "mm", job.source("section")),
                Input("e_o", f"free strain of {job.parts[tie.outer].id}", float(outer[worst]), "eng", source),
                Input("e_i", f"free strain of {job.parts[tie.inner].id}", float(inner[worst]), "eng", source),
                Input("t", "at", float(times.times[worst]), "s", source),
                digits=3,
                band=band_of(float(apart[worst]), (radius * (shape * steps)).tolist()),
                note=f"{times.said}; the weld holds it, the metal takes it as stress",
            )
        )
    return figures
