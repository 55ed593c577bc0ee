"""Strip to ring, section 5 of our own method paper on segmented sizing (our figures, not published): worked case,
ranked table of neglected effects, bend history B1.

Metal of the paper: s = 1400 (0.012 + p)^0.35 MPa, E 205 000 MPa, nu 0.3. Strip 1.2 mm, final mean diameter 280 mm,
stretch 0.02 from closed hoop to tool, weld shrinkage 0.25 mm, bent to 91 mm.
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.kernels.chain import StripRing, StripRoute, strip_ring, strip_ring_at, strip_ring_for
from hoopwright.kernels.flow import swift
from hoopwright.kernels.layers import Layers, bent, flat_strip, released
from hoopwright.kernels.metal import Metal


def metal(strength: float = 1400.0, offset: float = 0.012, exponent: float = 0.35, e: float = 205_000.0) -> Metal:
    return Metal(swift(strength, offset, exponent), e, 0.3)


METAL = metal()
ROUTE = StripRoute(thickness_mm=1.2, bend_radius_mm=91.0, weld_shrinkage_mm=0.25)
FREE = replace(ROUTE, across="free")
DESIGN = strip_ring_for(ROUTE, METAL, 280.0, stretch_log=0.02)
DESIGN_FREE = strip_ring_for(FREE, METAL, 280.0, stretch_log=0.02)


# (figure, printed, tolerance). Half the last printed digit, but for:
#   moments and natural radius: the paper's moment has no lever 1/(1 + y k) and its steps are not stated; 40 steps
#   and 41 layers stand 0.01 % from the limit of both (the paper allows 0.01 %).
#   tool radius, R_e, Rh, cut length: 0.00005 of steps on top of the last digit's half.
WORKED = [
    ("natural_radius_mm", 144.305, 0.0001 * 144.305),
    ("bend_moment_N", 131.60, 0.0001 * 131.60),
    ("closing_moment_N", 11.10, 0.005),
    ("bend_plastic_strain", 0.00212, 0.000005),
    ("closed_radius_mm", 137.5092, 0.0001),
    ("loaded_radius_mm", 140.28709, 0.00006),
    ("stress_MPa", 419.96, 0.015),
    ("nominal_tension_N_per_mm", 503.95, 0.015),
    ("tool_radius_mm", 139.69284, 0.00006),
    ("released_diameter_mm", 280.0, 0.00005),
    ("cut_length_mm", 864.248, 0.0005),
    ("springback_diameter_mm", 0.5742, 0.00005),
]


@pytest.mark.parametrize(("name", "printed", "tolerance"), WORKED)
def test_worked_case(name: str, printed: float, tolerance: float) -> None:
    assert getattr(DESIGN, name) == pytest.approx(printed, abs=tolerance)


def test_worked_case_thickness() -> None:
    assert DESIGN.on_tool.thickness_now_mm == pytest.approx(1.18850, abs=1.5e-5)
    assert DESIGN.off_tool.thickness_now_mm == pytest.approx(1.18923, abs=1.5e-5)


def test_worked_case_with_uniaxial_layers() -> None:
    assert DESIGN_FREE.natural_radius_mm == pytest.approx(140.080, abs=0.001)


def test_finer_steps_and_layers_say_what_is_left() -> None:
    """Natural radius tends to 144.29, not to the printed 144.305: 0.01 % of layers and steps, as the paper says."""
    fine = released(bent(flat_strip(1.2, 321), METAL, 91.0, steps=320), METAL)
    assert fine.radius_mm == pytest.approx(144.305, rel=1.5e-4)
    assert fine.radius_mm == pytest.approx(144.291, abs=0.003)


def fixed_tool(route: StripRoute, m: Metal, cut: float | None = None, tool: float | None = None) -> float:
    """Error of the final diameter where the tool goes to a fixed radius."""
    length = DESIGN.cut_length_mm if cut is None else cut
    return strip_ring(route, m, length, DESIGN.tool_radius_mm if tool is None else tool).released_diameter_mm - 280.0


def fixed_stretch(route: StripRoute, m: Metal, cut: float | None = None) -> float:
    """The same where the incoming ring is stretched by a fixed 2 % (log 0.02)."""
    length = DESIGN.cut_length_mm if cut is None else cut
    closed = strip_ring(route, m, length, DESIGN.tool_radius_mm).closed_radius_mm
    return strip_ring_at(route, m, closed, closed * math.exp(0.02)).released_diameter_mm - 280.0


def neglected(design: StripRing) -> tuple[float, float]:
    """True chain run on a tool and a strip designed by a poorer one."""
    return (
        fixed_tool(ROUTE, METAL, None, design.tool_radius_mm),
        fixed_stretch(ROUTE, METAL, design.cut_length_mm),
    )


def row_1() -> tuple[float, float]:
    """Springback neglected: the loaded ring itself has the final size, its incoming ring 2 % less."""
    miss = strip_ring_at(ROUTE, METAL, 140.0 * math.exp(-0.02), 140.0).released_diameter_mm - 280.0
    return miss, miss


def row_3() -> float:
    """Segments standing d = 2 past machined, N = 8, "across segment middles" used: hull R_m + d (N/pi) sin(pi/N)."""
    n, d = 8, 2.0
    hull = DESIGN.tool_radius_mm - d + d * n / math.pi * math.sin(math.pi / n)
    return fixed_tool(ROUTE, METAL, None, hull)


def row_10() -> tuple[float, float]:
    """Bend hardening neglected in the design."""
    flat = strip_ring_for(replace(ROUTE, bend_radius_mm=None), METAL, 280.0, stretch_log=0.02)
    loaded = flat.loaded_radius_mm
    at_stretch = strip_ring_at(ROUTE, METAL, loaded * math.exp(-0.02), loaded).released_diameter_mm - 280.0
    return fixed_tool(ROUTE, METAL, None, flat.tool_radius_mm), at_stretch


def row_12() -> tuple[float, float]:
    """Weld shrinkage neglected: the strip is cut 0.25 too short."""
    short = strip_ring_for(replace(ROUTE, weld_shrinkage_mm=0.0), METAL, 280.0, stretch_log=0.02).cut_length_mm
    return fixed_tool(ROUTE, METAL, short), fixed_stretch(ROUTE, METAL, short)


def both(route: StripRoute, m: Metal, cut: float | None = None) -> tuple[float, float]:
    return fixed_tool(route, m, cut), fixed_stretch(route, m, cut)


# printed pairs (fixed tool, fixed stretch); tolerance 0.002 mm, that of the paper for diameters
RANKED = {
    "1 springback neglected": (row_1, (-0.573, -0.573)),
    "2 n 0.30": (lambda: both(ROUTE, metal(exponent=0.30)), (-0.103, -0.103)),
    "4 K + 10 %": (lambda: both(ROUTE, metal(strength=1540.0)), (-0.055, -0.055)),
    "4 K + 5 %": (lambda: both(ROUTE, metal(strength=1470.0)), (-0.028, -0.028)),
    "5 e0 0.004": (lambda: both(ROUTE, metal(offset=0.004)), (0.051, 0.051)),
    "6 E 8 % lower throughout": (lambda: both(ROUTE, metal(e=0.92 * 205_000.0)), (-0.048, -0.048)),
    "6 E 8 % lower on release": (lambda: both(replace(ROUTE, release_modulus_MPa=188_600.0), METAL), (-0.048, -0.048)),
    "7 thickness + 0.02": (lambda: both(replace(ROUTE, thickness_mm=1.22), METAL), (0.019, -0.0004)),
    "9 width held": (lambda: both(replace(ROUTE, sizing_across="held"), METAL), (-0.016, -0.005)),
    "10 bend hardening neglected": (row_10, (-0.013, -0.014)),
    "12 weld shrinkage neglected": (row_12, (-0.0019, -0.081)),
    "13 strip 0.3 long": (lambda: both(ROUTE, METAL, DESIGN.cut_length_mm + 0.3), (0.0023, 0.097)),
}


@pytest.mark.parametrize("row", RANKED)
def test_ranked_table(row: str) -> None:
    run, printed = RANKED[row]
    assert run() == pytest.approx(printed, abs=0.002)


def test_ranked_row_3_by_the_hull() -> None:
    assert row_3() == pytest.approx(-0.099, abs=0.002)


def test_ranked_row_8_kinematic_hardening() -> None:
    """Both on uniaxial layers, as the paper's row is."""
    kinematic = replace(METAL, kinematic_share=1.0)
    tool = fixed_tool(FREE, kinematic, DESIGN_FREE.cut_length_mm, DESIGN_FREE.tool_radius_mm)
    stretch = fixed_stretch(FREE, kinematic, DESIGN_FREE.cut_length_mm)
    assert (tool, stretch) == pytest.approx((0.022, 0.022), abs=0.002)


