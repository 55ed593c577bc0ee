"""Elastic plates on the section kernel against handbook figures (see SOURCE.md)."""

import numpy as np
import pytest

from hoopwright.kernels.flow import swift
from hoopwright.kernels.section import Lead, Metal, Schedule, Step, Support, clamp, mesh_line, run
from hoopwright.kernels.section.mesh import split_gauss


def elastic(young, nu):
    """A metal that does not yield."""
    return Metal(swift(1e4 * young, 1.0, 0.2), young, nu)


def moments(section):
    """Bending moments per width along and across, by element. [N mm/mm]"""
    weight = split_gauss(section.share.size // 2)[1]
    lever = section.share * weight
    thick = section.thickness_start_mm**2
    return (section.layers[:, :, 0] @ lever) * thick, (section.layers[:, :, 1] @ lever) * thick


def deflected(supports, deflections, radius=200.0, thick=1.0, elements=60):
    """Load parameter q a^4/(E h^4) at given centre deflections over the thickness; a/h = 200 keeps slopes small."""
    steps, last = [], 0.0
    for w in deflections:
        lead = Lead(Support(0, "x", -(w - last) * thick), per_unit_MPa=1e-4)
        steps.append(Step(f"w {w}", supports=supports, lead=lead, increments=4))
        last = w
    result = run(mesh_line((0.0, 0.0), (0.0, radius), thick, elements), Schedule(tuple(steps)), elastic(200e3, 0.3))
    pressure = 1e-4 * np.cumsum([end.load for end in result.steps])
    return pressure * radius**4 / (200e3 * thick**4), result


def test_clamped_disc_large_deflection():
    load, _ = deflected(clamp(-1), (0.5, 1.0, 1.5, 2.0, 3.0))
    assert load == pytest.approx([3.333, 9.146, 20.18, 39.43, 114.5], rel=0.005)


def test_supported_disc_large_deflection():
    load, _ = deflected((Support(-1, "x"), Support(-1, "y")), (0.5, 1.0, 1.5, 2.0, 3.0))
    assert load == pytest.approx([1.067, 4.365, 12.57, 28.62, 95.5], rel=0.005)


def test_membrane_limit():
    # deflection twenty times the thickness, slope below 0.1: bending carries next to nothing of a supported edge
    load, result = deflected((Support(-1, "x"), Support(-1, "y")), (5.0, 20.0), radius=500.0)
    pressure = load[-1] * 200e3 / 500.0**4
    deflection = 0.653 * 500.0 * (pressure * 500.0 / 200e3) ** (1.0 / 3.0)
    assert deflection == pytest.approx(20.0, rel=0.005)
    stress = result.section.layers[0].mean(axis=0)[:2]
    unit = (200e3 * pressure**2 * 500.0**2) ** (1.0 / 3.0)
    assert stress == pytest.approx([0.431 * unit] * 2, rel=0.01)


def test_supported_disc_in_inches():
    # t 0.2, diameter 20, q 3 psi, E 30e6, nu 0.285; a thousandth of the pressure stays in the linear range
    step = Step("press", supports=(Support(-1, "x"),), pressure_MPa=3e-3, increments=1)
    section = run(mesh_line((0.0, 0.0), (0.0, 10.0), 0.2, 60), Schedule((step,)), elastic(30e6, 0.285)).section
    along, across = moments(section)
    assert -1e3 * section.x_mm[0] == pytest.approx(0.0886, rel=0.003)
    assert 1e3 * abs(along[0]) == pytest.approx(61.6, rel=0.003)
    assert 1e3 * abs(across[0]) * 6.0 / 0.2**2 == pytest.approx(9240.0, rel=0.003)


RATIOS = (1.25, 1.5, 2.0, 3.0, 4.0, 5.0)
ANNULI = {
    1: ((1.10, 1.24, 1.48, 1.87, 2.17, 2.42), (0.341, 0.519, 0.672, 0.734, 0.724, 0.704)),
    2: ((0.66, 1.19, 2.05, 3.34, 4.31, 5.09), (0.202, 0.491, 0.902, 1.225, 1.302, 1.309)),
    3: ((0.194, 0.320, 0.454, 0.673, 1.021, 1.305), (0.0050, 0.0241, 0.0810, 0.172, 0.217, 0.238)),
    4: ((0.114, 0.220, 0.405, 0.703, 0.935, 1.124), (0.0013, 0.0064, 0.0238, 0.0620, 0.0923, 0.1148)),
}


@pytest.mark.parametrize("case", ANNULI)
@pytest.mark.parametrize("number", range(6))
def test_annular_plates(case, number):
    outer, young = 200.0, 200e3
    held = {
        1: (Support(-1, "x"),),
        2: (Support(0, "x"),),
        3: (Support(-1, "x"), Support(-1, "angle")),
        4: (Support(-1, "x"), Support(-1, "angle"), Support(0, "angle")),
    }[case]
    load = {"pressure_MPa": 1e-8} if case == 2 else {"loads": ((0, "x", 1e-3),)}
    step = Step("load", supports=held, increments=1, **load)
    section = mesh_line((0.0, outer / RATIOS[number]), (0.0, outer), 1.0, 80)
    section = run(section, Schedule((step,)), elastic(young, 0.3)).section
    # element figures stand at element middles; the edges are reached in a straight line
    edges = [m[0] + 0.5 * (m[0] - m[1]) for m in moments(section)]
    edges += [m[-1] + 0.5 * (m[-1] - m[-2]) for m in moments(section)]
    stress = 6.0 * max(abs(m) for m in edges)
    drop = float(np.ptp(section.x_mm))
    if case == 2:
        found = stress / (1e-8 * outer**2), drop * young / (1e-8 * outer**4)
    else:
        found = stress / 1e-3, drop * young / (1e-3 * outer**2)
    printed = ANNULI[case][0][number], ANNULI[case][1][number]
    # 1 %, or half the last printed digit where that is more
    assert found[0] == pytest.approx(printed[0], rel=0.01, abs=0.0005 if printed[0] < 1.0 else 0.005)
    assert found[1] == pytest.approx(printed[1], rel=0.01, abs=0.00006)
