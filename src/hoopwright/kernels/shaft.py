"""Round shafts that carry a pair of forming tools, and the gap that runs between the tools. N, mm, MPa.

Load mid-span between simple bearings, or overhung beyond one:

    mid-span   P l^3 / (48 E I)  + shear  P l / (4 k G A)
    overhung   P a^3 / (3 E I)   + shear  P a / (k G A),   tilt P a^2 / (2 E I)

I = pi d^4/64, A = pi d^2/4, G = E/(2(1 + nu)), k = 6 (1 + nu)/(7 + 6 nu). Shear is worth adding once l/d is below
about 3; it is always shown apart.

The gap follows the load and the load the gap: g = g_set + C P(g), C the opening per load of shafts and frame together.

References
----------
Beam theory as in any handbook; k after G. R. Cowper, The shear coefficient in Timoshenko's beam theory, 1966 (from
memory). Flattening of the tools is left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.arrays import Vector, finite_vector, rising_vector, same_length


@dataclass(frozen=True, slots=True)
class Shaft:
    """A solid round shaft. arm_mm : span between bearings (load mid-span) or reach of the load beyond the bearing."""

    diameter_mm: float
    arm_mm: float
    overhung: bool
    youngs_modulus_MPa: float
    poisson: float = 0.3

    def __post_init__(self) -> None:
        require_positive("shaft diameter", self.diameter_mm, "mm")
        require_positive("shaft span", self.arm_mm, "mm")
        require_positive("elastic modulus", self.youngs_modulus_MPa, "MPa")
        require_range("Poisson's ratio", self.poisson, 0.0, 0.5)


@dataclass(frozen=True, slots=True)
class ShaftBend:
    """Deflection under the load by bending and by shear, and tilt of the tool (0 for a load mid-span)."""

    bending_mm: float
    shear_mm: float
    tilt_rad: float
    stress_MPa: float

    @property
    def deflection_mm(self) -> float:
        """Bending and shear together."""
        return self.bending_mm + self.shear_mm


def shaft_bend(shaft: Shaft, load: float) -> ShaftBend:
    """Deflection, tilt and largest bending stress under a load [N].

    Examples
    --------
    >>> bend = shaft_bend(Shaft(40.0, 150.0, False, 205000.0), 1000.0)
    >>> round(1000.0 * bend.bending_mm, 1)
    2.7
    """
    force = require_finite("load", load, "N")
    e, nu, d, arm = shaft.youngs_modulus_MPa, shaft.poisson, shaft.diameter_mm, shaft.arm_mm
    inertia, area = math.pi * d**4 / 64.0, 0.25 * math.pi * d * d
    shear_stiffness = 6.0 * (1.0 + nu) / (7.0 + 6.0 * nu) * e / (2.0 * (1.0 + nu)) * area
    if shaft.overhung:
        moment = force * arm
        return ShaftBend(
            moment * arm**2 / (3.0 * e * inertia),
            moment / shear_stiffness,
            moment * arm / (2.0 * e * inertia),
            moment * 0.5 * d / inertia,
        )
    moment = 0.25 * force * arm
    return ShaftBend(moment * arm**2 / (12.0 * e * inertia), moment / shear_stiffness, 0.0, moment * 0.5 * d / inertia)


def pair_compliance(first: Shaft, second: Shaft, frame_stiffness: float | None = None) -> float:
    """Opening of the gap per load: both shafts (bending and shear) and the frame's stiffness [N/mm]. [mm/N]"""
    shafts = shaft_bend(first, 1.0).deflection_mm + shaft_bend(second, 1.0).deflection_mm
    if frame_stiffness is None:
        return shafts
    return shafts + 1.0 / require_positive("frame stiffness", frame_stiffness, "N/mm")


@dataclass(frozen=True, slots=True, eq=False)
class LoadTable:
    """Load against running gap: gap_mm rising, load_N falling or level, shape (n,). Straight between rows."""

    gap_mm: Vector
    load_N: Vector

    def __post_init__(self) -> None:
        gap = rising_vector("gap", self.gap_mm, "mm")
        load = finite_vector("load", self.load_N, "N", 2)
        same_length("load", load, "gap", gap)
        if np.any(load < 0.0) or np.any(np.diff(load) > 0.0):
            raise InputError("load", load.tolist(), "N", "0 or more and falling as the gap opens", "sort the table")
        object.__setattr__(self, "gap_mm", gap)
        object.__setattr__(self, "load_N", load)

    def at(self, gap: float) -> float:
        """Load at a running gap; refuses gaps outside the table. [N]"""
        low, high = float(self.gap_mm[0]), float(self.gap_mm[-1])
        return float(np.interp(require_range("running gap", gap, low, high, "mm"), self.gap_mm, self.load_N))


@dataclass(frozen=True, slots=True)
class RunningGap:
    """Gap as set without load, as it runs, and the load it runs under. spring_mm = running - set."""

    set_mm: float
    running_mm: float
    load_N: float

    @property
    def spring_mm(self) -> float:
        """How far the load opens the gap."""
        return self.running_mm - self.set_mm


def running_gap(set_gap: float, compliance: float, table: LoadTable) -> RunningGap:
    """Gap that runs when `set_gap` [mm] was set: the one root of g = g_set + C P(g), C [mm/N].

    g - C P(g) rises with g, so the root is single; it is found exactly, row by row of the table.

    Raises
    ------
    InputError
        When it lies outside the table.
    """
    start = require_finite("set gap", set_gap, "mm")
    c = require_positive("opening per load", compliance, "mm/N")
    excess = table.gap_mm - c * table.load_N - start
    if excess[0] > 0.0 or excess[-1] < 0.0:
        low = float(table.gap_mm[0] - c * table.load_N[0])
        high = float(table.gap_mm[-1] - c * table.load_N[-1])
        raise InputError("set gap", start, "mm", f"from {low:.4g} to {high:.4g} for this load table", "widen the table")
    row = min(int(np.searchsorted(excess, 0.0, side="right")) - 1, excess.size - 2)
    share = -float(excess[row]) / float(excess[row + 1] - excess[row])
    gap = float(table.gap_mm[row] + share * (table.gap_mm[row + 1] - table.gap_mm[row]))
    return RunningGap(start, gap, table.at(gap))


def set_gap_for(running: float, compliance: float, table: LoadTable) -> RunningGap:
    """Gap to set so that `running` [mm] runs: running - C P(running)."""
    load = table.at(require_finite("running gap", running, "mm"))
    return RunningGap(running - require_positive("opening per load", compliance, "mm/N") * load, running, load)


def tilt_over_width(bend: ShaftBend, width: float) -> float:
    """Difference of the gap from one edge of a strip of `width` [mm] to the other that one tilted tool makes. [mm]"""
    return bend.tilt_rad * require_positive("width", width, "mm")


def loads_from(gaps: ArrayLike, loads: ArrayLike) -> LoadTable:
    """A load table from two lists, gaps [mm] rising and loads [N]."""
    return LoadTable(np.asarray(gaps, dtype=np.float64), np.asarray(loads, dtype=np.float64))