def test_ranked_row_11_thinning_neglected_in_the_tool() -> None:
    assert fixed_tool(ROUTE, METAL, None, DESIGN.loaded_radius_mm - 0.6) == pytest.approx(-0.011, abs=0.002)


def test_ranked_row_15_uniaxial_layers() -> None:
    tool = fixed_tool(ROUTE, METAL, DESIGN_FREE.cut_length_mm, DESIGN_FREE.tool_radius_mm)
    loaded = DESIGN_FREE.loaded_radius_mm
    stretch = strip_ring_at(ROUTE, METAL, loaded * math.exp(-0.02), loaded).released_diameter_mm - 280.0
    assert (tool, stretch) == pytest.approx((-0.0013, -0.0013), abs=0.0005)


@pytest.mark.parametrize(("share", "printed"), [(0.0, 140.0000), (1.0, 140.0104)])
def test_b1_bend_history(share: float, printed: float) -> None:
    """Bent to 91, closed to 137.50922, stretched to 140.28646; uniaxial, 11 Gauss layers."""
    nodes, weights = np.polynomial.legendre.leggauss(11)
    route = replace(FREE, layers=Layers(0.5 * nodes, 0.5 * weights))
    ring = strip_ring_at(route, replace(METAL, kinematic_share=share), 137.50922, 140.28646)
    # half a printed digit and 0.0001, the agreement the paper claims
    assert ring.released_radius_mm == pytest.approx(printed, abs=0.00015)


def test_21_layers_do_for_the_radius() -> None:
    few = strip_ring(replace(ROUTE, layers=21), METAL, DESIGN.cut_length_mm, DESIGN.tool_radius_mm)
    assert few.released_radius_mm == pytest.approx(140.0, abs=2e-5)
