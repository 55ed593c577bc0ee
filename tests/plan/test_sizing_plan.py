"""Segments, press and stops of the demo's rings against hand calculation and the house."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.sizing_set import inside_of, plan_sizing

RINGS = ("HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413")


@pytest.mark.parametrize("ring", RINGS)
def test_slot_lets_the_segments_travel(demo: LinerPlan, ring: str) -> None:
    found = demo.ring(ring).sizing.segments
    assert found.travel_mm >= found.needed.better.travel_mm
    assert found.slot_mm >= 2.0 * found.travel_mm * math.sin(math.pi / found.count) + 0.3 - 1e-9


@pytest.mark.parametrize("ring", RINGS)
def test_flats_keep_inside_a_third_of_the_roundness(demo: LinerPlan, ring: str) -> None:
    assert demo.ring(ring).sizing.segments.flat_mm <= 0.33 * 0.15


def test_more_segments_where_flats_ask_for_them(hat: RingPlan) -> None:
    """At a tenth of the zone, 0.015, eight segments do not serve; the fewest that do are taken and said."""
    limits = replace(hat.job.limits, lobe_share=replace(hat.job.limits.lobe_share, value=0.1))
    found = plan_sizing(replace(hat.job, limits=limits), hat.reckoning)
    assert found.segments.count > 8
    rows = found.segments.weighed
    assert rows[-1][3] <= 0.015 < rows[-2][3]
    assert "segment-count" in {finding.topic for finding in found.findings}


def test_flats_that_no_count_cures_are_said(hat: RingPlan) -> None:
    limits = replace(hat.job.limits, lobe_share=replace(hat.job.limits.lobe_share, value=0.001))
    found = plan_sizing(replace(hat.job, limits=limits), hat.reckoning)
    assert found.segments.count == 16
    assert ("segment-flats", "caution") in {(f.topic, f.level) for f in found.findings}


@pytest.mark.parametrize("ring", RINGS)
def test_ring_passes_over_the_collapsed_segments(demo: LinerPlan, ring: str) -> None:
    """Pushed in small steps over the better end: the ring clears every edge by the 0.5 asked for (0.02 for steps)."""
    plan = demo.ring(ring)
    segments, told = plan.sizing.segments, plan.reckoning
    tool, form = inside_of(told.loaded), segments
    edge = plan.job.limits.segment_edge_radius_mm.value
    half = math.pi / form.count - np.arcsin((0.5 * form.slot_mm + edge) / (tool.radius_mm - edge))
    collapsed = edge + np.hypot(
        (tool.radius_mm - edge) * np.cos(half) - form.travel_mm, (tool.radius_mm - edge) * np.sin(half)
    )
    sign = 1.0 if segments.needed.better.end == "plus" else -1.0
    for state in (told.hoop, told.free):
        hoop = inside_of(state)
        for shift in np.arange(0.0, hoop.z_mm[-1] - hoop.z_mm[0] + 1.0, 0.25):
            place = tool.z_mm - sign * shift
            on = (place >= hoop.z_mm[0]) & (place <= hoop.z_mm[-1])
            clear = np.interp(place[on], hoop.z_mm, hoop.radius_mm) - collapsed[on]
            assert clear.size == 0 or clear.min() > 0.5 - 0.02


def test_conical_rings_come_off_with_their_narrow_end_leading(demo: LinerPlan) -> None:
    """Some 4 mm of travel against more than twice that: the program finds the end, it does not ask."""
    for ring, end in (("HD-403", "plus"), ("HD-404", "plus"), ("HD-413", "minus")):
        needed = demo.ring(ring).sizing.segments.needed
        worse = needed.plus if end == "minus" else needed.minus
        assert needed.better.end == end and needed.better.travel_mm < 6.0
        assert worse.travel_mm > 9.0


def test_pull_by_hand(hat: RingPlan) -> None:
    """N 2 T sin(pi/N) tan(7 + 5.711)/(1 - 0.12 tan 12.711)."""
    tension = hat.figure("press/tension").value
    steep = math.tan(math.radians(7.0) + math.atan(0.1))
    by_hand = 8 * 2.0 * tension * math.sin(math.pi / 8) * steep / (1.0 - 0.12 * steep)
    assert hat.figure("press/pull").value == pytest.approx(by_hand, rel=1e-9)


def test_energy_by_hand(hat: RingPlan) -> None:
    """T pi u: 21.06 kN x pi x 0.300 mm = 19.8 J."""
    assert hat.figure("press/stored-energy").value == pytest.approx(21.06 * math.pi * 0.2998, abs=0.1)


def test_stop_table_reads_girth_and_marks_both_hits(hat: RingPlan) -> None:
    table, stops = hat.sizing.table, hat.sizing.stops
    known = {row.stop_mm: row for row in table}
    full, first = known[stops[-1].stop_mm], known[stops[0].stop_mm]
    assert full.shim_mm == 0.0 and full.loaded_mm[1] == pytest.approx(248.199, abs=0.005)
    assert full.free_mm == (pytest.approx(246.90, abs=0.001), pytest.approx(247.60, abs=0.001))
    rate = (full.loaded_mm[1] - first.loaded_mm[1]) / (full.stop_mm - first.stop_mm)
    assert rate == pytest.approx(0.2393, abs=0.0001)
    assert [row.stop_mm for row in table] == sorted(row.stop_mm for row in table)


def test_free_size_of_the_table_is_that_of_the_walk(hat: RingPlan) -> None:
    """First hit's line, linear about full size, against the walk's own first hit: the springback's rise is in it."""
    row = next(row for row in hat.sizing.table if row.stop_mm == hat.sizing.stops[0].stop_mm)
    assert row.free_mm[1] == pytest.approx(hat.figure("size/hit-1/free-lip-dia").value, abs=0.003)


