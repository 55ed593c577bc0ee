"""Radius of a face of a workpiece at a place along the axis, and the mean strain through its sheet."""

from __future__ import annotations

from typing import Literal

import numpy as np

from hoopwright.errors import InputError
from hoopwright.process.workpiece import Array, Workpiece

Face = Literal["inside", "mid", "outside"]


def radius_at(workpiece: Workpiece, z_mm: float, face: Face = "mid") -> float:
    """Radius of a face at z [mm]; on a cone half the thickness counts square to the sheet.

    Raises
    ------
    InputError
        A place beyond the edges of the workpiece.
    """
    z = workpiece.z_mm
    slack = 0.51 * float(workpiece.weight_mm.max())
    if not z[0] - slack <= z_mm <= z[-1] + slack:
        raise InputError("z", z_mm, "mm", f"on {workpiece.part}, {z[0]:.3f} to {z[-1]:.3f}", "move the control size")
    sense = {"inside": -0.5, "mid": 0.0, "outside": 0.5}[face]
    line = workpiece.r_mm + sense * workpiece.thickness_mm / np.cos(workpiece.angle_rad)
    return float(np.interp(z_mm, z, line))


def mean_strain(workpiece: Workpiece) -> Array:
    """Plastic strain of each station, mean through the sheet, shape (n,)."""
    return np.asarray(workpiece.plastic_strain.mean(axis=1), dtype=np.float64)


def section_mean(workpiece: Workpiece, by_station: Array) -> float:
    """Mean over the section of something known by station, by area."""
    area = workpiece.weight_mm * workpiece.thickness_mm
    return float(area @ by_station / area.sum())


def face_strain(workpiece: Workpiece) -> tuple[Array, Array]:
    """Plastic strain at the inside and the outside face, shapes (n,) and (n,), carried on from the last layers."""
    p, y = workpiece.plastic_strain, workpiece.layer
    if y.size == 1:
        return p[:, 0], p[:, 0]
    reach = (0.5 + y[0]) / (y[1] - y[0])
    inside = p[:, 0] + reach * (p[:, 0] - p[:, 1])
    outside = p[:, -1] + reach * (p[:, -1] - p[:, -2])
    return np.maximum(inside, 0.0), np.maximum(outside, 0.0)
