"""The operations of the proof walk against the method paper on rolling: its strip, rolls and metal.

Figures of a study of our own; tolerances as that paper asks: forces 1 %, radii 0.02 rolled and 0.005 sized.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from hoopwright.kernels.flow import swift
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section.measure import at_material
from hoopwright.process import proof_close, proof_curl, proof_roll, proof_size, proof_trim
from hoopwright.process.proof_closing import RollGap
from hoopwright.process.proof_piece import piece_of, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Seam
from tests.reference.section_cases import CROWN, MIDLINE, RING_LINE, SHEET, flat_strip, middle_of

LENGTH = 763.89
ROLLS = RollGap(MIDLINE, SHEET, SHEET + 0.02, 0.1)


@pytest.fixture(scope="module")
def shop(card: ShopCard) -> ShopCard:
    """The house of the demonstration with the paper's metal."""
    return replace(card, metal=Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32))


@pytest.fixture(scope="module")
def card() -> ShopCard:
    from hoopwright.cards.alloy import alloy
    from hoopwright.cards.shop import friction, house_limits, machines

    sheet = alloy("N06002")
    return ShopCard(
        Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32), sheet.young_modulus_MPa(), sheet.uniform_strain_log(),
        house_limits("demo-house"), machines("demo"), friction("demo-friction"),
    )  # fmt: skip


def value(step, word):
    """A figure of a step by the last word of its identity."""
    return next(figure.value for figure in step.figures if figure.identity.endswith(f"/{word}"))


@pytest.fixture(scope="module")
def rolled(shop):
    """One pass, 320 elements; node the crown's middle."""
    strip, node = flat_strip(320)
    return proof_roll.run(piece_of("HAT", strip, LENGTH), proof_roll.ProofPass(1, 1, 1.0, ROLLS, node, 50.0), shop)


@pytest.fixture(scope="module")
def walked(shop):
    """Second closing with the curl, closed, 160 elements."""
    strip, node = flat_strip(160)
    first = proof_roll.run(piece_of("HAT", strip, LENGTH), proof_roll.ProofPass(1, 1, 1.0, ROLLS, node, 50.0), shop)
    curl = proof_curl.run(
        first.workpiece, proof_curl.ProofCurl(1.0 / 100.504, 0.0, node, "second closing", ROLLS), shop
    )  # fmt: skip
    place = RING_LINE.point_at(middle_of(CROWN) - 3.33)
    close = proof_close.run(
        curl.workpiece, proof_close.ProofClose(LENGTH, RING_LINE, node, place, Seam(0.0, 1.0, 0.0)), shop
    )
    return curl, close


def test_load_and_torque_of_a_pass(rolled):
    assert value(rolled, "line-force") == pytest.approx(885.0, rel=0.01)
    assert value(rolled, "load") == pytest.approx(2.29, rel=0.01)
    assert value(rolled, "torque") == pytest.approx(11.0, rel=0.01)
    assert value(rolled, "least-thickness") == pytest.approx(0.7946, abs=0.0003)


def test_curl_in_a_second_closing_keeps_its_figures(walked):
    curl, close = walked
    assert value(curl, "moment") == pytest.approx(15.3, rel=0.01)
    # at the centroid 122.0 is printed; the fibre of the strip's length lies within half a millimetre of it
    assert value(curl, "natural-radius") == pytest.approx(122.0, abs=1.2)
    # the loaded radius is the paper's, so that the strip nearly closes by itself: below 1 % of the curl's moment
    assert abs(value(close, "moment")) < 0.01 * 15.3


def test_sizing_after_the_walk(walked, shop):
    close = walked[1]
    surface = offset(RING_LINE, -0.5 * SHEET)
    operation = proof_size.ProofSize(1, 1, surface, 0.3925, 0.12, (), 120.0, (100, 150))
    sized = proof_size.run(close.workpiece, operation, shop)
    section = section_of(sized.workpiece)
    found = [at_material(section, middle_of(k))[1] for k in (0, CROWN, 8)]
    # printed at 320 elements with the crown held along the axis; here the ring finds its own place
    assert found == pytest.approx([123.922, 125.777, 123.499], abs=0.008)
    assert value(sized, "radial-force") == pytest.approx(140.4, rel=0.01)
    assert value(sized, "least-thickness") == pytest.approx(0.7805, abs=0.001)
    node = section.x_mm.size
    trimmed = proof_trim.run(sized.workpiece, proof_trim.ProofTrim(10, node - 11), shop)
    assert trimmed.workpiece.width_mm < sized.workpiece.width_mm
    assert 0.0 < value(trimmed, "spring") < 0.05
