"""The end plate backward: the faces close on the drawing, the proof holds, neighbours count, and what is refused."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from formula_reading import value_of

from hoopwright.design.demo import demo_liner
from hoopwright.design.shapes import EndPlate, Liner, Port
from hoopwright.errors import GeometryError, InputError, NotConverged
from hoopwright.kernels.flow import voce
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.plan.plate.fixed_point import close, proof
from hoopwright.plan.plate.flange_press import form_flanges, lean_reach
from hoopwright.plan.plate.job import plate_job
from hoopwright.plan.plate.neighbours import draw_in, stress_at
from hoopwright.plan.plate.plate_plan import PlatePlan, plan_plate
from hoopwright.plan.plate.plate_shape import plate_shape
from hoopwright.plan.plate.port_press import form_port
from hoopwright.plan.plate.port_shape import port_shape
from hoopwright.plan.shelf import Shelf


def end_plate() -> EndPlate:
    plate = demo_liner().end_plate
    assert plate is not None
    return plate


def drawn_port() -> Port:
    port = end_plate().port
    assert port is not None
    return port


def test_sizes_close_on_the_drawing(plate_plan: PlatePlan) -> None:
    wanted = {
        "flanges/outer-dia": (239.0, 0.01),
        "flanges/inner-dia": (125.0, 0.01),
        "port/pad-height": (2.0, 0.01),
        "port/lip-bore": (21.0, 0.01),
        "port/lip-end": (1.0, 0.01),
    }
    # a tenth of each tolerance of 0.10
    for key, (value, within) in wanted.items():
        assert plate_plan.figure(key).value == pytest.approx(value, abs=within), key
    for word in ("flanges", "port"):
        assert plate_plan.figure(f"{word}/contraction").value < 0.6
        assert plate_plan.figure(f"{word}/bound").value < 0.01


def test_closed_faces_press_the_same_part_again(plate_plan: PlatePlan) -> None:
    job, flanges = plate_plan.job, plate_plan.flanges
    again = form_flanges("HD-420", job.shape, flanges.setting, job.card)
    assert again.outer_radius == pytest.approx(flanges.closed.last.outer_radius, abs=1e-9)
    # a mesh half as fine moves a radius by 0.005 and an edge by 0.015
    coarse = form_flanges("HD-420", job.shape, replace(flanges.setting, elements=160), job.card)
    assert coarse.outer_radius == pytest.approx(again.outer_radius, abs=0.01)
    assert coarse.inner_radius == pytest.approx(again.inner_radius, abs=0.01)
    assert coarse.outer_edge == pytest.approx(again.outer_edge, abs=0.03)


def test_port_converges_in_elements(plate_plan: PlatePlan) -> None:
    port, job = plate_plan.port, plate_plan.job
    assert port is not None and job.port is not None
    fine = form_port("HD-420", job.port, replace(port.solved.setting, elements=240), 9, job.card)
    last = port.solved.closed.last
    assert fine.pad_height == pytest.approx(last.pad_height, abs=0.005)
    assert fine.bore_radius == pytest.approx(last.bore_radius, abs=0.005)
    assert fine.lip_end == pytest.approx(last.lip_end, abs=0.01)
    assert fine.edge_strain_log == pytest.approx(last.edge_strain_log, abs=0.002)


def test_blank_against_constant_length(plate_plan: PlatePlan) -> None:
    # the drawn-in flange thickens and grows longer than its neutral length, the stretched one thins: both within 1 %
    for word in ("inside", "outside"):
        kernel, length = (plate_plan.figure(f"blank/{word}{w}-dia").value for w in ("", "-by-length"))
        assert kernel < length and kernel == pytest.approx(length, rel=0.01)
    # the demonstration's own table: developed edges 129.283 and 52.717
    inner, outer = plate_plan.job.shape.developed()
    assert (inner, outer) == pytest.approx((52.717, 129.283), abs=5e-4)


def test_neighbours_of_the_demonstration(plate_plan: PlatePlan) -> None:
    port = plate_plan.port
    assert port is not None
    near = port.near
    assert plate_plan.figure("port/field").value == pytest.approx(0.5 * 62.248, abs=5e-4)
    assert near.web == pytest.approx(62.248 - 2.0 * 23.4083, abs=2e-3)
    assert 0.0 < near.shift < near.shift_most
    # common practice has 0.05 to 0.3 for the pitch shift of such a plate
    assert 0.05 < near.shift < 0.3
    assert near.reach_log < 0.002
    assert plate_plan.figure("port/pre-hole-pitch-radius").value == pytest.approx(91.0 + near.shift, abs=1e-9)
    assert "web-narrow" not in {f.topic for f in plate_plan.findings}


def test_press_of_the_demonstration(plate_plan: PlatePlan) -> None:
    # common practice for a plate of 240 with nine pads: 75 t for flattening alone
    assert plate_plan.figure("press-pads/flatten-force").value == pytest.approx(75.0 * 9.81, rel=0.03)
    assert plate_plan.figure("press-pads/tonnage").value < plate_plan.job.card.machines.press.force_max_kN.value
    assert [step.kind for step in plate_plan.walk] == ["cut", "ream", "press", "press", "trim"]
    assert {"edge-made", "pad-flatness", "holder-lifts"} <= {f.topic for f in plate_plan.findings}
    assert not [f for f in plate_plan.findings if f.level == "stop"]
    identities = [f.identity for f in plate_plan.figures]
    assert len(identities) == len(set(identities)) and all(math.isfinite(f.value) for f in plate_plan.figures)


def test_lean_is_told_with_what_a_wider_die_does(plate_plan: PlatePlan) -> None:
    flanges, shape = plate_plan.flanges, plate_plan.job.shape
    assert flanges.wider is not None
    # the control sits in the middle of the straight, 4 from either end
    outer, inner = lean_reach(shape, flanges.closed.last)
    assert outer == pytest.approx(4.0 * math.tan(math.radians(flanges.closed.last.outer_lean_deg)))
    assert outer > 0.1 > inner
    assert max(lean_reach(shape, flanges.wider)) < 0.1
    lean = next(f for f in plate_plan.findings if f.topic == "flange-lean")
    assert "dies of radius 8 leave" in lean.remedy and "without a holder" in lean.remedy


def test_a_plate_is_not_pressed_twice(plate_plan: PlatePlan) -> None:
    assert plan_plate(demo_liner()) is plate_plan


def test_fixed_point_closes_and_bounds() -> None:
    def run(x: np.ndarray) -> tuple[np.ndarray, float]:
        return 3.0 - (x + 0.3 * np.sin(x)), float(x[0])

    closed = close("thing", np.array([3.0]), run, np.array([1.0]), 1e-6, 40)
    exact = 3.0
    for _ in range(200):
        exact = exact + (3.0 - (exact + 0.3 * math.sin(exact)))
    assert abs(closed.values[0] - exact) < 1e-5
    assert 0.0 < closed.ratio < 0.6 and closed.bound_mm >= abs(closed.values[0] - exact)
    assert closed.rounds == len(closed.steps_mm) + 1 and closed.last == pytest.approx(closed.values[0])


def test_fixed_point_that_runs_away_is_refused() -> None:
    with pytest.raises(NotConverged, match="do not close on the drawing"):
        close("thing", np.array([1.0]), lambda x: (3.0 * x - 1.0, None), np.array([1.0]), 1e-6)
    assert proof([], 0.01) == (0.0, 0.01)
    ratio, bound = proof([0.01, 0.02], 0.001)
    assert ratio == 2.0 and bound == 0.02


def test_draw_in_of_a_row_by_its_closed_form() -> None:
    metal = Metal(voce(200.0, 0.0, 1.0), 200e3, 0.3)
    assert stress_at(metal, 5e-4) == pytest.approx(100.0)
    assert stress_at(metal, 0.05) == pytest.approx(200.0, rel=1e-9)
    # elastic bands: N0 (1 - u/f) w = t b E (n u/(pi r))/r-band, linear in u
    n, f, w, t, b, r, pull = 9, 0.2, 40.0, 1.0, 15.0, 60.0, 50.0
    stiff = t * b * 200e3 * n / (math.pi * r)
    exact = pull * w / (stiff + pull * w / f)
    assert draw_in(pull, f, w, t, ((b, r),), n, metal) == pytest.approx(exact, rel=1e-6)
    assert draw_in(pull, f, w, t, (), n, metal) == pytest.approx(f, rel=1e-6)
    assert draw_in(0.0, f, w, t, ((b, r),), n, metal) == 0.0


def with_section(section: Profile) -> EndPlate:
    return replace(end_plate(), section=section)


def test_sections_that_cannot_be_pressed_are_refused() -> None:
    plate = end_plate()
    forward = from_corners([(-12.0, 63.0), (0.0, 63.0), (0.0, 119.0), (12.0, 119.0)], [4.0, 4.0])
    with pytest.raises(GeometryError, match=r"HD-420 section.*both turned aft"):
        plate_shape(with_section(forward))
    with pytest.raises(GeometryError, match="HD-420 section is 4 segments"):
        plate_shape(with_section(Profile(plate.section.segments[:4])))
    sharp = from_corners([(12.0, 63.0), (0.0, 63.0), (0.0, 119.0), (12.0, 119.0)], [1.0, 4.0])
    with pytest.raises(GeometryError, match=r"radius of the inner bend is 1.0 mm.*at least 1.5"):
        plate_shape(with_section(sharp))
    port = drawn_port().section
    with pytest.raises(GeometryError, match="port section"):
        port_shape(port.reversed(), 1.0, "HD-420")
    with pytest.raises(GeometryError, match=r"lip's bend is 2.0 mm.*at least 2.25"):
        port_shape(port, 1.5, "HD-420")


def liner_with(**changes: object) -> Liner:
    return replace(demo_liner(), **changes)  # type: ignore[arg-type]


def test_jobs_that_cannot_be_are_refused() -> None:
    with pytest.raises(InputError, match="end plate"):
        plate_job(liner_with(end_plate=None), Shelf())
    with pytest.raises(InputError, match="ports is 2"):
        plate_job(liner_with(ports=2), Shelf())
    # so many ports that half way to the next there is nothing left to hold
    from hoopwright.plan.plate.port_solve import solve_port

    job = plate_job(liner_with(ports=11), Shelf())
    assert job.port is not None
    with pytest.raises(InputError, match=r"from a port's foot to half way.*fewer or smaller ports"):
        solve_port(job, job.port)


def test_a_plate_without_ports_needs_no_port_tool() -> None:
    job = plate_job(liner_with(ports=0), Shelf())
    assert job.port is None


def test_narrow_web_is_a_finding(plate_plan: PlatePlan) -> None:
    from hoopwright.plan.plate.port_findings import port_findings

    port, job = plate_plan.port, plate_plan.job
    assert port is not None and job.port is not None
    near = replace(port.near, reach_log=0.01, to_flange=-0.5)
    found = {f.topic: f for f in port_findings(job, job.port, port.solved, near) if f is not None}
    assert found["web-narrow"].level == "caution" and "too narrow" in found["web-narrow"].sentence
    assert found["port-in-bend"].level == "stop"


def test_every_figure_can_be_followed(plate_plan: PlatePlan) -> None:
    followed = 0
    for figure in plate_plan.figures:
        assert re.fullmatch(r"HD-420/[a-z0-9/-]+", figure.identity), figure.identity
        found = value_of(figure) if figure.formula else None
        if found is None:
            continue
        followed += 1
        assert found == pytest.approx(figure.value, rel=1e-6, abs=1e-9), figure.identity
    # the others are read off the formed plate, or limits of two kinds
    assert followed > 40
