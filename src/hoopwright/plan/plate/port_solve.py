"""Backward for a port: pad height, plunger and pre-hole that leave the drawn pad, bore and lip when let go. mm."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels.press_formulas import edge_strain
from hoopwright.plan.plate import lip_offers
from hoopwright.plan.plate.fixed_point import Closed, close
from hoopwright.plan.plate.job import EDGES, PlateJob
from hoopwright.plan.plate.port_press import PortFormed, PortSettings, form_port
from hoopwright.plan.plate.port_shape import PortShape
from hoopwright.process.press import CutEdge
from hoopwright.process.workpiece import Array

WITHIN_MM = 0.005
"""Miss to which port sizes are closed: a twentieth of the usual tolerance of 0.10."""
GAIN = np.array([1.0, 1.0, -1.0])
"""A taller pad tool, a larger plunger; a lip too short wants a smaller hole."""


@dataclass(frozen=True, slots=True, eq=False)
class PortSolved:
    """setting : closed. closed : with its proof. drawn_in : the same tools with a field whose edge draws in freely.

    by_length, by_volume : hole radii by the two hand rules.
    """

    setting: PortSettings
    closed: Closed[PortFormed]
    drawn_in: PortFormed
    by_length: float
    by_volume: float


def solve_port(job: PlateJob, shape: PortShape) -> PortSolved:
    """Close a port on its drawing; its cut edge is the cheapest that holds.

    Raises
    ------
    NotConverged
        The kernel or the fixed point stopped short.
    GeometryError
        Faces that cannot be, a lip that leaves no hole.
    InputError
        A lip that no state of the edge can take; ports so close that their fields leave nothing to hold.
    """
    by_length, by_volume = lip_offers.by_length(shape).hole_radius, lip_offers.by_volume(shape).hole_radius
    room = job.field_mm - shape.foot_from
    if room < 3.0 * shape.thickness:
        raise InputError(
            f"{job.plate.id}: flat from a port's foot to half way to the next",
            round(room, 3),
            "mm",
            f"at least {3.0 * shape.thickness:g}, three sheets for a holder",
            "fewer or smaller ports, or a larger pitch circle",
        )
    start = PortSettings(
        pad_height=shape.pad_height,
        plunger_radius=shape.lip_rho - 0.5 * shape.thickness,
        hole_radius=by_volume,
        clearance=job.clearance_mm,
        field=job.field_mm,
        holder_pressure_MPa=job.card.limits.holder_pressure_MPa.value,
        cut_edge=edge_that_holds(job, edge_strain(shape.lip_rho, by_volume)),
    )

    def setting_of(values: Array) -> PortSettings:
        return replace(
            start, pad_height=float(values[0]), plunger_radius=float(values[1]), hole_radius=float(values[2])
        )

    def run(values: Array) -> tuple[Array, PortFormed]:
        formed = form_port(job.plate.id, shape, setting_of(values), job.liner.ports, job.card)
        return _missed(shape, formed), formed

    first = np.array([start.pad_height, start.plunger_radius, start.hole_radius])
    closed = close(f"{job.plate.id} port", first, run, GAIN, WITHIN_MM)
    edge = edge_that_holds(job, closed.last.edge_strain_log)
    setting = replace(setting_of(closed.values), cut_edge=edge)
    if edge != start.cut_edge:
        # the hand rule chose another state: only what is said about the edge changes
        closed = replace(closed, last=form_port(job.plate.id, shape, setting, job.liner.ports, job.card))
    free = form_port(job.plate.id, shape, replace(setting, outer_edge="level"), job.liner.ports, job.card)
    return PortSolved(setting, closed, free, by_length, by_volume)


def _missed(shape: PortShape, formed: PortFormed) -> Array:
    return np.array(
        [
            shape.pad_height - formed.pad_height,
            shape.lip_rho - 0.5 * shape.thickness - formed.bore_radius,
            shape.lip_end_x - formed.lip_end,
        ]
    )


def edge_that_holds(job: PlateJob, strain_log: float) -> CutEdge:
    """The cheapest state of an edge that the house allows for a strain; the best one where none does."""
    for edge in EDGES:
        if strain_log <= job.edge_limit(edge).value:
            return edge
    return EDGES[-1]
