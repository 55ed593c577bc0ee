"""Typed views: machines, spread, friction and limits as the rest of the program takes them."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import fields

import pytest

from hoopwright.cards.card import decimals
from hoopwright.cards.friction import Friction
from hoopwright.cards.library import find_card
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.quantities import quantities
from hoopwright.cards.shop import MACHINE_KINDS, expander, friction, house_limits, machines, roll_machine, spread
from hoopwright.cards.spread import Spread
from hoopwright.cards.views import view
from hoopwright.errors import CardError
from hoopwright.findings import Figure

VIEWS = [HouseLimits, Spread, Friction, *MACHINE_KINDS.values()]


def test_machines_of_the_demonstration() -> None:
    shop = machines()
    assert shop.roll.load_max_kN.value == 60.0
    assert shop.roll.frame_stiffness_kN_per_mm.value == 45.0
    assert shop.expander.pull_max_kN.value == 100.0
    assert shop.press.force_max_kN.value == 1250.0
    assert (shop.laser.power_min_W.value, shop.laser.power_max_W.value) == (200.0, 1500.0)
    assert shop.wire.kerf_mm.value == 0.35
    assert shop.furnace.temp_max_degC.value == 1200.0
    assert shop.roll.load_max_kN.source.invented
    assert not shop.roll.shaft_modulus_GPa.source.invented
    assert roll_machine("demo-roll") == shop.roll
    assert expander("demo-expander") == shop.expander


def test_spread_and_friction() -> None:
    assert spread().pin_stop_mm.value == 0.02
    assert spread().flow_stress_within_cast_pct.value == pytest.approx(spread().flow_stress_pct.value / 3.0)
    assert friction().mu_base.value == 0.12
    assert friction("dry-sheet").mu_pin.source == friction().mu_pin.source
    assert friction("dry-sheet").mu_segment_ring.value == 0.25
    assert friction("demo-friction").mu_pin.source.invented


def test_limits_of_house_and_demonstration() -> None:
    house, demo = house_limits(), house_limits("demo-house")
    assert house.strain_budget_share.value == 0.5
    assert (house.straight_strip_comfort_log.value, house.straight_strip_caution_log.value) == (0.04, 0.06)
    assert (house.stretch_min_eng.value, demo.stretch_min_eng.value) == (0.010, 0.015)
    assert not any(getattr(house, name).source.invented for name in quantities(HouseLimits))
    assert demo.weld_shrink_mm.source.invented
    assert demo.strain_budget_share.value == house.strain_budget_share.value


def test_limits_agree_with_each_other() -> None:
    house = house_limits()
    rising = [
        (house.straight_strip_comfort_log, house.straight_strip_caution_log),
        (house.critical_strain_low_log, house.critical_strain_high_log, house.critical_strain_clear_log),
        (house.bend_radius_inside_stop_t, house.bend_radius_inside_min_t),
        (house.roll_slip_max, house.roll_slip_coated_max),
        (house.corner_thinning_caution, house.corner_thinning_stop),
        (house.edge_wave_caution_yield, house.edge_wave_stop_yield),
        (house.stretch_round_eng, house.stretch_min_eng, house.stretch_plan_eng, house.stretch_seam_eng),
        (house.edge_strain_laser_as_cut_log, house.edge_strain_deburred_reamed_log, house.edge_strain_machined_log),
        (house.weld_strength_each_min, house.weld_strength_mean_min),
        (house.seam_any_min_deg, house.seam_neighbour_min_deg),
        (house.press_thinning_plan, house.press_thinning_stop),
    ]
    for chain in rising:
        values = [figure.value for figure in chain]
        assert values == sorted(values)
        assert len(set(values)) == len(values)


@pytest.mark.parametrize("kept", VIEWS)
def test_every_name_ends_in_its_unit(kept: type) -> None:
    for name, quantity in quantities(kept).items():
        assert quantity.meaning
        assert quantity.unit == "1" or name.endswith(quantity.unit) or name.endswith("_yield")
    assert [f.name for f in fields(kept) if f.name != "card_id"] == list(quantities(kept))


def test_a_figure_carries_name_unit_and_note() -> None:
    figure = house_limits().corner_thinning_stop
    assert isinstance(figure, Figure)
    assert (figure.identity, figure.unit, str(figure)) == ("house/corner_thinning_stop", "", "0.12")
    assert house_limits().weld_shrink_mm.note.startswith("usual range 0.05 to 0.2 mm; first estimate")
    assert figure.name == "corner thinning that a plan refuses"


def test_a_view_of_the_wrong_card_says_what_is_missing() -> None:
    with pytest.raises(CardError, match=r"lacks 13 figures. Do: enter \[figure.sheet_thickness_mm\] in mm"):
        view(Spread, find_card("press", "demo-press"))


@pytest.mark.parametrize(
    ("value", "digits"), [(0.04, 2), (60.0, 0), (1e-5, 5), (-0.02, 2), (0.1 + 0.2, 1), (1219.0, 0)]
)
def test_decimals(value: float, digits: int) -> None:
    assert decimals(value) == digits


def printed(code: str) -> str:
    """What a fresh interpreter prints."""
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()


def test_view_classes_load_without_anything_heavy() -> None:
    code = (
        "import sys, hoopwright.cards.limits, hoopwright.cards.machines, hoopwright.cards.spread, "
        "hoopwright.cards.friction; print([m for m in ('numpy', 'numba', 'scipy', 'pydantic') if m in sys.modules])"
    )
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    )


def test_reading_a_card_needs_no_numerics() -> None:
    code = (
        "import sys; from hoopwright.cards.shop import house_limits, machines; "
        "from hoopwright.cards.alloy import alloy; house_limits(); machines(); alloy('N06002').yield_MPa(); "
        "print([m for m in ('numpy', 'numba', 'scipy') if m in sys.modules])"
    )
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    )
