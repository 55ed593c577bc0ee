"""A contoured workpiece as the few fibres round the hoop that the hoop kernel carries.

The section has some sixty stations of twenty layers. Cells are gathered by how far out they lie and, within that, by
how much they have been worked. Each gathered fibre keeps the area and the mean place and stress of its cells, and is
worked as much as gives their mean flow stress at the stretch that is to come (the flow curve bends, so that the mean
work gives too much).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.kernels.flow import FlowCurve
from hoopwright.kernels.hoop import FibreState, HoopSection
from hoopwright.kernels.metal import Metal, yield_radius
from hoopwright.process.workpiece import Array, Workpiece

ROWS, COLUMNS = 4, 1
"""Fibres by place, and by work within a place; what they leave is measured in tests/process/test_hoop_fibres.py."""

WORK_POINTS = 400


@dataclass(frozen=True, slots=True)
class HoopFibres:
    """The section as fibres. axis_radius_mm : of the reference axis, the middle of the section's area, as welded.

    let_go_MPa : largest residual stress that a fibre of one stress cannot hold and that was let go, 0 where none.
    """

    section: HoopSection
    axis_radius_mm: float
    let_go_MPa: float


def hoop_fibres(
    workpiece: Workpiece,
    metal: Metal,
    bearing_mm: float,
    stretch_log: float,
    rows: int = ROWS,
    columns: int = COLUMNS,
) -> HoopFibres:
    """Fibres of a welded hoop.

    Parameters
    ----------
    bearing_mm : axial width that bears on the segments. stretch_log : mean stretch that is to come.
    rows, columns : fibres by place, and by work in each place.

    Raises
    ------
    InputError
        A strip that is not closed yet; no rows or columns.
    """
    if workpiece.form != "hoop":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a hoop", "close and weld it first")
    if rows < 2 or columns < 1:
        raise InputError("fibres", (rows, columns), "", "2 rows and 1 column or more", "use 4 and 1")
    normal = np.cos(workpiece.angle_rad)
    place = workpiece.r_mm[:, None] + normal[:, None] * workpiece.thickness_mm[:, None] * workpiece.layer
    area = np.repeat((workpiece.weight_mm * workpiece.thickness_mm / workpiece.layer.size)[:, None], place.shape[1], 1)
    axis = float(np.sum(area * place) / np.sum(area))
    cells = _gathered((place - axis).ravel(), workpiece.plastic_strain.ravel(), area.ravel(), rows, columns)
    mean = _means(cells, area.ravel())
    plastic = _worked(mean, workpiece.plastic_strain, metal.flow, stretch_log)
    back = mean(workpiece.back_stress_MPa)
    stress, let_go = _holdable(mean(workpiece.stress_hoop_MPa), plastic, back, metal)
    inside = float(np.sum(area * (workpiece.r_mm - 0.5 * normal * workpiece.thickness_mm)[:, None]) / np.sum(area))
    section = HoopSection(
        offsets_mm=_row(mean(place - axis)),
        areas_mm2=_row(np.bincount(cells, area.ravel())),
        metal=metal,
        thickness_mm=float(np.average(workpiece.thickness_mm, weights=workpiece.weight_mm)),
        axis_height_mm=axis - inside,
        width_mm=bearing_mm,
        state=FibreState(_row(stress), _row(plastic), _row(back)),
    )
    return HoopFibres(section, axis, let_go)


def _row(values: NDArray[Any]) -> tuple[float, ...]:
    return tuple(float(value) for value in values)


def _gathered(offset: Array, work: Array, area: Array, rows: int, columns: int) -> NDArray[np.int64]:
    """Number of the fibre of every cell: equal areas by offset, then by work."""
    fibre = np.zeros(offset.size, dtype=np.int64)
    for row, inside in enumerate(_equal_parts(np.arange(offset.size), offset, area, rows)):
        for column, cell in enumerate(_equal_parts(inside, work, area, columns)):
            fibre[cell] = row * columns + column
    return fibre


def _equal_parts(cells: NDArray[np.int64], key: Array, area: Array, parts: int) -> list[NDArray[np.int64]]:
    """Cells in the order of a key, cut into parts of nearly equal area, none of them empty."""
    ordered = cells[np.argsort(key[cells], kind="stable")]
    share = np.cumsum(area[ordered]) - 0.5 * area[ordered]
    part = np.minimum((parts * share / area[ordered].sum()).astype(np.int64), parts - 1)
    return [ordered[part == number] for number in range(parts) if np.any(part == number)]


def _means(cells: NDArray[np.int64], area: Array) -> Callable[[Array], Array]:
    """The mean of something known by cell over the cells of each fibre."""
    whole = np.bincount(cells, area)

    def mean(values: Array) -> Array:
        return np.asarray(np.bincount(cells, area * values.ravel()) / whole)

    return mean


def _worked(mean: Callable[[Array], Array], plastic: Array, flow: FlowCurve, stretch_log: float) -> Array:
    """Work of each fibre that gives the mean flow stress of its cells when they are stretched, never below nil."""
    work = np.linspace(0.0, float(plastic.max()) + stretch_log, WORK_POINTS)
    stress = np.array([flow.stress(float(p)) for p in work])
    wanted = mean(np.interp(plastic + stretch_log, work, stress))
    return np.maximum(np.interp(wanted, stress, work) - stretch_log, 0.0)


def _holdable(stress: Array, plastic: Array, back: Array, metal: Metal) -> tuple[Array, float]:
    """Stress that fibres of one stress can hold; a sheet under two may hold 15 % more round the hoop."""
    law, packed = metal.law(), metal.vector()
    room = np.array([float(yield_radius(law, packed, p)) for p in plastic])
    held = back + np.clip(stress - back, -room, room)
    return held, float(np.max(np.abs(held - stress)))
