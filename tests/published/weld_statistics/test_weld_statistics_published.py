"""Tolerance factors, life line, zero failures, equivalence; sources and their standing in SOURCE.md."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from hoopwright.kernels.seam_stats_censored import censored_fit
from hoopwright.kernels.seam_stats_life import LifeTests, life_line
from hoopwright.kernels.seam_stats_ratio import equivalence_power
from hoopwright.kernels.seam_stats_tolerance import one_sided_factor, pieces_without_failure

COUNTS = (3, 5, 8, 10, 20, 30, 50, 100)
B = (6.155, 3.407, 2.582, 2.355, 1.926, 1.777, 1.646, 1.527)
A = (10.553, 5.741, 4.354, 3.981, 3.295, 3.064, 2.862, 2.684)


@pytest.mark.parametrize(("share", "printed"), [(0.90, B), (0.99, A)])
def test_tolerance_factors(share: float, printed: tuple[float, ...]) -> None:
    # printed to three decimals: half a digit, and the last one of the handbook is rounded now and then the other way
    assert [one_sided_factor(n, share) for n in COUNTS] == pytest.approx(printed, abs=0.001)


@pytest.mark.parametrize(
    ("confidence", "share", "pieces"),
    [(0.90, 0.90, 22), (0.95, 0.90, 29), (0.90, 0.95, 45), (0.95, 0.95, 59), (0.90, 0.99, 230), (0.95, 0.99, 299)],
)
def test_zero_failures(confidence: float, share: float, pieces: int) -> None:
    assert pieces_without_failure(share, confidence) == pieces


def test_life_line() -> None:
    text = (Path(__file__).parent / "strain_life.csv").read_text("utf-8")
    rows = [list(map(float, row)) for row in csv.reader(line for line in text.splitlines() if line[:1].isdigit())]
    line = life_line(LifeTests([r[0] for r in rows], [r[1] for r in rows]))
    assert (line.a, line.b, line.s) == pytest.approx((-0.24474, -1.45144, 0.10581), abs=1e-4)
    assert line.a_limits == pytest.approx((-0.6435, 0.1540), abs=1e-4)
    assert line.b_limits == pytest.approx((-1.6055, -1.2974), abs=1e-4)
    assert line.s**2 == pytest.approx(0.011195, abs=1e-6)


def test_power_of_equivalence() -> None:
    assert equivalence_power(6, 6, 0.02, 0.98) == pytest.approx(0.805, abs=0.0005)


# hours to failure of ten motorettes at each temperature [degC], and the hours at which the rest were stopped
MOTORETTES: dict[float, tuple[tuple[int, ...], int]] = {
    150.0: ((), 8064),
    170.0: ((1764, 2772, 3444, 3542, 3780, 4860, 5196), 5448),
    190.0: ((408, 408, 1344, 1344, 1440), 1680),
    220.0: ((408, 408, 504, 504, 504), 528),
}


def motorettes(*temperatures: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """1000/(273.2 + T), log10 of the hours, and which were stopped, of ten at each temperature."""
    rows = [
        (1000.0 / (273.2 + at), math.log10(hours), stopped)
        for at in temperatures
        for failed, stop in [MOTORETTES[at]]
        for hours, stopped in [*((h, False) for h in failed), *(((stop, True),) * (10 - len(failed)))]
    ]
    x, y, stopped = map(np.array, zip(*rows, strict=True))
    return np.column_stack([np.ones_like(x), x]), y, stopped


def test_run_outs_all_temperatures() -> None:
    fit = censored_fit(*motorettes(150.0, 170.0, 190.0, 220.0))
    assert (fit.failures, fit.run_outs) == (17, 23)
    plain = fit.scatter * math.sqrt(fit.freedom / fit.failures)
    assert (*fit.beta, plain) == pytest.approx((-6.019, 4.311, 0.2592), abs=5e-4)


def test_run_outs_three_temperatures() -> None:
    """Printed with natural logarithms."""
    fit = censored_fit(*motorettes(170.0, 190.0, 220.0))
    plain = fit.scatter * math.sqrt(fit.freedom / fit.failures)
    printed = (-10.4706, 8.3221, 0.6040)
    assert np.array([*fit.beta, plain]) * math.log(10.0) == pytest.approx(printed, abs=5e-5)
    assert -(fit.likely - fit.failures * math.log(math.log(10.0))) == pytest.approx(24.4738, abs=5e-5)
