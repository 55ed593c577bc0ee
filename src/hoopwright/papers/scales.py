"""Scales of drawings on a sheet: those a rule or a reader can use, and how they are written."""

from __future__ import annotations

from typing import Final

from hoopwright.errors import require_positive
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.drawing.strokes import Box, box_of

SCALES: Final = (
    10.0,
    5.0,
    4.0,
    3.0,
    2.5,
    2.0,
    1.5,
    1.0,
    1 / 1.5,
    0.5,
    0.4,
    1 / 3,
    0.25,
    0.2,
    1 / 6,
    0.125,
    0.1,
    0.05,
    0.02,
    0.01,
)
"""ISO 5455 has 2, 5 and 10 and their tenths (from memory); those between are our own."""


def scale_text(scale: float) -> str:
    """How a scale is written.

    >>> scale_text(2.0), scale_text(0.2), scale_text(0.85), scale_text(1 / 1.5)
    ('2 : 1', '1 : 5', '0.85 : 1', '1 : 1.5')
    """
    require_positive("scale", scale)
    if scale >= 1.0:
        return f"{scale:g} : 1"
    inverse = 1.0 / scale
    if abs(inverse - round(2.0 * inverse) / 2.0) < 1e-9:
        return f"1 : {round(2.0 * inverse) / 2.0:g}"
    return f"{round(scale, 3):g} : 1"


def fitting(bare_width: float, bare_height: float, width_mm: float, height_mm: float) -> float:
    """Largest of the scales at which something of this size fits into a space on paper."""
    return next((s for s in SCALES if bare_width * s <= width_mm and bare_height * s <= height_mm), SCALES[-1])


def paper_box(drawing: Drawing, scale: float) -> Box:
    """What a drawing covers on paper at a scale, about its own origin. [mm]"""
    return box_of(expand(drawing, scale))
