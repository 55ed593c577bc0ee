"""How far a ring or shell stretches before it runs thin by itself, by what loads it (rigid-plastic, isotropic).

Strains are unitless. What carries the load falls as the metal thins; the load is largest where slope = z x flow
stress, in effective strain:

    loading                      z       hoop strain / effective strain
    hoop force in a ring         1       1
    pressure on a free ring      3/2     1
    pressure on a long tube      sqrt3   sqrt3/2      (no strain along the axis)
    pressure on a sphere         3/2     1/2

A ring on segments is loaded by hoop force in its free spans. Source: W. F. Hosford and R. M. Caddell, Metal Forming;
P. B. Mellor 1962 (both from memory); tests/published/ring_stretching.
"""

from __future__ import annotations

import math
from typing import Literal

from hoopwright.errors import InputError
from hoopwright.kernels.flow import FlowCurve

Loading = Literal["hoop force", "pressure on a free ring", "pressure on a long tube", "pressure on a sphere"]

_CASES: dict[str, tuple[float, float]] = {
    "hoop force": (1.0, 1.0),
    "pressure on a free ring": (1.5, 1.0),
    "pressure on a long tube": (math.sqrt(3.0), 0.5 * math.sqrt(3.0)),
    "pressure on a sphere": (1.5, 0.5),
}


def instability_hoop_strain(flow: FlowCurve, loading: Loading = "hoop force") -> float:
    """Plastic hoop strain (log) at the largest load; 0 where the metal is past it at the start.

    Raises
    ------
    InputError
        A loading that is not in the table; a curve that never reaches a largest load below strain 64.
    """
    if loading not in _CASES:
        raise InputError("loading", loading, "", " or ".join(_CASES), "choose one")
    ratio, share = _CASES[loading]
    low, high = 0.0, 1.0
    if flow.slope(low) <= ratio * flow.stress(low):
        return 0.0
    while flow.slope(high) > ratio * flow.stress(high):
        high *= 2.0
        if high > 64.0:
            raise InputError("flow curve", flow.law, "", "one with a largest load", "check its points")
    for _ in range(80):
        mid = 0.5 * (low + high)
        low, high = (mid, high) if flow.slope(mid) > ratio * flow.stress(mid) else (low, mid)
    return share * 0.5 * (low + high)