def test_seam_lies_over_no_slot_at_either_hit(hat: RingPlan) -> None:
    """A quarter pitch off a segment's centre: 11.25 of 22.5 degrees half pitch, and mirrored after the index."""
    assert hat.figure("stop/seam-angle").value == pytest.approx(11.25)


def test_press_too_small_is_a_stop(hat: RingPlan) -> None:
    weak = replace(hat.job.machines.expander, pull_max_kN=replace(hat.job.machines.expander.pull_max_kN, value=25.0))
    job = replace(hat.job, machines=replace(hat.job.machines, expander=weak))
    found = {(f.topic, f.level) for f in plan_sizing(job, hat.reckoning).findings}
    assert ("press-pull", "stop") in found
    short = replace(weak, stroke_max_mm=replace(weak.stroke_max_mm, value=30.0))
    job = replace(hat.job, machines=replace(hat.job.machines, expander=short))
    assert ("press-stroke", "stop") in {(f.topic, f.level) for f in plan_sizing(job, hat.reckoning).findings}


def test_locking_pin_is_said(hat: RingPlan) -> None:
    steep = replace(hat.job.limits, pin_half_angle_deg=replace(hat.job.limits.pin_half_angle_deg, value=5.0))
    found = plan_sizing(replace(hat.job, limits=steep), hat.reckoning)
    said = next(f for f in found.findings if f.topic == "pin-release")
    assert "locks" in said.sentence and "off the base" in said.why
    assert found.press.figure("withdraw").value > 0.0 and found.press.figure("hold").value == 0.0


def test_edge_pressure_by_hand(hat: RingPlan) -> None:
    """394 x 4.2/246.6 = 6.7 N/mm; sqrt(6.7 x 205500/(2 x 0.898 pi x 1.0)) = 494 MPa, no mark below 1.7 yield."""
    assert hat.figure("segments/edge-load").value == pytest.approx(6.7, abs=0.1)
    assert hat.figure("segments/edge-pressure").value == pytest.approx(494.0, abs=6.0)
    assert "edge-marks" not in {finding.topic for finding in hat.findings}


def test_sharp_edges_mark(hat: RingPlan) -> None:
    sharp = replace(hat.job.limits, segment_edge_radius_mm=replace(hat.job.limits.segment_edge_radius_mm, value=0.2))
    found = plan_sizing(replace(hat.job, limits=sharp), hat.reckoning)
    assert ("edge-marks", "caution") in {(f.topic, f.level) for f in found.findings}
