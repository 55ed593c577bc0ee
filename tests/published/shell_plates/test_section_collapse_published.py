"""Plastic collapse of plates on the section kernel (see SOURCE.md). Perfect plasticity, von Mises, small deflection.

Young's modulus is raised a thousandfold so that collapse comes before the disc stretches, as the sources assume.
"""

import numpy as np
import pytest

from hoopwright.kernels.flow import voce
from hoopwright.kernels.section import Lead, Metal, Schedule, Step, Support, mesh_line, run

YIELD, RADIUS = 16000.0, 10.0
MOMENT = YIELD / 4.0


def pressure_path(supports, travel, increments, elements=40, points=10):
    metal = Metal(voce(YIELD, 0.0, 1.0), 1e10, 0.24)
    step = Step(
        "press", supports=supports, lead=Lead(Support(0, "x", -travel), per_unit_MPa=100.0), increments=increments
    )
    disc = mesh_line((0.0, 0.0), (0.0, RADIUS), 1.0, elements, points_per_half=points)
    return 100.0 * run(disc, Schedule((step,)), metal).history.load


def test_supported_disc_collapses_at_the_printed_load():
    load = pressure_path((Support(-1, "x"),), 0.003, 60)[-1]
    assert load * RADIUS**2 / MOMENT == pytest.approx(6.52, rel=0.005)
    assert load == pytest.approx(260.8, rel=0.005)


def test_supported_disc_follows_the_printed_path():
    load = pressure_path((Support(-1, "x"),), 1.353e-3, 100)
    deflection = 1.353 * np.arange(1, 101) / 100.0
    found = np.interp([0.542, 0.774, 0.926, 1.353], deflection, load)
    assert found == pytest.approx([249.6, 256.3, 258.9, 259.4], rel=0.03)


def test_clamped_disc_collapse():
    # the hinge at the edge is one element wide, which costs 2.3 % at 40 elements and half of that at 80
    edge = (Support(-1, "x"), Support(-1, "angle"))
    coarse, fine = (pressure_path(edge, 0.003, 30, n)[-1] * RADIUS**2 / MOMENT for n in (40, 80))
    assert coarse - fine > 0.0
    assert 2.0 * fine - coarse == pytest.approx(12.5, rel=0.01)
