"""Kernels of the seam: ends of range and refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.heat_absorbed import Absorption, Section, Shot, heat_source, penetrating_power, section_of
from hoopwright.kernels.heat_fit import fit_absorption
from hoopwright.kernels.heat_limits import line_source_chord, line_source_width
from hoopwright.kernels.heat_metal import HeatMetal, heat_metal
from hoopwright.kernels.heat_moving_frame import Beam, steady_field
from hoopwright.kernels.melt_trial import TrialPrior, melt_at, trial_metal
from hoopwright.kernels.seam_angle import estimate_kink, kink_harmonic
from hoopwright.kernels.seam_shrinkage import area_rule_shrinkage, clamped_shrinkage, free_shrinkage, posterior
from hoopwright.kernels.seam_stats_ratio import compare
from hoopwright.kernels.seam_stats_retest import LotKind, share_released
from hoopwright.kernels.seam_stats_tolerance import one_sided_factor, pieces_without_failure
from hoopwright.kernels.softening import Swift, joint_proof, rolled_strain

K = (np.array([20.0, 1000.0]), np.array([10.0, 25.0]))
CP = (np.array([20.0, 1000.0]), np.array([420.0, 650.0]))


def metal(**changed: float) -> HeatMetal:
    given_ = {"density": 8440.0, "solidus": 1290.0, "liquidus": 1350.0, "latent": 290e3} | changed
    return heat_metal(K, CP, **given_)


METAL = metal()


def test_latent_heat_lies_between_solidus_and_liquidus() -> None:
    at = np.interp([1290.0, 1350.0], METAL.temperature, METAL.enthalpy - METAL.sensible)
    assert at == pytest.approx([0.0, METAL.latent], abs=1e-9)
    assert METAL.secant(900.0).conductivity == pytest.approx(
        1e-3 * 0.5 * (10.0 + 10.0 + 15.0 * 880.0 / 980.0), rel=1e-4
    )
    assert METAL.melt().heat > METAL.secant(METAL.melt_edge).heat


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"liquidus": 1200.0}, "above the solidus"),
        ({"density": -1.0}, "density"),
        ({"latent": math.nan}, "latent heat"),
    ],
)
def test_metals_that_are_none(changed: dict[str, float], says: str) -> None:
    with pytest.raises(InputError, match=says):
        metal(**changed)


def test_tables_that_are_none() -> None:
    with pytest.raises(InputError, match="conductivity table"):
        heat_metal((K[0][::-1], K[1]), CP, 8440.0, 1290.0, 1350.0, 290e3)
    with pytest.raises(InputError, match="specific heat table"):
        heat_metal(K, (CP[0], -CP[1]), 8440.0, 1290.0, 1350.0, 290e3)
    with pytest.raises(InputError, match="isotherm"):
        METAL.secant(10.0)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_settings_that_are_none(value: float) -> None:
    with pytest.raises(InputError):
        Shot(value, 40.0, 0.15, 0.8)
    with pytest.raises(InputError):
        line_source_chord(value)
    with pytest.raises(InputError):
        line_source_width(value, 40.0, 0.8, METAL.melt())
    with pytest.raises(InputError):
        free_shrinkage(400.0, value, 1.0, 13e-6, 4e-3)


@given(st.floats(150.0, 1200.0), st.floats(8.0, 90.0), st.floats(0.08, 0.35), st.floats(0.5, 1.5))
def test_any_shot_gives_an_ordered_bead(power: float, speed: float, radius: float, t: float) -> None:
    shot = Shot(power, speed, radius, t)
    made = section_of(shot, Absorption(), METAL)
    source = heat_source(shot, Absorption(), METAL)
    assert math.isfinite(made.face) and made.face >= max(made.root, 0.0) - 1e-6
    assert made.root >= -t and 0.0 < source.column_depth <= t and 0.0 <= source.face_share <= 1.0
    assert source.absorbed <= power


def test_more_power_more_root() -> None:
    roots = [section_of(Shot(p, 40.0, 0.15, 0.8), Absorption(), METAL).root for p in (150, 250, 350, 500, 800)]
    assert roots == sorted(roots)
    least = penetrating_power(40.0, 0.15, 0.8, Absorption(), METAL)
    assert section_of(Shot(1.01 * least, 40.0, 0.15, 0.8), Absorption(), METAL).root > 0.0
    with pytest.raises(InputError, match="weld slower"):
        penetrating_power(40.0, 0.15, 0.8, Absorption(), METAL, most=150.0)


def test_fit_refuses_what_is_no_section() -> None:
    shot = Shot(500.0, 40.0, 0.15, 0.8)
    for section in (Section(-1.0, 0.3), Section(math.nan, 0.3), Section(0.9, -2.0)):
        with pytest.raises(InputError):
            fit_absorption([(shot, section)], METAL)
    with pytest.raises(InputError, match="at least one"):
        fit_absorption([], METAL)


def test_scheme_refuses_a_step_that_would_swing() -> None:
    with pytest.raises(InputError, match="finer step"):
        steady_field(METAL, Beam(400.0, 80.0, 0.15, 0.3, 0.5), 0.5, 0.2)
    with pytest.raises(InputError, match="column depth"):
        steady_field(METAL, Beam(400.0, 40.0, 0.15, 0.3, 0.9), 0.5, 0.1)


def test_trial_melt_follows_the_line_source_and_the_focus() -> None:
    constants = trial_metal(METAL, 0.8)
    values = np.array(TrialPrior().mean)
    at = np.array([[600.0, 40.0, z, 0.0] for z in (-3.0, 0.0, 3.0)])
    made = melt_at(at, values, constants)
    assert made.index[1] > made.index[0] == pytest.approx(made.index[2])
    assert made.root[1] > made.root[0]
    keyhole = 1.0 / (1.0 + math.exp(-(made.index[1] - 15.0) / 2.5))
    wide = line_source_width((0.40 + 0.35 * keyhole) * 600.0, 40.0, 0.8, METAL.melt())
    assert made.root[1] == pytest.approx(-wide * math.expm1(-made.over[1] / 0.35), rel=2e-4)


def test_small_refusals() -> None:
    with pytest.raises(InputError, match="harmonic"):
        kink_harmonic(1, 0.1, 100.0)
    with pytest.raises(InputError, match="trace"):
        estimate_kink(np.zeros(5), np.zeros(5), 100.0)
    with pytest.raises(InputError, match="clamp"):
        clamped_shrinkage(0.05, 376.0, 205e3, -2.0, 0.0)
    with pytest.raises(InputError, match="readings"):
        posterior(0.1, 0.03, [0.1], [])
    with pytest.raises(InputError, match="pieces"):
        one_sided_factor(1, 0.9)
    with pytest.raises(InputError, match="share"):
        pieces_without_failure(1.5)
    with pytest.raises(InputError, match="scattered"):
        compare([770.0, 770.0], [780.0, 780.0])
    with pytest.raises(InputError, match="equivalence limits"):
        compare([770.0, 771.0], [780.0, 781.0], (1.1, 1.2))
    with pytest.raises(InputError, match="retest rule"):
        share_released(LotKind(1.0, 0.02), "four tries")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="softened width"):
        joint_proof(60.0, 50.0, 0.1, Swift(1227.0, 0.0264, 0.324))
    with pytest.raises(InputError, match="reduction"):
        rolled_strain(1.2)
    # the area rules are the upper guess: 1.7 to 4 times the energy law
    assert area_rule_shrinkage(0.75) > free_shrinkage(380.0, 40.0, 0.8, 15e-6, 5e-3)
