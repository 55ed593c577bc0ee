"""Hole to pierce before a lip is turned: by constant length, and by constant volume with its thinning.

A lip begins at radius R0 on the flat, follows a contour of length L and ends at radius r_e. Two hand rules:

    constant length        r0 = R0 - L
    constant volume        dr0/ds = -sqrt(r(s)/r0), r0(0) = R0: every fibre ring thins as in a plain pull, t = t0
                           sqrt(r0/r), so its length along the section shrinks by the same root

The first is what handbooks print; taken together with the plain-pull thickness of the edge it does not keep volume. mm.

References
----------
Z. Marciniak, J. L. Duncan and S. J. Hu, Mechanics of Sheet Metal Forming, 2002 (edge in uniaxial tension; from memory);
the second rule is derived here and checked against its closed form for a straight lip in
tests/exact/test_lip_development_exact.py.
"""

from __future__ import annotations

import math

from scipy.integrate import solve_ivp

from hoopwright.errors import GeometryError, require_positive
from hoopwright.kernels.profile import Profile


def hole_by_length(flat_radius: float, length: float) -> float:
    """Hole radius by constant length, R0 - L. [mm]

    >>> round(2.0 * hole_by_length(13.0, 1.0 + 3.141592653589793), 3)
    17.717
    """
    hole = require_positive("radius where the lip begins", flat_radius, "mm") - require_positive("length", length, "mm")
    if hole <= 0.0:
        raise _too_long(length, flat_radius)
    return hole


def hole_by_volume(lip: Profile) -> float:
    """Hole radius by constant volume. [mm]

    lip : mid-line from where it leaves the flat to its edge; y is the radius. [mm]
    """
    start = lip.start[1]

    def slope(s: float, r0: list[float]) -> list[float]:
        return [-math.sqrt(lip.point_at(min(s, lip.length))[1] / max(r0[0], 1e-9))]

    def gone(s: float, r0: list[float]) -> float:
        return float(r0[0]) - 1e-3 * start

    gone.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(slope, (0.0, lip.length), [start], rtol=1e-10, atol=1e-12, max_step=0.1, events=gone)
    if found.t[-1] < lip.length:
        raise _too_long(lip.length, start)
    return float(found.y[0, -1])


def _too_long(length: float, start: float) -> GeometryError:
    return GeometryError(
        "lip length",
        round(length, 4),
        "mm",
        f"short enough to leave a hole inside the radius {start:g}",
        "shorten the lip, or draw a cup and cut its bottom out",
    )
