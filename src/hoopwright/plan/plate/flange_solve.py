"""Backward for the flanges: punch walls and blank edges that leave the drawn flanges when let go and trimmed. mm."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hoopwright.kernels.press_formulas import edge_strain
from hoopwright.plan.plate.fixed_point import Closed, close
from hoopwright.plan.plate.flange_press import FlangeSettings, PlateFormed, form_flanges, lean_reach
from hoopwright.plan.plate.job import PlateJob
from hoopwright.plan.plate.port_solve import edge_that_holds
from hoopwright.process.press_figures import edge_strains_log
from hoopwright.process.workpiece import Array

WITHIN_MM = 0.005
"""Miss to which flange radii and edges are closed: a tenth of half the usual tolerance of 0.10 on a diameter."""
GAIN = np.array([1.0, 1.0, -0.8, 1.0])
"""Walls follow one to one; an inner flange too short wants a smaller hole, and gains by the ratio of the radii."""


@dataclass(frozen=True, slots=True, eq=False)
class FlangesSolved:
    """setting : closed. closed : with its proof. wider : the same with the house's largest die radius, run where a
    flange leans too far; None where none does.
    """

    setting: FlangeSettings
    closed: Closed[PlateFormed]
    wider: PlateFormed | None = None


def solve_flanges(job: PlateJob) -> FlangesSolved:
    """Close both flanges on the drawing.

    Raises
    ------
    NotConverged
        The kernel or the fixed point stopped short.
    GeometryError
        Faces that cannot be.
    """
    shape, limits = job.shape, job.card.limits
    inner, outer = shape.developed()
    trim = limits.edge_trim_mm.value
    start = FlangeSettings(
        inner_wall=shape.inner_wanted,
        outer_wall=shape.outer_wanted,
        blank_inner=inner - trim,
        blank_outer=outer + trim,
        clearance=job.clearance_mm,
        die_radius=job.die_radius_mm,
        trim=trim,
        holder_pressure_MPa=limits.holder_pressure_MPa.value,
        cut_edge=edge_that_holds(job, edge_strain(shape.inner_rho, inner - trim)),
    )

    def setting_of(values: Array) -> FlangeSettings:
        a, b, c, d = (float(v) for v in values)
        return replace(start, inner_wall=a, outer_wall=b, blank_inner=c, blank_outer=d)

    def run(values: Array) -> tuple[Array, PlateFormed]:
        formed = form_flanges(job.plate.id, shape, setting_of(values), job.card)
        missed = np.array(
            [
                shape.inner_wanted - formed.inner_radius,
                shape.outer_wanted - formed.outer_radius,
                shape.inner_end + trim - formed.inner_edge,
                shape.outer_end + trim - formed.outer_edge,
            ]
        )
        return missed, formed

    first = np.array([start.inner_wall, start.outer_wall, start.blank_inner, start.blank_outer])
    closed = close(f"{job.plate.id} flanges", first, run, GAIN, WITHIN_MM)
    stretched = max(edge_strains_log(closed.last.step.record))
    setting = replace(setting_of(closed.values), cut_edge=edge_that_holds(job, stretched))
    if setting.cut_edge != start.cut_edge:
        # constant length chose another state: only what is said about the edge changes
        closed = replace(closed, last=form_flanges(job.plate.id, shape, setting, job.card))
    wider = None
    if max(lean_reach(shape, closed.last)) > 0.5 * job.liner.tolerances.profile_restrained_mm:
        most = limits.die_radius_max_t.value * job.plate.thickness_mm
        wider = form_flanges(job.plate.id, shape, replace(setting, die_radius=most), job.card)
    return FlangesSolved(setting, closed, wider)
