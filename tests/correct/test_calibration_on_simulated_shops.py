"""Error of the next ring on simulated shops whose truth lies outside the model; baselines beside it, same shops.

Figures of the method paper (rms mm, its own 250 shops): same cast after 0, 1, 2, 3, 5 rings 0.077, 0.025, 0.023, 0.021,
0.020 (scatter as the prior has it) and 0.089, 0.027, 0.024, 0.022, 0.020 (0.6 to 1.6 times). Reached means within two
standard errors of ours and of theirs together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
import pytest
from shop_simulator import LIP_402, LIP_412, RingKind, Shop, shops
from shop_simulator import Trial as Read

from hoopwright.correct.trials import Station, Trial, all_readings
from hoopwright.kernels.wayback.levels import posterior

COUNTS = (0, 1, 2, 3, 5)
PAPER = {
    False: {
        "same": (0.077, 0.025, 0.023, 0.021, 0.020), "new": (0.083, 0.053, 0.051, 0.055, 0.051),
        "other": (0.059, 0.022, 0.022, 0.021, 0.019),
    },
    True: {
        "same": (0.089, 0.027, 0.024, 0.022, 0.020), "new": (0.091, 0.061, 0.055, 0.065, 0.063),
        "other": (0.067, 0.025, 0.022, 0.022, 0.021),
    },
}  # fmt: skip
PAPER_SHOPS = 250


def as_trial(read: Read) -> Trial:
    """The simulator's readings as the program takes them."""
    stations = []
    for k, name in enumerate(("land", "crown", "lip")):
        loaded = read.kind.loaded_mm[k]
        free = (loaded + float(read.free_mm[k]), loaded + float(read.repeat_mm[k]))
        stations.append(
            Station(name, k - 1.0, loaded, float(read.kind.springback_mm[k]), free, loaded + float(read.loaded_mm[k]))
        )
    return Trial(read.kind.name, str(read.ring), str(read.cast), f"set-{read.kind.name}", read.hit, tuple(stations))


@dataclass
class Errors:
    """Errors of predictions at the lip, and how often the 90 % band held."""

    ours: list[float] = field(default_factory=list)
    naive: list[float] = field(default_factory=list)
    mean: list[float] = field(default_factory=list)
    held: int = 0

    @property
    def rms(self) -> float:
        return float(np.sqrt(np.mean(np.square(self.ours))))


def lip_error(read: Read) -> float:
    """Read less predicted free size at the lip, mean of two readings."""
    return float(0.5 * (read.free_mm[2] + read.repeat_mm[2]) + read.kind.springback_mm[2])


def asked(shop: Shop, cast: int, kind: RingKind, trials: list[Trial], reads: list[Read], errors: Errors) -> None:
    """Predict the next ring, then make it."""
    then = shop.trial(cast, kind)
    ask = as_trial(then)
    found = posterior(all_readings(trials), [ask.place(ask.stations[2])])
    true = float(then.true_free_mm[2] + kind.springback_mm[2])
    low, high = found.band(0)
    errors.ours.append(true - float(found.mean[0]))
    errors.held += low <= true <= high
    known = [lip_error(r) for r in reads]
    errors.naive.append(true - (known[-1] if known else 0.0))
    errors.mean.append(true - (float(np.mean(known)) if known else 0.0))


def run(count: int, off_scale: bool) -> dict[tuple[str, int], Errors]:
    """Every question after every number of rings, on `count` shops."""
    table = {(question, n): Errors() for question in PAPER[off_scale] for n in COUNTS}
    for shop in shops(count, off_scale):
        trials: list[Trial] = []
        reads: list[Read] = []
        for n in range(max(COUNTS) + 1):
            if n in COUNTS:
                asked(shop, 0, LIP_402, trials, reads, table["same", n])
                asked(shop, 100 + n, LIP_402, trials, reads, table["new", n])
                asked(shop, 0, LIP_412, trials, reads, table["other", n])
            if n < max(COUNTS):
                reads.append(shop.trial(0))
                trials.append(as_trial(reads[-1]))
    return table


def checked(table: dict[tuple[str, int], Errors], off_scale: bool, count: int) -> None:
    for question, printed in PAPER[off_scale].items():
        for n, figure in zip(COUNTS, printed, strict=True):
            rms = table[question, n].rms
            error = figure * math.sqrt(0.5 / PAPER_SHOPS + 0.5 / count)
            # the paper states its own figures to +-0.003
            assert rms <= figure + 2.0 * error + 0.003, (question, n, rms, figure)
    for n in COUNTS[1:]:
        same = table["same", n]
        assert same.rms < float(np.sqrt(np.mean(np.square(same.naive)))), n
        other = table["other", n]
        assert other.rms < float(np.sqrt(np.mean(np.square(other.mean)))), n
    held = sum(e.held for e in table.values()) / sum(len(e.ours) for e in table.values())
    # the method paper's bands covered 0.83 to 0.94
    assert 0.83 <= held <= 0.97, held


SHORT = 40


@pytest.mark.parametrize("off_scale", [False, True], ids=["scatter-as-prior", "scatter-off"])
def test_error_of_the_next_ring(off_scale: bool) -> None:
    checked(run(SHORT, off_scale), off_scale, SHORT)


@pytest.mark.soak
@pytest.mark.parametrize("off_scale", [False, True], ids=["scatter-as-prior", "scatter-off"])
def test_error_of_the_next_ring_at_length(off_scale: bool) -> None:
    checked(run(1000, off_scale), off_scale, 1000)
