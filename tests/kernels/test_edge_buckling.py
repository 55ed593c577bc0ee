import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.edge_buckling import (
    cylinder_collapse_pressure,
    flange_wrinkle_count,
    flange_wrinkle_stress,
    free_edge_coefficient,
    hoop_collapse_pressure,
    reduced_modulus,
    wave_strain,
    wave_stress,
)
from hoopwright.kernels.plate_waves import buckling_coefficient, least_buckling_coefficient


def test_order_of_the_edges_does_not_matter() -> None:
    one = buckling_coefficient("clamped", "supported", 0.8, 0.3)
    assert one == pytest.approx(buckling_coefficient("supported", "clamped", 0.8, 0.3), rel=1e-9)


def test_firmer_edges_wave_later() -> None:
    pairs = [("supported", "free"), ("clamped", "free"), ("supported", "supported"), ("clamped", "supported"),
             ("clamped", "clamped")]  # fmt: skip
    values = [least_buckling_coefficient(a, b, 0.3)[0] for a, b in pairs]  # type: ignore[arg-type]
    assert values == sorted(values)


def test_strain_is_stress_over_modulus_and_grows_with_the_square_of_thickness() -> None:
    assert wave_stress(1.0, 60.0, 205000.0, 0.3, 4.0) == pytest.approx(205000.0 * wave_strain(1.0, 60.0, 0.3, 4.0))
    assert wave_strain(2.0, 60.0, 0.3) == pytest.approx(4.0 * wave_strain(1.0, 60.0, 0.3))


def test_reduced_modulus_lies_between_and_is_the_modulus_while_elastic() -> None:
    assert reduced_modulus(205000.0, 205000.0) == pytest.approx(205000.0)
    assert 2000.0 < reduced_modulus(205000.0, 2000.0) < 4.0 * 2000.0


def test_flange_wrinkles_later_when_thick_and_narrow() -> None:
    base = flange_wrinkle_stress(1.0, 20.0, 6000.0)
    assert flange_wrinkle_stress(1.2, 20.0, 6000.0) > base > flange_wrinkle_stress(1.0, 24.0, 6000.0)
    assert flange_wrinkle_count(119.0, 20.0) == pytest.approx(1.65 * 119.0 / 20.0)


def test_ring_and_cylinder_differ_by_the_width_held() -> None:
    ring = hoop_collapse_pressure(1.0 / 12.0, 125.0, 208000.0, 1.0)
    assert cylinder_collapse_pressure(1.0, 125.0, 208000.0, 0.3) == pytest.approx(ring / (1.0 - 0.09))


def test_refusals() -> None:
    with pytest.raises(InputError, match="edges"):
        buckling_coefficient("free", "free", 1.0, 0.3)
    with pytest.raises(InputError, match="edge is"):
        buckling_coefficient("glued", "free", 1.0, 0.3)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="half wave"):
        buckling_coefficient("free", "clamped", 0.0, 0.3)
    with pytest.raises(InputError, match="half wave"):
        free_edge_coefficient(0.3, math.nan)
    with pytest.raises(InputError, match="Poisson"):
        wave_strain(1.0, 60.0, 0.51)
