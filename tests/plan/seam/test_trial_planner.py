"""The planner on invented machines with hidden windows, beside one factor at a time with the same number of trials.

Figures to reach, within two standard errors, at 20 trials: inside 0.96 and margin above 2 in 0.80 of the windows whose
best margin is above 1, median margin given away 1.4 (main); inside 0.98 (wide), 0.91 (alien); inside 0.993 or more when
it speaks; never a word on hopeless machines. The long form takes every seed.
"""

from __future__ import annotations

import numpy as np
import pytest
from planned_runs import error, planned, score
from simulated_welder import SEEDS, Machine


def test_short_form_main() -> None:
    found = score("main", 20, SEEDS["main"][:10])
    assert found.inside >= 0.96 - error(0.96, found.windows)
    assert found.above_two >= 0.80 - error(0.80, found.windows)
    assert found.given_away <= 1.4
    assert found.above_two > found.rule_above_two
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
@pytest.mark.parametrize(
    ("count", "inside", "two", "away"), [(12, 0.92, 0.67, 1.8), (20, 0.96, 0.80, 1.4), (30, 0.97, 0.79, 1.3)]
)
def test_long_form_main(count: int, inside: float, two: float, away: float) -> None:
    found = score("main", count)
    print(count, found)
    assert found.inside >= inside - error(inside, found.windows)
    assert found.above_two >= two - error(two, found.windows)
    assert found.given_away <= away
    assert found.inside > found.rule_inside + error(found.rule_inside, found.windows)
    assert found.above_two > found.rule_above_two + error(found.rule_above_two, found.windows)
    assert found.spoken_inside >= 0.993 - error(0.993, found.spoken)
    assert found.promised == pytest.approx(found.true, abs=0.03)


@pytest.mark.soak
@pytest.mark.parametrize(("kind", "inside"), [("wide", 0.98), ("alien", 0.91)])
def test_long_form_outside_the_family(kind: str, inside: float) -> None:
    found = score(kind, 20)  # type: ignore[arg-type]
    print(kind, found)
    assert found.inside >= inside - error(inside, found.windows)
    assert found.above_two > found.rule_above_two
    assert found.spoken_inside == 1.0
    assert found.promised == pytest.approx(found.true, abs=0.06)


@pytest.mark.soak
def test_long_form_hopeless() -> None:
    found = score("hopeless", 20)
    assert found.speaks == 0.0
