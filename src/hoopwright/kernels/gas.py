"""Air and burnt gas as perfect gases with properties at one temperature. SI inside: J/(kg K), Pa s; degC at the door.

Specific heat: polynomial in T/1000 K of a gas-turbine performance text (Walsh and Fletcher, Gas Turbine Performance,
chapter on gas properties), from memory, 200 to 2000 K; dry air, and products of a kerosene-like fuel by fuel-air ratio.
Viscosity: Sutherland's law, air, from memory; used for the products too (they differ by a few percent).
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import require_positive, require_range

AIR_R = 287.05
ZERO_K = 273.15
LOW_DEGC, HIGH_DEGC = -70.0, 1700.0

_AIR = (0.992313, 0.236688, -1.852148, 6.083152, -8.893933, 7.097112, -3.234725, 0.794571, -0.081873)
_BURNT = (-0.718874, 8.747481, -15.863157, 17.254096, -10.233795, 3.081778, -0.361112, -0.003919)


@dataclass(frozen=True, slots=True)
class Gas:
    """A perfect gas at one temperature. constant : R [J/(kg K)]; gamma : ratio of specific heats; viscosity : [Pa s];
    kelvin : absolute temperature."""

    constant: float
    gamma: float
    viscosity: float
    kelvin: float


def sutherland(kelvin: float) -> float:
    """Viscosity of air. [Pa s]

    >>> round(sutherland(300.0) * 1e6, 2)
    18.46
    """
    return 1.716e-5 * (kelvin / 273.15) ** 1.5 * (273.15 + 110.4) / (kelvin + 110.4)


def air(temperature: float, fuel_air: float = 0.0) -> Gas:
    """Dry air, or what is left of it after burning.

    Parameters
    ----------
    temperature : float
        [degC]
    fuel_air : float
        Mass of fuel burnt per mass of air, 0 for air, at most 0.05.

    Raises
    ------
    InputError
        Outside the range of the polynomial.

    Examples
    --------
    >>> round(air(20.0).gamma, 3), round(air(930.0, 0.02).gamma, 3)
    (1.401, 1.309)
    """
    kelvin = require_range("gas temperature", temperature, LOW_DEGC, HIGH_DEGC, "degC") + ZERO_K
    far = require_range("fuel-air ratio", fuel_air, 0.0, 0.05)
    z = kelvin / 1000.0
    heat = sum(a * z**k for k, a in enumerate(_AIR)) + far / (1.0 + far) * sum(b * z**k for k, b in enumerate(_BURNT))
    constant = AIR_R - 0.0099 * far
    return Gas(constant, 1000.0 * heat / (1000.0 * heat - constant), sutherland(kelvin), kelvin)


def gas_of(constant: float, gamma: float, viscosity: float, temperature: float) -> Gas:
    """A gas of given properties; `temperature` in degC."""
    kelvin = require_range("gas temperature", temperature, -270.0, 3000.0, "degC") + ZERO_K
    return Gas(
        require_positive("gas constant", constant, "J/(kg K)"),
        require_range("ratio of specific heats", gamma, 1.01, 1.7),
        require_positive("viscosity", viscosity, "Pa s"),
        kelvin,
    )
