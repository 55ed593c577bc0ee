"""What the press turns a stretch into: pin angle, segments and hardening of each ring."""

from __future__ import annotations

import math

from hoopwright.correct.fits import Expander
from hoopwright.design.shapes import Liner
from hoopwright.design.wishes import limits_for
from hoopwright.desk.page.job import Job


def expanders(job: Job, liner: Liner) -> Expander:
    """The expander of all rings, by the house card: one pin, one count of segments."""
    limits = limits_for(liner, job.shop_folder)
    return Expander(math.radians(limits.pin_half_angle_deg.value), int(limits.segments.value))
