"""Heat in a metal from solid to liquid: enthalpy and conduction integral, and the secant properties of closed forms.

    H(T) = rho int cp dT + latent heat between solidus and liquidus  [J/mm3]
    theta(T) = int k dT                                              [W/mm]

both from T0. Tables that end short of the solidus go on along their last two rows; the liquid has values of its own.
Secant to an isotherm Tq: k = theta/(Tq - T0), rho c = (sensible H + b latent)/(Tq - T0), a = k/(rho c). For the melt
edge Tq is midway between solidus and liquidus and b = 0.42, fitted to the scheme of `heat_moving_frame`; b 0 makes the
root a quarter too wide. For every other isotherm b = 0. Units: mm, s, W, J, degC.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite, require_positive

Array = NDArray[np.float64]

MELT_EDGE_LATENT_SHARE = 0.42
TOP_DEGC = 6000.0
POINTS = 12001


@dataclass(frozen=True, slots=True)
class Secant:
    """Properties for a closed form at one isotherm. conductivity [W/(mm K)], heat [J/(mm3 K)], rise [K] above T0."""

    conductivity: float
    heat: float
    rise: float

    @property
    def diffusivity(self) -> float:
        """a = k/(rho c). [mm2/s]"""
        return self.conductivity / self.heat


@dataclass(frozen=True, slots=True, eq=False)
class HeatMetal:
    """A metal as heat sees it.

    temperature : [degC], from T0 up, shape (m,). enthalpy : with latent heat [J/mm3]; sensible : without;
    integral : theta [W/mm]. solidus, liquidus, start : [degC]. latent : [J/mm3]. cold_conductivity [W/(mm K)] and
    cold_heat [J/(mm3 K)] at T0.
    """

    temperature: Array
    enthalpy: Array
    sensible: Array
    integral: Array
    solidus: float
    liquidus: float
    start: float
    latent: float
    cold_conductivity: float
    cold_heat: float

    @property
    def melt_edge(self) -> float:
        """Isotherm taken as the edge of the bead. [degC]"""
        return 0.5 * (self.solidus + self.liquidus)

    def secant(self, isotherm: float, latent_share: float = 0.0) -> Secant:
        """Secant properties to an isotherm [degC].

        Raises
        ------
        InputError
            An isotherm not above T0, or beyond the tables.
        """
        value = require_finite("isotherm", isotherm, "degC")
        if not self.start < value <= TOP_DEGC:
            must = f"above {self.start:g} and at most {TOP_DEGC:g}"
            raise InputError("isotherm", isotherm, "degC", must, "ask for a temperature the weld reaches")
        rise = value - self.start
        theta = float(np.interp(value, self.temperature, self.integral))
        held = float(np.interp(value, self.temperature, self.sensible)) + latent_share * self.latent
        return Secant(theta / rise, held / rise, rise)

    def melt(self) -> Secant:
        """Secant properties of the melt edge."""
        return self.secant(self.melt_edge, MELT_EDGE_LATENT_SHARE)


def heat_metal(
    conductivity: tuple[Array, Array],
    specific_heat: tuple[Array, Array],
    density: float,
    solidus: float,
    liquidus: float,
    latent: float,
    liquid_heat: float = 700.0,
    liquid_conductivity: float | None = None,
    start: float = 20.0,
) -> HeatMetal:
    """Heat functions from tables.

    Parameters
    ----------
    conductivity, specific_heat : pair of arrays
        Temperatures [degC], shape (n,), and values [W/(m K)] and [J/(kg K)].
    density : float
        [kg/m3]
    latent : float
        [J/kg]
    liquid_heat, liquid_conductivity : float
        [J/(kg K)], [W/(m K)]; None holds the conductivity at its value at the liquidus.

    Raises
    ------
    InputError
        A table that is not rising, a value not above 0, a liquidus not above the solidus.
    """
    for name, value, unit in (
        ("density", density, "kg/m3"),
        ("latent heat", latent, "J/kg"),
        ("liquid specific heat", liquid_heat, "J/(kg K)"),
    ):
        require_positive(name, value, unit)
    if not require_finite("start", start, "degC") < require_finite("solidus", solidus, "degC") < liquidus < TOP_DEGC:
        raise InputError("liquidus", liquidus, "degC", f"above the solidus {solidus:g}", "correct the card")
    t = np.unique(np.concatenate([np.linspace(start, TOP_DEGC, POINTS), [solidus, liquidus]]))
    k = _extended("conductivity", conductivity, t)
    at_liquidus = float(np.interp(liquidus, t, k))
    k = np.where(t > liquidus, at_liquidus if liquid_conductivity is None else liquid_conductivity, k) * 1e-3
    cp = np.where(t > liquidus, liquid_heat, _extended("specific heat", specific_heat, t)) * density * 1e-9
    latent_mm3 = latent * density * 1e-9
    sensible = _integrated(t, cp)
    melted = np.clip((t - solidus) / (liquidus - solidus), 0.0, 1.0)
    return HeatMetal(
        t, sensible + latent_mm3 * melted, sensible, _integrated(t, k), solidus, liquidus, start, latent_mm3,
        float(k[0]), float(cp[0]),
    )  # fmt: skip


def _extended(name: str, table: tuple[Array, Array], t: Array) -> Array:
    """Table read at t: flat below its first row, along its last two rows beyond the last."""
    at, value = (np.asarray(column, dtype=np.float64) for column in table)
    if at.size < 2 or at.shape != value.shape or not np.all(np.isfinite(at)) or np.any(np.diff(at) <= 0.0):
        raise InputError(f"{name} table", at.tolist(), "degC", "two or more rising temperatures", "correct the card")
    if not np.all(np.isfinite(value)) or np.any(value <= 0.0):
        raise InputError(f"{name} table", value.tolist(), "", "finite and above 0", "correct the card")
    slope = (value[-1] - value[-2]) / (at[-1] - at[-2])
    read = np.interp(t, at, value)
    beyond: Array = np.where(t > at[-1], value[-1] + slope * (t - at[-1]), read)
    return beyond


def _integrated(t: Array, value: Array) -> Array:
    return np.concatenate([[0.0], np.cumsum(0.5 * (value[1:] + value[:-1]) * np.diff(t))])
