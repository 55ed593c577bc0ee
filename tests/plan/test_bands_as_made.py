"""Bands of what the walk does not touch: nothing claimed to stay moves, and what follows follows by the right power."""

from __future__ import annotations

import math
from fnmatch import fnmatchcase

import pytest

from hoopwright.plan import ring_plan
from hoopwright.plan.bands import NINE_IN_TEN, scatters
from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.settings import Shift
from hoopwright.plan.shapes import RingJob

CHOSEN = (
    "blank/*slant*",
    "blank/sector",
    "blank/sheet-used",
    "curl/loaded-radius",
    "roll/*-radius",
    "roll/passes",
    "roll/contact-length",
    "segments/travel*",
    "segments/flat",
    "segments/profile-miss",
)
"""Tools, settings and nests: a fresh plan for another sheet would choose them anew; a made set stays as it is."""


def half_width(plan: RingPlan, identity: str) -> float:
    band = plan.figure(identity).band
    assert band is not None
    return 0.5 * (band.high - band.low)


def again(plan: RingPlan, job: RingJob, monkeypatch: pytest.MonkeyPatch) -> RingPlan:
    """The ring planned afresh for another sheet or metal."""
    monkeypatch.setattr(ring_plan, "ring_job", lambda *_: job)
    return plan_ring(plan.job.liner, plan.job.ring.id)


def test_every_figure_of_every_ring_has_a_band(demo: LinerPlan) -> None:
    for plan in demo.rings:
        for figure in plan.figures:
            assert figure.band is not None and figure.band.how, figure.identity
            if figure.band.low == figure.band.high:
                assert "stays as planned" in figure.band.how, figure.identity


@pytest.mark.parametrize("ring", ["HD-402", "HD-404"])
def test_what_is_said_to_stay_does_not_move(demo: LinerPlan, ring: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fresh plan for a sheet or metal one deviation off leaves it, but for what is chosen anew."""
    plan = next(one for one in demo.rings if one.job.ring.id == ring)
    moved = [one.up for one in scatters(plan.job, 8, 0.1228) if one.up[1] == Shift()]
    assert len(moved) >= 4
    for job, _ in moved:
        other = again(plan, job, monkeypatch)
        values = {figure.identity: figure.value for figure in other.figures}
        for figure in plan.figures:
            own = figure.identity.removeprefix(f"{ring}/")
            if figure.band is None or figure.band.low < figure.band.high or figure.identity not in values:
                continue
            if not any(fnmatchcase(own, pattern) for pattern in CHOSEN):
                assert values[figure.identity] == pytest.approx(figure.value, rel=1e-9), figure.identity


@pytest.mark.parametrize("ring", ["HD-402", "HD-403"])
def test_what_follows_from_the_sheet(demo: LinerPlan, ring: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Zone and edge strain, as a fresh plan for a sheet one deviation thicker has them; second order is 0.5 sd/t."""
    plan = next(one for one in demo.rings if one.job.ring.id == ring)
    thicker = next(one for one in scatters(plan.job, 8, 0.1228) if one.name == "sheet thickness").up[0]
    other = again(plan, thicker, monkeypatch)
    seen = 0
    for word in ("forward-zone", "aft-zone", "forward-edge-strain", "aft-edge-strain"):
        name = f"{ring}/roll/{word}"
        if name not in {figure.identity for figure in plan.figures}:
            continue
        change = abs(other.figure(name).value - plan.figure(name).value)
        # depth and lands of the mid-surface move a little with the sheet as well
        assert half_width(plan, name) == pytest.approx(NINE_IN_TEN * change, rel=0.05), name
        seen += 1
    assert seen >= 2


def test_mass_and_edge_pressure_by_hand(hat: RingPlan) -> None:
    """Mass: hypot(0.008 / 0.8, 0.05 / L). Edge load with the pull; pressure with its root and the modulus' root."""
    mass, length = hat.figure("blank/mass").value, hat.figure("strip/cut-length").value
    by_hand = NINE_IN_TEN * mass * math.hypot(0.008 / 0.8, 0.05 / length)
    assert half_width(hat, "blank/mass") == pytest.approx(by_hand, rel=1e-9)
    share = half_width(hat, "press/tension") / hat.figure("press/tension").value
    load = hat.figure("segments/edge-load")
    assert half_width(hat, "segments/edge-load") == pytest.approx(load.value * share, rel=1e-9)
    pressure = hat.figure("segments/edge-pressure").value
    soft = NINE_IN_TEN * 0.015
    by_hand = pressure * math.hypot(0.5 * share, 0.5 * soft)
    assert half_width(hat, "segments/edge-pressure") == pytest.approx(by_hand, rel=1e-9)


def test_settings_as_the_shop_makes_them(hat: RingPlan) -> None:
    """The demonstration's spread card: cut length 0.05, ground radius 0.005, stop 0.02, roll gap 0.01."""
    made = {"strip/cut-length": 0.05, "segments/radius-lip": 0.005, "size/hit-2/stop": 0.02, "roll/set-gap": 0.01}
    for name, sd in made.items():
        assert half_width(hat, name) == pytest.approx(NINE_IN_TEN * sd, rel=1e-6), name


def test_hole_edge_lies_on_the_outside_face(hat: RingPlan) -> None:
    """Half the sheet's scatter times the angle: 10 degrees to the first dilution hole."""
    wide = half_width(hat, "holes/dilution-z58.8/edge-to-seam")
    assert wide == pytest.approx(NINE_IN_TEN * 0.5 * 0.008 * math.radians(10.0), rel=1e-6)


def test_width_across_narrows_by_half_the_stretch(hat: RingPlan) -> None:
    wide = half_width(hat, "size/hit-2/stretch-loaded") / 100.0
    net = hat.figure("blank/net-width").value
    assert half_width(hat, "blank/net-width") == pytest.approx(0.5 * net * wide, rel=1e-6)
