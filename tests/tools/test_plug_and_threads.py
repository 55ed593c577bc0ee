"""The expanding trim plug and the threads of the tools."""

from __future__ import annotations

import math

import numpy as np
import pytest
from demo_tools import solids, tools

from hoopwright.errors import CardError, GeometryError, InputError
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.segment_retract import Contour
from hoopwright.tools import solids as cad
from hoopwright.tools.small_checks import check_plug
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.threads import COARSE, HOLES, Thread, clearance_hole, largest_thread
from hoopwright.tools.trim_plug import BRIDGE, HALF_ANGLE_RAD, SLIT, SLITS, plug_form
from hoopwright.tools.turned import clipped, closed

RING = "HD-411"


@pytest.mark.parametrize(
    ("nominal", "area"),
    [(8, 36.6), (10, 58.0), (12, 84.3), (16, 157.0), (20, 245.0), (24, 353.0), (30, 561.0), (36, 817.0)],
)
def test_stress_areas(nominal: int, area: float) -> None:
    """Table of stress areas of coarse threads, ISO 898-1 (from memory); printed to three figures."""
    pitch = dict(COARSE)[nominal]
    assert float(f"{Thread(nominal, pitch).stress_area_mm2:.3g}") == area


def test_largest_thread_and_its_hole() -> None:
    assert largest_thread(35.9).designation == "M30" and largest_thread(36.0).designation == "M36"
    with pytest.raises(InputError, match="8 or more"):
        largest_thread(7.9)
    assert all(clearance_hole(nominal) > nominal for nominal in HOLES)
    with pytest.raises(CardError, match="M16"):
        clearance_hole(14)


def test_a_pin_without_room_for_a_stud_is_refused() -> None:
    with pytest.raises(GeometryError, match="pull stud"):
        _ = PinForm("pin", math.radians(7.0), 12.0, 60.0, 60.0, 1e4).section


def test_the_sleeve_is_slit_through_from_both_ends() -> None:
    plug = tools(RING).plug
    body = plug.body()
    # a probe as thin as the slit, at its end nearest the metal that is left: free above it, in metal below
    for k in range(2 * SLITS):
        angle = k * math.pi / SLITS
        inner, outer = plug.bore_mm + plug.height_mm * math.tan(HALF_ANGLE_RAD), plug.contour.end[1]
        for share, free in ((0.25, True), (-0.25, False)):
            end = BRIDGE + share if k % 2 == 0 else plug.height_mm - BRIDGE - share
            z0, z1 = end - 0.1, end + 0.1
            probe = cad.turned(cad.box("probe", (inner + 1.0, -0.4 * SLIT, z0), (outer - 1.0, 0.4 * SLIT, z1)), angle)
            met = cad.overlap(body, probe)
            assert met == pytest.approx(0.0 if free else cad.volume(probe), abs=1e-6)


def test_slits_take_what_straight_strips_between_circles_take() -> None:
    """By hand: strips 2 wide over both slit lengths, bore and outside taken at their exact radii by a fine sum."""
    plug = tools(RING).plug
    u = np.linspace(0.0, plug.height_mm, 40001)
    mid = 0.5 * (u[1:] + u[:-1])
    outer = np.array([_outside(plug, x) for x in mid])
    inner = plug.bore_mm + mid * math.tan(HALF_ANGLE_RAD)
    half = 0.5 * SLIT
    strip = [half * np.sqrt(r * r - half * half) + r * r * np.arcsin(half / r) for r in (outer, inner)]
    slit = (strip[0] - strip[1]) * np.diff(u)
    taken = SLITS * (slit[mid > BRIDGE].sum() + slit[mid < plug.height_mm - BRIDGE].sum())
    # 40000 steps over steps in radius: a step of 5 mm met half a cell off is 1e-5 of what is taken
    assert region(plug.section).revolved_volume - plug.volume_mm3 == pytest.approx(taken, rel=2e-5)


def _outside(plug: object, place: float) -> float:
    from hoopwright.papers.shop.small_tools import radius_at_most

    return radius_at_most(plug, place)  # type: ignore[arg-type]


def test_drawn_in_the_arbor_opens_the_sleeve_by_its_taper() -> None:
    plug = tools(RING).plug
    assert plug.stroke_mm * math.tan(HALF_ANGLE_RAD) == pytest.approx(plug.opening_mm)
    sleeve = cad.revolved("whole sleeve", plug.section)
    deep = cad.overlap(sleeve, plug.arbor(plug.stroke_mm))
    # the arbor would stand in the closed sleeve by the opening, all round the taper bore
    z0, z1 = plug.arbor_section.bounds[0] - plug.stroke_mm, plug.height_mm
    mean = plug.bore_mm + 0.5 * (z0 + z1) * math.tan(HALF_ANGLE_RAD) + 0.5 * plug.opening_mm
    assert deep == pytest.approx(2.0 * math.pi * mean * plug.opening_mm * (z1 - z0), rel=1e-6)


def test_plug_checks_see_a_sleeve_that_cannot_come_up() -> None:
    from dataclasses import replace

    made = tools(RING)
    wide = replace(made.plug, inside=replace(made.plug.inside, radius_mm=made.plug.inside.radius_mm + 0.3))
    bad = [c.name for c in check_plug("plug", wide, made.shelf.room).checks if not c.ok]
    assert bad == ["plug: opened sleeve comes up to the ring"]
    off = replace(made.plug, bore_mm=made.plug.bore_mm + 0.2)
    bad = [c.name for c in check_plug("plug", off, made.shelf.room).checks if not c.ok]
    assert "plug: arbor and sleeve do not cross" in bad
    assert all(c.ok for c in solids(RING, "T").checks)


def test_a_ring_too_small_for_a_plug_is_refused() -> None:
    small = Contour(np.linspace(0.0, 60.0, 7), np.full(7, 22.0))
    with pytest.raises(GeometryError, match="chuck"):
        plug_form("T", small, "plus", 0.03)


def test_clipping_a_section() -> None:
    section = closed(
        "step", [(0.0, 10.0), (0.0, 30.0), (20.0, 30.0), (20.0, 20.0), (50.0, 20.0), (50.0, 10.0)], None, []
    )
    part = clipped(section, 10.0, 30.0)
    assert region(part).area == pytest.approx(10.0 * 20.0 + 10.0 * 10.0)
    assert part.bounds == pytest.approx((10.0, 10.0, 30.0, 30.0))
    with pytest.raises(GeometryError, match="inside the section"):
        clipped(section, 60.0, 70.0)
    with pytest.raises(GeometryError, match="straights"):
        clipped(tools(RING).parts.form.section, 0.0, 5.0)
