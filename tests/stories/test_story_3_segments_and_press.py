"""Story 3, segment set and press of HD-402, by its stated method and by ours side by side.

The stated method is hand calculation; its figures are reproduced here to the last digit printed, plus or minus one.
Ours differs, and the comments beside each pair say why and which way. Nothing is tuned to either.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.kernels.flow import swift
from hoopwright.kernels.segment_retract import SegmentForm, leading_end, travel_crown_throat
from hoopwright.kernels.segment_slot import flat_depth, slot_needed
from hoopwright.kernels.taper_drive import TaperDrive, drive_forces_limit
from hoopwright.plan.job import ring_job
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.route import choose_route
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.sizing_set import inside_of
from hoopwright.plan.solve import shop_card, solve, welded
from hoopwright.process import curl, size
from hoopwright.process.workpiece import Workpiece

LAND, CROWN, LIP, MEAN = 123.85, 125.75, 123.40, 124.196
SHEET, WIDTH, STRETCH, PRIOR = 0.8, 54.345, 0.015, 0.05
MODULUS, COUNT, CLEARANCE, SLOT_CLEARANCE = 205_000.0, 8, 0.5, 0.3
DRIVE = TaperDrive(COUNT, math.radians(7.0), 0.10, 0.12)

MEAN_STRAIN = math.log(MEAN / LIP) + math.log(1.0 + STRETCH)
STRESS = swift(1630.0, 0.020, 0.385).stress(PRIOR + MEAN_STRAIN)
SPRING = STRESS / MODULUS
THINNED = SHEET * math.exp(-0.5 * MEAN_STRAIN)
INCOMING = LIP / (1.0 + STRETCH)


def segment(radius: float) -> float:
    """Story: r (1 + stress/E) - t_f/2."""
    return radius * (1.0 + SPRING) - 0.5 * THINNED


def digit(printed: float, last: float) -> object:
    """The printed figure plus or minus one in its last digit."""
    return pytest.approx(printed, abs=1.5 * last)


@pytest.fixture(scope="module")
def ours() -> RingPlan:
    """The program's own plan, prior strain by its own chain."""
    return plan_ring(demo_liner(), "HD-402")


@pytest.fixture(scope="module")
def storys_strip() -> Workpiece:
    """The hoop that a strip of the story's length, 764.01, makes when its neutral fibre keeps that length."""
    job = ring_job(demo_liner(), "HD-402", Shelf())
    solved = solve(job, choose_route(job))
    card = shop_card(job)
    sprung = curl.run(solved.rolled, curl.Curl(solved.curl_radius_mm), card).workpiece
    return welded(job, sprung, 764.01, solved.shape, card)


def test_flow_stress_springback_thickness() -> None:
    assert digit(648.6, 0.1) == STRESS
    assert digit(0.316, 0.001) == 100.0 * SPRING
    assert digit(0.7915, 0.0001) == THINNED


def test_springback_ours(ours: RingPlan) -> None:
    """0.05 is the corners' strain; over the section the chain has 0.013, so 0.24 to 0.25 % for the story's 0.316."""
    share = 100.0 * ours.figure("size/hit-2/springback").value / 247.6
    assert 0.24 <= share <= 0.25
    assert ours.figure("weld/prior-strain").value < 0.02


def test_segment_radii() -> None:
    assert segment(LAND) == digit(123.846, 0.001)
    assert segment(CROWN) == digit(125.752, 0.001)
    assert segment(LIP) == digit(123.395, 0.001)
    assert 2.0 * (segment(LIP) + THINNED) == digit(248.372, 0.001)


def test_segment_radii_ours(ours: RingPlan) -> None:
    """Less springback: ours stand 0.09 lower all along, 0.18 on diameter."""
    for word, radius in (("land", LAND), ("lip", LIP)):
        assert segment(radius) - ours.figure(f"segments/radius-{word}").value == pytest.approx(0.093, abs=0.01)


def test_free_lip_on_the_storys_segments() -> None:
    """The segments hold a face and the sheet is thinner: with the story's own numbers the free lip is not 247.60.

    One springback for the mean radius gives 247.59; ours, with one move for the whole section, is 247.604 to 247.615.
    """
    job = ring_job(demo_liner(), "HD-402", Shelf())
    solved = solve(job, choose_route(job))
    as_told = replace(
        solved.hoop,
        r_mm=job.stations.y - LIP + INCOMING,
        plastic_strain=np.full_like(solved.hoop.plastic_strain, PRIOR),
        stress_hoop_MPa=np.zeros_like(solved.hoop.stress_hoop_MPa),
    )
    tool = job.stations.y * (1.0 + SPRING) - 0.5 * THINNED * np.cos(job.stations.angle)
    loaded, free, _ = size.stretched(as_told, tool, job.metal)
    lip = int(np.argmin(np.abs(free.z_mm - 66.0)))
    outside = 2.0 * free.r_mm[lip] + free.thickness_mm[lip]
    by_hand = (2.0 * (segment(LIP) + THINNED)) / (1.0 + SPRING)
    assert by_hand == pytest.approx(247.59, abs=0.002)
    assert outside == pytest.approx(247.61, abs=0.01)
    assert 2.0 * loaded.r_mm[lip] + loaded.thickness_mm[lip] == pytest.approx(248.372, abs=0.01)


