"""Hatching is real lines that stay inside, evenly spaced, whatever the region."""

from __future__ import annotations

import math

import pytest
from handmade import THICKNESS_MM, section
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from hoopwright.errors import InputError
from hoopwright.papers.drawing.hatching import chain_points, hatch_lines
from hoopwright.papers.drawing.items import circle, rectangle
from hoopwright.papers.pictures.sheet_metal import sheet_outline


def covered(loops: list, angle: float, spacing: float) -> float:
    """Area that the lines stand for."""
    return spacing * math.fsum(line.length for line in hatch_lines(loops, angle, spacing, 1e-4))


@given(st.floats(-90.0, 90.0), st.floats(0.02, 0.1))
def test_lines_stand_for_the_area(angle: float, spacing: float) -> None:
    """Midpoint rule over a disc: the error falls with the spacing; 1 % at a tenth of the radius."""
    assert covered([circle((3.0, 4.0), 1.0)], angle, spacing) == pytest.approx(math.pi, rel=0.02)


def test_a_hole_stays_free() -> None:
    loops = [rectangle(0.0, 0.0, 10.0, 10.0), circle((5.0, 5.0), 2.0)]
    assert covered(loops, 45.0, 0.05) == pytest.approx(100.0 - 4.0 * math.pi, rel=1e-3)


def test_lines_stay_inside_a_thin_sheet() -> None:
    outline = sheet_outline(section(), THICKNESS_MM)
    region = Polygon(chain_points(outline, 1e-4)).buffer(1e-3)
    lines = hatch_lines([outline], 45.0, 0.7, 1e-4)
    assert len(lines) > 40
    assert all(region.contains(LineString([line.start, line.end])) for line in lines)


def test_neighbours_run_on() -> None:
    left = {round(s.start[1] - s.start[0], 6) for s in hatch_lines([rectangle(0.0, 0.0, 5.0, 5.0)], 45.0, 1.0)}
    right = {round(s.start[1] - s.start[0], 6) for s in hatch_lines([rectangle(5.0, 0.0, 9.0, 5.0)], 45.0, 1.0)}
    step = math.sqrt(2.0)
    assert all(abs(v / step - round(v / step)) < 1e-6 for v in left | right)


@pytest.mark.parametrize("spacing", [0.0, -1.0, math.nan])
def test_spacing_is_refused(spacing: float) -> None:
    with pytest.raises(InputError, match="spacing"):
        hatch_lines([rectangle(0.0, 0.0, 1.0, 1.0)], 0.0, spacing)
