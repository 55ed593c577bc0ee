"""Finding cards: the shop's own rule, whole or single figures; what is missing is listed."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.library import find_card, list_cards
from hoopwright.cards.shop import house_limits
from hoopwright.errors import CardError, FileFaults

SLIP = """
schema = "hoopwright-card-1"
kind = "limits"
id = "house"
based_on = "house"
entered_by = "M. D., 2031-02-03"
checked_by = ""

[figure.roll_slip_max]
value = 0.04
unit = "1"
basis = "measured"
where = "scoring trials, report 12, 2030"
"""

CAST = """
schema = "hoopwright-card-1"
kind = "alloy"
id = "N06002"
based_on = "N06002"
entered_by = "M. D., 2031-02-03"
checked_by = "Q. E., 2031-02-04"

[figure.yield_strength_MPa]
value = 355.0
unit = "MPa"
u = 3.0
at = { temperature_degC = 20.0 }
basis = "measured"
where = "cast X0417, 6 tests"
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    (tmp_path / "limits").mkdir()
    (tmp_path / "limits" / "slip.toml").write_text(SLIP, encoding="utf-8")
    (tmp_path / "cast.toml").write_text(CAST, encoding="utf-8")
    (tmp_path / "liner.toml").write_text('schema = "another-format-1"\n', encoding="utf-8")
    return tmp_path


def test_a_single_figure_of_the_shop_rules(shop: Path) -> None:
    ours, theirs = house_limits(), house_limits(shop_folder=shop)
    assert (ours.roll_slip_max.value, theirs.roll_slip_max.value) == (0.05, 0.04)
    assert theirs.roll_slip_max.source.basis == "measured"
    assert theirs.strain_budget_share == ours.strain_budget_share  # same identity: the same card name


def test_digest_tells_the_two_apart(shop: Path) -> None:
    assert find_card("limits", "house").digest != find_card("limits", "house", shop).digest
    assert find_card("limits", "house").digest == find_card("limits", "house").digest


def test_an_own_yield_changes_the_curve_and_leaves_the_rest(shop: Path) -> None:
    sheet = alloy("N06002", shop)
    assert sheet.yield_MPa().value == 355.0
    assert sheet.yield_MPa(649.0).value == 241.0
    assert sheet.tensile_MPa().value == 783.0
    assert sheet.flow_curve_first().curve.stress(0.002) == pytest.approx(355.0, rel=0.003)
    assert sheet.flow_curve_reyield().constants == alloy("N06002").flow_curve_reyield().constants
    assert sheet.card.checked_by == "Q. E., 2031-02-04"


def test_an_inherited_first_curve_is_dropped_with_its_figures(shop: Path) -> None:
    (shop / "base.toml").write_text(
        CAST.replace('id = "N06002"', 'id = "CAST"', 1)
        + '[flow.first]\nlaw = "voce"\nconstants = { s0_MPa = 348.0, Q_MPa = 1151.0, b = 3.06 }\n'
        'strain_max_log = 0.36\nbasis = "derived"\nwhere = "own fit"\n',
        encoding="utf-8",
    )
    assert alloy("CAST", shop).flow_curve_first().law == "voce"
    (shop / "softer.toml").write_text(
        CAST.replace('id = "N06002"', 'id = "SOFT"', 1)
        .replace('based_on = "N06002"', 'based_on = "CAST"')
        .replace("355.0", "300.0"),
        encoding="utf-8",
    )
    soft = alloy("SOFT", shop).flow_curve_first()
    assert soft.law == "swift"
    assert soft.curve.stress(0.002) == pytest.approx(300.0, rel=0.003)


def test_a_whole_card_of_the_shop_stands_alone(shop: Path) -> None:
    (shop / "cast.toml").write_text(CAST.replace('based_on = "N06002"\n', ""), encoding="utf-8")
    with pytest.raises(CardError, match="no figure density_kg_per_m3; there is: yield_strength_MPa"):
        alloy("N06002", shop).density_kg_per_m3()


def test_the_list_shows_the_shops_own(shop: Path) -> None:
    own = [(card.kind, card.id) for card in list_cards(shop) if card.own]
    assert own == [("alloy", "N06002"), ("limits", "house")]
    assert len(list_cards(shop)) == len(list_cards())


def test_missing_cards_list_what_is_there() -> None:
    with pytest.raises(CardError, match=r"no alloy card called N06003; there is: DEMO-NOZZLE, N06002, N06230"):
        find_card("alloy", "N06003")
    with pytest.raises(CardError, match=r"no kind of card called alloys; there is: alloy, tool_steel"):
        find_card("alloys", "N06002")


def test_a_base_that_is_not_there_names_the_file(shop: Path) -> None:
    (shop / "cast.toml").write_text(CAST.replace('based_on = "N06002"', 'based_on = "N99999"'), encoding="utf-8")
    with pytest.raises(CardError, match=r"no alloy card called N99999 \(asked for by .*cast.toml\)"):
        find_card("alloy", "N06002", shop)


def test_cards_based_on_each_other_are_refused(shop: Path) -> None:
    a = CAST.replace('id = "N06002"', 'id = "A"', 1).replace('based_on = "N06002"', 'based_on = "B"')
    (shop / "a.toml").write_text(a, encoding="utf-8")
    (shop / "b.toml").write_text(a.replace('id = "A"', 'id = "B"').replace('based_on = "B"', 'based_on = "A"'), "utf-8")
    with pytest.raises(CardError, match="asked for by"):
        find_card("alloy", "A", shop)


def test_one_card_in_two_files_is_refused(shop: Path) -> None:
    (shop / "again.toml").write_text(SLIP, encoding="utf-8")
    for ask in (lambda: list_cards(shop), lambda: find_card("limits", "house", shop)):
        with pytest.raises(FileFaults, match="in one file only"):
            ask()


def test_a_broken_file_in_the_folder_is_reported_whatever_is_asked_for(shop: Path) -> None:
    (shop / "broken.toml").write_text("schema = \n", encoding="utf-8")
    with pytest.raises(FileFaults, match=r"broken.toml: 1 fault"):
        find_card("limits", "house", shop)


def test_a_card_of_an_unknown_kind_is_reported(shop: Path) -> None:
    (shop / "odd.toml").write_text(SLIP.replace('"limits"', '"limit"'), encoding="utf-8")
    with pytest.raises(FileFaults, match="kind is"):
        list_cards(shop)


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(CardError, match="no card folder"):
        list_cards(tmp_path / "nowhere")


def test_an_edited_file_is_read_again(shop: Path) -> None:
    path = shop / "limits" / "slip.toml"
    assert house_limits(shop_folder=shop).roll_slip_max.value == 0.04
    path.write_text(SLIP.replace("0.04", "0.035"), encoding="utf-8")
    assert house_limits(shop_folder=shop).roll_slip_max.value == 0.035
