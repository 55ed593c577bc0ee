"""Finding the curl and the camber in the rolls that leave the hoop's own when the strip is let go.

Broyden's method from the identity: a strip keeps most of what it is led to beyond its spring, so the first guess of the
Jacobian is good, and the second run mends it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import NotConverged
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.plan.prove.forming import CurlSetting, Shop, curl_of
from hoopwright.plan.prove.start import Start
from hoopwright.process.proof_curl import Curled

RADIUS_SHARE = 2e-4
LEAN_RAD = math.radians(0.02)
RUNS = 12


@dataclass(frozen=True, slots=True, eq=False)
class CurlFound:
    """Setting, what it gave, and the runs it took."""

    setting: CurlSetting
    done: Curled
    runs: int


def find_curl(
    start: Start, shop: Shop, section: Section, middle: Profile, wanted: CurlSetting, guess: CurlSetting
) -> CurlFound:
    """Curl and camber for a rolled strip.

    Raises
    ------
    NotConverged
        When the curl does not settle in 12 runs; the last one is carried.
    """
    goal = np.array([wanted.curl_per_mm, wanted.camber_per_mm])
    value = np.array([guess.curl_per_mm, guess.camber_per_mm])
    size = float(np.hypot(*goal))
    slope, before = np.eye(2), None
    for number in range(1, RUNS + 1):
        setting = CurlSetting(float(value[0]), float(value[1]))
        done = curl_of(start, shop, section, middle, setting)
        kept = np.array([done.section.curl_per_mm, done.section.camber_per_mm])
        miss = kept - goal
        if abs(float(miss[0])) < RADIUS_SHARE * size and abs(float(miss[1])) < LEAN_RAD * size:
            return CurlFound(setting, done, number)
        if before is not None:
            moved, change = value - before[0], kept - before[1]
            slope = slope + np.outer(change - slope @ moved, moved) / float(moved @ moved)
        before = value, kept
        value = value - np.linalg.solve(slope, miss)
    part, left = shop.plan.job.ring.id, 100.0 * float(np.hypot(*miss)) / size
    raise NotConverged(
        f"curl of {part} still misses by {left:.2f} % after {RUNS} runs",
        done,
        "widen the gap, or curl in plain rolls",
    )
