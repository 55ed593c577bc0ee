"""Joints that rest: force by the shell, opened where pulled, kept and stopped where nothing else holds."""

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.design.shapes import Joint, Liner
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.shell_links import AXIAL, Hold, Link
from hoopwright.kernels.shell_stack import shell_stack
from hoopwright.kernels.shell_stack_mesh import strand
from hoopwright.plan.hot.hot_plan import plan_hot
from hoopwright.plan.hot.job import hot_job
from hoopwright.plan.hot.model import hot_model
from hoopwright.plan.hot.resting import Rest, press_of, resting_said, settled

LINER = demo_liner()
R, T, E, NU, STRAIN = 100.0, 0.8, 160e3, 0.3, 1e-3


def test_force_of_a_tie_between_two_walls() -> None:
    """Two tubes end to end between walls, free to grow outward: E e t r a radian, whatever their lengths."""
    one = strand(Profile((line((0.0, R), (40.0, R)),)), T)
    two = strand(Profile((line((40.0, R), (100.0, R)),)), T)
    link = Link((0, one.nodes - 1), (1, 0), (AXIAL,))
    shell = shell_stack((one, two), (E, E), NU, (link,), (Hold((0, 0), AXIAL), Hold((1, two.nodes - 1), AXIAL)))
    e = np.full(shell.nodes, STRAIN)
    forces = shell.node_forces(shell.displaced(e), e)
    wanted = E * STRAIN * T * R
    assert forces[int(shell.offsets[1]), 1] == pytest.approx(wanted, rel=1e-6)
    assert forces[one.nodes - 1, 1] == pytest.approx(-wanted, rel=1e-6)
    assert forces[0, 1] == pytest.approx(wanted, rel=1e-6)
    assert np.abs(forces[2 : one.nodes - 2]).max() < 1e-6 * wanted


def with_rest(plate_degC: float, hold: str = "resting") -> Liner:
    """The first ring rests on the plate's flange as well, 3 mm from its weld: a loop."""
    assert LINER.end_plate is not None
    extra = Joint("R1", "HD-401", "HD-420", 11.0, 0.05, hold)  # type: ignore[arg-type]
    plate = replace(LINER.end_plate, metal_degC=plate_degC)
    return replace(LINER, joints=(*LINER.joints, extra), end_plate=plate)


def test_pressed_stays_closed_and_pulled_opens() -> None:
    seen = {}
    for degC in (620.0, 800.0):
        job = hot_job(with_rest(degC))
        force = press_of(hot_model(job), next(t for t in job.ties if t.joint.id == "R1"))
        model, rests = settled(job)
        (rest,) = rests
        assert rest.press_N == pytest.approx(force)
        assert rest.opened == (force < 0.0)
        seen[rest.opened] = job, model, rest
    assert set(seen) == {True, False}
    job, model, rest = seen[True]
    plain = hot_model(hot_job(with_rest(job.parts[job.plate or 0].hottest_degC, "slides-axially")))
    assert model.moved() == pytest.approx(plain.moved(), abs=1e-12)
    figures, findings = resting_said(job, (rest,))
    assert figures[0].value < 0.0
    assert findings[0].topic == "resting-opens"
    assert resting_said(seen[False][0], (seen[False][2],))[1] == []


def test_a_chain_that_rests_is_pressed_by_nothing() -> None:
    joints = tuple(replace(j, hold="resting") if j.id == "J3" else j for j in LINER.joints)
    told = plan_hot(replace(LINER, joints=joints))
    force = next(f for f in told.grow_figures if f.identity == "HD-400/joints/J3/press")
    assert abs(force.value) < 1e-3
    assert any(f.topic == "resting-joint" for f in told.grow_findings)


def test_pulled_with_nothing_else_to_hold_it_is_stopped() -> None:
    """Both ways through the loop rest; the pulled one opens, the other cannot."""
    for degC in (620.0, 800.0):
        liner = with_rest(degC)
        joints = tuple(replace(j, hold="resting") if j.id == "J1" else j for j in liner.joints)
        _, rests = settled(hot_job(replace(liner, joints=joints)))
        assert sum(r.opened for r in rests) <= 1
        assert len(rests) == 2
    job = hot_job(with_rest(620.0))
    finding = resting_said(job, (Rest("R1", -50.0, kept=True),))[1][0]
    assert finding.level == "stop"
    assert "pulled by 50 N" in finding.sentence
