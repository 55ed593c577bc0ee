"""The seam's numbers on the ring: into cut length, walk, hoop kernel, plan and its findings."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.cards.seam import seam_card_id
from hoopwright.design.demo import demo_liner
from hoopwright.errors import CardError, FileFaults, InputError
from hoopwright.findings import Source
from hoopwright.kernels.flow import swift
from hoopwright.kernels.hoop import flat_section, size_hoop
from hoopwright.kernels.hoop.inputs import Hit, SegmentTool
from hoopwright.kernels.metal import Metal
from hoopwright.plan.job import ring_job
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.route import choose_route
from hoopwright.plan.seam.numbers import SeamNumbers, hoop_shape, hoop_weld, job_with_seam, seam_numbers
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.solve import solve
from hoopwright.process.step import Step

COUPONS = Source("measured", "rings and coupons of this seam")
LINER = demo_liner()
SEAM = SeamNumbers(0.05, 0.012, -0.02, 1.5, 0.04, 0.97)

CARD = """\
schema = "hoopwright-card-1"
kind = "seam"
id = "{id}"
entered_by = "test"
checked_by = ""

[figure.angle_deg]
value = {angle}
unit = "deg"
basis = "measured"
where = "three-point gauge"

[figure.softened_width_mm]
value = 1.3
unit = "mm"
basis = "measured"
where = "hardness traverse"

