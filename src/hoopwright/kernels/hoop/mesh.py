"""Where the nodes go: fine at the slot edges and the weld, coarse elsewhere. mm, rad."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.inputs import Fineness, Hit, HoopSection, InitialShape, SegmentTool, Weld
from hoopwright.kernels.hoop.symmetry import Part

Interval = tuple[float, float]
TWO_PI = 2.0 * math.pi


def edge_lengths(fineness: Fineness, section: HoopSection, shape: InitialShape, part: Part) -> tuple[float, float]:
    """Longest edges at slot edges and elsewhere, as asked for or, where 0, as found good: t/8 and R/70 in a sector, t/5
    and R/45 where more of the hoop has to be carried."""
    small = part.kind in ("half pitch", "quarter")
    near = fineness.edge_mm or section.thickness_mm / (8.0 if small else 5.0)
    far = fineness.far_mm or shape.radius_mm / (70.0 if small else 45.0)
    return near, max(near, far)


def fine_intervals(
    tool: SegmentTool, shape: InitialShape, weld: Weld | None, hits: Sequence[Hit], part: Part
) -> list[Interval]:
    """Angles of the part's frame where the fine edge length holds: half a mm beyond each edge rounding, the weld,
    the crest of a local peak."""
    found = []
    slots = (2 * np.arange(tool.count) + 1) * math.pi / tool.count
    for hit in hits:
        out = hit.position_mm - tool.turned_radius_mm + float(tool.errors().mean())
        half_gap = max(0.0, 0.5 * tool.slot_mm + out * math.sin(math.pi / tool.count))
        low = max(0.0, half_gap - 0.5) / hit.position_mm
        high = (half_gap + tool.edge_radius_mm + 0.5) / hit.position_mm
        for middle in slots + hit.index_rad - part.turn_rad:
            found += [(middle - high, middle - low), (middle + low, middle + high)]
    if weld is not None:
        reach = 0.5 * weld.width_mm / shape.radius_mm
        middle = weld.angle_rad - part.turn_rad
        found.append((middle - reach, middle + reach))
    if shape.peak_height_mm != 0.0:
        reach = 2.0 * shape.peak_blunt_mm / shape.radius_mm
        middle = shape.peak_angle_rad - part.turn_rad
        found.append((middle - reach, middle + reach))
    return found


def distance_to(angle: Vector, intervals: Sequence[Interval]) -> Vector:
    """Angular distance of each angle from the nearest interval, on the circle; 0 inside."""
    if not intervals:
        return np.full_like(angle, math.pi)
    starts = np.array([low for low, _ in intervals]) % TWO_PI
    ends = starts + np.array([high - low for low, high in intervals])
    order = np.argsort(starts)
    starts, ends = starts[order], np.maximum.accumulate(ends[order])
    starts = np.concatenate([starts - TWO_PI, starts, starts + TWO_PI])
    ends = np.concatenate([ends - TWO_PI, ends, ends + TWO_PI])
    place = np.clip(np.searchsorted(starts, angle, side="right"), 1, starts.size - 1)
    return np.maximum(0.0, np.minimum(starts[place] - angle, angle - ends[place - 1]))


def breakpoints(shape: InitialShape, weld: Weld | None, part: Part) -> Vector:
    """Angles of the part's frame at which a node has to stand, from 0 to the span: the ends of the weld, a local
    peak."""
    must = []
    if weld is not None:
        reach = 0.5 * weld.width_mm / shape.radius_mm
        must += [weld.angle_rad - reach, weld.angle_rad + reach]
    if shape.peak_height_mm != 0.0:
        must.append(shape.peak_angle_rad)
    inside = sorted((angle - part.turn_rad) % TWO_PI for angle in must)
    margin = 1e-7
    return np.array([0.0, *[a for a in inside if margin < a < part.span_rad - margin], part.span_rad])


def node_angles(
    intervals: Sequence[Interval], must: Vector, radius: float, near: float, far: float, growth: float
) -> Vector:
    """Angles of the nodes from the first to the last of `must`, shape (n,), rising.

    Edge length is near + growth times the distance [mm] from the nearest interval, at most far; each piece between two
    of `must` is cut so that no edge is longer.
    """
    pieces = []
    for low, high in pairwise(must):
        count = int(min(200_000, max(64, 8.0 * radius * (high - low) / near)))
        grid = np.linspace(low, high, count + 1)
        wanted = np.minimum(far, near + growth * radius * distance_to(grid, intervals))
        density = radius / wanted
        total = np.concatenate([[0.0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(grid))])
        edges = max(1, math.ceil(total[-1] - 1e-9))
        pieces.append(np.interp(np.linspace(0.0, total[-1], edges + 1), total, grid)[:-1])
    return np.concatenate([*pieces, must[-1:]])
