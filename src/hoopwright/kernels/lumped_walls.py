"""Walls that warm and cool, each one temperature: exact steps for inputs straight between times. s, degC, W, J, mm.

    C dT/dt = sum over contacts of G (T_contact - T)        C = rho cp t, G = h per unit area

The step of tau T' = v - T with v straight over the step is taken exactly. A wall with Biot number above 0.1 lags: its
time constant is lengthened by 1 + Bi/3 (one-dimensional slab, from memory; exact 1.034, 1.068, 1.172, 1.351 at Bi 0.1,
0.2, 0.5, 1). Gives the order of events, not temperatures.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_positive

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall between two streams.

    thickness [mm], density [kg/m3], heat [J/(kg K)], conductivity [W/(m K)], film_hot and film_cold [W/(m2 K)]; a wall
    that only one stream touches has the other film at 0.
    """

    name: str
    thickness: float
    density: float
    heat: float
    conductivity: float
    film_hot: float
    film_cold: float

    @property
    def biot(self) -> float:
        """Film over conduction through the wall."""
        return (self.film_hot + self.film_cold) * self.thickness * 1e-3 / self.conductivity

    @property
    def time_constant(self) -> float:
        """Time in which a step is 63 % followed, lengthened where the wall is thick. [s]"""
        film = self.film_hot + self.film_cold
        plain = self.density * self.heat * self.thickness * 1e-3 / film
        return plain * (1.0 + self.biot / 3.0) if self.biot > 0.1 else plain


def hot_film(cold_film: float, wall: float, hot: float, cold: float) -> float:
    """Film on the hot side that keeps a known steady wall temperature: ha (T - Ta)/(Tg - T).

    Raises
    ------
    InputError
        The wall is not between the two streams.
    """
    require_positive("cold film coefficient", cold_film, "W/(m2 K)")
    if not cold <= wall < hot:
        must = f"from {cold:g} to under {hot:g}"
        raise InputError("steady wall temperature", wall, "degC", must, "check the streams")
    return cold_film * (wall - cold) / (hot - wall)


def warmed(walls: tuple[Wall, ...], times: Vector, hot: Vector, cold: Vector, start: Vector) -> Vector:
    """Temperatures of walls through time.

    Parameters
    ----------
    times : shape (n,), rising. [s]
    hot, cold : stream temperatures at the times, shape (n,); straight in between. [degC]
    start : temperatures at the first time, shape (w,). [degC]

    Returns
    -------
    Vector
        shape (n, w). [degC]

    Raises
    ------
    InputError
        Times that do not rise, or a wall that no stream touches.
    """
    if np.any(np.diff(times) <= 0.0):
        raise InputError("times", float(np.min(np.diff(times))), "s", "rising", "sort them and drop doubles")
    for wall in walls:
        require_positive(f"film of {wall.name}", wall.film_hot + wall.film_cold, "W/(m2 K)")
    taus = np.array([wall.time_constant for wall in walls])
    share = np.array([wall.film_hot / (wall.film_hot + wall.film_cold) for wall in walls])
    return followed(taus, share, times, hot, cold, start)


def followed(taus: Vector, share: Vector, times: Vector, hot: Vector, cold: Vector, start: Vector) -> Vector:
    """Walls of given time constants [s] that tend to share hot + (1 - share) cold; as `warmed`, for many at once.

    taus, share, start : shape (w,). Returns shape (n, w).
    """
    driven = share[None, :] * hot[:, None] + (1.0 - share)[None, :] * cold[:, None]
    state = np.asarray(start, dtype=np.float64)
    rows = [state]
    for k, step in enumerate(np.diff(times)):
        kept = np.exp(-step / taus)
        end = 1.0 - taus / step * (1.0 - kept)
        state = kept * state + (1.0 - kept - end) * driven[k] + end * driven[k + 1]
        rows.append(state)
    return np.array(rows)
