"""The sheet a walk begins with: stations across the flat width, no contour, no strain."""

from __future__ import annotations

import numpy as np

from hoopwright.kernels.layers import Layers
from hoopwright.process.workpiece import Array, Workpiece


def sheet(part: str, s_mm: Array, width_mm: Array, thickness_mm: float, layers: Layers, length_mm: float) -> Workpiece:
    """Flat annealed sheet over the stations of a part.

    Parameters
    ----------
    part : str
        Drawing number of what it becomes.
    s_mm, width_mm : array, shape (n,)
        Place of each station across the flat width, and the flat width that belongs to it.
    thickness_mm : float
    layers : Layers
        Stack through the sheet, m layers, inside face first.
    length_mm : float
        Length along the rolling direction.

    Returns
    -------
    Workpiece
    """
    n, m = s_mm.size, layers.place.size
    none, nothing = np.zeros(n), np.zeros((n, m))
    return Workpiece(
        part=part,
        form="strip",
        s_mm=s_mm,
        weight_mm=width_mm,
        z_mm=s_mm,
        r_mm=none,
        angle_rad=none,
        curvature_per_mm=none,
        thickness_mm=np.full(n, thickness_mm),
        layer=layers.place,
        plastic_strain=nothing,
        back_stress_MPa=nothing,
        stress_hoop_MPa=nothing,
        stress_section_MPa=nothing,
        length_mm=length_mm,
    )
