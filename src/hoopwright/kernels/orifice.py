"""Flow of gas through a nozzle of given area, and when it chokes. mm2, MPa, g/s.

    m = p0 A sqrt(g/(R T0)) M (1 + (g-1)/2 M^2)^-((g+1)/(2(g-1)))     M from p/p0, 1 where choked

Form of ISO 9300 (from memory). Checked in tests/published/gap_flow.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.gas import Gas


def critical_ratio(gamma: float) -> float:
    """Back pressure over supply pressure at which a nozzle chokes.

    >>> round(critical_ratio(1.4), 5)
    0.52828
    """
    return float((2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))


def critical_function(gamma: float) -> float:
    """Flow function C* of a choked nozzle, m = C* p A / sqrt(R T).

    >>> round(critical_function(1.4), 5)
    0.68473
    """
    return float(math.sqrt(gamma) * (2.0 / (gamma + 1.0)) ** ((gamma + 1.0) / (2.0 * (gamma - 1.0))))


def nozzle_flow(area: float, supply: float, back: float, gas: Gas, discharge: float = 1.0) -> float:
    """Flow of an orifice of this area and discharge coefficient. [g/s]

    Parameters
    ----------
    area : [mm2]
    supply, back : absolute pressures. [MPa]

    Raises
    ------
    InputError
        A back pressure above the supply, or values not above 0.
    """
    require_positive("area", area, "mm2")
    require_positive("supply pressure", supply, "MPa")
    require_range("discharge coefficient", discharge, 0.01, 1.0)
    if not 0.0 <= back <= supply:
        raise InputError("back pressure", back, "MPa", f"from 0 to the supply, {supply:g}", "exchange the two")
    ratio = max(back / supply, critical_ratio(gas.gamma))
    g = gas.gamma
    mach2 = 2.0 / (g - 1.0) * (ratio ** (-(g - 1.0) / g) - 1.0)
    flow = math.sqrt(g * mach2) * (1.0 + 0.5 * (g - 1.0) * mach2) ** (-(g + 1.0) / (2.0 * (g - 1.0)))
    return 1000.0 * discharge * supply * area * flow / math.sqrt(gas.constant * gas.kelvin)


def loss_of(discharge: float) -> float:
    """Loss coefficient of a contraction that gives this discharge coefficient in thin flow: 1/Cd^2 - 1."""
    return 1.0 / require_range("discharge coefficient", discharge, 0.01, 1.0) ** 2 - 1.0
