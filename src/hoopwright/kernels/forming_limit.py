"""How far a sheet can be stretched in its plane before it necks, by its hardening exponent. Strains log [1], b = e2/e1.

    Hill (one narrow neck, b at most 0):   e1 = n/(1 + b) - e0 (sqrt3/2)/sqrt(1 + b + b^2)
    Swift (the whole sheet gives way):     e  = 4 n (1 - a + a^2)^(3/2)/(4 - 3 a - 3 a^2 + 4 a^3), a = s2/s1

von Mises, power law s = K e^n, straight strain path. A sheet with e0 of strain behind it has the less left.

References
----------
R. Hill, J. Mech. Phys. Solids 1, 1952 (forms read in university teaching notebooks); H. W. Swift, the same, 1952 (from
memory); S. Keeler and W. Brazier, Microalloying 75 (from memory; low-carbon steel only): tests/published/press_work.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_finite, require_positive, require_range


def hill_limit(exponent: float, ratio: float, prior_strain: float = 0.0) -> float:
    """Major strain at a narrow neck; 0 where the strain behind it has used it all up.

    exponent : n [1]. ratio : b, from -0.5 (pull) to 0 (plane strain) [1]. prior_strain : effective [1].

    >>> hill_limit(0.25, -0.5)
    0.5
    """
    n, b = require_positive("exponent", exponent), require_range("strain ratio", ratio, -0.999, 0.0)
    prior = _prior(prior_strain)
    return max(0.0, n / (1.0 + b) - prior * 0.5 * math.sqrt(3.0) / math.sqrt(1.0 + b + b * b))


def swift_limit(exponent: float, stress_ratio: float) -> tuple[float, float]:
    """Strains (e1, e2) at which the load on the whole sheet is largest. stress_ratio : a, 0 to 1 [1].

    >>> swift_limit(0.25, 1.0)
    (0.25, 0.25)
    """
    n, a = require_positive("exponent", exponent), require_range("stress ratio", stress_ratio, 0.0, 1.0)
    size = 1.0 - a + a * a
    effective = 4.0 * n * size**1.5 / (4.0 - 3.0 * a - 3.0 * a * a + 4.0 * a**3)
    major = effective * (2.0 - a) / (2.0 * math.sqrt(size))
    return major, major * (2.0 * a - 1.0) / (2.0 - a)


def major_limit(exponent: float, ratio: float, prior_strain: float = 0.0) -> float:
    """Major strain allowed at a strain ratio: Hill up to plane strain, Swift beyond it [1].

    ratio : b, from -1 to 1; between -1 and -0.5 the neck is that of a pull, which is the safe side.
    """
    b = require_range("strain ratio", ratio, -1.0, 1.0)
    if b <= 0.0:
        return hill_limit(exponent, max(b, -0.5), prior_strain)
    a = (2.0 * b + 1.0) / (2.0 + b)
    used = _prior(prior_strain) * 0.5 * math.sqrt(3.0) / math.sqrt(1.0 + b + b * b)
    return max(0.0, swift_limit(exponent, a)[0] - used)


def _prior(strain: float) -> float:
    value = require_finite("prior strain", strain)
    if value < 0.0:
        raise InputError("prior strain", strain, "", "0 or more", "enter the accumulated strain")
    return value


def low_carbon_plane_strain_limit(exponent: float, thickness: float) -> float:
    """Engineering major strain [1] of low-carbon steel at plane strain: (23.3 + 14.13 t) n/0.21 percent.

    thickness t [mm], capped at 3; n capped at 0.21. Not validated for nickel or stainless alloys: for comparison only.
    """
    n, t = require_positive("exponent", exponent), require_positive("thickness", thickness, "mm")
    return 0.01 * (23.3 + 14.13 * min(t, 3.0)) * min(n, 0.21) / 0.21
