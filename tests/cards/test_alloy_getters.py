"""Reading an alloy: rows, straight lines between them, room temperature, the ends, and growth from any temperature."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.cards.alloy import alloy, gauge, tool_steel
from hoopwright.cards.card import Card
from hoopwright.cards.library import list_cards
from hoopwright.cards.reading import card_from_text
from hoopwright.cards.tables import CardTable
from hoopwright.errors import CardError, InputError, RangeError
from hoopwright.findings import BASES, Source

N06002 = alloy("N06002")


def test_rows_are_read_as_they_stand() -> None:
    assert N06002.young_modulus_MPa(538.0).value == 177_900.0
    assert N06002.yield_MPa(649.0).value == 241.0
    assert N06002.tensile_MPa(760.0).value == 424.0
    assert N06002.elongation_pct(871.0).value == 117.9
    assert N06002.conductivity_W_per_mK(593.0).value == 20.8
    assert N06002.specific_heat_J_per_kgK(1093.0).value == 858.0
    assert N06002.density_kg_per_m3().value == 8220.0
    assert N06002.figure("solution_anneal_degC").value == 1177.0


def test_between_rows_straight() -> None:
    figure = N06002.young_modulus_MPa(371.5)
    assert figure.value == pytest.approx((191_700.0 + 184_100.0) / 2.0)
    assert figure.source.basis == "read"
    assert figure.note == "straight between the rows at 316 and 427 degC"
    assert figure.unit == "MPa"


@pytest.mark.parametrize("temp", [15.0, 20.0, 21.9])
def test_room_temperature_row_stands_for_room_temperature(temp: float) -> None:
    figure = N06002.young_modulus_MPa(temp)
    assert figure.value == 205_500.0
    assert figure.note == "the 22 degC row stands for room temperature"


@pytest.mark.parametrize("temp", [14.9, 982.1, -40.0, 1500.0])
def test_outside_is_refused_with_range_and_remedy(temp: float) -> None:
    with pytest.raises(RangeError, match=r"reaches from 15 to 982 degC; it was asked at .* Do: stay inside"):
        N06002.young_modulus_MPa(temp)


def test_extrapolation_is_straight_and_says_so() -> None:
    figure = N06002.young_modulus_MPa(1093.0, extrapolate=True)
    assert figure.value == pytest.approx(140_700.0 - 12_400.0)
    assert figure.source.basis == "derived"
    assert figure.source.where.startswith("extrapolated to 1093 degC, outside the table's 15 to 982 degC; from: ")
    assert figure.note.startswith("extrapolated to 1093 degC")
    below = N06002.young_modulus_MPa(-49.0, extrapolate=True)
    assert below.value == pytest.approx(205_500.0 + 2_800.0)


@pytest.mark.parametrize("bad", [math.nan, math.inf, "20", True])
def test_no_number_no_reading(bad: object) -> None:
    with pytest.raises(InputError):
        N06002.young_modulus_MPa(bad)  # type: ignore[arg-type]


def test_an_interpolated_value_stands_on_the_weaker_row() -> None:
    sheet = alloy("N06625")
    assert sheet.young_modulus_MPa(21.0).source.basis == "read"
    assert sheet.young_modulus_MPa(60.0).source.basis == "memory"
    assert sheet.young_modulus_MPa(871.0).source.basis == "read"


def test_a_single_figure_holds_where_the_card_says() -> None:
    washer = alloy("R30605")
    assert washer.young_modulus_MPa().value == 210_000.0
    with pytest.raises(RangeError, match="young_modulus_GPa is known from 15 to 30 degC; it was asked at 480 degC"):
        washer.young_modulus_MPa(480.0)
    held = washer.young_modulus_MPa(480.0, extrapolate=True)
    assert held.value == 210_000.0
    assert held.source.basis == "derived"
    assert held.note == "value for 15 to 30 degC held on to 480 degC"
    assert alloy("N06617").poisson(700.0).value == 0.31
    assert alloy("S30400").specific_heat_J_per_kgK(90.0).value == 500.0
    with pytest.raises(RangeError, match="from 15 to 100 degC"):
        alloy("S30400").specific_heat_J_per_kgK(101.0)


def test_the_room_temperature_figure_rules_over_the_table() -> None:
    """N06617: 295 MPa read, 350 MPa recalled in the table; hot values come from the table."""
    sheet = alloy("N06617")
    assert (sheet.yield_MPa().value, sheet.yield_MPa().source.basis) == (295.0, "read")
    assert (sheet.yield_MPa(540.0).value, sheet.yield_MPa(540.0).source.basis) == (230.0, "memory")


def test_missing_figures_list_what_is_there() -> None:
    with pytest.raises(
        CardError, match=r"Card DEMO-NOZZLE \(alloy\) has no figure young_modulus_GPa; there is: mean_exp"
    ):
        alloy("DEMO-NOZZLE").young_modulus_MPa()
    with pytest.raises(CardError, match="no table tensile_sheet; there is: young_modulus, mean_expansion"):
        alloy("N07750").yield_MPa(500.0)
    with pytest.raises(CardError, match="no table cold_work"):
        alloy("N06625").cold_work()
    with pytest.raises(CardError, match="carries no re-yield curve"):
        alloy("N06625").flow_curve_reyield()
    with pytest.raises(CardError, match="has no column hardness; there is: reduction_pct"):
        N06002.cold_work().read("hardness", 5.0)


def test_uniform_strain_known_and_estimated() -> None:
    assert N06002.uniform_strain_log().value == pytest.approx(math.log(1.44))
    assert N06002.uniform_strain_log().source.basis == "read"
    bare = card_from_text(
        b'schema = "hoopwright-card-1"\nkind = "alloy"\nid = "B"\nentered_by = "me"\nchecked_by = ""\n'
        b'[figure.elongation_pct]\nvalue = 40.0\nunit = "pct"\nbasis = "measured"\nwhere = "test 3"\n',
        "B",
    )
    from hoopwright.cards.alloy import Alloy

    estimate = Alloy(bare).uniform_strain_log()
    assert estimate.value == pytest.approx(math.log(1.38))
    assert estimate.source.basis == "practice"
    assert estimate.note == "estimated as 0.95 of the elongation after fracture, 40 %"


# ------------------------------------------------------------------------------------------------ growth


def test_growth_from_the_tables_own_reference_is_the_printed_mean() -> None:
    for temp, mean in ((93.0, 13.9), (538.0, 15.1), (649.0, 15.5), (982.0, 16.6)):
        assert N06002.mean_expansion_per_K(temp, 26.0).value == pytest.approx(mean * 1e-6, rel=1e-12)


def test_mean_from_20_degC_by_hand() -> None:
    """a at 20 degC on the line through (93, 13.9) and (538, 15.1): 13.9 - 73 x 1.2/445 = 13.70315."""
    at_20 = 1.0 + 13.703146067e-6 * (20.0 - 26.0)
    at_538 = 1.0 + 15.1e-6 * (538.0 - 26.0)
    expected = (at_538 / at_20 - 1.0) / 518.0
    assert N06002.mean_expansion_per_K(538.0).value == pytest.approx(expected, rel=1e-9)


@given(st.floats(20.0, 900.0), st.floats(20.0, 900.0), st.floats(20.0, 900.0))
def test_growth_chains(a: float, b: float, c: float) -> None:
    for card_id in ("N06002", "N06617"):
        sheet = alloy(card_id)
        ab, bc, ac = (sheet.thermal_growth_eng(y, x).value for x, y in ((a, b), (b, c), (a, c)))
        if max(a, b, c) <= 750.0 or card_id == "N06002":
            assert (1.0 + ab) * (1.0 + bc) == pytest.approx(1.0 + ac, rel=1e-13)


def test_the_firmest_table_that_reaches_is_taken() -> None:
    """N06617: local expansion read to 750 degC, mean from memory to 1000."""
    sheet = alloy("N06617")
    assert sheet.thermal_growth_eng(700.0).source.basis == "read"
    assert sheet.thermal_growth_eng(800.0).source.basis == "memory"
    assert alloy("N06230").thermal_growth_eng(700.0).note.startswith("mean from 25")
    assert alloy("N06230").thermal_growth_eng(800.0).note == "instantaneous coefficient integrated"


def test_the_two_tables_of_n06230_differ_as_the_card_says() -> None:
    """Mean (brochure) and local (code data) are independent sources; the card's note names how far they part."""
    sheet = alloy("N06230").card
    mean, local = sheet.tables["mean_expansion"], sheet.tables["instantaneous_expansion"]
    from hoopwright.cards.expansion import _of_table

    for temp, said in ((400.0, 0.036), (700.0, 0.007)):
        over = _of_table(local, temp, 25.0).strain_eng / _of_table(mean, temp, 25.0).strain_eng - 1.0
        assert over == pytest.approx(said, abs=0.0005)
    assert "3.6 % above the brochure's mean at 400 and 0.7 % at 700 degC" in local.note