def test_travel_slot_and_flat() -> None:
    crown, throat = segment(CROWN), INCOMING - 0.5 * SHEET
    load = travel_crown_throat(crown, throat, CLEARANCE)
    unload = travel_crown_throat(crown, LIP - 0.5 * SHEET, CLEARANCE)
    assert load == digit(5.08, 0.01)
    assert unload == digit(3.25, 0.01)
    assert slot_needed(COUNT, 5.5, SLOT_CLEARANCE) == digit(4.51, 0.01)
    assert flat_depth(crown, 4.6) == digit(0.021, 0.001)


def test_travel_over_the_other_end() -> None:
    """Built-in trap: led by the aft end only the land has to pass the crown, 4.63 and 2.80."""
    crown = segment(CROWN)
    land_in = INCOMING + LAND - LIP - 0.5 * SHEET
    assert travel_crown_throat(crown, land_in, CLEARANCE) == digit(4.63, 0.01)
    assert travel_crown_throat(crown, LAND - 0.5 * SHEET, CLEARANCE) == digit(2.80, 0.01)


def test_travel_ours_on_the_storys_strip(storys_strip: Workpiece, ours: RingPlan) -> None:
    """The neutral fibre keeps its length, so the lip comes 0.3 to 0.8 smaller; edges stick out by 1/cos: 5.4 to 6.3."""
    smaller = INCOMING - float(storys_strip.r_mm.min())
    assert 0.3 <= smaller <= 0.8
    told = ours.reckoning
    needed = leading_end(
        inside_of(told.loaded), inside_of(storys_strip), inside_of(told.free), SegmentForm(COUNT, 4.6, 1.0), CLEARANCE
    )
    assert 5.4 <= needed.minus.load.travel_mm <= 6.3
    assert needed.better.end == "plus"


def test_travel_ours(ours: RingPlan) -> None:
    """Our strip is cut 2.10 longer, on the neutral fibre; led by the aft end 4.9 to load and 2.9 to unload."""
    assert ours.figure("strip/cut-length").value - 764.01 == pytest.approx(2.1, abs=0.1)
    assert ours.figure("segments/travel-load").value == pytest.approx(4.87, abs=0.05)
    assert ours.figure("segments/travel-unload").value == pytest.approx(2.90, abs=0.05)
    assert ours.figure("segments/travel").value == 5.0
    assert ours.figure("segments/slot").value == pytest.approx(4.2)


def test_tension_and_pull() -> None:
    area = WIDTH * SHEET * math.exp(-MEAN_STRAIN)
    tension = STRESS * area
    forces = drive_forces_limit(DRIVE, tension)
    assert tension / 1000.0 == digit(27.6, 0.1)
    assert forces.radial_sum_N / 1000.0 == digit(174.0, 1.0)
    assert forces.pull_N / 1000.0 == digit(40.3, 0.1)


def test_tension_and_pull_ours(ours: RingPlan) -> None:
    """Less prior strain pulls a quarter less; N segments sum to 2 N T sin(pi/N), 2.6 % below 2 pi T."""
    tension, total = ours.figure("press/tension").value, ours.figure("press/radial-sum").value
    assert tension == pytest.approx(21.1, abs=0.2)
    assert total / (2.0 * math.pi * tension) == pytest.approx(1.0 - 0.0255, abs=0.0005)
    assert ours.figure("press/pull").value == pytest.approx(29.9, abs=0.5)


def test_tension_with_the_storys_prior_strain() -> None:
    """With 0.05 given, ours is 2 % below the story's: each station has its own strain, the lip the least."""
    ring = replace(demo_liner().ring("HD-402"), prior_strain_log=PRIOR)
    plan = plan_ring(replace(demo_liner(), rings=(ring,)), "HD-402")
    assert plan.figure("press/tension").value == pytest.approx(26.8, abs=0.4)
    share = 100.0 * plan.figure("size/hit-2/springback").value / 247.6
    assert share == pytest.approx(0.311, abs=0.005)


def test_stroke_release_and_stop() -> None:
    assert DRIVE.stroke(5.5) == digit(44.8, 0.1)
    assert math.degrees(DRIVE.release_margin_rad) == digit(1.29, 0.01)
    assert DRIVE.diameter_per_stroke == digit(0.2456, 0.0001)


def test_stroke_release_and_stop_ours(ours: RingPlan) -> None:
    """2 tan a is the diameter across segment middles; a girth tape reads sin b / b of it: 0.2393."""
    assert ours.figure("stop/across-per-mm").value == pytest.approx(0.2456, abs=0.0001)
    assert ours.figure("stop/girth-per-mm").value == pytest.approx(0.2393, abs=0.0001)
    assert ours.figure("press/release-margin").value == pytest.approx(1.29, abs=0.01)
    found = next(finding for finding in ours.findings if finding.topic == "pin-release")
    assert "will not let go reliably" in found.sentence and "positive retract" in found.remedy
