"""Films on both faces of the sheet, and temperatures conducted along it: assumed where nothing is given, and said."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import CardError, RangeError
from hoopwright.kernels.thermal_sheet import conducted
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.model import HotModel
from hoopwright.plan.hot.startup import SHEET_AIR_W_PER_M2K, hot_gas_degC

Vector = NDArray[np.float64]


def film_sum_W_per_m2K(job: HotJob, part: int) -> float | None:
    """Sum of the films of both faces: air side as given or assumed, gas side so that the steady temperature holds."""
    if job.liner.operating is None:
        return None
    gas, air = hot_gas_degC(job), job.liner.operating.inlet_degC
    given = None if job.liner.thermal is None else job.liner.thermal.start_up
    cold = SHEET_AIR_W_PER_M2K
    if given is not None and given.sheet_air_W_per_m2K is not None:
        cold = given.sheet_air_W_per_m2K
    mean = float(np.mean([p.metal_degC for p in job.parts[part].places]))
    hot = cold * (mean - air) / (gas - mean) if air < mean < gas else cold
    return hot + cold


def conductivity_W_per_mK(job: HotJob, part: int) -> float | None:
    """Conductivity of a part where it is given; None where its card has none there."""
    one = job.parts[part]
    try:
        return one.alloy.conductivity_W_per_mK(one.places[0].metal_degC).value
    except (CardError, RangeError):
        return None


def run_out_mm(job: HotJob, part: int) -> float | None:
    """Length over which a step of temperature runs out along a part: sqrt(k t / h). [mm]"""
    film, conducts = film_sum_W_per_m2K(job, part), conductivity_W_per_mK(job, part)
    if film is None or conducts is None:
        return None
    return 1e3 * math.sqrt(conducts * 1e-3 * job.parts[part].thickness_mm / film)


def conducted_degC(model: HotModel, warm: Vector | None = None, factor: float = 1.0) -> tuple[Vector, ...]:
    """Temperatures at the nodes of every part with conduction along the sheet; empty where the data lack.

    Parameters
    ----------
    warm : temperatures of all given places, shape (m,), where they are not those of the job. [degC] factor : on films.
    """
    job = model.job
    films = [film_sum_W_per_m2K(job, k) for k in range(len(job.parts))]
    conduct = [conductivity_W_per_mK(job, k) for k in range(len(job.parts))]
    sums, leads = [factor * f * 1e-6 for f in films if f is not None], [c * 1e-3 for c in conduct if c is not None]
    if len(sums) < len(films) or len(leads) < len(conduct):
        return ()
    settled, begin = [], 0
    if warm is None:
        warm = np.array([p.metal_degC for part in job.parts for p in part.places])
    for meridian in model.stack.strands:
        settled.append(model.shape[begin : begin + meridian.nodes] @ warm)
        begin += meridian.nodes
    return conducted(model.stack.strands, model.links, settled, leads, sums)
