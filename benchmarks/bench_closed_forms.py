"""Closed forms that a plan calls for every ring, warm."""

from __future__ import annotations

import math

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.kernels.cone_development import fit_blank, fit_blank_with_narrowing
from hoopwright.kernels.corner_bend import BendSheet, corner_for
from hoopwright.kernels.flow import swift
from hoopwright.kernels.sector_nest import nest_sectors
from hoopwright.kernels.sector_shape import Sector
from hoopwright.kernels.segment_retract import Contour, SegmentForm, leading_end
from hoopwright.kernels.strip_nest import SheetPlate

S = np.linspace(0.0, 60.0, 241)
R = 115.0 + 0.15 * S + 1.5 * np.sin(S / 8.0)


def test_arc_blank(benchmark: BenchmarkFixture) -> None:
    assert benchmark(fit_blank, S, R, 0.015).spread_log > 0.0


def test_arc_blank_with_narrowing(benchmark: BenchmarkFixture) -> None:
    assert benchmark(fit_blank_with_narrowing, S, R, 0.015).spread_log > 0.0


def test_travel_and_better_end(benchmark: BenchmarkFixture) -> None:
    segments, form = Contour(S, R), SegmentForm(8, 4.6, 1.0)
    found = benchmark(leading_end, segments, Contour(S, R - 2.0), Contour(S, R - 0.4), form, 0.5)
    assert found.better.travel_mm > 0.0


def test_corner(benchmark: BenchmarkFixture) -> None:
    sheet = BendSheet(swift(1630.0, 0.020, 0.385), 205000.0, 0.32, 0.8)
    assert benchmark(corner_for, sheet, 3.0, 0.5).loaded_radius_mm < 3.0


def test_sector_nest(benchmark: BenchmarkFixture) -> None:
    sheet = SheetPlate(2438.0, 1219.0, 10.0, 3.0)
    assert benchmark(nest_sectors, sheet, Sector(597.0, 538.0, math.radians(74.2), 25.0)).count > 0
