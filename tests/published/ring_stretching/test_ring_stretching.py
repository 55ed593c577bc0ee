"""Rings and strips in tension as printed (SOURCE.md): instability, recovery, friction, two widths in series."""

import math

import pytest

from hoopwright.kernels import sizing
from hoopwright.kernels.flow import ludwik
from hoopwright.kernels.metal import Metal


def rigid(strength: float, exponent: float) -> Metal:
    """A plain power law with a modulus so high that total strain is plastic strain (1e5 of the usual one)."""
    return Metal(ludwik(0.0, strength, exponent), 2e10, 0.3)


@pytest.mark.parametrize(
    ("loading", "strain"),
    [
        ("hoop force", 0.300),
        ("pressure on a free ring", 0.200),
        ("pressure on a long tube", 0.150),
    ],
)
def test_instability_strain(loading: str, strain: float) -> None:
    """n = 0.3: n, 2n/3, n/2."""
    assert sizing.instability_hoop_strain(ludwik(0.0, 1000.0, 0.3), loading) == pytest.approx(strain, rel=0.001)  # type: ignore[arg-type]


def test_instability_strain_of_a_sphere() -> None:
    """Effective 2n/3 = 0.200, hoop n/3."""
    hoop = sizing.instability_hoop_strain(ludwik(0.0, 1000.0, 0.3), "pressure on a sphere")
    assert 2 * hoop == pytest.approx(0.200, rel=0.001)


def test_recovery_of_a_hoop() -> None:
    """D 250, 600 MPa, E 208 GPa: 0.721. First order D stress/E; the exponential takes 0.14 % off."""
    loss = 250.0 - 2 * sizing.released_radius(125.0, 600.0, 208_000.0)
    assert loss == pytest.approx(0.721, rel=0.002)


@pytest.mark.parametrize(("strain", "printed"), [(0.01, 0.432), (0.03, 0.634), (0.05, 0.758)])
def test_recovery_of_a_power_law_hoop(strain: float, printed: float) -> None:
    """D 300, K 1500 MPa, n 0.35, E 208 GPa, stress at the whole strain (no elastic part taken off)."""
    stress = 1500.0 * strain**0.35
    loss = 300.0 - 2 * sizing.released_radius(150.0, stress, 208_000.0)
    # first order in stress/E (0.13 % at most) and half the last digit
    assert loss == pytest.approx(printed, rel=0.002)


@pytest.mark.parametrize(
    ("segments", "friction", "exponent", "middle"),
    [(8, 0.15, 0.3, 0.0397), (12, 0.15, 0.3, 0.0428), (16, 0.10, 0.4, 0.0473)],
)
def test_friction_on_a_segmented_mandrel(segments: int, friction: float, exponent: float, middle: float) -> None:
    """Gap strain 0.05: tension falls by exp(-mu pi/N) to the middle of a segment."""
    share = math.exp(-friction * math.pi / segments)
    found = sizing.strain_at_tension_share(rigid(1500.0, exponent), 0.05, share)
    assert found == pytest.approx(middle, abs=0.00005)


def test_strip_drawn_over_radii() -> None:
    """t0 0.8, plane-strain law 750 eps^0.23 MPa, mu 0.1, a quarter turn from centre to wall, centre strain 0.03."""
    metal, turn = rigid(750.0, 0.23), math.exp(0.1 * math.pi / 2)
    centre = sizing.hoop_stress(metal, 0.03) * 0.8 * math.exp(-0.03)
    assert centre == pytest.approx(260.0, abs=0.5)
    assert centre * turn == pytest.approx(304.0, abs=0.5)
    assert sizing.strain_at_tension_share(metal, 0.03, turn) == pytest.approx(0.071, abs=0.0005)
    neck = sizing.necking_strain(metal)
    limit = sizing.hoop_stress(metal, neck) * 0.8 * math.exp(-neck)
    assert neck == pytest.approx(0.23, rel=1e-4)
    assert limit == pytest.approx(340.0, abs=0.5)
    # printed 290.6 from unrounded figures
    assert limit / turn == pytest.approx(290.6, abs=0.05)
    assert sizing.strain_at_tension_share(metal, neck, 1 / turn) == pytest.approx(0.054, abs=0.0005)


def test_tensile_piece_with_a_narrow_length() -> None:
    """t 1.2, widths 12.5 and 12.4, 750 eps^0.22 MPa: a narrow length is a weld of strength ratio 12.4/12.5."""
    metal = rigid(750.0, 0.22)
    wide = sizing.weld_necking_limit(metal, 12.4 / 12.5)
    assert wide == pytest.approx(0.166, abs=0.0005)
    load = sizing.hoop_stress(metal, wide) * math.exp(-wide) * 12.5 * 1.2
    assert load == pytest.approx(6420.0, abs=5.0)
    assert 20.0 * math.exp(wide) == pytest.approx(23.6, abs=0.05)


@pytest.mark.parametrize(
    ("exponent", "ratio", "strain"), [(0.22, 0.99, 0.1600), (0.22, 0.98, 0.1387), (0.20, 0.995, 0.1585)]
)
def test_groove_in_plane_strain(exponent: float, ratio: float, strain: float) -> None:
    """x^n e^-x = f n^n e^-n: the sheet beside a groove of thickness ratio f."""
    assert sizing.weld_necking_limit(rigid(600.0, exponent), ratio) == pytest.approx(strain, abs=0.00005)
