"""The planner on invented machines with hidden windows, beside one factor at a time and random trials, as many each.

Figures to reach, within two standard errors, on windows whose best margin is above 1. At 12, 20 and 30 trials on the
main set: inside 0.92, 0.96, 0.97; margin above 2 in 0.67, 0.80, 0.79; median margin given away 1.8, 1.4, 1.3; inside
when it speaks 1.00, 0.993, 1.00, margin above 2 then 0.88, 0.93, 0.92, with three confirmation welds 0.96. At 20 trials
inside 0.98 (wide) and 0.91 (alien), margin above 2 when it speaks 0.78 and 0.88; never a word on hopeless machines.

These machines are a little kinder than those the figures come from: their windows take 10 % of the box in the median,
not 7. `NARROW` leaves the widest out until the median is 7 %; both rules then do as they did there, and the figures are
asked for once more. The long form takes every seed.
"""

from __future__ import annotations

import numpy as np
import pytest
from planned_runs import error, planned, score
from simulated_welder import SEEDS, Kind, Machine

NARROW = 0.133
"""Largest share of the box among the main machines that have a median of 7 %."""
STUDY = {12: (0.92, 0.67, 1.8), 20: (0.96, 0.80, 1.4), 30: (0.97, 0.79, 1.3)}
SPOKEN = {12: (1.00, 0.88), 20: (0.993, 0.93), 30: (1.00, 0.92)}


def test_short_form_main() -> None:
    found = score("main", 20, SEEDS["main"][:10])
    assert found.inside >= 0.96 - error(0.96, found.windows)
    assert found.above_two >= 0.80 - error(0.80, found.windows)
    assert found.given_away <= 1.4
    assert found.above_two > max(found.rule_above_two, found.random_above_two)
    assert found.spoken >= 5 and found.spoken_inside == 1.0
    assert found.promised == pytest.approx(found.true, abs=0.08)


def test_short_form_hopeless_says_nothing() -> None:
    for seed in SEEDS["hopeless"][:4]:
        verdict, read = planned(Machine(seed, "hopeless"), 20)
        assert not verdict.speaks(read)
        assert verdict.blocking


def test_short_form_outside_the_planners_family() -> None:
    found = score("alien", 20, SEEDS["alien"][:5])
    assert found.inside >= 0.91 - error(0.91, found.windows)
    assert found.spoken_inside == 1.0


def test_same_seed_same_trials() -> None:
    first, again = (planned(Machine(1003), 12)[0] for _ in range(2))
    assert np.array_equal(first.settings, again.settings) and first.inside == again.inside


def test_machines_are_what_they_say() -> None:
    """Shares of the box inside and best margins, over the first seeds of each set."""
    main = [Machine(s) for s in SEEDS["main"][:8]]
    assert 0.01 < float(np.median([m.share_inside() for m in main])) < 0.2
    assert all(m.best()[1] > 0.0 for m in main[:4])
    assert all(Machine(s, "hopeless").share_inside() < 0.01 for s in SEEDS["hopeless"][:6])


@pytest.mark.soak
@pytest.mark.parametrize("widest", [1.0, NARROW], ids=["all", "narrow"])
@pytest.mark.parametrize("count", [12, 20, 30])
def test_long_form_main(count: int, widest: float) -> None:
    found = score("main", count, None, widest)
    print(count, widest, found)
    inside, two, away = STUDY[count]
    assert found.inside >= inside - error(inside, found.windows)
    assert found.above_two >= two - error(two, found.windows)
    assert found.given_away <= away
    for rule_inside, rule_two in (
        (found.rule_inside, found.rule_above_two),
        (found.random_inside, found.random_above_two),
    ):
        assert found.inside > rule_inside + error(rule_inside, found.windows)
        assert found.above_two > rule_two + error(rule_two, found.windows)
    spoken_inside, spoken_two = SPOKEN[count]
    assert found.spoken_inside >= spoken_inside - error(spoken_inside, found.spoken)
    assert found.spoken_above_two >= spoken_two - error(spoken_two, found.spoken)
    if count == 20:
        assert found.confirmed_above_two >= 0.96 - error(0.96, found.spoken)
    assert found.promised == pytest.approx(found.true, abs=0.03)


@pytest.mark.soak
def test_rules_do_on_narrow_windows_as_they_did_in_the_study() -> None:
    """One factor at a time 0.64 inside and 0.29 above 2 at 20 trials, random trials 0.61 and 0.23, there on 198
    windows: two standard errors of both counts together."""
    found = score("main", 20, None, NARROW)
    for here, there in (
        (found.rule_inside, 0.64),
        (found.rule_above_two, 0.29),
        (found.random_inside, 0.61),
        (found.random_above_two, 0.23),
    ):
        both = float(np.hypot(error(there, found.windows), error(there, 198)))
        assert here == pytest.approx(there, abs=both)


@pytest.mark.soak
@pytest.mark.parametrize(("kind", "inside", "spoken_two"), [("wide", 0.98, 0.78), ("alien", 0.91, 0.88)])
def test_long_form_outside_the_family(kind: Kind, inside: float, spoken_two: float) -> None:
    found = score(kind, 20)
    print(kind, found)
    assert found.inside >= inside - error(inside, found.windows)
    assert found.above_two > found.rule_above_two + error(found.rule_above_two, found.windows)
    assert found.spoken_inside == 1.0
    assert found.spoken_above_two >= spoken_two - error(spoken_two, found.spoken)
    assert found.promised == pytest.approx(found.true, abs=0.06)


@pytest.mark.soak
@pytest.mark.parametrize("count", [12, 20, 30])
def test_long_form_hopeless(count: int) -> None:
    found = score("hopeless", count)
    assert found.speaks == 0.0
