"""Lives with run-outs: least squares without them, what they teach, and how often the bounds hold."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.stats import f, t

from hoopwright.errors import InputError
from hoopwright.kernels.seam_stats_censored import censored_fit
from hoopwright.kernels.seam_stats_life import LifeTests, compare_lives, life_line

Array = NDArray[np.float64]
LEVELS = np.repeat([260.0, 300.0, 350.0, 420.0], 4)


def lives(rng: np.random.Generator, ratio: float = 1.0, s: float = 0.15, levels: Array = LEVELS) -> Array:
    drawn: Array = ratio * 10.0 ** (17.0 - 4.5 * np.log10(levels) + s * rng.normal(size=levels.size))
    return drawn


def stopped(cycles: Array, at: float, levels: Array = LEVELS) -> LifeTests:
    return LifeTests(levels.tolist(), np.minimum(cycles, at).tolist(), (cycles > at).tolist())


def test_without_run_outs_it_is_least_squares() -> None:
    """Line, limits, F tests and ratio against the sums of squares written out."""
    rng = np.random.default_rng(3)
    weld, parent = lives(rng, 0.8), lives(rng)
    x = np.log10(LEVELS)
    line = life_line(LifeTests(LEVELS.tolist(), weld.tolist()))
    b, a = np.polyfit(x, np.log10(weld), 1)
    left = np.log10(weld) - a - b * x
    s, square = math.sqrt(left @ left / 14), float(((x - x.mean()) ** 2).sum())
    assert (line.a, line.b, line.s) == pytest.approx((a, b, s), rel=1e-8)
    half = t.ppf(0.975, 14) * s / math.sqrt(square)
    assert line.b_limits == pytest.approx((b - half, b + half), rel=1e-7)
    assert line.variance(300.0) == pytest.approx(
        s**2 * (1 / 16 + (math.log10(300.0) - x.mean()) ** 2 / square), rel=1e-6
    )

    found = compare_lives(LifeTests(LEVELS, weld), LifeTests(LEVELS, parent), 310.0)
    y, both, which = np.log10([*weld, *parent]), np.tile(x, 2), np.repeat([1.0, 0.0], 16)

    def rss(*columns: Array) -> float:
        basis = np.column_stack(columns)
        gone = y - basis @ np.linalg.lstsq(basis, y, rcond=None)[0]
        return float(gone @ gone)

    one = np.ones_like(both)
    apart, together = rss(one, both, which, which * both), rss(one, both)
    parallel = rss(one, both, which)
    assert found.p_one_line == pytest.approx(f.sf((together - apart) / 2 / (apart / 28), 2, 28), rel=1e-6)
    assert found.p_slopes == pytest.approx(f.sf((parallel - apart) / (apart / 28), 1, 28), rel=1e-6)
    assert found.run_outs == (0, 0) and found.counts == (16, 16)


def test_a_run_out_is_longer_than_its_cycles_and_no_failure() -> None:
    """Entered as failures, run-outs pull the line down; left out, they pull it down at the low amplitudes."""
    rng = np.random.default_rng(11)
    levels = np.repeat([260.0, 300.0, 350.0, 420.0], 40)
    tests = stopped(lives(rng, levels=levels), 1.0e6, levels)
    assert 20 < sum(tests.run_out) < 60
    kept = life_line(tests)
    as_failures = life_line(LifeTests(tests.amplitude, tests.cycles))
    rows = [(a, c) for a, c, out in zip(tests.amplitude, tests.cycles, tests.run_out, strict=True) if not out]
    left_out = life_line(LifeTests([a for a, _ in rows], [c for _, c in rows]))
    assert kept.a == pytest.approx(17.0, abs=0.9) and kept.b == pytest.approx(-4.5, abs=0.35)
    assert kept.log_life(260.0) > max(as_failures.log_life(260.0), left_out.log_life(260.0)) + 0.03
    assert kept.log_life(260.0) == pytest.approx(17.0 - 4.5 * math.log10(260.0), abs=0.06)


def test_stopped_before_any_failure_says_nothing_of_the_scatter() -> None:
    levels = [300.0, 300.0, 350.0, 350.0]
    with pytest.raises(InputError, match="failures"):
        life_line(LifeTests(levels, [1e5, 2e5, 3e4, 1e6], [False, True, False, True]))
    with pytest.raises(InputError, match="two amplitudes or more"):
        life_line(LifeTests([*levels, 350.0], [1e5, 2e5, 3e4, 4e4, 5e4], [True, True, False, False, False]))
    with pytest.raises(InputError, match="a life each"):
        LifeTests(levels, [1e5] * 4, [True]).logs()
    with pytest.raises(InputError, match="cycles"):
        LifeTests(levels, [1e5, math.nan, 1e5, 1e5]).logs()


def test_the_top_is_one_whatever_the_start_and_the_unit() -> None:
    rng = np.random.default_rng(7)
    tests = stopped(lives(rng), 8e5)
    x, y, run_out = tests.logs()
    basis = np.column_stack([np.ones_like(x), x])
    first = censored_fit(basis, y, run_out)
    moved = censored_fit(np.column_stack([np.ones_like(x), 1e3 * x]), y + 40.0, run_out)
    assert moved.scatter == pytest.approx(first.scatter, rel=1e-7)
    assert (moved.beta[0] - 40.0, 1e3 * moved.beta[1]) == pytest.approx(tuple(first.beta), rel=1e-6)


def held(runs: int, seed: int) -> tuple[float, float]:
    """Share of drawn pairs whose one-sided 95 % bound lies below the true ratio, and mean share that ran out."""
    rng = np.random.default_rng(seed)
    good, out = 0, 0.0
    for _ in range(runs):
        weld, parent = stopped(lives(rng, 0.8), 1.0e6), stopped(lives(rng), 1.0e6)
        out += (sum(weld.run_out) + sum(parent.run_out)) / 32.0
        good += compare_lives(weld, parent, 300.0).lower <= 0.8
    return good / runs, out / runs


def test_bound_holds_as_often_as_it_says() -> None:
    """A fifth of the tests run out; 400 pairs of 16 weld and 16 parent, two standard errors of 0.95 are 0.022."""
    share, out = held(400, 5)
    assert 0.15 < out < 0.3
    assert share == pytest.approx(0.95, abs=0.022)


@pytest.mark.soak
def test_bound_holds_long_form() -> None:
    share, _ = held(20_000, 6)
    print(share)
    # three standard errors are 0.005; the likelihood's own error in samples of this size is let to be as much again
    assert share == pytest.approx(0.95, abs=0.01)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10_000), st.sampled_from([260.0, 300.0, 350.0, 420.0]))
def test_a_run_out_of_no_cycles_says_nothing_and_a_longer_one_lifts_the_line(seed: int, level: float) -> None:
    rng = np.random.default_rng(seed)
    tests = LifeTests(LEVELS.tolist(), lives(rng).tolist())
    first = life_line(tests)

    def with_run_out(cycles: float) -> float:
        more = LifeTests([*tests.amplitude, level], [*tests.cycles, cycles], [False] * len(LEVELS) + [True])
        return life_line(more).log_life(level)

    assert with_run_out(1.0) == pytest.approx(first.log_life(level), abs=1e-6)
    usual = 10.0 ** first.log_life(level)
    heights = [with_run_out(share * usual) for share in (0.5, 1.0, 2.0, 4.0)]
    assert heights == sorted(heights) and heights[-1] > first.log_life(level)
