"""Fit-up of a ring's seam: what the metal lets expect, outlines of both ends, readings."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.errors import FileFaults, InputError
from hoopwright.kernels.corner_bend import springback_curvature
from hoopwright.plan.corners import bend_sheet
from hoopwright.plan.job import ring_job
from hoopwright.plan.seam.end_geometry import NINE_IN_TEN, end_outline, end_scatter, section_outline
from hoopwright.plan.seam.fit_up_plan import plan_fit_up, read_ends
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.shelf import Shelf


@pytest.fixture(scope="module")
def job() -> RingJob:
    return ring_job(demo_liner(), "HD-404", Shelf())


def test_same_metal_makes_the_same_end(job: RingJob) -> None:
    assert np.array_equal(end_outline(job, bend_sheet(job)), section_outline(job))


def test_a_stiffer_end_turns_each_corner_by_its_own_springback(job: RingJob) -> None:
    """Angle between the last straights of both ends: sum of arc length times difference of springback curvature."""
    own = bend_sheet(job)
    other = replace(own, thickness_mm=own.thickness_mm * 1.02)
    end = end_outline(job, other)
    arcs = [segment for segment in job.section if segment.is_arc]
    turned = sum(
        s.length * (springback_curvature(own, s.curvature) - springback_curvature(other, s.curvature)) for s in arcs
    )
    drawn = section_outline(job)

    def heading(points: np.ndarray) -> float:
        (z0, r0), (z1, r1) = points[-3], points[-1]
        return math.atan2(r1 - r0, z1 - z0)

    assert heading(end) - heading(drawn) == pytest.approx(turned, rel=0.02)
    assert turned != 0.0


def test_both_ends_scatter_by_root_two_of_one(job: RingJob) -> None:
    found = end_scatter(job)
    place, worst = found.worst
    assert worst == pytest.approx(NINE_IN_TEN * math.sqrt(2.0 * sum(v**2 for _, v in found.causes)), rel=1e-9)
    assert 0.0 <= place <= job.section.length + 40.0
    even = replace(
        job, spread=replace(job.spread, flow_stress_within_cast_pct=_zero(job), sheet_thickness_mm=_zero(job))
    )
    assert end_scatter(even).worst[1] == pytest.approx(0.0, abs=1e-12)


def _zero(job: RingJob):  # type: ignore[no-untyped-def]
    return replace(job.spread.sheet_thickness_mm, value=0.0)


def test_expected_figure_is_its_own_formula(job: RingJob) -> None:
    figure = plan_fit_up(job).figures[0]
    assert figure.value == pytest.approx(
        NINE_IN_TEN * math.sqrt(2.0 * sum(float(i.value) ** 2 for i in figure.inputs[1:]))
    )
    assert plan_fit_up(job).findings == ()


def test_measured_ends_take_its_place(job: RingJob) -> None:
    drawn = section_outline(job)
    bent = drawn.copy()
    bent[:, 1] += 0.25 * (drawn[:, 0] > drawn[:, 0].mean()) * (drawn[:, 0] - drawn[:, 0].mean()) / 10.0
    found = plan_fit_up(job, ends=(drawn, bent))
    assert found.ends is not None and abs(found.ends.worst[1]) > 0.08
    assert found.findings[0].level == "stop" and found.findings[0].topic == "fit-up-ends"
    off = {f.identity.rpartition("/")[2]: f.value for f in found.figures}
    assert off["first-end-off-plan"] == pytest.approx(0.0, abs=1e-9)
    assert off["second-end-off-plan"] > 0.05
    loose = plan_fit_up(job, "D", ends=(drawn, bent))
    assert loose.allowed_mm == pytest.approx(0.25 * 0.8)
    with pytest.raises(InputError, match="end outlines"):
        plan_fit_up(job, ends=(drawn, bent[:-1]))


def test_readings_and_refusals(job: RingJob, tmp_path: Path) -> None:
    found = plan_fit_up(job, mismatch_mm=(0.03, 0.12, 0.02), gap_mm=(0.01, 0.02, 0.01))
    assert found.findings[0].topic == "fit-up-mismatch"
    with pytest.raises(InputError, match="gap readings"):
        plan_fit_up(job, mismatch_mm=(0.03, 0.02, 0.02))
    path = tmp_path / "ends.csv"
    path.write_text("z_mm,r_first_mm,r_second_mm\n0,120,120.1\n5,121,121.1\n4,122,122\n", encoding="utf-8")
    with pytest.raises(FileFaults, match="z_mm is 4"):
        read_ends(path)
    path.write_text("z_mm,r_first_mm,r_second_mm\n0,120,120.1\n5,121,inf\n", encoding="utf-8")
    with pytest.raises(FileFaults, match="r_second_mm"):
        read_ends(path)
