"""Tolerance factors, life line, zero failures, equivalence; sources and their standing in SOURCE.md."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from hoopwright.kernels.seam_stats_life import life_line
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
    line = life_line([r[0] for r in rows], [r[1] for r in rows])
    assert (line.a, line.b, line.s) == pytest.approx((-0.24474, -1.45144, 0.10581), abs=1e-4)
    assert line.a_limits == pytest.approx((-0.6435, 0.1540), abs=1e-4)
    assert line.b_limits == pytest.approx((-1.6055, -1.2974), abs=1e-4)
    assert line.s**2 == pytest.approx(0.011195, abs=1e-6)


def test_power_of_equivalence() -> None:
    assert equivalence_power(6, 6, 0.02, 0.98) == pytest.approx(0.805, abs=0.0005)
