"""Cold places from hot ones, with the whole liner in the loop: x_cold <- x_cold + (x_target - x_cold - u(x_cold))."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import NotConverged
from hoopwright.kernels.shell_stack_mesh import Strand
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.model import HotModel, hot_model, meshed

CLOSE_MM = 1e-4
TURNS = 12


@dataclass(frozen=True, slots=True, eq=False)
class ColdFromHot:
    """strands : cold meridians that become the wanted hot ones. residual : after each turn. [mm]"""

    model: HotModel
    strands: tuple[Strand, ...]
    residual: tuple[float, ...]


def cold_from_hot(job: HotJob, close: float = CLOSE_MM) -> ColdFromHot:
    """Cold meridians, if the sections of the job were the hot ones.

    Temperatures belong to metal, so they stay with the distance along the section. Never one mean factor: parts grow
    unequally and the end plate leans.

    Raises
    ------
    NotConverged
        The repetition does not settle.
    """
    wanted = meshed(job)
    now = wanted
    residual: list[float] = []
    for _ in range(TURNS):
        model = hot_model(job, strands=now)
        moved = model.moved()
        miss, moved_on, begin = 0.0, [], 0
        for target, meridian in zip(wanted, now, strict=True):
            own = moved[begin : begin + meridian.nodes]
            begin += meridian.nodes
            dr, dz = target.r - meridian.r - own[:, 0], target.z - meridian.z - own[:, 1]
            miss = max(miss, float(np.hypot(dr, dz).max()))
            moved_on.append(replace(meridian, r=meridian.r + dr, z=meridian.z + dz))
        residual.append(miss)
        if miss < close:
            return ColdFromHot(model, now, tuple(residual))
        now = tuple(moved_on)
    raise NotConverged("hot to cold does not settle", residual, "check metal temperatures and datum")
