"""Which part of the hoop stands for the whole: half a pitch, a quarter, a half, or all of it. rad."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.inputs import Hit, InitialShape, SegmentTool, Weld

SAME = 1e-9
"""Angles [rad] and radial errors [mm] closer than this are the same."""


@dataclass(frozen=True, slots=True)
class Part:
    """The part that is worked on. kind : "half pitch", "quarter", "half" or "full". turn_rad : angle of the hoop on
    which the part starts. span_rad : its extent. images : how many mirror images make the whole."""

    kind: str
    turn_rad: float
    span_rad: float
    images: int

    @property
    def closed(self) -> bool:
        """Whether it is the full hoop."""
        return self.kind == "full"


def _whole(value: float) -> bool:
    """Whether a value is a whole number, within `SAME` of it."""
    return abs(value - round(value)) <= SAME * max(1.0, abs(value))


def _shape_mirrors(shape: InitialShape, axis: float) -> bool:
    """Whether the incoming shape is its own mirror image about the line at `axis`."""
    for wave in shape.harmonics:
        if wave.amplitude_mm != 0.0 and not _whole(wave.order * (axis - wave.phase_rad) / math.pi):
            return False
    return shape.peak_height_mm == 0.0 or _whole((axis - shape.peak_angle_rad) / math.pi)


def _tool_mirrors(tool: SegmentTool, hit: Hit, axis: float) -> bool:
    """Whether the segments, with their errors, are their own mirror image about the line at `axis`."""
    halves = (axis - hit.index_rad) * tool.count / math.pi
    if not _whole(halves):
        return False
    errors = tool.errors()
    partner = (round(halves) - np.arange(tool.count)) % tool.count
    return bool(np.max(np.abs(errors - errors[partner])) <= SAME)


def _mirrors(tool: SegmentTool, shape: InitialShape, weld: Weld | None, hits: Sequence[Hit], axis: float) -> bool:
    """Whether everything is its own mirror image about the line at `axis`."""
    if weld is not None and not _whole((axis - weld.angle_rad) / math.pi):
        return False
    return _shape_mirrors(shape, axis) and all(_tool_mirrors(tool, hit, axis) for hit in hits)


def _candidates(tool: SegmentTool, weld: Weld | None, hits: Sequence[Hit]) -> Vector:
    """Lines about which the segments mirror; through the weld, where there is one."""
    if weld is not None:
        return np.array([weld.angle_rad, weld.angle_rad + math.pi])
    return hits[0].index_rad + np.arange(2 * tool.count) * math.pi / tool.count


def find_part(tool: SegmentTool, shape: InitialShape, weld: Weld | None, hits: Sequence[Hit]) -> Part:
    """The smallest part that the input lets stand for the whole hoop.

    Examples
    --------
    >>> from hoopwright.kernels.hoop.inputs import Harmonic
    >>> tool, hits = SegmentTool(8, 137.0, 1.0, 0.5, 0.1), (Hit(139.0),)
    >>> find_part(tool, InitialShape(137.0), None, hits).kind
    'half pitch'
    >>> find_part(tool, InitialShape(137.0, (Harmonic(2, 1.0),)), None, hits).kind
    'quarter'
    >>> find_part(tool, InitialShape(137.0, (Harmonic(3, 1.0),)), None, hits).kind
    'half'
    >>> find_part(tool, InitialShape(137.0, (Harmonic(2, 1.0, 0.1),)), None, hits).kind
    'full'
    """
    pitch = math.pi / tool.count
    axes = [float(a) for a in _candidates(tool, weld, hits) if _mirrors(tool, shape, weld, hits, float(a))]
    if not axes:
        return Part("full", 0.0, 2.0 * math.pi, 1)
    uneven = float(np.ptp(tool.errors())) > SAME
    plain = weld is None and all(w.amplitude_mm == 0.0 for w in shape.harmonics) and shape.peak_height_mm == 0.0
    if plain and not uneven:
        return Part("half pitch", axes[0], pitch, 2 * tool.count)
    if weld is None and tool.count % 2 == 0:
        for axis in axes:
            if _mirrors(tool, shape, weld, hits, axis + 0.5 * math.pi):
                return Part("quarter", axis, 0.5 * math.pi, 4)
    return Part("half", axes[0], math.pi, 2)
