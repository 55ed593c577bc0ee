"""A shop's session with the planner: start, silence, naming, repeats, drift, confirmation; and what is refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from simulated_welder import Machine

from hoopwright.cards.alloy import alloy
from hoopwright.cards.shop import house_limits, machines
from hoopwright.errors import FileFaults, InputError
from hoopwright.plan.seam.heat_card import heat_card
from hoopwright.plan.seam.machine import scatter_from_repeats
from hoopwright.plan.seam.trial_entry import STARTS, WeldTrial
from hoopwright.plan.seam.trial_file import read_sections, read_trials
from hoopwright.plan.seam.trials import TrialJob, TrialPlan, pass_map, plan_trials

JOB = TrialJob("X-1", 0.8, heat_card(alloy("N06625")), machines().laser, house_limits())


def welded(machine: Machine, settings: tuple[float, ...]) -> WeldTrial:
    root, face, under, pores, burn = machine.weld(np.array(settings))[0]
    p, v, z, g = settings
    if burn < 0.0:
        return WeldTrial(p, v, z, g, burnt=True)
    return WeldTrial(p, v, z, g, float(root), float(face), float(under), float(10.0**pores))


def machine(seed: int = 1003, kind: str = "main") -> Machine:
    made = Machine(seed, kind)  # type: ignore[arg-type]
    made.t = 0.8
    made.limits = np.array([0.4, 0.9 + 0.72, 0.04, 0.0])
    return made


@pytest.fixture(scope="module")
def session() -> list[TrialPlan]:
    """Plans after each round until a setting is named, then three confirmation welds."""
    welder, trials, plans = machine(), [], []
    for _ in range(20):
        plans.append(plan_trials(JOB, trials))
        if plans[-1].state == "name" and not plans[-1].next:
            break
        trials += [welded(welder, settings) for settings in plans[-1].next]
    return plans


def test_it_starts_with_eight_inside_the_machine(session: list[TrialPlan]) -> None:
    first = session[0]
    assert first.state == "start" and len(first.next) == STARTS and first.verdict is None
    for power, speed, _, gap in first.next:
        assert 200.0 <= power <= 1500.0 and 8.3 <= speed <= 100.0 and gap >= 0.0


def test_it_ends_with_a_confirmed_setting(session: list[TrialPlan]) -> None:
    last = session[-1]
    assert last.state == "name" and last.confirmed >= 3 and last.sentence.endswith("Confirmed.")
    assert last.verdict is not None and last.verdict.inside >= 0.95 and last.verdict.margin_two >= 0.5
    named = next(plan for plan in session if plan.state == "name")
    assert "confirmation welds" in named.sentence
    # one setting is named from then on, and the first trial has been repeated before it is confirmed
    of_name = [plan for plan in session if plan.state == "name"]
    assert len({tuple(np.round(plan.verdict.settings, 3)) for plan in of_name[1:] if plan.verdict is not None}) <= 1
    first = next(trial for trial in last.trials if not trial.burnt)
    assert sum(trial.settings == first.settings for trial in last.trials) >= 2
    assert not any(finding.topic == "trials-scatter" for finding in last.findings)
    for variable in last.variables:
        assert variable.low <= variable.value <= variable.high
    assert len(last.variables) == 4


def test_a_setting_at_the_edge_is_said_to_be_one(session: list[TrialPlan]) -> None:
    last = session[-1]
    assert last.verdict is not None and last.window is not None
    unit = last.window.unit_of(last.verdict.settings)[:3]
    said = [f for f in last.findings if f.topic == "trials-edge"]
    assert bool(said) == bool((unit < 0.01).any() or (unit > 0.99).any())


def test_scatter_that_is_not_measured_is_said(session: list[TrialPlan]) -> None:
    assert any(f.topic == "trials-scatter" for f in session[1].findings)


def test_map_is_a_probability(session: list[TrialPlan]) -> None:
    found = pass_map(session[-1], 9)
    assert found.probability.shape == (9, 9)
    assert found.probability.min() >= 0.0 and 0.2 < found.probability.max() <= 1.0
    with pytest.raises(InputError, match="starting trials"):
        pass_map(session[0])


def test_hopeless_machine_hears_that_nothing_is_known() -> None:
    welder = machine(5001, "hopeless")
    trials = [welded(welder, s) for s in plan_trials(JOB).next]
    trials += [welded(welder, plan_trials(JOB, trials).next[-1]) for _ in range(2)]
    plan = plan_trials(JOB, trials)
    assert plan.state == "go on" and plan.sentence.startswith("I do not know.")
    assert plan.blocking in plan.sentence and plan.next and plan.variables == ()
    assert plan.findings[0].remedy.startswith("weld ")


def sound(machine_: Machine, count: int) -> list[WeldTrial]:
    """Starting trials, burnt ones repeated from a setting that is not, so that all have readings."""
    made = [welded(machine_, s) for s in plan_trials(JOB).next]
    good = next(t for t in made if not t.burnt)
    return ([good] + [t if not t.burnt else good for t in made[1:]] + [good] * count)[:count]


def test_drift_stops_the_trials() -> None:
    trials = sound(machine(), 10)
    first = trials[0]
    moved = replace(first, root_mm=(first.root_mm or 0.0) - 0.5)
    plan = plan_trials(JOB, [*trials, moved])
    assert plan.state == "stopped" and plan.findings[0].topic == "trials-drift" and plan.next == ()


def test_first_trial_is_repeated_in_the_middle() -> None:
    welder = machine(5001, "hopeless")
    trials = [welded(welder, s) for s in plan_trials(JOB).next]
    for _ in range(6):
        trials.append(welded(welder, plan_trials(JOB, trials).next[-1]))
    plan = plan_trials(JOB, trials)
    assert plan.repeat and plan.next[0] == trials[0].settings


def test_refusals() -> None:
    trials = sound(machine(), 8)
    with pytest.raises(InputError, match=r"trial 1, laser power.*machine demo-laser"):
        plan_trials(JOB, [replace(trials[0], power_W=9000.0), *trials[1:]])
    with pytest.raises(InputError, match="root width"):
        plan_trials(JOB, [replace(trials[0], root_mm=None), *trials[1:]])
    with pytest.raises(InputError, match="finite"):
        plan_trials(JOB, [replace(trials[0], face_mm=float("nan")), *trials[1:]])
    with pytest.raises(InputError, match="5 or more"):
        scatter_from_repeats([0.5] * 4, "root")
    assert scatter_from_repeats([0.4, 0.5, 0.6, 0.5, 0.5], "root") == pytest.approx(0.0707, abs=1e-4)


def test_files(tmp_path: Path) -> None:
    path = tmp_path / "trials.csv"
    head = "power_W,speed_mm_per_s,focus_mm,gap_mm,root_mm,face_mm,underfill_mm,pores_pct,burnt\n"
    path.write_text(head + "600,40,0,0.01,0.5,0.9,0.01,0.2,0\n900,20,0,0.05,,,,,1\n", encoding="utf-8")
    first, second = read_trials(path)
    assert first.root_mm == 0.5 and second.burnt and second.face_mm is None
    path.write_text(head + "600,forty,0,0.01,0.5,0.9,0.01,,0\n", encoding="utf-8")
    with pytest.raises(FileFaults) as caught:
        read_trials(path)
    assert [fault.key for fault in caught.value.faults] == ["speed_mm_per_s", "pores_pct"]
    assert caught.value.faults[0].line == 2
    path.write_text("power,speed\n1,2\n", encoding="utf-8")
    with pytest.raises(FileFaults, match="without power_W"):
        read_trials(path)
    path.write_text("power_W,speed_mm_per_s,spot_dia_mm,face_mm,root_mm\n600,40,0.3,0.9,-0.1\n", encoding="utf-8")
    ((shot, section),) = read_sections(path, 0.8)
    assert shot.radius == 0.15 and section.root == -0.1
    with pytest.raises(InputError, match="readable"):
        read_trials(tmp_path / "none.csv")
