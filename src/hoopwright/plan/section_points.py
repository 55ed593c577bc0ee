"""Points of a section for fits and slip: all ends of its segments, and its arcs finely."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.profile import Profile
from hoopwright.plan.shapes import Array

ARC_STEP_MM = 0.05


def section_points(section: Profile) -> tuple[Array, Array, Array]:
    """Developed length s from the forward edge, z and r, shapes (k,); straight between points."""
    s, z, r = [0.0], [section.start[0]], [section.start[1]]
    begin = 0.0
    for segment in section:
        count = math.ceil(segment.length / ARC_STEP_MM) if segment.is_arc else 1
        for k in range(1, count + 1):
            rest = segment.length * k / count
            x, y = segment.point_at(rest)
            s.append(begin + rest)
            z.append(x)
            r.append(y)
        begin += segment.length
    return np.array(s), np.array(z), np.array(r)
