"""Solving and fitting flow laws: exact answers come back, limits refuse, errors shrink as they must."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.cards.fit import PROOF_STRAIN, fit_law, reduction_strain, solve_law
from hoopwright.errors import InputError

STRAIN = np.linspace(0.002, 0.35, 80)


@given(st.floats(0.005, 0.08), st.floats(0.10, 0.50), st.floats(500.0, 2500.0))
def test_swift_comes_back(offset: float, uniform: float, strength: float) -> None:
    n = offset + uniform
    proof = strength * (offset + PROOF_STRAIN) ** n * math.exp(-PROOF_STRAIN)
    tensile = strength * n**n * math.exp(-uniform)
    fit = solve_law("swift", proof, tensile, uniform)
    assert fit.constants["K_MPa"] == pytest.approx(strength, rel=1e-6)
    assert fit.constants["e0_log"] == pytest.approx(offset, rel=1e-6)
    assert fit.constants["n"] == pytest.approx(n, rel=1e-6)


def voce_at(known: dict[str, float], p: float) -> tuple[float, float]:
    """Stress and slope of a Voce law, written out."""
    fall = known["Q_MPa"] * math.exp(-known["b"] * p)
    return known["s0_MPa"] + known["Q_MPa"] - fall, known["b"] * fall


def ludwik_at(known: dict[str, float], p: float) -> tuple[float, float]:
    """Stress and slope of a Ludwik law, written out."""
    rise = known["K_MPa"] * p ** known["n"]
    return known["s0_MPa"] + rise, known["n"] * rise / p


@pytest.mark.parametrize(("law", "at"), [("voce", voce_at), ("ludwik", ludwik_at)])
@given(above=st.floats(0.02, 0.9), uniform=st.floats(0.1, 0.5))
def test_voce_and_ludwik_meet_the_three_figures(
    law: str, at: Callable[[dict[str, float], float], tuple[float, float]], above: float, uniform: float
) -> None:
    """The yield lies between the least a power law can reach and the most linear hardening can."""
    tensile = 800.0
    least = (PROOF_STRAIN / uniform) ** uniform * math.exp(uniform - PROOF_STRAIN)
    most = (1.0 - uniform + PROOF_STRAIN) * math.exp(uniform - PROOF_STRAIN)
    proof = tensile * (least + above * (most - least))
    known = solve_law(law, proof, tensile, uniform).constants
    assert at(known, PROOF_STRAIN)[0] * math.exp(-PROOF_STRAIN) == pytest.approx(proof, rel=1e-8)
    stress, slope = at(known, uniform)
    assert stress * math.exp(-uniform) == pytest.approx(tensile, rel=1e-8)
    assert slope == pytest.approx(stress, rel=1e-8)


@pytest.mark.parametrize(
    ("proof", "strength", "uniform", "field"),
    [
        (800.0, 700.0, 0.3, "proof stress"),
        (700.0, 700.0, 0.3, "proof stress"),
        (0.0, 700.0, 0.3, "proof stress"),
        (math.nan, 700.0, 0.3, "proof stress"),
        (300.0, math.inf, 0.3, "tensile strength"),
        (300.0, 700.0, 0.001, "uniform strain"),
        (300.0, 700.0, -0.1, "uniform strain"),
    ],
)
def test_figures_that_cannot_be(proof: float, strength: float, uniform: float, field: str) -> None:
    with pytest.raises(InputError) as caught:
        solve_law("swift", proof, strength, uniform)
    assert caught.value.field == field


def test_a_law_that_cannot_meet_the_figures_is_refused() -> None:
    """A yield of a tenth of the strength lies below what Swift reaches at e0 -> 0."""
    with pytest.raises(InputError, match="such that a Swift curve can meet them"):
        solve_law("swift", 60.0, 800.0, 0.35)
    with pytest.raises(InputError, match="swift, voce or ludwik"):
        solve_law("hollomon", 300.0, 700.0, 0.3)


LAWS = {
    "swift": ({"K_MPa": 1600.0, "e0_log": 0.02, "n": 0.38}, lambda p: 1600.0 * (0.02 + p) ** 0.38),
    "voce": ({"s0_MPa": 370.0, "Q_MPa": 1100.0, "b": 3.1}, lambda p: 370.0 + 1100.0 * (1 - np.exp(-3.1 * p))),
    "ludwik": ({"s0_MPa": 320.0, "K_MPa": 1350.0, "n": 0.51}, lambda p: 320.0 + 1350.0 * p**0.51),
}


@pytest.mark.parametrize("law", LAWS)
def test_least_squares_brings_back_its_own_law(law: str) -> None:
    constants, curve = LAWS[law]
    fit = fit_law(law, STRAIN.tolist(), curve(STRAIN).tolist())
    assert fit.constants == pytest.approx(constants, rel=1e-5)
    assert fit.rms_MPa < 1e-4


@pytest.mark.parametrize("law", LAWS)
def test_standard_errors_cover_the_truth(law: str) -> None:
    """60 noisy tests, 5 MPa of scatter: about 95 % of the constants should lie within two standard errors."""
    constants, curve = LAWS[law]
    random = np.random.default_rng(7)
    inside = {name: 0 for name in constants}
    runs = 60
    for _ in range(runs):
        fit = fit_law(law, STRAIN.tolist(), (curve(STRAIN) + random.normal(0.0, 5.0, STRAIN.size)).tolist())
        assert fit.rms_MPa == pytest.approx(5.0, rel=0.35)
        for name, value in constants.items():
            inside[name] += abs(fit.constants[name] - value) <= 2.0 * fit.errors[name]
    assert all(share / runs > 0.85 for share in inside.values())


@pytest.mark.parametrize(
    ("strain", "stress"),
    [
        ([0.0, 0.1, 0.2], [300.0, 500.0, 600.0]),
        ([0.0, 0.1, 0.2, math.nan], [300.0, 500.0, 600.0, 650.0]),
        ([-0.1, 0.1, 0.2, 0.3], [300.0, 500.0, 600.0, 650.0]),
        ([0.0, 0.1, 0.2, 0.3], [300.0, 500.0, -600.0, 650.0]),
        ([0.0, 0.1, 0.2, 0.3], [300.0, 500.0, 600.0]),
    ],
)
def test_points_that_cannot_be(strain: list[float], stress: list[float]) -> None:
    with pytest.raises(InputError, match="points"):
        fit_law("swift", strain, stress)


def test_reduction_strain() -> None:
    assert reduction_strain(0.0) == 0.0
    assert reduction_strain(50.0) == pytest.approx(2.0 / math.sqrt(3.0) * math.log(2.0))
    for bad in (-1.0, 100.0, math.nan):
        with pytest.raises(InputError):
            reduction_strain(bad)
