"""How fine a contoured ring is cut up: a deep section bends over longer ways than its sheet is thick."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hoopwright.kernels.hoop import Fineness, HoopSection

STEPS = 40


def bending_depth(section: HoopSection) -> float:
    """Thickness of a plain strip as stiff against bending, area for area: sqrt(12 I / A). [mm]"""
    return math.sqrt(12.0 * section.bending_mm4 / section.area_mm2)


def tries(section: HoopSection, edge_radius_mm: float, zone_mm: float | None) -> Iterator[Fineness]:
    """Finenesses to run with, the next where the one before finds no balance.

    Edges of a fifth of the sheet, as a plain strip needs, lose the balance of a deep section in round-off; a tenth of
    its bending depth, half the edge radius of the segments and a fifth of the seam's zone are fine enough.
    """
    longest = min(0.1 * bending_depth(section), 0.5 * edge_radius_mm)
    if zone_mm is not None:
        longest = min(longest, 0.2 * zone_mm)
    edge = max(0.2 * section.thickness_mm, longest)
    for longer, steps in ((1.0, STEPS), (1.25, 2 * STEPS), (0.8, 3 * STEPS)):
        yield Fineness(edge_mm=longer * edge, steps=steps)
