import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.stored_energy import bar_stiffness, hoop_energy, spring_energy, stored_energy


def test_hoop_energy_is_half_stress_times_elastic_strain_times_volume() -> None:
    stress, young, area, radius = 500.0, 200000.0, 40.0, 125.0
    volume = 2.0 * math.pi * radius * area
    springback = radius * stress / young
    assert hoop_energy(stress * area, springback) == pytest.approx(0.5 * stress**2 / young * volume * 1e-3)


def test_spring_and_bar() -> None:
    stiffness = bar_stiffness(1000.0, 200.0, 210000.0)
    assert stiffness == pytest.approx(1.05e6)
    assert spring_energy(40000.0, stiffness) == pytest.approx(0.5 * 40000.0**2 / 1.05e6 * 1e-3)
    assert spring_energy(0.0, stiffness) == 0.0


def test_total() -> None:
    energy = stored_energy(27600.0, 0.4, 40300.0, 1.0e6, 45000.0)
    assert energy.total_J == pytest.approx(energy.hoop_J + energy.pin_J + energy.frame_J)
    assert energy.frame_J == pytest.approx(18.0, abs=0.1)


def test_refusals() -> None:
    with pytest.raises(InputError, match="force"):
        spring_energy(-1.0, 1.0)
    with pytest.raises(InputError, match="springback"):
        hoop_energy(1.0, 0.0)
    with pytest.raises(InputError, match="stiffness"):
        spring_energy(1.0, math.nan)
