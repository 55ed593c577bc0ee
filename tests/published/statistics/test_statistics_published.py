"""Statistics against reference data sets and handbook examples; SOURCE.md beside this file names each."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from hoopwright.kernels.statistics.curve_fit import fit_curve
from hoopwright.kernels.statistics.gauge_study import study_by_ranges, study_by_variance
from hoopwright.kernels.statistics.line_fit import fit_line
from hoopwright.kernels.statistics.small_samples import (
    capability,
    mean_range_factor,
    one_sided_factor,
    range_moments,
    unbiasing_c4,
    weibull_life,
    zero_failure_trials,
)
from hoopwright.kernels.statistics.summary import summary, welch
from hoopwright.kernels.statistics.uncertainty import Term, budget

HERE = Path(__file__).parent


def columns(name: str) -> dict[str, np.ndarray]:
    with (HERE / name).open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {key: np.array([float(row[key]) for row in rows]) for key in rows[0] if key != "operator"}


def test_mavro() -> None:
    found = summary(columns("nist_mavro.csv")["y"])
    assert found.mean == pytest.approx(2.00185600000000, rel=1e-14)
    assert found.sd == pytest.approx(0.000429123454003053, rel=1e-10)
    assert found.lag1 == pytest.approx(0.937989183438248, rel=1e-10)


@pytest.mark.parametrize(
    ("values", "mean", "sd"),
    [
        ([1000000.2] + [1000000.1, 1000000.3] * 500, 1000000.2, 0.1),
        ([10000000.2] + [10000000.1, 10000000.3] * 500, 10000000.2, 0.1),
        ([10000001.0, 10000003.0, 10000002.0], 10000002.0, 1.0),
    ],
)
def test_cancellation(values: list[float], mean: float, sd: float) -> None:
    found = summary(values)
    assert found.mean == pytest.approx(mean, rel=1e-15)
    # the decimals of the values are not binary: 1e7 + 0.1 holds 0.1 to 2e-9
    assert found.sd == pytest.approx(sd, rel=1e-7)


def test_norris() -> None:
    data = columns("nist_norris.csv")
    line = fit_line(data["x"], data["y"])
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.sd_intercept == pytest.approx(0.232818234301152, rel=1e-11)
    assert line.sd_slope == pytest.approx(0.429796848199937e-3, rel=1e-11)
    assert line.residual_sd == pytest.approx(0.884796396144373, rel=1e-11)
    assert line.r_squared == pytest.approx(0.999993745883712, rel=1e-13)


@pytest.mark.parametrize("start", [(500.0, 1e-4), (250.0, 5e-4)])
def test_misra1a(start: tuple[float, float]) -> None:
    data = columns("nist_misra1a.csv")
    found = fit_curve(lambda b, x: b[0] * (1.0 - np.exp(-b[1] * x)), data["x"], data["y"], start)
    assert found.constants == (pytest.approx(238.94212918, rel=1e-8), pytest.approx(5.5015643181e-4, rel=1e-8))
    assert found.sd == (pytest.approx(2.7070075241, rel=1e-6), pytest.approx(7.2668688436e-6, rel=1e-6))
    assert found.residual_squares == pytest.approx(0.12455138894, rel=1e-9)


@pytest.mark.parametrize("start", [(1.0, 5.0), (0.7, 4.0)])
def test_danwood(start: tuple[float, float]) -> None:
    data = columns("nist_danwood.csv")
    found = fit_curve(lambda b, x: b[0] * x ** b[1], data["x"], data["y"], start)
    assert found.constants == (pytest.approx(0.76886226176, rel=1e-8), pytest.approx(3.8604055871, rel=1e-8))
    assert found.sd == (pytest.approx(0.018281973860, rel=1e-6), pytest.approx(0.051726610913, rel=1e-6))
    assert found.residual_squares == pytest.approx(4.3173084083e-3, rel=1e-9)


@pytest.mark.parametrize(
    ("share", "factors"),
    [
        (0.90, (6.155, 3.407, 2.582, 2.355, 1.926, 1.777, 1.646, 1.527)),
        (0.99, (10.553, 5.741, 4.354, 3.981, 3.295, 3.064, 2.862, 2.684)),
    ],
)
def test_one_sided_factors(share: float, factors: tuple[float, ...]) -> None:
    for count, printed in zip((3, 5, 8, 10, 20, 30, 50, 100), factors, strict=True):
        # one unit in the last printed digit: the table is from memory
        assert one_sided_factor(count, share, 0.95) == pytest.approx(printed, abs=1e-3)


def test_strain_life() -> None:
    data = columns("e739_strain_life.csv")
    line = fit_line(np.log10(data["strain_amplitude"]), np.log10(data["cycles"]))
    assert line.intercept == pytest.approx(-0.24474, abs=5e-6)
    assert line.slope == pytest.approx(-1.45144, abs=5e-6)
    a, b = line.limits(0.95)
    assert a == (pytest.approx(-0.6435, abs=5e-5), pytest.approx(0.1540, abs=5e-5))
    assert b == (pytest.approx(-1.6055, abs=5e-5), pytest.approx(-1.2974, abs=5e-5))
    assert line.residual_sd == pytest.approx(0.10581, abs=5e-6)
    assert line.residual_sd**2 == pytest.approx(0.011195, abs=5e-7)


def gauge_cube() -> np.ndarray:
    with (HERE / "grr_10x3x3.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    cube = np.full((10, 3, 3), np.nan)
    for row in rows:
        cube[int(row["part"]) - 1, "ABC".index(row["operator"]), int(row["trial"]) - 1] = float(row["value"])
    return cube


def test_gauge_study_by_variance() -> None:
    found = study_by_variance(gauge_cube())
    assert found.repeatability == pytest.approx(0.199933, abs=5e-7)
    assert found.reproducibility == pytest.approx(0.226838, abs=5e-7)
    # the print adds rounded lines: its 0.302373 is 0.302371 from its own 0.199933 and 0.226838
    assert found.gauge == pytest.approx(0.302373, abs=2e-6)
    assert found.parts == pytest.approx(1.042327, abs=5e-7)
    assert found.total == pytest.approx(1.0853, abs=5e-5)
    assert found.categories == pytest.approx(4.861, abs=2e-2)  # the manual takes 1.41 for the root of 2
    assert 1.41 * found.parts / found.gauge == pytest.approx(4.861, abs=5e-4)
    assert (found.interaction_f, found.interaction_p) == (
        pytest.approx(0.4337, abs=5e-5),
        pytest.approx(0.974, abs=5e-4),
    )
    assert found.gauge_pct == pytest.approx(27.9, abs=0.05)
    shares = [100 * (sd / found.total) ** 2 for sd in (found.repeatability, found.reproducibility, found.parts)]
    assert shares == [pytest.approx(3.4, abs=0.05), pytest.approx(4.4, abs=0.05), pytest.approx(92.2, abs=0.05)]


def test_gauge_study_with_interaction_kept() -> None:
    assert study_by_variance(gauge_cube(), pool=False).repeatability == pytest.approx(0.214435, abs=5e-7)


def test_gauge_study_by_ranges() -> None:
    found = study_by_ranges(gauge_cube())
    # the hand method rounds its factors to four digits (K1 0.5908, K2 0.5231, K3 0.3146); ours are exact
    assert found.repeatability == pytest.approx(0.20188, rel=5e-4)
    assert found.reproducibility == pytest.approx(0.22963, rel=5e-4)
    assert found.gauge == pytest.approx(0.30575, rel=5e-4)
    assert found.parts == pytest.approx(1.10456, rel=5e-4)
    assert found.total == pytest.approx(1.14610, rel=5e-4)
    assert found.gauge_pct == pytest.approx(26.68, rel=5e-4)
    assert 1 / mean_range_factor(3, 1) == pytest.approx(0.5231, abs=1e-4)
    assert 1 / mean_range_factor(10, 1) == pytest.approx(0.3146, abs=1e-4)


def test_weibull() -> None:
    life = weibull_life([54, 187, 216, 240, 244, 335, 361, 373, 375, 386], [500.0] * 10)
    assert life.shape == pytest.approx(1.7208, abs=5e-5)
    assert life.scale == pytest.approx(606.5280, abs=5e-4)
    assert life.minus_log_likelihood == pytest.approx(75.135, abs=5e-4)
    mean = life.scale * math.gamma(1 + 1 / life.shape)
    assert mean == pytest.approx(540.737, abs=2e-3)
    sd = math.sqrt(life.scale**2 * math.gamma(1 + 2 / life.shape) - mean**2)
    assert sd == pytest.approx(323.806, abs=2e-2)  # the print reckons it from a shape of four decimals


def test_welch() -> None:
    one = [27.5, 21.0, 19.0, 23.6, 17.0, 17.9, 16.9, 20.1, 21.9, 22.6, 23.1, 19.6, 19.0, 21.7, 21.4]
    two = [27.1, 22.0, 20.8, 23.4, 23.4, 23.5, 25.8, 22.0, 24.8, 20.2, 21.9, 22.1, 22.9, 20.5, 24.4]
    found = welch(one, two)
    assert found.t == pytest.approx(-2.45536, abs=5e-6)
    assert found.dof == pytest.approx(24.9885, abs=5e-5)
    assert found.p_value == pytest.approx(0.021378, abs=5e-7)


def test_capability() -> None:
    found = capability(16.0, 2.0, 8.0, 20.0, 50)
    assert (found.cp, found.cpk, found.cpm) == (1.0, pytest.approx(2 / 3), pytest.approx(0.7071, abs=5e-5))
    assert found.cp_limits == (pytest.approx(0.8025, abs=1e-4), pytest.approx(1.1971, abs=1e-4))
    assert found.cpk_limits == (pytest.approx(0.5056, abs=1e-4), pytest.approx(0.8278, abs=1e-4))


@pytest.mark.parametrize(
    ("size", "d2", "d3", "c4", "a2", "d4"),
    [
        (2, 1.128, 0.853, 0.7979, 1.880, 3.267),
        (3, 1.693, 0.888, 0.8862, 1.023, 2.575),
        (4, 2.059, 0.880, 0.9213, 0.729, 2.282),
        (5, 2.326, 0.864, 0.9400, 0.577, 2.114),
    ],
)
def test_chart_constants(size: int, d2: float, d3: float, c4: float, a2: float, d4: float) -> None:
    mean, sd = range_moments(size)
    assert (mean, sd) == (pytest.approx(d2, abs=5.1e-4), pytest.approx(d3, abs=5.1e-4))
    assert unbiasing_c4(size) == pytest.approx(c4, abs=5.1e-5)
    assert 3.0 / (mean * math.sqrt(size)) == pytest.approx(a2, abs=5.1e-4)
    # printed from three-digit d2 and d3: one unit in the last place
    assert 1.0 + 3.0 * sd / mean == pytest.approx(d4, abs=1.1e-3)


@pytest.mark.parametrize(
    ("confidence", "share", "trials"),
    [(0.9, 0.9, 22), (0.95, 0.9, 29), (0.9, 0.95, 45), (0.95, 0.95, 59), (0.9, 0.99, 230), (0.95, 0.99, 299)],
)
def test_trials_without_a_failure(confidence: float, share: float, trials: int) -> None:
    assert zero_failure_trials(share, confidence) == trials


def test_length_budget() -> None:
    terms = [
        Term("standard", 25.0, dof=18.0),
        Term("repeated readings", 5.8, dof=24.0),
        Term("comparator, random", 3.9, dof=5.0),
        Term("comparator, systematic", 6.7, dof=8.0),
        Term("difference of expansion", 2.9, dof=50.0),
        Term("difference of temperature", 16.6, dof=2.0),
    ]
    found = budget(terms)
    assert found.standard == pytest.approx(31.7, abs=0.05)
    assert found.dof == pytest.approx(16.6, abs=0.2)  # printed 16.7 from a rounded sum
    assert math.floor(found.dof) == 16
    assert found.expanded(0.99) == pytest.approx(93.0, abs=1.0)
    assert found.expanded(0.99) / found.standard == pytest.approx(2.92, abs=5e-3)
    assert found.expanded(0.95) / found.standard == pytest.approx(2.12, abs=5e-3)
