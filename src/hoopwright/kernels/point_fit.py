"""Rigid fit of measured points to nominal ones: shift, turn and, where asked, one scale, by least squares. mm, rad.

measured = centroid + scale * turn(nominal - centroid) + shift, closed form in the plane (complex numbers): with p, q
centred, the best turn and scale are sum(conj(p) q)/sum |p|^2.

References
----------
Procrustes fit in the plane, textbook; free and constrained forms checked by search in
tests/exact/test_point_fit_exact.py.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError
from hoopwright.kernels.arrays import Vector, finite_vector, same_length


@dataclass(frozen=True, slots=True, eq=False)
class PointFit:
    """shift_* [mm], turn_rad about the origin, scale less 1 [1]; sd of each; residual_*: left over, shape (n,) [mm]."""

    shift_x: float
    shift_y: float
    turn_rad: float
    scale_error: float
    residual_sd: float
    sd_shift: float
    sd_turn_rad: float
    sd_scale: float
    residual_x: Vector
    residual_y: Vector

    @property
    def worst_position_mm(self) -> float:
        """Largest distance left after the fit; a position tolerance is a diameter: twice this."""
        return float(np.hypot(self.residual_x, self.residual_y).max())


def fit_points(
    nominal_x: ArrayLike,
    nominal_y: ArrayLike,
    measured_x: ArrayLike,
    measured_y: ArrayLike,
    free: tuple[str, ...] = ("shift", "turn", "scale"),
) -> PointFit:
    """Shift, turn and scale of measured points against nominal ones [mm]; what is not in `free` is held.

    Raises
    ------
    InputError
        Fewer points than the freedoms need, points all in one place, or an unknown freedom.
    """
    nx, ny = finite_vector("nominal x", nominal_x, "mm", 2), finite_vector("nominal y", nominal_y, "mm", 2)
    mx, my = finite_vector("measured x", measured_x, "mm", 2), finite_vector("measured y", measured_y, "mm", 2)
    for name, other in (("nominal y", ny), ("measured x", mx), ("measured y", my)):
        same_length(name, other, "nominal x", nx)
    unknown = set(free) - {"shift", "turn", "scale"}
    if unknown:
        raise InputError("free", sorted(unknown), "", "shift, turn or scale", "name freedoms of a rigid fit")
    p, q = nx + 1j * ny, mx + 1j * my
    moving = "shift" in free
    p0, q0 = (p.mean(), q.mean()) if moving else (0j, 0j)
    pc, qc = p - p0, q - q0
    size = float((np.abs(pc) ** 2).sum())
    if size <= 0.0:
        raise InputError("nominal points", "all in one place", "", "apart", "enter the pattern's places")
    ratio = complex((np.conj(pc) * qc).sum()) / size
    turn = cmath.phase(ratio) if "turn" in free else 0.0
    along = (ratio * cmath.exp(-1j * turn)).real
    scale = along if "scale" in free else 1.0
    factor = scale * cmath.exp(1j * turn)
    shift = q0 - factor * p0
    rest = q - factor * p - shift
    freedoms = 2 * moving + ("turn" in free) + ("scale" in free)
    spare = 2 * p.size - freedoms
    sd = math.sqrt(float((np.abs(rest) ** 2).sum()) / spare) if spare > 0 else 0.0
    return PointFit(
        float(shift.real), float(shift.imag), turn, scale - 1.0, sd,
        sd / math.sqrt(p.size), sd / math.sqrt(size) / max(abs(scale), 1e-12), sd / math.sqrt(size),
        rest.real.astype(np.float64), rest.imag.astype(np.float64),
    )  # fmt: skip
