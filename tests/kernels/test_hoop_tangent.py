"""The tangent of the hoop kernel against differences of its forces."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.kernels.hoop import Harmonic, Hit, InitialShape, SegmentTool
from hoopwright.kernels.hoop.arrays import Chain, State, Tool, Work, copied
from hoopwright.kernels.hoop.build import build, material_angles, scratch
from hoopwright.kernels.hoop.inputs import Fineness
from hoopwright.kernels.hoop.solve import assemble
from hoopwright.kernels.hoop.symmetry import find_part
from hoopwright.kernels.hoop.walk import tool_figures
from tests.kernels.hoop_cases import END, RADIUS, STRIP, weld_of

TOOL = SegmentTool(8, END - 2.0, 3.0, 0.5, 0.15)


def pressed(shape: InitialShape, welded: bool) -> tuple[Chain, State, State, Tool, Work]:
    """A hoop in the middle of a step: stretched by 1 %, nodes scattered by 0.3 um, most of them on segments."""
    weld, hits, fineness = (weld_of(0.9, 0.4) if welded else None), (Hit(END),), Fineness(edge_mm=2.0, far_mm=6.0)
    part = find_part(TOOL, shape, weld, hits)
    angles = material_angles(STRIP, TOOL, shape, weld, hits, part, fineness)
    chain, old = build(STRIP, shape, weld, part, angles)
    # the height of the axis follows the strain outside the tangent, so it is switched off here
    chain = chain._replace(sheet=np.array([0.0, 0.6, RADIUS]))
    random = np.random.default_rng(5)
    old.x[:] *= 1.0099
    tool = Tool(tool_figures(TOOL, -part.turn_rad), np.full(8, 1.2), 300.0, 3.0)
    work = scratch(chain)
    first = copied(old)
    assemble(chain, tool, old, first, np.zeros_like(old.x), old.x, 0.0, work)
    now = copied(first)
    now.x[:] += random.normal(scale=3e-4, size=now.x.shape)
    if not part.closed:
        now.x[0, 1] = 0.0
        ray = np.array([np.cos(part.span_rad), np.sin(part.span_rad)])
        now.x[-1] = (now.x[-1] @ ray) * ray
    return chain, first, now, tool, work


def residual(chain: Chain, old: State, now: State, tool: Tool, work: Work) -> np.ndarray:
    assemble(chain, tool, old, now, np.zeros_like(old.x), old.x, 0.01, work)
    return -work.right.copy()


@pytest.mark.parametrize(
    ("shape", "welded"), [(InitialShape(RADIUS, (Harmonic(3, 0.2, 0.1),)), True), (InitialShape(RADIUS), False)]
)
def test_tangent_is_the_slope_of_the_forces(shape: InitialShape, welded: bool) -> None:
    chain, old, now, tool, work = pressed(shape, welded)
    residual(chain, old, now, tool, work)
    assert 8 <= np.sum(now.segment >= 0) < now.segment.size or not welded
    n, reach = chain.half.size, chain.reach
    dense = np.zeros((2 * n, 2 * n))
    for i in range(2 * n):
        for j in range(max(0, i - reach), min(2 * n, i + reach + 1)):
            dense[i, j] = work.band[i, j - i + reach]
    move, largest = 1e-7, float(np.abs(dense).max())
    inner = range(1, n - 1) if not chain.closed else range(n)
    for i in inner:
        for a in range(2):
            sides = []
            for sign in (1.0, -1.0):
                moved = copied(now)
                moved.x[i, a] += sign * move
                sides.append(residual(chain, old, moved, tool, work))
            slope = (sides[0] - sides[1]) / (2.0 * move)
            assert np.max(np.abs(slope - dense[:, 2 * chain.place[i] + a])) < 2e-5 * largest