def test_constant_local_expansion_integrates_to_the_exponential() -> None:
    table = CardTable(
        "C", "instantaneous_expansion", ("temperature_degC", "expansion_um_per_mK"), ("degC", "um_per_mK"),
        ((20.0, 15.0), (500.0, 15.0), (1000.0, 15.0)), (Source("given", "here"),) * 3,
    )  # fmt: skip
    from hoopwright.cards.expansion import _of_table

    assert _of_table(table, 900.0, 100.0).strain_eng == pytest.approx(math.expm1(15e-6 * 800.0), rel=1e-12)


def test_growth_outside_is_refused_and_can_be_asked_for() -> None:
    with pytest.raises(RangeError, match=r"mean_expansion from 15 to 982 degC\). Do: stay inside"):
        N06002.thermal_growth_eng(1000.0)
    found = N06002.thermal_growth_eng(1000.0, extrapolate=True)
    assert found.source.basis == "derived"
    assert found.note.startswith("extrapolated to 20 to 1000 degC")
    with pytest.raises(RangeError, match="needs an interval"):
        N06002.mean_expansion_per_K(20.0)


def test_one_mean_coefficient() -> None:
    nozzle = alloy("DEMO-NOZZLE")
    assert nozzle.thermal_growth_eng(650.0).value == pytest.approx(14e-6 * 630.0)
    assert nozzle.thermal_growth_eng(650.0).source.invented
    steel = tool_steel("T30402")
    with pytest.raises(RangeError, match="holds from 20 to 100 degC"):
        steel.thermal_growth_eng(200.0)
    assert steel.thermal_growth_eng(200.0, extrapolate=True).source.basis == "derived"
    with pytest.raises(CardError, match="has no expansion"):
        from hoopwright.cards.expansion import growth

        growth(gauge(), 30.0, 20.0)


def test_gauge_card() -> None:
    assert isinstance(gauge(), Card)
    assert gauge().figure("gauge_steel_um_per_mK").value == 11.5


@pytest.mark.parametrize("card_id", [listed.id for listed in list_cards() if listed.kind == "alloy"])
def test_growth_rises_with_temperature_on_every_card(card_id: str) -> None:
    sheet = alloy(card_id)
    temps = [20.0 + 20.0 * i for i in range(1, 35)]
    values = [sheet.thermal_growth_eng(temp, extrapolate=True).value for temp in temps]
    # A change of table (N06617 at 750, N06230 at 700 degC) may not turn growth back either.
    assert all(later > earlier for earlier, later in pairwise(values))
    assert all(BASES.index(sheet.thermal_growth_eng(t, extrapolate=True).source.basis) >= 0 for t in temps)
