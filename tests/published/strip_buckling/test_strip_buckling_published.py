"""Waving strips and collapsing rings; sources and their standing in SOURCE.md."""

import math

import pytest

from hoopwright.kernels.edge_buckling import (
    CODE_FREE_EDGE,
    cylinder_collapse_pressure,
    hoop_collapse_pressure,
    wave_stress,
)
from hoopwright.kernels.plate_waves import least_buckling_coefficient


@pytest.mark.parametrize(
    ("first", "second", "printed", "half", "wave"),
    [
        ("supported", "supported", 4.00, 0.005, 1.0),
        ("clamped", "clamped", 6.97, 0.005, 0.66),
        # books print 5.42, the minimum is 5.41: within one of the last digit
        ("clamped", "supported", 5.42, 0.015, 0.79),
        ("supported", "free", 0.425, 0.0006, math.inf),
    ],
)
def test_coefficient_of_a_long_strip(first: str, second: str, printed: float, half: float, wave: float) -> None:
    k, length = least_buckling_coefficient(first, second, 0.3)  # type: ignore[arg-type]
    assert k == pytest.approx(printed, abs=half)
    # the minimum is flat: its place is printed to two digits and found to one and a half
    assert length == pytest.approx(wave, abs=0.01)


def test_codes_round_the_free_edge_up() -> None:
    k, _ = least_buckling_coefficient("supported", "free", 0.3)
    assert pytest.approx(CODE_FREE_EDGE, rel=0.011) == k


def test_stresses() -> None:
    assert wave_stress(1.0, 60.0, 205000.0, 0.3, 4.0) == pytest.approx(205.9, abs=0.05)
    assert wave_stress(1.0, 25.0, 205000.0, 0.3, 0.425) == pytest.approx(126.0, abs=0.05)


def test_ring_and_cylinder_under_outside_pressure() -> None:
    assert hoop_collapse_pressure(1.0 / 12.0, 125.0, 208000.0, 1.0) == pytest.approx(0.02662, abs=5e-6)
    assert cylinder_collapse_pressure(1.0, 125.0, 208000.0, 0.3) == pytest.approx(0.02926, abs=5e-6)
