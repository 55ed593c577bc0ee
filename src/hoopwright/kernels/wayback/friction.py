"""Friction of the pin from two pulls of one stroke: at its end, and when it just starts back. N, rad, [1].

With one tension in both, x = tan(a + rho), y = tan(a - rho): ratio = x (1 + mb y) / (y (1 - mb x)); tension cancels.
Where y is at or below nought the pin locks and the ratio has no meaning. Not tried on a press; seal drag adds to the
one and takes from the other.
"""

from __future__ import annotations

import math

from scipy import optimize

from hoopwright.errors import InputError, require_positive, require_range


def pull_ratio(half_angle_rad: float, friction_pin: float, friction_base: float) -> float:
    """Pull at the end of the stroke over the push that holds it as it starts back [1]; angles rad."""
    rho = math.atan(friction_pin)
    x, y = math.tan(half_angle_rad + rho), math.tan(half_angle_rad - rho)
    if y <= 0.0:
        raise InputError("friction on the pin", friction_pin, "", f"below {math.tan(half_angle_rad):.4f}", "pull back")
    return x * (1.0 + friction_base * y) / (y * (1.0 - friction_base * x))


def friction_from_pulls(
    pull_at_end: float, pull_starting_back: float, half_angle_rad: float, base_over_pin: float = 1.2
) -> float:
    """Friction coefficient of the pin from two gauge readings of one stroke [N]; base friction in ratio to it. [1]

    Raises
    ------
    InputError
        Pulls that no friction explains (the second must be smaller than the first).
    """
    one = require_positive("pull at the end of stroke", pull_at_end, "N")
    two = require_positive("pull when it starts back", pull_starting_back, "N")
    a = require_range("half angle", half_angle_rad, 1e-3, 1.2, "rad")
    k = require_range("base friction over pin friction", base_over_pin, 0.0, 10.0)
    ratio = one / two
    if ratio <= 1.0:
        raise InputError(
            "pull when it starts back", two, "N", f"below {one:g}", "read the gauge as the pin starts back"
        )
    high = math.tan(a) * (1.0 - 1e-9)
    return float(optimize.brentq(lambda mu: math.log(pull_ratio(a, mu, k * mu) / ratio), 0.0, high, xtol=1e-12))
