"""Deformation length and edge strain; sources and their standing in SOURCE.md."""

import math

import pytest

from hoopwright.kernels.forming_zone import flange_zone, straight_path_strain


@pytest.mark.parametrize(
    ("width", "turn", "t", "length", "strain", "half"),
    [(25.0, 10.0, 1.0, 85.3, 0.00524, 5e-6), (20.0, 20.0, 0.8, 96.5, 0.01047, 5e-6)],
)
def test_deformation_length(width: float, turn: float, t: float, length: float, strain: float, half: float) -> None:
    zone = flange_zone(width, math.radians(turn), t)
    assert zone.length_mm == pytest.approx(length, abs=0.05)
    assert zone.edge_strain_log == pytest.approx(strain, abs=half)


@pytest.mark.parametrize(
    ("width", "turn", "run", "strain"), [(30.0, 15.0, 250.0, 4.905e-4), (25.0, 20.0, 200.0, 9.419e-4)]
)
def test_straight_path(width: float, turn: float, run: float, strain: float) -> None:
    assert straight_path_strain(width, math.radians(turn), run) == pytest.approx(strain, abs=5e-8)
