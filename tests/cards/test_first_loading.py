"""The bar: every first-loading curve reproduces its card, and nothing that does not is called one."""

from __future__ import annotations

import math

import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.card import CardFlow
from hoopwright.cards.curves import flow_curve, given_curve, reproduced, reproductions
from hoopwright.cards.library import list_cards
from hoopwright.errors import CardError, InputError
from hoopwright.findings import Source
from hoopwright.kernels.flow import instability_strain, tensile_strength

ALLOYS = [listed.id for listed in list_cards() if listed.kind == "alloy"]
WITHOUT_CURVE = ["DEMO-NOZZLE", "N07750"]
LAWS = ("swift", "voce", "ludwik")


def proof_of(curve) -> float:
    """Engineering stress at a plastic strain of 0.002, from the curve alone."""
    return curve.stress(0.002) * math.exp(-0.002)


@pytest.mark.parametrize("law", LAWS)
@pytest.mark.parametrize("card_id", [card_id for card_id in ALLOYS if card_id not in WITHOUT_CURVE])
def test_every_card_meets_the_bar(card_id: str, law: str) -> None:
    sheet = alloy(card_id)
    curve = sheet.flow_curve_first(law).curve
    assert proof_of(curve) == pytest.approx(sheet.yield_MPa().value, rel=0.05)
    assert tensile_strength(curve) == pytest.approx(sheet.tensile_MPa().value, rel=0.03)
    assert instability_strain(curve) == pytest.approx(sheet.uniform_strain_log().value, rel=0.10)


@pytest.mark.parametrize("card_id", [card_id for card_id in ALLOYS if card_id not in WITHOUT_CURVE])
def test_solved_curves_meet_their_three_figures_exactly(card_id: str) -> None:
    sheet = alloy(card_id)
    curve = sheet.flow_curve_first().curve
    assert proof_of(curve) == pytest.approx(sheet.yield_MPa().value, rel=1e-9)
    assert tensile_strength(curve) == pytest.approx(sheet.tensile_MPa().value, rel=1e-9)
    assert instability_strain(curve) == pytest.approx(sheet.uniform_strain_log().value, rel=1e-9)


@pytest.mark.parametrize("card_id", WITHOUT_CURVE)
def test_a_card_without_a_curve_says_what_to_enter(card_id: str) -> None:
    with pytest.raises(
        CardError, match="Do: enter yield_strength_MPa, tensile_strength_MPa and uniform_elongation_pct"
    ):
        alloy(card_id).flow_curve_first()


@pytest.mark.parametrize("card_id", [card_id for card_id in ALLOYS if alloy(card_id).has_reyield])
def test_reyield_curves_would_not_pass_as_first_loading(card_id: str) -> None:
    """Fitted to yields after rolling, they fall short of the tensile strength: kept apart for that reason."""
    sheet = alloy(card_id)
    found = {one.name: one for one in reproductions(sheet.card, sheet.flow_curve_reyield().curve)}
    assert not found["tensile strength"].ok
    assert found["tensile strength"].miss < -0.05


def test_reyield_curve_of_n06002_reaches_632_of_783() -> None:
    """Stated in the card's note, worked out by hand: 1227 0.324^0.324 exp(-0.2976) = 632."""
    curve = alloy("N06002").flow_curve_reyield().curve
    assert tensile_strength(curve) == pytest.approx(1227.0 * 0.324**0.324 * math.exp(-(0.324 - 0.0264)), rel=1e-6)
    assert tensile_strength(curve) == pytest.approx(632.0, abs=0.5)


@pytest.mark.parametrize(
    ("card_id", "strength", "exponent"), [("N06625", 1900, 0.45), ("N07718", 1750, 0.38), ("S30400", 1275, 0.45)]
)
def test_recalled_power_laws_miss_the_proof_stress(card_id: str, strength: float, exponent: float) -> None:
    """Why the notes of these cards keep them off the card: under half the proof stress at 0.2 %."""
    sheet = alloy(card_id)
    curve = flow_curve(
        CardFlow("ludwik", {"s0_MPa": 0.0, "K_MPa": strength, "n": exponent}, (), 0.5, Source("memory", "x"))
    )
    assert proof_of(curve) < 0.5 * sheet.yield_MPa().value


def test_the_demonstrations_rounded_swift_law_passes_too() -> None:
    sheet = alloy("N06002")
    given = given_curve("swift", {"K_MPa": 1630.0, "e0_log": 0.020, "n": 0.385}, 0.365, Source("given", "liner file"))
    assert all(one.ok for one in reproductions(sheet.card, given.curve))
    solved = sheet.flow_curve_first().constants
    assert solved["K_MPa"] == pytest.approx(1630.0, abs=5.0)
    assert solved["e0_log"] == pytest.approx(0.020, abs=0.0005)
    assert solved["n"] == pytest.approx(0.385, abs=0.0005)


def test_a_given_law_needs_all_its_constants() -> None:
    with pytest.raises(InputError, match=r"flow.n is missing"):
        given_curve("swift", {"K_MPa": 1630.0, "e0_log": 0.02}, 0.4, Source("given", "liner file"))


def test_the_bar_bites() -> None:
    curve = alloy("N06002").flow_curve_first().curve
    assert [one.ok for one in reproduced(curve, 376.0, 783.0, 0.3646)] == [True, True, True]
    assert [one.ok for one in reproduced(curve, 400.0, 810.0, 0.30)] == [False, False, False]
    assert [one.ok for one in reproduced(curve, 360.0, 765.0, None)] == [True, True]


def test_source_of_a_solved_curve_names_its_ground() -> None:
    assert alloy("N06002").flow_curve_first().source.basis == "derived"
    assert alloy("N06230").flow_curve_first().source.basis == "practice"
    assert alloy("N06625").flow_curve_first().source.basis == "memory"
    assert "376 MPa" in alloy("N06002").flow_curve_first().source.where
