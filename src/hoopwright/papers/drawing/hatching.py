"""Section lining as real lines, clipped to the region: every back end draws them alike, pattern fills it does not."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import require_positive
from hoopwright.kernels.profile import Point, Segment, line
from hoopwright.papers.drawing.items import Chain

Array = NDArray[np.float64]


def chain_points(chain: Chain, chord_error_mm: float) -> list[Point]:
    """Points along a chain whose chords leave an arc by at most `chord_error_mm`."""
    points: list[Point] = [chain[0].start]
    for segment in chain:
        count = 1
        if segment.is_arc:
            share = min(1.0, chord_error_mm / segment.radius)
            count = max(2, math.ceil(abs(segment.sweep) / (2.0 * math.acos(1.0 - share))))
        points += [segment.point_at(segment.length * k / count) for k in range(1, count)]
        points.append(segment.end)
    return points


def hatch_lines(
    loops: Sequence[Chain], angle_deg: float, spacing: float, chord_error: float = 0.01
) -> tuple[Segment, ...]:
    """Parallel lines inside closed loops (even-odd rule), `spacing` apart, all in the unit of the loops.

    The lines stand on a grid through the origin, so that the lining of neighbouring regions runs on.
    """
    require_positive("hatch spacing", spacing, "mm")
    edges = _edges([chain_points(loop, chord_error) for loop in loops], -math.radians(angle_deg))
    low, high = float(min(edges[:, 1].min(), edges[:, 3].min())), float(max(edges[:, 1].max(), edges[:, 3].max()))
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    lines = []
    for number in range(math.ceil(low / spacing), math.floor(high / spacing) + 1):
        level = number * spacing
        xs = _crossings(edges, level)
        for a, b in zip(xs[0::2], xs[1::2], strict=False):
            if b - a > 1e-6 * spacing:
                start = (a * cosine - level * sine, a * sine + level * cosine)
                lines.append(line(start, (b * cosine - level * sine, b * sine + level * cosine)))
    return tuple(lines)


def _edges(polygons: list[list[Point]], turn: float) -> Array:
    """Edges (x0, y0, x1, y1) of the polygons, turned so that the hatch lines are level."""
    cosine, sine = math.cos(turn), math.sin(turn)
    rows = []
    for points in polygons:
        table = np.array(points, dtype=np.float64)
        x, y = table[:, 0] * cosine - table[:, 1] * sine, table[:, 0] * sine + table[:, 1] * cosine
        rows.append(np.column_stack((x, y, np.roll(x, -1), np.roll(y, -1))))
    return np.concatenate(rows)


def _crossings(edges: Array, level: float) -> list[float]:
    """Sorted x at which the level meets the edges; the half-open rule counts a corner once."""
    x0, y0, x1, y1 = edges.T
    cut = (y0 <= level) != (y1 <= level)
    share = (level - y0[cut]) / (y1[cut] - y0[cut])
    found: list[float] = np.sort(x0[cut] + share * (x1[cut] - x0[cut])).tolist()
    return found
