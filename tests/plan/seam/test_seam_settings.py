"""Settings of the seam, fit-up, the numbers handed to the ring's plan, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.shop import house_limits, machines
from hoopwright.errors import CardError, InputError
from hoopwright.kernels.heat_absorbed import Absorption, Shot, isotherm_width, peak_temperature, section_of
from hoopwright.kernels.heat_fit import fit_absorption
from hoopwright.kernels.heat_limits import thin_plate_cooling_time
from hoopwright.kernels.melt_trial import TrialPrior
from hoopwright.kernels.seam_shrinkage import learned_factor
from hoopwright.plan.seam.fit_up import FitUp, fixture_words, judge_fit_up, level_limits, mismatch_of_ends
from hoopwright.plan.seam.heat_card import heat_card
from hoopwright.plan.seam.machine import WeldSetting
from hoopwright.plan.seam.settings import SeamPlan, checked_by_scheme, plan_setting
from hoopwright.plan.seam.settings_fit import planner_prior

LASER, HOUSE = machines().laser, house_limits("demo-house")
CARD = heat_card(alloy("N06002"))


def planned(power: float = 600.0, speed: float = 40.0, **more: object) -> SeamPlan:
    return plan_setting("X-1", WeldSetting(power, speed, 0.3), 0.8, CARD, LASER, HOUSE, **more)  # type: ignore[arg-type]


def test_figures_have_workings_and_weak_grounds_show() -> None:
    plan = planned(radius_mm=124.0)
    assert plan.figure("/root-width").value < plan.figure("/face-width").value
    assert plan.figure("/face-width").source.basis == "practice"
    assert "beam radius at 1/e2" in plan.figure("/normalised-enthalpy").note
    assert plan.figure("/shrinkage").band is not None
    for figure in plan.figures:
        assert math.isfinite(figure.value) and figure.identity.startswith("X-1/weld/")
    assert any(f.topic == "weld-absorption" for f in plan.findings)


def test_peak_temperature_falls_with_distance_and_is_none_in_the_bead() -> None:
    plan = planned()
    near, far = (peak_temperature(plan.shot, plan.source, CARD.metal, y) for y in (0.6, 1.5))
    assert CARD.metal.solidus > near > far > 200.0
    # half the width at 900 degC is where 900 degC is the peak
    half = 0.5 * isotherm_width(plan.shot, plan.source, CARD.metal.secant(900.0), "face")
    assert peak_temperature(plan.shot, plan.source, CARD.metal, half) == pytest.approx(900.0, abs=0.5)
    with pytest.raises(InputError, match="bead's edge"):
        peak_temperature(plan.shot, plan.source, CARD.metal, 0.2)


def test_a_weld_that_does_not_go_through_is_stopped() -> None:
    plan = planned(250.0, 60.0)
    assert plan.findings[0].level == "stop" and plan.findings[0].topic == "weld-penetration"
    assert plan.figure("/root-width").value == 0.0


def test_sections_replace_the_prior_and_what_is_not_learnt_is_said() -> None:
    shots = [Shot(p, v, 0.15, 0.8) for p, v in ((450, 30), (500, 40), (600, 50), (400, 25), (550, 40), (700, 60))]
    fit = fit_absorption([(s, section_of(s, Absorption(keyhole=0.8), CARD.metal)) for s in shots], CARD.metal)
    plan = planned(fit=fit)
    said = next(f for f in plan.findings if f.topic == "weld-not-learnt")
    assert "conduction absorptivity" in said.sentence and "column factor" in said.sentence
    assert fit.absorption.keyhole == pytest.approx(0.8, rel=0.03)
    assert plan.figure("/absorbed").inputs[0].source.basis == "measured"
    keyhole, conduction = plan.figure("/fit/keyhole-absorptivity"), plan.figure("/fit/conduction-absorptivity")
    assert keyhole.name.endswith(", learnt") and conduction.name.endswith("not learnt")
    assert keyhole.band is not None and conduction.band is not None
    assert keyhole.band.high / keyhole.band.low < 1.2 < conduction.band.high / conduction.band.low
    assert not any(f.topic == "weld-misfit" for f in plan.findings)
    # what is not learnt keeps the planner's own prior
    prior, usual = planner_prior(fit), TrialPrior()
    assert prior.mean[1] == fit.parameters[1].value and prior.mean[0] == usual.mean[0] and prior.sd[5] == usual.sd[5]


def test_sections_that_fit_no_absorption_are_said() -> None:
    shots = [Shot(p, v, 0.15, 0.8) for p, v in ((450, 30), (500, 40), (600, 50), (400, 25), (550, 40), (700, 60))]
    made = [(s, section_of(s, Absorption(), CARD.metal)) for s in shots]
    wrong = [(s, replace(read, face=read.face * (1.5 if k % 2 else 0.7))) for k, (s, read) in enumerate(made)]
    assert any(f.topic == "weld-misfit" for f in planned(fit=fit_absorption(wrong, CARD.metal)).findings)


def test_cooling_rate_is_the_time_turned_round() -> None:
    plan = planned()
    rate = plan.figure("/cooling-rate")
    given = {i.symbol: float(i.value) for i in rate.inputs}
    q = plan.figure("/heat-input").value
    ends = (given["ΔT"] + 0.5, given["ΔT"] - 0.5)
    time = thin_plate_cooling_time(q, 0.8, given["k"], given["ρc"], *ends)
    assert rate.value == pytest.approx(1.0 / time, rel=1e-5)


def test_scheme_agrees_and_closes_its_power() -> None:
    found = checked_by_scheme(planned(), CARD)
    assert found.closure == pytest.approx(1.0, abs=5e-3)
    # N06002 at 0.1 mm: 1.2 % on the face, 6 % at the root, of which the coarse step makes 2.5
    assert found.face_mm[0] == pytest.approx(found.face_mm[1], rel=0.015)
    assert found.root_mm[0] == pytest.approx(found.root_mm[1], rel=0.06)


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        (WeldSetting(5000.0, 40.0, 0.3), "from 200 to 1500, what machine demo-laser"),
        (WeldSetting(600.0, 400.0, 0.3), "welding speed is 400"),
        (WeldSetting(600.0, 40.0, 3.0), "spot diameter is 3"),
        (WeldSetting(math.nan, 40.0, 0.3), "finite"),
        (WeldSetting(600.0, -40.0, 0.3), "welding speed is -40"),
    ],
)
def test_nonsense_is_refused_with_the_machines_limits(setting: WeldSetting, says: str) -> None:
    with pytest.raises(InputError, match=says):
        plan_setting("X-1", setting, 0.8, CARD, LASER, HOUSE)


def test_card_without_heat_is_refused() -> None:
    with pytest.raises(CardError, match="no table conductivity"):
        heat_card(alloy("R30605"))


def test_learned_shrinkage_narrows() -> None:
    first = planned()
    free = first.numbers.shrinkage_mm / 0.95
    learned = learned_factor([0.06, 0.055, 0.058], [free] * 3)
    again = planned(learned=learned)
    assert again.numbers.shrinkage_sd_mm < first.numbers.shrinkage_sd_mm
    assert again.numbers.shrinkage_mm > first.numbers.shrinkage_mm
    assert again.figure("/shrinkage").inputs[0].source.basis == "measured"


def test_mismatch_along_the_contour() -> None:
    s = np.linspace(0.0, 40.0, 41)
    first = np.column_stack([s, 120.0 + 2.0 * np.sin(s / 8.0)])
    moved = first + np.array([0.0, 0.3])
    assert mismatch_of_ends(first, moved).worst[1] == pytest.approx(0.0, abs=1e-9)
    assert mismatch_of_ends(first, moved, clamped=False).worst[1] == pytest.approx(0.3, abs=0.02)
    bent = first + np.column_stack([np.zeros(41), 0.1 * (s > 30.0)])
    place, size = mismatch_of_ends(first, bent).worst
    assert place > 25.0 and 0.03 < abs(size) < 0.1
    with pytest.raises(InputError, match="equal shape"):
        mismatch_of_ends(first, bent[:-1])


def test_fit_up_against_house_and_level() -> None:
    fit = FitUp("402-04", (0.03, 0.07, 0.12), (0.02, 0.01, 0.03), 0.8, 0.3)
    house = judge_fit_up(fit, HOUSE)
    assert house.findings[0].level == "stop" and "0.12 mm out; 0.08 mm" in house.findings[0].sentence
    assert judge_fit_up(fit, HOUSE, "C").findings == ()
    open_ = judge_fit_up(FitUp("X", (0.0,), (0.2,), 0.8, 0.3), HOUSE)
    assert {f.topic for f in open_.findings} == {"fit-up-gap", "fit-up-spot"}
    with pytest.raises(InputError, match="gap"):
        judge_fit_up(FitUp("X", (0.0,), (-0.2,), 0.8, 0.3), HOUSE)
    with pytest.raises(InputError, match="quality level"):
        level_limits("A", 1.0)  # type: ignore[arg-type]
    assert all(words.endswith(".") for words in fixture_words(0.8))


def test_face_outside_dents_the_hoop_and_face_inside_lifts_it() -> None:
    """The face is wider and shrinks more, so the sheet turns towards it: against the hoop's bend from outside."""
    outside, inside = planned(radius_mm=124.0), planned(radius_mm=124.0, face_outside=False)
    assert outside.figure("/face-width").value > outside.figure("/root-width").value
    assert outside.numbers.angle_rad < 0.0 < inside.numbers.angle_rad
    assert outside.figure("/peak-at-seam").value == pytest.approx(-inside.figure("/peak-at-seam").value)
