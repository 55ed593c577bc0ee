"""What simple gauges show of a lobed circle: V-block, two points, girth tape. mm, rad.

References
----------
Rolling the lobed form in a V (closed form), ISO 4292 factors from memory: tests/published/roundness.
"""

from __future__ import annotations

import math

from hoopwright.errors import require_positive, require_range
from hoopwright.kernels.arrays import whole_count


def v_block_factor(order: int, included_angle: float) -> float:
    """Reading range over lobe range, indicator on the bisector opposite a V of this included angle [rad]. [1]"""
    n = whole_count("order", order, 2, 1000)
    angle = require_range("included angle of the V", included_angle, 0.1, 3.1, "rad")
    # contacts lie at pi -+ (pi/2 - angle/2) from the indicator; lift of the part is their mean over sin(angle/2)
    contact = 0.5 * math.pi + 0.5 * angle
    return abs(1.0 + math.cos(n * contact) / math.sin(0.5 * angle))


def two_point_factor(order: int) -> float:
    """Range of a diameter over the lobe's amplitude range: 2 for even orders, 0 for odd ones. [1]"""
    return 2.0 if whole_count("order", order, 2, 1000) % 2 == 0 else 0.0


def girth_diameter(radius: float, order: int, amplitude: float) -> float:
    """Diameter that a girth tape shows of r = R + a cos(n th), length of the curve over pi. [mm]

    The curve is taken as the tape lies on it: exact length by the trapezoidal rule, which is spectral on a full turn.
    """
    require_positive("radius", radius, "mm")
    n = whole_count("order", order, 1, 1000)
    steps = 64 * n
    total = 0.0
    for k in range(steps):
        th = 2.0 * math.pi * k / steps
        total += math.hypot(radius + amplitude * math.cos(n * th), amplitude * n * math.sin(n * th))
    return 2.0 * total / steps
