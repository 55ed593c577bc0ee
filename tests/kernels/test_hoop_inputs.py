"""What the hoop kernel refuses, by name and with a remedy; ends of range."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.flow import swift
from hoopwright.kernels.hoop import (
    FibreState,
    Fineness,
    Harmonic,
    Hit,
    HoopSection,
    InitialShape,
    SegmentTool,
    Weld,
    flat_section,
    size_hoop,
)
from hoopwright.kernels.metal import Metal

METAL = Metal(swift(1400.0, 0.012, 0.35), 205000.0, 0.3)
STRIP = flat_section(1.2, 40.0, METAL, layers=3)
TOOL = SegmentTool(8, 137.0, 2.0, 0.5, 0.1)
ROUND = InitialShape(137.0)
HIT = Hit(138.0)


def weld(width_mm: float, **rest: object) -> Weld:
    return Weld(width_mm, 0.3, METAL, **rest)  # type: ignore[arg-type]


ONE_FIBRE = FibreState((1.0,), (0.0,), (0.0,))

Refusal = tuple[Callable[[], object], str]
NAN = math.nan
REFUSED: list[Refusal] = [
    (lambda: replace(TOOL, count=2), "count of segments"),
    (lambda: replace(TOOL, count=8.5), "count of segments"),
    (lambda: replace(TOOL, slot_mm=54.0), "slot width"),
    (lambda: replace(TOOL, slot_mm=-1.0), "slot width"),
    (lambda: replace(TOOL, edge_radius_mm=60.0), "edge radius"),
    (lambda: replace(TOOL, edge_radius_mm=0.0), "edge radius"),
    (lambda: replace(TOOL, friction=-0.1), "friction"),
    (lambda: replace(TOOL, friction=NAN), "friction"),
    (lambda: replace(TOOL, radial_errors_mm=(0.1, 0.2)), "radial error"),
    (lambda: replace(TOOL, turned_radius_mm=-137.0), "turned radius"),
    (lambda: Hit(NAN), "position of the segments"),
    (lambda: Hit(138.0, math.inf), "index angle"),
    (lambda: InitialShape(0.0), "radius of the hoop"),
    (lambda: InitialShape(137.0, (Harmonic(2, 12.0),)), "departure from round"),
    (lambda: Harmonic(1, 0.5), "order of a shape wave"),
    (lambda: Harmonic(3, NAN), "amplitude of a shape wave"),
    (lambda: Weld(0.0, 0.0, METAL), "weld width"),
    (lambda: Fineness(steps=0), "steps"),
    (lambda: Fineness(edge_mm=-1.0), "edge length at the slots"),
    (lambda: flat_section(1.2, 40.0, METAL, layers=1), "layers"),
    (lambda: flat_section(-1.2, 40.0, METAL), "thickness"),
    (lambda: HoopSection((0.0, 0.1), (1.0,), METAL, 1.0, 0.5, 1.0), "fibre area"),
    (lambda: HoopSection((0.0, 0.0), (1.0, 1.0), METAL, 1.0, 0.5, 1.0), "fibre offsets"),
    (lambda: HoopSection((0.0, 0.1), (1.0, -1.0), METAL, 1.0, 0.5, 1.0), r"fibre area\[1\]"),
    (lambda: FibreState((0.0,), (-0.01,), (0.0,)), r"plastic strain\[0\]"),
    (lambda: replace(STRIP, state=FibreState((900.0, 0.0, 0.0), (0.0,) * 3, (0.0,) * 3)), r"residual stress\[0\]"),
    (lambda: replace(STRIP, state=ONE_FIBRE), "residual stress"),
    (lambda: size_hoop(STRIP, ROUND, TOOL, []), "hits"),
    (lambda: size_hoop(STRIP, ROUND, TOOL, [Hit(136.3)]), r"hits\[0\].position"),
    (lambda: size_hoop(STRIP, ROUND, replace(TOOL, turned_radius_mm=141.0), [HIT]), r"hits\[0\].position"),
    (lambda: size_hoop(STRIP, ROUND, TOOL, [HIT, Hit(137.3)]), r"hits\[1\].position"),
    (lambda: size_hoop(STRIP, ROUND, replace(TOOL, turned_radius_mm=500.0, slot_mm=1.0), [Hit(500.0)]), r"hits\[0\]"),
    (lambda: size_hoop(STRIP, ROUND, TOOL, [HIT], weld(110.0)), "weld width"),
    (lambda: size_hoop(STRIP, ROUND, TOOL, [HIT], weld(2.0, state=ONE_FIBRE)), "state of the weld"),
    (lambda: size_hoop(STRIP, InitialShape(0.7), TOOL, [HIT]), "radius of the hoop"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "named"), REFUSED, ids=[f"{i}-{named}" for i, (_, named) in enumerate(REFUSED)])
def test_refused_by_name_with_a_remedy(make: Callable[[], object], named: str) -> None:
    with pytest.raises(InputError, match=f"^{named}.*Do: ."):
        make()


def test_a_negative_stretch_is_told_in_percent() -> None:
    with pytest.raises(InputError, match=r"the stretch is negative \(-0\.07\d %\).*stretched but not shrunk"):
        size_hoop(STRIP, ROUND, TOOL, [Hit(136.3)])


def test_a_hoop_beyond_the_flow_curve_is_refused() -> None:
    short = replace(METAL, flow=swift(1400.0, 0.012, 0.35, strain_max=0.005))
    with pytest.raises(InputError, match="within the flow curve"):
        size_hoop(flat_section(1.2, 40.0, short), ROUND, TOOL, [HIT])


def test_a_necking_weld_stops_the_run_and_says_so() -> None:
    soft = Weld(2.0, 0.0, Metal(swift(600.0, 0.012, 0.35), 205000.0, 0.3))
    with pytest.raises(NotConverged, match=r"the weld necks at .* % of the way.*Do: stretch less") as caught:
        size_hoop(STRIP, ROUND, replace(TOOL, slot_mm=3.0), [Hit(139.2)], soft)
    assert caught.value.last_state.x.shape[1] == 2


def test_section_figures() -> None:
    strip = flat_section(1.2, 40.0, METAL, layers=7)
    assert strip.area_mm2 == pytest.approx(48.0, rel=1e-12)
    assert strip.bending_mm4 == pytest.approx(40.0 * 1.2**3 / 12.0, rel=1e-12)
    assert strip.axis_height_mm == pytest.approx(0.6)
    assert strip.fibre_state() == FibreState((0.0,) * 7, (0.0,) * 7, (0.0,) * 7)
