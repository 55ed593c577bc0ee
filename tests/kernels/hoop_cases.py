"""The hoop of the method paper, shared by the tests of the hoop kernel: R0 137, t 1.2, K 1400, n 0.35, e0 0.012."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.flow import swift
from hoopwright.kernels.hoop import (
    Fineness,
    Harmonic,
    Hit,
    HoopResult,
    HoopSection,
    InitialShape,
    SegmentTool,
    Weld,
    flat_section,
    size_hoop,
)
from hoopwright.kernels.metal import Metal

RADIUS, THICKNESS, YOUNG = 137.0, 1.2, 205000.0
LAW = swift(1400.0, 0.012, 0.35)
METAL = Metal(LAW, YOUNG, 0.3)
STRIP = flat_section(THICKNESS, 1.0, METAL)
ROUND = InitialShape(RADIUS)
END = 139.17355
"""Segment middles at the end: the axis is then stretched by ln(R/R0) = 0.02 there."""


def position(strain: float) -> float:
    """Radius of the segment middles that stretches the axis of the strip by a log strain."""
    return RADIUS * math.exp(strain) - 0.5 * THICKNESS * math.exp(-0.5 * strain)


def weld_of(share: float, angle: float, width: float = 2.0) -> Weld:
    """Weld whose strength is a share of the parent's."""
    return Weld(width, angle, Metal(swift(1400.0 * share, 0.012, 0.35), YOUNG, 0.3))


def sized(
    count: int = 8,
    friction: float = 0.15,
    standing: float = 2.0,
    slot: float = 1.0,
    edge: float = 0.5,
    shape: InitialShape = ROUND,
    weld: Weld | None = None,
    section: HoopSection = STRIP,
    end: float = END,
    hits: tuple[Hit, ...] = (),
    fineness: Fineness | None = None,
    errors: tuple[float, ...] = (),
) -> HoopResult:
    """One run; without arguments the paper's S1."""
    tool = SegmentTool(count, end - standing, slot, edge, friction, errors)
    return size_hoop(section, shape, tool, hits or (Hit(end),), weld, fineness)


def random_ring(seed: int, number: int) -> HoopResult:
    """A full ring with seam and out-of-round: N 6 to 16, friction 0 to 0.2, standing -2 to 2, slot 0.5 to 6 (as wide as
    it must be to stay open), 0 to 3 mm of wave 2 to 4, weld 0.9 to 1.1, stretch 0.5 to 3 %."""
    draw = np.random.default_rng([seed, number])
    count, standing = int(draw.integers(6, 17)), draw.uniform(-2.0, 2.0)
    wave = Harmonic(int(draw.integers(2, 5)), draw.uniform(0.0, 3.0), draw.uniform(0.0, 2.0 * math.pi))
    return sized(
        count=count,
        friction=draw.uniform(0.0, 0.2),
        standing=standing,
        slot=max(draw.uniform(0.5, 6.0), 0.2 - 2.0 * standing * math.sin(math.pi / count)),
        shape=InitialShape(RADIUS, (wave,)),
        weld=weld_of(draw.uniform(0.9, 1.1), draw.uniform(0.0, 2.0 * math.pi)),
        end=position(draw.uniform(0.005, 0.03)),
    )
