"""How a shop finds a setting without a planner, tried on the same invented machines with the same number of trials."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from simulated_welder import READING_SD, Machine

Array = NDArray[np.float64]


def seen_margin(machine: Machine, reading: Array) -> float:
    """Least slack of one weld's readings in units of what such readings scatter by themselves."""
    slack = machine.slack(reading[None])[0]
    unit = np.array(
        [
            0.08 * max(abs(reading[0]), 0.3),
            2.0 * READING_SD[1] * reading[1],
            0.3 * machine.limits[2],
            2.0 * READING_SD[3],
            0.15,
        ]
    )
    return float((slack / unit).min())


def one_factor_at_a_time(machine: Machine, count: int) -> Array:
    """Setting after `count` trials: five levels of one factor, the best kept, then the next; then all again, finer."""
    now = np.array([0.30, 0.35, 0.5, 0.0])
    best, left = seen_margin(machine, machine.weld(machine.box.real(now))[0]), count - 1
    reach = np.array([0.5, 0.35, 0.5, 0.5])
    while left > 0:
        for factor in (0, 1, 2, 3):
            centre = now.copy()
            for level in np.linspace(-1.0, 1.0, 5)[[0, 1, 3, 4]]:
                if left == 0:
                    break
                tried = centre.copy()
                tried[factor] = np.clip(centre[factor] + level * reach[factor], 0.0, 1.0)
                if np.abs(tried - centre).max() < 1e-9:
                    continue
                left -= 1
                value = seen_margin(machine, machine.weld(machine.box.real(tried))[0])
                if value > best:
                    best, now = value, tried
        reach *= 0.4
    return machine.box.real(now)


def best_of_random(machine: Machine, count: int) -> Array:
    """Setting of the best of `count` random trials."""
    rng = np.random.default_rng(12)
    unit = rng.random((count, 4))
    values = [seen_margin(machine, machine.weld(s)[0]) for s in machine.box.real(unit)]
    return machine.box.real(unit[int(np.argmax(values))])
