"""What stretching does to out-of-roundness, and what re-hits do to lobes. mm, MPa.

Once every layer yields in tension, bending about the stretched state meets the tangent Et = E H/(E + H); on release
what was bent back springs with E. So of the incoming out-of-roundness, and of the incoming scatter of diameter, there
stays

    residual / incoming = (Et/E) exp(2 eps)

Limits: orders 2 to 4, 1 to 6 mm; stretch above `full_yield_strain` (0.2 to 0.3 %), below it much more stays, and a
strip with bend history keeps 0.18 at 0.2 %. Lobes of the segments are not ironed out: the ring takes the envelope of
the segments and keeps 97 % of it. Source: derived; tests/reference/test_segmented_chain_closed.py.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.sizing_springback import hoop_tangent

HALF_PITCH_DECREMENTS_MM = {8: 0.034, 12: 0.026}
"""Radius by which a half-pitch re-hit must stand lower to null the lobes of order N, by count of segments: runs of the
hoop kernel at R 140, t 1.2, friction 0.1, segments standing 2 mm past machined. The order 2 N stays."""


def residual_ratio(metal: Metal, strain_log: float, prior_plastic_strain: float = 0.0) -> float:
    """Share of incoming out-of-roundness (and of scatter of diameter) that is left after a stretch; 1 while elastic."""
    tangent = hoop_tangent(metal, strain_log, prior_plastic_strain)
    if tangent >= metal.youngs_modulus_MPa:
        return 1.0
    return tangent / metal.youngs_modulus_MPa * math.exp(2.0 * strain_log)


def full_yield_strain(
    metal: Metal,
    radius_mm: float,
    fibre_height_mm: float,
    order: int = 2,
    amplitude_mm: float = 0.0,
    residual_compression_MPa: float = 0.0,
) -> float:
    """Mean stretch above which every layer yields in tension: the least that rounds a hoop.

    Parameters
    ----------
    fibre_height_mm : float
        Greatest distance of a fibre from the middle (half the thickness of a plain strip).
    order, amplitude_mm : int, float
        Out-of-roundness amplitude cos(order theta); order 2 or more.
    residual_compression_MPa : float
        Largest hoop compression the incoming ring carries, entered above 0.

    Notes
    -----
    eps = [s(0) + compression]/E + y (m^2 - 1) w0 / R^2.
    """
    radius = require_positive("radius", radius_mm, "mm")
    height = require_positive("fibre height", fibre_height_mm, "mm")
    if isinstance(order, bool) or not isinstance(order, int) or order < 2:
        raise InputError("order", order, "", "a whole number, 2 or more", "enter the count of lobes")
    for name, value in (("amplitude", amplitude_mm), ("residual compression", residual_compression_MPa)):
        if require_finite(name, value) < 0.0:
            raise InputError(name, value, "", "0 or more", "enter its size without sign")
    bend = height * (order * order - 1) * amplitude_mm / (radius * radius)
    return metal.yield_strain + residual_compression_MPa / metal.youngs_modulus_MPa + bend


def half_pitch_decrement(segments: int) -> float:
    """Radius by which a half-pitch re-hit must stand lower to null the lobes of order N. [mm]

    Raises
    ------
    InputError
        A count of segments no run was made for: the hoop kernel answers it.
    """
    if segments not in HALF_PITCH_DECREMENTS_MM:
        known = " or ".join(str(n) for n in HALF_PITCH_DECREMENTS_MM)
        raise InputError("segments", segments, "", known, "run the hoop kernel for this set; first make the offset 0")
    return HALF_PITCH_DECREMENTS_MM[segments]
