"""Figures of our own method paper on the seam, reached again. They are references, not published values."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.kernels.flow import swift
from hoopwright.kernels.heat_absorbed import Absorption, Section, Shot, section_of
from hoopwright.kernels.heat_fit import fit_absorption, reading_deviation
from hoopwright.kernels.heat_limits import line_source_width, thin_plate_cooling_time
from hoopwright.kernels.heat_metal import HeatMetal
from hoopwright.kernels.heat_moving_frame import Beam, steady_field
from hoopwright.kernels.heat_series import depth, width
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.seam_angle import kink_harmonic, kink_peak
from hoopwright.kernels.seam_shrinkage import posterior, worth_changing
from hoopwright.kernels.softening import (
    HELD,
    Swift,
    joint_proof,
    neck_limit,
    rolled_strain,
    seam_strain,
    strength_ratio,
    zone_from_proof,
)
from hoopwright.plan.seam.heat_card import heat_card

CASES = [
    # absorbed, speed, t, depth, face, root, line source, width at 900 degC
    (150.0, 20.0, 0.5, 0.5, 0.914, 0.878, 0.896, 1.816),
    (400.0, 80.0, 0.5, 0.5, 0.705, 0.603, 0.654, 1.249),
    (380.0, 40.0, 0.8, 0.8, 0.882, 0.584, 0.754, 1.487),
    (330.0, 15.0, 1.2, 1.2, 1.260, 0.846, 1.075, 2.235),
    (520.0, 30.0, 1.2, 1.2, 1.136, 0.638, 0.909, 1.857),
    (280.0, 40.0, 0.8, 0.5, 0.797, 0.0, None, 1.210),
]
"""Reference: image series of the paper. Ours starts its tables at 20 degC, a degree lower: 0.3 % at most, measured."""

SCHEME = [
    (380.0, 40.0, 0.8, 0.8, 0.887, 0.582, 1.471, 0.163),
    (150.0, 20.0, 0.5, 0.5, 0.903, 0.854, 1.813, 0.262),
    (280.0, 40.0, 0.8, 0.5, 0.809, 0.0, 1.192, 0.089),
]


@pytest.fixture(scope="module")
def metal() -> HeatMetal:
    return heat_card(alloy("N06625")).metal


@pytest.mark.parametrize(("p", "v", "t", "d", "face", "root", "line", "hot"), CASES)
def test_image_series(
    metal: HeatMetal, p: float, v: float, t: float, d: float, face: float, root: float, line: float | None, hot: float
) -> None:
    m, h = metal.melt(), metal.secant(900.0)

    def wide(s: object, z: float) -> float:
        return width(s.rise, z, p / (s.heat * t), v, s.diffusivity, t, 0.15, 0.3, d)  # type: ignore[attr-defined]

    assert wide(m, 0.0) == pytest.approx(face, abs=0.0025)
    assert wide(m, t) == pytest.approx(root, abs=0.0025)
    assert wide(h, 0.0) == pytest.approx(hot, abs=0.006)
    if line is not None:
        assert line_source_width(p, v, t, m) == pytest.approx(line, abs=0.002)


@pytest.mark.parametrize(("p", "v", "t", "d", "face", "root", "hot", "cool"), SCHEME)
def test_moving_frame_scheme(
    metal: HeatMetal, p: float, v: float, t: float, d: float, face: float, root: float, hot: float, cool: float
) -> None:
    """At 0.1 mm within 1 % of its own fine mesh on the face, 2.7 % at the root, where the width is steep."""
    field = steady_field(metal, Beam(p, v, 0.15, 0.3, d), t, 0.1)
    edge = metal.melt_edge
    assert field.width(edge, "face") == pytest.approx(face, rel=0.01)
    assert field.width(edge, "root") == pytest.approx(root, rel=0.027)
    assert field.width(900.0, "face") == pytest.approx(hot, rel=0.006)
    # the last row reads 0.086 against 0.089: two cells of 0.1 mm at 40 mm/s are 0.005 s
    assert field.cooling_time(v, 1200.0, 800.0) == pytest.approx(cool, abs=0.004)


def test_thin_sheet_cooling_time(metal: HeatMetal) -> None:
    s = metal.secant(800.0)
    for p, v, t, printed in ((150.0, 20.0, 0.5, 0.250), (380.0, 40.0, 0.8, 0.156), (330.0, 15.0, 1.2, 0.373)):
        found = thin_plate_cooling_time(p / v, t, s.conductivity, s.heat, 1180.0, 780.0)
        assert found == pytest.approx(printed, rel=0.01)


def test_face_share_decides_penetration(metal: HeatMetal) -> None:
    """107, 152, 259, 431 W with half the latent heat; ours has 0.42 of it: within 4.5 %; 149 W as printed at 0.3."""
    m = metal.melt()

    def least(fs: float) -> float:
        low, high = 50.0, 900.0
        for _ in range(30):
            p = 0.5 * (low + high)
            through = depth(m.rise, p / (m.heat * 0.8), 40.0, m.diffusivity, 0.8, 0.15, fs, 0.8) >= 0.8
            low, high = (low, p) if through else (p, high)
        return high

    assert [least(f) for f in (0.0, 0.3, 0.6, 1.0)] == pytest.approx([107.0, 152.0, 259.0, 431.0], rel=0.045)
    assert least(0.3) == pytest.approx(149.0, abs=0.5)


FULL = [Shot(p, v, 0.15, 0.8) for p, v in ((450, 30), (500, 40), (600, 50), (400, 25), (550, 40), (700, 60))]
PARTIAL = [Shot(300.0, 50.0, 0.15, 0.8), Shot(220.0, 40.0, 0.15, 0.8)]
WIDE = [Shot(700.0, 25.0, 0.4, 0.8)]


def sections(shots: list[Shot], metal: HeatMetal, seed: int) -> list[tuple[Shot, Section]]:
    rng = np.random.default_rng(seed)
    made = []
    for shot in shots:
        true = section_of(shot, Absorption(), metal)
        face, root = (v + reading_deviation(v) * rng.normal() for v in (true.face, true.root))
        made.append((shot, Section(face, root)))
    return made


def test_what_six_sections_can_teach(metal: HeatMetal) -> None:
    full = fit_absorption(sections(FULL, metal, 1), metal)
    assert full.not_learnt == ("conduction absorptivity", "column factor")
    mixed = fit_absorption(sections(FULL[:4] + PARTIAL, metal, 1), metal)
    assert mixed.not_learnt == ("conduction absorptivity",)
    every = fit_absorption(sections(FULL[:3] + PARTIAL + WIDE, metal, 1), metal)
    assert every.not_learnt == ()
    assert np.linalg.eigvalsh(full.information)[:2] == pytest.approx([0.0, 0.0], abs=0.05)


@pytest.mark.soak
def test_limits_of_the_fit_cover(metal: HeatMetal) -> None:
    """25 data sets: 90 % limits of four parameters; the paper found 80 to 100 % covered."""
    truth = np.array([math.log(0.35), math.log(0.70), math.log(0.37), 0.30])
    inside = 0
    for seed in range(25):
        fit = fit_absorption(sections(FULL[:3] + PARTIAL + WIDE, metal, 100 + seed), metal)
        sd = np.sqrt(np.diag(fit.covariance))
        inside += int((np.abs(fit.mean - truth) < 1.645 * sd).sum())
    assert 0.80 <= inside / 100 <= 1.0


def test_kink_of_two_degrees() -> None:
    phi, radius = math.radians(2.0), 125.0
    assert [kink_harmonic(n, phi, radius) for n in (2, 3, 4, 8)] == pytest.approx(
        [0.463, 0.174, 0.093, 0.022], abs=5e-4
    )
    assert kink_peak(phi, radius) == pytest.approx(1.042, abs=5e-4)


def test_weld_table_of_the_card_is_an_annealed_zone_in_series() -> None:
    law = Swift(1227.0, 0.0264, 0.324)
    table = alloy("N06002").cold_work()
    zones = []
    for row in table.rows[1:]:
        zones.append(zone_from_proof(row[3], 50.0, rolled_strain(row[0] / 100.0), law))
    # 2.85 and 3.39 here, 2.9 and 3.4 printed
    assert zones == pytest.approx([4.0, 2.9, 3.4], abs=0.06)
    assert [joint_proof(w, 50.0, rolled_strain(0.15), law) for w in (1.0, 3.0)] == pytest.approx([628, 492], abs=0.6)


NECKS = [
    (0.01, 0.918, 1.060, 0.0315, 0.0138, 0.274, 0.355),
    (0.03, 0.806, 0.931, 0.0571, 0.0293, 0.202, 0.335),
    (0.05, 0.732, 0.845, 0.0871, 0.0463, 0.151, 0.315),
    (0.08, 0.655, 0.757, 0.147, 0.075, 0.087, 0.285),
    (0.10, 0.617, 0.713, 0.208, 0.098, 0.050, 0.265),
    (0.13, 0.573, 0.662, math.inf, 0.140, 0.0, 0.235),
    (0.20, 0.502, 0.579, math.inf, math.inf, 0.0, 0.0),
]


@pytest.mark.parametrize(("pre", "free", "held", "strain", "strain_held", "neck", "neck_held"), NECKS)
def test_neck_table(
    pre: float, free: float, held: float, strain: float, strain_held: float, neck: float, neck_held: float
) -> None:
    """Strains of the table are plastic: a metal a thousand times as stiff has no others."""
    law = Swift(1630.0, 0.020, 0.385)
    stiff = Metal(swift(1630.0, 0.020, 0.385), 205e6, 0.32)
    found = [strength_ratio(pre, 0.02, law, c) for c in (1.0, HELD)]
    assert found == pytest.approx([free, held], abs=0.0011)
    assert seam_strain(stiff, pre, 0.02) == pytest.approx(strain, rel=0.004)
    assert seam_strain(stiff, pre, 0.02, HELD) == pytest.approx(strain_held, rel=0.006)
    assert neck_limit(stiff, pre) == pytest.approx(neck, abs=0.0006)
    assert neck_limit(stiff, pre, HELD) == pytest.approx(neck_held, abs=0.0006)


def test_shrinkage_learned_from_three_rings() -> None:
    found = posterior(0.12, 0.03, [0.15, 0.16, 0.12], [0.032] * 3)
    assert (found.mean, found.sd, found.plain) == pytest.approx((0.137, 0.016, 0.1433), abs=5e-4)
    assert worth_changing(found.mean - 0.12, found.sd)
    assert [posterior(0.12, 0.03, [0.14] * n, [0.032] * n).sd for n in (1, 3, 6)] == pytest.approx(
        [0.022, 0.016, 0.012], abs=6e-4
    )
