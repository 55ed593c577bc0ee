"""Curl, close and weld: the neutral fibre keeps its length, forces balance, the seam is the soft spot."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.process import close, curl, roll, weld
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece

LOADED = 99.5


@pytest.fixture
def rolled(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> Workpiece:
    """The rolled strip, straight."""
    return roll.rolled(flat, contour, 1.0, "roll", card)


@pytest.fixture
def sprung(rolled: Workpiece, card: ShopCard) -> Workpiece:
    """Curled and let go."""
    return curl.run(rolled, curl.Curl(LOADED), card).workpiece


def area(work: Workpiece) -> np.ndarray:
    return np.outer(work.weight_mm * work.thickness_mm, np.full(work.layer.size, 1.0 / work.layer.size))


def test_natural_strip_is_free_of_force_and_moment(sprung: Workpiece) -> None:
    force = float(np.sum(sprung.stress_hoop_MPa * area(sprung)))
    whole = float(np.sum(np.abs(sprung.stress_hoop_MPa) * area(sprung)))
    height = sprung.r_mm[:, None] + np.outer(np.cos(sprung.angle_rad) * sprung.thickness_mm, sprung.layer)
    moment = float(np.sum(sprung.stress_hoop_MPa * area(sprung) * height))
    assert abs(force) < 2e-3 * whole
    assert abs(moment) < 1e-2 * whole


def test_heights_are_from_the_neutral_fibre(sprung: Workpiece) -> None:
    """A fibre of height y at the natural curl k is 1 + k y long; at the neutral fibre y is 0, within the section."""
    assert sprung.r_mm.min() < 0.0 < sprung.r_mm.max()
    assert 1.0 / sprung.curl_per_mm == pytest.approx(121.9, abs=1.0)


def test_curl_adds_its_own_strain(rolled: Workpiece, sprung: Workpiece) -> None:
    gained = sprung.plastic_strain - rolled.plastic_strain
    assert np.all(gained >= 0.0) and 0.001 < float(gained.mean()) < 0.01
    mean = float(np.average(sprung.plastic_strain.mean(axis=1), weights=sprung.weight_mm))
    assert mean == pytest.approx(0.013, abs=0.002)


def test_closed_hoop_stands_on_its_cut_length(sprung: Workpiece, card: ShopCard) -> None:
    """The fibre at height 0 of the natural strip runs once round, to a closing that is all but elastic."""
    length = 2.0 * math.pi / sprung.curl_per_mm
    closed = close.run(sprung, close.Close(length, np.ones_like(sprung.r_mm)), card).workpiece
    assert closed.form == "hoop"
    neutral = closed.r_mm - sprung.r_mm
    assert neutral == pytest.approx(length / (2.0 * math.pi), abs=1e-3)


def test_shorter_strip_smaller_hoop(sprung: Workpiece, card: ShopCard) -> None:
    """By 1/2 pi a mm; closing bends the section about its middle, 2 mm above the neutral fibre, which adds 0.3 %."""
    ones = np.ones_like(sprung.r_mm)
    hoops = [close.run(sprung, close.Close(length, ones), card).workpiece for length in (765.0, 766.0)]
    small, large = (float(hoop.r_mm.mean()) for hoop in hoops)
    assert large - small == pytest.approx(1.0 / (2.0 * math.pi), rel=5e-3)


def test_shape_of_an_arc_blank_scales_each_station(sprung: Workpiece, card: ShopCard) -> None:
    ones = np.ones_like(sprung.r_mm)
    shape = 1.0 + 0.001 * np.arange(ones.size)
    plain = close.run(sprung, close.Close(766.0, ones), card).workpiece.r_mm
    assert close.run(sprung, close.Close(766.0, shape), card).workpiece.r_mm == pytest.approx(plain * shape)


def test_weld_takes_its_shrinkage(hoop: Workpiece, card: ShopCard) -> None:
    step = weld.run(hoop, weld.Weld(100.0, 0.12, 2.0, 0.017), card)
    assert hoop.r_mm - step.workpiece.r_mm == pytest.approx(0.12 / (2.0 * math.pi))
    assert step.workpiece.length_mm == hoop.length_mm - 0.12
    assert step.workpiece.seam is not None and step.workpiece.seam.softened_width_mm == 2.0


def test_order_of_operations_is_kept(rolled: Workpiece, hoop: Workpiece, card: ShopCard) -> None:
    with pytest.raises(InputError, match="close the strip first"):
        weld.run(rolled, weld.Weld(0.0, 0.1, 0.0, 0.017), card)
    with pytest.raises(InputError, match="closed already"):
        close.run(hoop, close.Close(766.0, np.ones_like(hoop.r_mm)), card)


@pytest.mark.parametrize("bad", [-0.1, math.nan])
def test_refusals(bad: float) -> None:
    with pytest.raises(InputError):
        weld.Weld(0.0, bad, 0.0, 0.017)
    with pytest.raises(InputError):
        curl.Curl(bad)
    with pytest.raises(InputError):
        close.Close(bad, np.ones(1))


@pytest.mark.parametrize(
    ("prior", "narrow", "held"),
    [
        (0.01, 0.0315, 0.0138),
        (0.03, 0.0571, 0.0293),
        (0.05, 0.0871, 0.0463),
        (0.08, 0.147, 0.075),
        (0.10, 0.208, 0.098),
    ],
)
def test_seam_strain_of_the_method_paper(card: ShopCard, prior: float, narrow: float, held: float) -> None:
    """Our own method paper on seams, section 4, parent at 2 %: plastic strain there, total here, so 0.002 is allowed.

    At 0.08 and 0.10 the free seam is near its neck, where strain magnifies the difference: 2 % more.
    """
    for constraint, printed in ((1.0, narrow), (2.0 / math.sqrt(3.0), held)):
        found = weld.seam_strain(card.metal, prior, 0.02, constraint)
        assert found == pytest.approx(printed, abs=0.002 + 0.04 * max(0.0, printed - 0.1))


def test_seam_necks(card: ShopCard) -> None:
    assert math.isinf(weld.seam_strain(card.metal, 0.20, 0.02))
    assert math.isinf(weld.seam_strain(card.metal, 0.13, 0.02))
    assert weld.seam_strain(card.metal, 0.05, 0.0) == 0.0


def worked(hoop: Workpiece, prior: float) -> Workpiece:
    return replace(hoop, plastic_strain=np.full_like(hoop.plastic_strain, prior))


def test_soft_seam_is_said_by_degrees(hoop: Workpiece, card: ShopCard) -> None:
    """Limit 0.182 (half of 0.3646): nothing at 0.03, a caution above 0.05, a stop at 0.10."""

    def said(prior: float, restored: bool = False) -> set[tuple[str, str]]:
        found = weld.seam_findings(worked(hoop, prior), 0.02, card, restored)[1]
        return {(finding.topic, finding.level) for finding in found}

    assert said(0.03) == set()
    assert said(0.06) == {("seam-softening", "caution")}
    assert said(0.10) == {("seam-softening", "caution"), ("seam-strain", "stop")}
    assert said(0.10, restored=True) == set()


def test_a_leaning_section_wants_to_curl_to_a_cone(rolled: Workpiece, card: ShopCard) -> None:
    """A straight line that rises by 0.1 a mm leans by atan 0.1 = 5.7 degrees; the hat, nearly level, by less than 3."""
    leaning = replace(rolled, r_mm=0.1 * rolled.z_mm)
    figure, found = curl.cone_of(leaning, card)
    assert figure.value == pytest.approx(math.degrees(math.atan(0.1)))
    assert found is not None and found.topic == "conical-curl" and "5.7°" in found.sentence
    assert abs(curl.cone_of(rolled, card)[0].value) < 3.0
    assert curl.cone_of(replace(rolled, r_mm=np.zeros_like(rolled.r_mm)), card)[1] is None
