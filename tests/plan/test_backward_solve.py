"""Backward solve: independent of stations and layers; neutral fibre, held faces, profile of the segments."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

import hoopwright.plan.solve as solving
from hoopwright.kernels.profile_build import from_corners
from hoopwright.plan.job import ring_job, strip_stations
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.route import choose_route
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.solve import solve
from hoopwright.process import size
from hoopwright.process.face_radius import radius_at


def finer(job: RingJob, step: float, arcs: int) -> RingJob:
    return replace(job, stations=strip_stations(job.ring.id, job.section, 3.0, step, arcs))


@pytest.mark.parametrize("ring", ["HD-401", "HD-402", "HD-404", "HD-413"])
def test_strip_length_does_not_hang_on_the_mesh(hat: RingPlan, shelf: Shelf, ring: str) -> None:
    """The bar is 0.01 mm. Cut lengths are in steps of 0.01, so two of them may differ by one step."""
    job = ring_job(hat.job.liner, ring, shelf)
    lengths = [solve(one, choose_route(one)).cut_length_mm for one in (job, finer(job, 0.5, 10), finer(job, 0.25, 20))]
    assert max(lengths) - min(lengths) <= 0.0101


def test_strip_length_does_not_hang_on_layers(hat: RingPlan, monkeypatch: pytest.MonkeyPatch) -> None:
    coarse = solve(hat.job, choose_route(hat.job)).cut_length_mm
    monkeypatch.setattr(solving, "LAYERS", 41)
    monkeypatch.setattr(solving.flat_blank, "__defaults__", (41,))
    assert solve(hat.job, choose_route(hat.job)).cut_length_mm == pytest.approx(coarse, abs=0.0101)


def test_tool_radii_converge_with_stations(hat: RingPlan) -> None:
    fine = finer(hat.job, 0.25, 20)
    one, two = solve(hat.job, choose_route(hat.job)), solve(fine, choose_route(fine))
    there = np.interp(hat.job.stations.x, fine.stations.x, two.tool_face_mm)
    flat = hat.job.stations.curvature == 0.0
    assert np.max(np.abs(there - one.tool_face_mm)[flat]) < 0.001


def plain_job(job: RingJob) -> RingJob:
    section = from_corners([(0.0, 120.0), (40.0, 120.0)], [])
    ring = replace(job.ring, section=section, route=None, controls=())
    return replace(job, ring=ring, section=section, stations=strip_stations(ring.id, section, 3.0))


def test_a_plain_hoop_is_cut_by_the_hand_rule(hat: RingPlan) -> None:
    """Without a contour the neutral fibre is the mid-surface: 2 pi r/(1 + e) + shrink, less a hair of bending.

    Curl to R 100 thins the sheet and moves the neutral fibre by about t^2/(24 R) = 0.0003: 0.002 on the length, and one
    step of 0.01 for rounding down.
    """
    solved = solve(plain_job(hat.job), choose_route(plain_job(hat.job)))
    assert solved.cut_length_mm == pytest.approx(2.0 * math.pi * 120.0 / 1.015 + 0.12, abs=0.015)


def test_every_station_comes_to_its_wanted_radius(hat: RingPlan) -> None:
    solved = solve(hat.job, choose_route(hat.job))
    _, free, _ = size.stretched(solved.hoop, solved.tool_face_mm, hat.job.metal)
    assert free.r_mm == pytest.approx(solved.wanted_mm, abs=2e-5)
    for control in hat.job.ring.controls:
        found = 2.0 * radius_at(free, control.z_mm, control.face)
        assert found == pytest.approx(control.diameter_mm, abs=2e-4)


def test_held_faces_move_the_mid_surface_by_half_the_thinning(hat: RingPlan) -> None:
    """Land held inside, lip outside: the land's mid-surface falls, the lip's rises, by half the thinning of each."""
    solved = solve(hat.job, choose_route(hat.job))
    move, thinned = solved.wanted_mm - hat.job.stations.y, 0.8 - hat.reckoning.free.thickness_mm
    assert 0.004 < thinned[-2] < thinned[1] < 0.008
    assert float(move[1]) == pytest.approx(-0.5 * thinned[1], abs=1e-5)
    assert float(move[-2]) == pytest.approx(0.5 * thinned[-2], abs=1e-5)


def test_profile_of_the_segments_is_lines_and_arcs(hat: RingPlan) -> None:
    """One line or arc for each of the drawing; fillets are the mid radius plus or minus half the thinned sheet."""
    surface, section = hat.sizing.surface, hat.job.section
    assert surface.exact and len(surface.profile) == len(section)
    half = 0.5 * float(hat.reckoning.loaded.thickness_mm.mean())
    for mine, drawn in zip(surface.profile, section, strict=True):
        assert mine.is_arc == drawn.is_arc
        if drawn.is_arc:
            assert mine.radius == pytest.approx(drawn.radius + (half if drawn.ccw else -half), abs=0.003)
    assert np.max(np.abs(surface.miss_mm)) < 0.01


def test_metal_that_is_stretched_more_springs_back_more(hat: RingPlan, shelf: Shelf) -> None:
    def sprung(stretch: float) -> float:
        limits = replace(hat.job.limits, stretch_plan_eng=replace(hat.job.limits.stretch_plan_eng, value=stretch))
        job = replace(hat.job, limits=limits)
        solved = solve(job, choose_route(job))
        return size.stretched(solved.hoop, solved.tool_face_mm, job.metal)[2].springback_mm

    values = [sprung(e) for e in (0.010, 0.015, 0.020, 0.030)]
    assert values == sorted(values)
