"""Gas through a narrow gap or a hole, one model from creeping to choked. mm, MPa, g/s.

Contraction with loss K to station 1, then a duct of constant area with friction (Fanno) to the exit, where the static
pressure is the back pressure or the flow is sonic; the jet's head is lost.

    p1 = p0 / (k^(g/(g-1)) + K g M1^2/2)     k = 1 + (g-1) M1^2/2     F = f L/Dh     Re = G Dh/mu
    f  = max(96/Re, 0.3164 Re^-0.25) for a gap (Dh = 2 c), 64/Re for a hole (Dh = d)
    K  = 0.5 + tau(L/Dh) + 0.67 (1 - exp(-60 L/(Dh Re))) while laminar
    tau(l) = (2.4 - l) 10^-(0.25 + 0.535 l^8/(0.05 + l^7)) below l = 2.4

Sources: gas dynamics texts (Fanno flow, from memory); smooth-wall friction and thick-edged orifice (Idelchik, diagram
4-15, second hand, tau from memory); 0.67 from memory. The unknown is M1, bisected below the largest M1 that friction
allows. Not in it: contraction of jets at L/Dh below 1 and pressure ratios under 0.7 (reads low), rotation, cross flow
in an eccentric gap. Checked in tests/published/gap_flow and tests/reference.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.gas import Gas

Vector = NDArray[np.float64]
Shape = Literal["gap", "hole"]

ENTRANCE = 0.5
_LAMINAR = {"gap": 96.0, "hole": 64.0}
_DEVELOPING = {"gap": 0.67, "hole": 1.25}


@dataclass(frozen=True, slots=True, eq=False)
class GapFlux:
    """Mass flux through narrow ducts, all shape (n,). flux : [g/(s mm2)]; mach : at station 1; choked : at the exit."""

    flux: Vector
    mach: Vector
    reynolds: Vector
    choked: NDArray[np.bool_]


def gap_flux(
    hydraulic: Vector | float, land: float, supply: float, back: float, gas: Gas, entrance: Vector | float = ENTRANCE,
    edges: bool = True, shape: Shape = "gap",
) -> GapFlux:  # fmt: skip
    """Mass flux through ducts of hydraulic diameter `hydraulic` [mm] and length `land` [mm].

    Parameters
    ----------
    supply, back : absolute pressures, supply at rest. [MPa]
    entrance : K of the contraction alone. edges : add thick-edge and developing terms.

    Raises
    ------
    InputError
        Pressures the wrong way round, lengths not above 0 (land may be 0).
    """
    dh = np.atleast_1d(np.asarray(hydraulic, dtype=np.float64))
    if not np.all(dh > 0.0):
        raise InputError("hydraulic diameter", float(np.min(dh)), "mm", "above 0", "give the gap a clearance")
    require_range("land", land, 0.0, 1e5, "mm")
    require_positive("supply pressure", supply, "MPa")
    if not 0.0 < back <= supply:
        raise InputError("back pressure", back, "MPa", f"above 0 and at most {supply:g}", "exchange the two")
    case = _Case(dh, land, supply, back, gas, entrance, edges, shape)
    top = _largest(case)
    exit_pressure = _exit(case, top)[1]
    choked = exit_pressure >= back
    low, high = np.full_like(top, 1e-9), top.copy()
    for _ in range(36):
        middle = 0.5 * (low + high)
        above = _exit(case, middle)[1] > back
        low, high = np.where(above, middle, low), np.where(above, high, middle)
    mach = np.where(choked, top, 0.5 * (low + high))
    if back == supply:
        mach = np.zeros_like(top)
    flux, reynolds = case.flux(mach)
    return GapFlux(1e-3 * flux, mach, reynolds, choked & (back < supply))


@dataclass(frozen=True, slots=True, eq=False)
class _Case:
    dh: Vector
    land: float
    supply: float
    back: float
    gas: Gas
    entrance: Vector | float
    edges: bool
    shape: Shape

    def flux(self, mach: Vector) -> tuple[Vector, Vector]:
        """Flux [kg/(s m2)] and Reynolds number; the loss depends on Re, so it is found by repetition."""
        loss = np.zeros_like(mach) + self.entrance
        for _ in range(4):
            flux = self._flux(mach, loss)
            reynolds = np.maximum(flux * self.dh * 1e-3 / self.gas.viscosity, 1e-6)
            loss = self._loss(reynolds)
        return flux, reynolds

    def pressure(self, mach: Vector, loss: Vector) -> Vector:
        g = self.gas.gamma
        k = 1.0 + 0.5 * (g - 1.0) * mach**2
        return np.asarray(self.supply / (k ** (g / (g - 1.0)) + 0.5 * loss * g * mach**2))

    def _flux(self, mach: Vector, loss: Vector) -> Vector:
        g = self.gas.gamma
        k = 1.0 + 0.5 * (g - 1.0) * mach**2
        speed = np.sqrt(g * k / (self.gas.constant * self.gas.kelvin))
        return np.asarray(1e6 * self.pressure(mach, loss) * mach * speed)

    def _loss(self, reynolds: Vector) -> Vector:
        loss = np.zeros_like(reynolds) + self.entrance
        if not self.edges:
            return loss
        ratio = self.land / self.dh
        short = np.minimum(ratio, 2.4)
        loss = loss + (2.4 - short) * 10.0 ** -(0.25 + 0.535 * short**8 / (0.05 + short**7))
        grown = _DEVELOPING[self.shape] * (1.0 - np.exp(-60.0 * ratio / reynolds))
        return np.asarray(loss + np.where(self._laminar(reynolds), grown, 0.0))

    def _laminar(self, reynolds: Vector) -> NDArray[np.bool_]:
        return np.asarray(_LAMINAR[self.shape] / reynolds > 0.3164 * reynolds**-0.25)

    def friction(self, reynolds: Vector) -> Vector:
        """f L/Dh."""
        f = np.maximum(_LAMINAR[self.shape] / reynolds, 0.3164 * reynolds**-0.25)
        return np.asarray(f * self.land / self.dh)

    def state(self, mach: Vector) -> tuple[Vector, Vector]:
        """Static pressure at station 1 and friction of the land."""
        _, reynolds = self.flux(mach)
        return self.pressure(mach, self._loss(reynolds)), self.friction(reynolds)


def fanno(mach: Vector | float, gamma: float) -> Vector:
    """Friction f L/D that brings a subsonic flow to Mach 1 (f is four times the skin coefficient).

    >>> round(float(fanno(0.5, 1.4)), 4)
    1.0691
    """
    m2 = np.asarray(mach, dtype=np.float64) ** 2
    log = np.log((gamma + 1.0) * m2 / (2.0 + (gamma - 1.0) * m2))
    return np.asarray((1.0 - m2) / (gamma * m2) + (gamma + 1.0) / (2.0 * gamma) * log)


@lru_cache(maxsize=64)
def _fanno_table(gamma: float) -> tuple[Vector, Vector]:
    grid = np.concatenate((np.geomspace(1e-6, 0.5, 1200), np.linspace(0.501, 1.0, 800)))
    return grid, fanno(grid, gamma)


def mach_of_fanno(left: Vector, gamma: float) -> Vector:
    """Subsonic Mach number with this much friction left to Mach 1: the inverse of `fanno`."""
    grid, table = _fanno_table(gamma)
    wanted = np.maximum(left, 0.0)
    mach = np.interp(-wanted, -table, grid)
    for _ in range(3):
        m2 = mach**2
        slope = -2.0 * (1.0 - m2) / (gamma * mach**3 * (1.0 + 0.5 * (gamma - 1.0) * m2))
        step = np.where(mach < 0.999, (fanno(mach, gamma) - wanted) / np.where(slope == 0.0, -1.0, slope), 0.0)
        mach = np.clip(mach - step, 1e-7, 1.0)
    return np.asarray(mach)


def _largest(case: _Case) -> Vector:
    """Largest M1 that the friction of the land allows."""
    low, high = np.full_like(case.dh, 1e-9), np.ones_like(case.dh)
    allowed = case.state(high)[1] <= 0.0
    for _ in range(36):
        middle = 0.5 * (low + high)
        fits = case.state(middle)[1] <= fanno(middle, case.gas.gamma)
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    return np.where(allowed, 1.0, low)


def _exit(case: _Case, mach: Vector) -> tuple[Vector, Vector]:
    """Mach number and static pressure at the exit."""
    g = case.gas.gamma
    pressure, used = case.state(mach)
    out = mach_of_fanno(fanno(mach, g) - used, g)

    def over_star(m: Vector) -> Vector:
        return np.asarray(np.sqrt((g + 1.0) / (2.0 + (g - 1.0) * m**2)) / m)

    return out, pressure * over_star(out) / over_star(mach)


@dataclass(frozen=True, slots=True)
class GapFlow:
    """Flow through one gap. flow : [g/s]; area : [mm2]; discharge : against an ideal nozzle of that area."""

    flow: float
    area: float
    mach: float
    reynolds: float
    choked: bool


def ring_gap(
    diameter: float, clearance: float, land: float, supply: float, back: float, gas: Gas, eccentricity: float = 0.0,
    entrance: float = ENTRANCE, edges: bool = True, slices: int = 48,
) -> GapFlow:  # fmt: skip
    """Gas through the gap between a bore and a round bar.

    Parameters
    ----------
    diameter : of the gap. clearance : radial, with the bar in the middle. land : length of the gap. [mm]
    eccentricity : 0 in the middle, 1 touching; the gap is cut into `slices` channels c (1 + e cos t), no cross flow.

    Raises
    ------
    InputError
        A size not above 0, an eccentricity outside 0 to 1, pressures the wrong way round.
    """
    require_positive("diameter", diameter, "mm")
    require_positive("radial clearance", clearance, "mm")
    e = require_range("eccentricity", eccentricity, 0.0, 1.0)
    count = 1 if e == 0.0 else slices
    angle = np.pi * (np.arange(count) + 0.5) / count
    wide = clearance * (1.0 + e * np.cos(angle)) if count > 1 else np.array([clearance])
    found = gap_flux(2.0 * wide, land, supply, back, gas, entrance, edges)
    share = np.pi * diameter * wide / count
    return GapFlow(
        float(found.flux @ share),
        float(np.pi * diameter * clearance),
        float(np.max(found.mach)),
        float(np.max(found.reynolds)),
        bool(np.any(found.choked)),
    )


def hole(
    diameter: float, length: float, supply: float, back: float, gas: Gas, entrance: float = ENTRANCE, edges: bool = True
) -> GapFlow:
    """Gas through a round hole with sharp edges. [mm, MPa, g/s]"""
    area = 0.25 * np.pi * require_positive("diameter", diameter, "mm") ** 2
    found = gap_flux(diameter, length, supply, back, gas, entrance, edges, "hole")
    return GapFlow(
        float(found.flux[0] * area), float(area), float(found.mach[0]), float(found.reynolds[0]), bool(found.choked[0])
    )


def laminar_ring(
    diameter: float, clearance: float, land: float, supply: float, back: float, gas: Gas, eccentricity: float = 0.0
) -> float:
    """Creeping flow of gas through a long ring gap: pi d c^3 (p1^2 - p2^2)/(24 mu L R T) (1 + 1.5 e^2). [g/s]"""
    creep = np.pi * diameter * clearance**3 * (supply**2 - back**2) * 1e12 * 1e-6
    plain = creep / (24.0 * gas.viscosity * land * gas.constant * gas.kelvin)
    return float(plain * (1.0 + 1.5 * eccentricity**2))
