"""What one press operation leaves: forces against stroke; strain, thickness, pressure, springback by station.

Units N, mm, MPa, J; strains log [1].
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.section import Result, Section, StepEnd
from hoopwright.process.press_tools import PressTool, rooms_over_sheet
from hoopwright.process.workpiece import Array

WAVE_ROOM_T = 0.16
"""Room above the sheet, in thicknesses, in which a wave cannot grow: the widest wall clearance of common practice."""


@dataclass(frozen=True, slots=True, eq=False)
class PressRecord:
    """The operation by increment and by node.

    stroke_mm (i,) : travel of all driven tools added up. force_N (k, i) : of each tool on the sheet along the axis, of
    one part; tools (k,). shut, free : the section in the shut press and let go. pressure_MPa (k, n) : greatest contact
    pressure of each tool at each node. springback_mm (n, 2) : way of each node from shut to free, axis and radius.
    states : sections on the way, the shut one last; touched (j, n) : whether a node was held from both sides then.
    energy_J : work of the tools.
    """

    tools: tuple[str, ...]
    stroke_mm: Array
    force_N: Array
    shut: Section
    free: Section
    pressure_MPa: Array
    springback_mm: Array
    states: tuple[Section, ...]
    enclosed: NDArray[np.bool_]
    energy_J: float

    def peak_N(self, tool: str) -> float:
        """Greatest force of one tool."""
        return float(np.abs(self.force_N[self.tools.index(tool)]).max())

    def strains_log(self) -> tuple[Array, Array, Array]:
        """Strain along the section, along the hoop and through the thickness of the free part, each (n - 1,)."""
        return self.free.strains()


def record_of(result: Result, standing: Sequence[PressTool], seats: int) -> PressRecord:
    """The record of a run whose last step is the release and whose three before it harden the contact.

    standing : faces where they stand before the first step. seats : steps before the first stroke.
    """
    history = result.history
    force = np.ascontiguousarray(history.push_N[:, :, 0].T)
    travel = history.travel_mm[:, :, 0]
    moved = np.diff(travel, axis=0, prepend=np.zeros((1, travel.shape[1])))
    before = np.vstack((np.zeros((1, force.shape[0])), force.T[:-1]))
    work = float(np.sum(0.5 * (force.T + before) * moved))
    ends = result.steps[:-1]
    kept = [*ends[seats:-3], ends[-1]]
    shut, free = ends[-1].section, result.section
    return PressRecord(
        history.tools,
        np.cumsum(np.abs(moved).max(axis=1)),
        force,
        shut,
        free,
        np.max(np.stack([e.pressure_MPa for e in ends]), axis=0),
        np.stack((free.x_mm - shut.x_mm, free.y_mm - shut.y_mm), axis=1),
        tuple(e.section for e in kept),
        np.stack([_enclosed(e, standing) for e in kept]),
        1e-3 * work,
    )


def _enclosed(end: StepEnd, standing: Sequence[PressTool]) -> NDArray[np.bool_]:
    placed = [
        (tool.side, tool.contour.moved(float(x), float(y)))
        for tool, (x, y) in zip(standing, end.travel_mm, strict=True)
    ]
    thickness = float(end.section.thickness_start_mm.mean())
    return rooms_over_sheet(end.section, placed) <= WAVE_ROOM_T * thickness