[figure.shrinkage_mm]
value = 0.09
unit = "mm"
basis = "measured"
where = "tape, six rings"
"""


@pytest.fixture(scope="module")
def own() -> RingPlan:
    return plan_ring(LINER, "HD-402", seam=SEAM)


@pytest.fixture(scope="module")
def usual() -> RingPlan:
    return plan_ring(LINER, "HD-402")


def weld_of(plan: RingPlan) -> Step:
    return next(step for step in plan.walk if step.kind == "weld")


def test_shrinkage_moves_the_cut_length() -> None:
    house = ring_job(LINER, "HD-402", Shelf())
    own = job_with_seam(house, SEAM, COUPONS)
    cut = [solve(job, choose_route(job)).cut_length_mm for job in (house, own)]
    # the house estimate of the demonstration is 0.12
    assert cut[1] - cut[0] == pytest.approx(0.05 - 0.12, abs=0.005)
    assert own.limits.weld_shrink_mm.source.basis == "measured" and own.spread.weld_shrink_mm.value == 0.012
    assert seam_numbers(own) == SEAM


def test_every_number_reaches_the_workpiece(own: RingPlan) -> None:
    welded = weld_of(own).workpiece
    seam = welded.seam
    assert seam is not None
    assert (seam.shrinkage_mm, seam.softened_width_mm) == (0.05, 1.5)
    assert (seam.mismatch_mm, seam.strength_ratio) == (0.04, 0.97)
    assert seam.angle_deg == pytest.approx(math.degrees(-0.02))
    second = welded.harmonics[0]
    mean = (welded.r_mm * welded.weight_mm).sum() / welded.weight_mm.sum()
    assert (second.order, second.phase_deg) == (2, seam.theta_deg)
    assert second.amplitude_mm == pytest.approx(-0.02 * mean / (3.0 * math.pi), rel=1e-3)


def test_every_number_stands_on_the_plan(own: RingPlan) -> None:
    peak, welded = own.figure("weld/seam-peak"), weld_of(own).workpiece
    mean = (welded.r_mm * welded.weight_mm).sum() / welded.weight_mm.sum()
    # the figure takes the radius before the shrinkage comes off
    assert peak.value == pytest.approx(3.0 * -0.02 * mean / (4.0 * math.pi), rel=1e-3)
    assert own.figure("weld/softened-width").value == 1.5
    assert own.figure("weld/mismatch-stress").value == pytest.approx(1.0 + 3.0 * 0.04 / 0.8)
    kept = own.figure("size/roundness-kept").value
    assert own.figure("size/seam-peak-left").value == pytest.approx(peak.value * kept / 100.0)
    parent = own.job.alloy.tensile_MPa().value
    assert own.figure("weld/joint-strength").value == pytest.approx(0.97 * parent)
    assert 0.4 < own.figure("size/joint-share").value < 1.0
    shown = {figure.identity.split("/", 1)[1] for figure in weld_of(own).figures}
    assert {"weld/softened-width", "weld/angle", "weld/seam-peak", "weld/joint-strength"} <= shown


def test_without_a_card_the_usual_stands_and_says_that_it_is_assumed(usual: RingPlan, own: RingPlan) -> None:
    assert usual.figure("weld/softened-width").source.basis == "practice"
    assert usual.figure("weld/angle").band is not None and usual.figure("weld/seam-peak").band is not None
    with pytest.raises(KeyError):
        usual.figure("weld/joint-strength")
    assert usual.mark != own.mark
    cut = [plan.figure("close/cut-length").value for plan in (usual, own)]
    assert cut[1] - cut[0] == pytest.approx(0.05 - 0.12, abs=0.005)


def test_weak_joint_and_bent_seam_are_said() -> None:
    bad = plan_ring(LINER, "HD-402", seam=replace(SEAM, angle_rad=0.12, strength_ratio=0.5))
    by = {finding.topic: finding for finding in bad.findings}
    assert by["seam-strength"].level == "stop" and "asks 1." in by["seam-strength"].sentence
    assert by["seam-peak"].level == "caution" and "stands out" in by["seam-peak"].sentence
    assert "other way" in by["seam-peak"].remedy


def test_a_shop_card_of_alloy_and_sheet_rules(tmp_path: Path) -> None:
    name = seam_card_id("N06002", 0.8)
    (tmp_path / "seam.toml").write_text(CARD.format(id=name, angle=1.5), encoding="utf-8")
    job = ring_job(LINER, "HD-402", Shelf(tmp_path))
    assert job.seam.card_id == name and job.limits.weld_shrink_mm.value == 0.09
    assert seam_numbers(job).angle_rad == pytest.approx(math.radians(1.5))
    # what the card leaves out is the house's
    assert seam_numbers(job).mismatch_mm == pytest.approx(0.08)
    assert job.spread.weld_shrink_mm.value == Shelf().spread(LINER.cards.spread).weld_shrink_mm.value
    (tmp_path / "seam.toml").write_text(CARD.format(id=seam_card_id("N06002", 1.0), angle=1.5), encoding="utf-8")
    assert ring_job(LINER, "HD-402", Shelf(tmp_path)).seam.card_id == "usual"
    (tmp_path / "seam.toml").write_text(CARD.format(id=name, angle=45.0), encoding="utf-8")
    with pytest.raises((CardError, FileFaults), match="angle_deg"):
        ring_job(LINER, "HD-402", Shelf(tmp_path))


def test_hoop_kernel_takes_shape_and_zone() -> None:
    metal = Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32)
    shape, weld = hoop_shape(SEAM, 124.0, 0.3), hoop_weld(SEAM, metal, 0.3)
    assert shape.harmonics[0].amplitude_mm == pytest.approx(-0.02 * 124.0 / (3.0 * math.pi))
    assert all(h.phase_rad == 0.3 for h in shape.harmonics)
    assert (weld.width_mm, weld.angle_rad) == (1.5, 0.3)
    section = flat_section(0.8, 40.0, metal, layers=3)
    tool = SegmentTool(8, 124.0, 4.0, 1.0, 0.1)
    found = size_hoop(section, hoop_shape(SEAM, 124.0), tool, [Hit(125.0)], hoop_weld(SEAM, metal))
    assert math.isfinite(found.hits[0].free.mean_diameter_mm)


def test_refusals() -> None:
    with pytest.raises(InputError, match="shrinkage of the seam"):
        replace(SEAM, shrinkage_mm=-0.1)
    with pytest.raises(InputError, match="mismatch of the seam"):
        replace(SEAM, mismatch_mm=math.nan)
    with pytest.raises(InputError, match="strength ratio"):
        replace(SEAM, strength_ratio=0.0)
    with pytest.raises(InputError, match="softened width"):
        hoop_weld(replace(SEAM, zone_mm=0.0), Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32))
