"""Load, length of contact, work and torque of closing a strip's section between rolling tools; passes. N, mm, MPa.

Two tools of pitch radii R1, R2 close on the strip: at the distance s before the plane of their axes the opening is
wider by s^2/(2 Re), 1/Re = 1/R1 + 1/R2. With the force per unit of strip F(opening) known (closing the same section
between straight tools), the load is

    P = integral of F ds,   s = sqrt(2 Re opening)            (openings counted from the closed end)

and work per unit of strip W = integral of F d(opening) gives the torque of both tools together, W Rp.
The hand load W sqrt(2 Re / h), h the depth, spreads the work evenly over the contact; it comes out 2 to 2.5 times too
low, because the force rises steeply in the last tenth of a millimetre.

References
----------
Derived here; exact for a piecewise straight force-opening table (tests/exact/test_roll_pass_exact.py).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import Vector, finite_vector, rising_vector, same_length


def relative_radius(first: float, second: float) -> float:
    """Re of two tools of pitch radii R1, R2 on opposite faces: 1/Re = 1/R1 + 1/R2. [mm]"""
    r1, r2 = require_positive("pitch radius", first, "mm"), require_positive("pitch radius", second, "mm")
    return r1 * r2 / (r1 + r2)


def contact_length(depth: float, relative: float) -> float:
    """Length before the plane of the axes over which a depth is taken: sqrt(2 Re h). [mm]

    >>> round(contact_length(2.35, relative_radius(50.0, 50.0)), 1)
    10.8
    """
    if require_finite("depth", depth, "mm") < 0.0:
        raise InputError("depth", depth, "mm", "0 or more", "enter the depth taken in this pass")
    return math.sqrt(2.0 * require_positive("relative radius", relative, "mm") * depth)


def hand_load(work: float, depth: float, relative: float) -> float:
    """Load from the work per unit of strip [N] alone: W sqrt(2 Re / h). 2 to 2.5 times too low. [N]"""
    h = require_positive("depth", depth, "mm")
    re = require_positive("relative radius", relative, "mm")
    return require_positive("work per unit of strip", work, "N") * math.sqrt(2.0 * re / h)


@dataclass(frozen=True, slots=True, eq=False)
class ForceOpening:
    """Force per unit of strip against opening above the closed end: opening_mm from 0, rising; force_N_per_mm (n,)."""

    opening_mm: Vector
    force_N_per_mm: Vector

    def __post_init__(self) -> None:
        opening = rising_vector("opening", self.opening_mm, "mm")
        force = finite_vector("force", self.force_N_per_mm, "N/mm", 2)
        same_length("force", force, "opening", opening)
        if opening[0] != 0.0:
            raise InputError("opening[0]", opening[0], "mm", "0, the closed end", "count openings from the closed end")
        if np.any(force < 0.0):
            raise InputError("force", float(force.min()), "N/mm", "0 or more", "check the table")
        object.__setattr__(self, "opening_mm", opening)
        object.__setattr__(self, "force_N_per_mm", force)


@dataclass(frozen=True, slots=True)
class PassLoad:
    """One pass: load, length of contact, work per unit of strip (J per m), torque of both tools together."""

    load_N: float
    contact_mm: float
    work_N: float
    torque_Nm: float


def pass_load(table: ForceOpening, relative: float, pitch_radius: float) -> PassLoad:
    """Load of a pass from the closing force of its section, exact for a force straight between rows.

    relative : Re [mm]; pitch_radius : of the driven tools, for the torque [mm].
    """
    re = require_positive("relative radius", relative, "mm")
    o, f = table.opening_mm, table.force_N_per_mm
    s = np.sqrt(2.0 * re * o)
    slope = np.diff(f) / np.diff(o)
    level = f[:-1] - slope * o[:-1]
    load = np.sum(level * np.diff(s) + slope * np.diff(s**3) / (6.0 * re))
    work = float(np.sum(0.5 * (f[1:] + f[:-1]) * np.diff(o)))
    torque = work * require_positive("pitch radius", pitch_radius, "mm") * 1e-3
    return PassLoad(float(load), float(s[-1]), work, torque)


def bending_work(moments: ArrayLike, turns: ArrayLike) -> float:
    """Work per unit of strip of turning each corner by its angle under its moment: sum of M theta.

    moments [N mm per mm] and turns [rad, 0 or more], shape (corners,). [N]
    """
    m = finite_vector("moment", moments, "N")
    theta = finite_vector("turn", turns, "rad")
    same_length("turn", theta, "moment", m)
    if np.any(theta < 0.0) or np.any(m < 0.0):
        raise InputError("turn or moment", float(min(theta.min(), m.min())), "", "0 or more", "enter sizes, not signs")
    return float(m @ theta)


def depth_shares(depth: float, thickness: float, new_depth_in_thickness: float, least: int = 1) -> tuple[float, ...]:
    """Equal new depths [mm] of each pass so that none passes `new_depth_in_thickness` times the thickness.

    >>> [round(share, 3) for share in depth_shares(2.35, 0.8, 1.0)]
    [0.783, 0.783, 0.783]
    """
    largest = require_positive("new depth a pass", new_depth_in_thickness) * require_positive(
        "thickness", thickness, "mm"
    )
    whole = require_positive("depth", depth, "mm")
    count = max(least, math.ceil(whole / largest - 1e-9))
    return tuple(whole / count for _ in range(count))
