"""Where a tool first touches the sheet. Units mm."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.contour import nearest, packed
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.shapes import Matrix
from hoopwright.kernels.section.tool import Tool


@compiled
def least_gap(rows: Matrix, q: Vector, half: Vector, ox: float, oy: float) -> float:
    """Smallest gap between the faces of the sheet and a contour placed at (ox, oy)."""
    gap = 1e300
    for i in range(half.shape[0]):
        d, _nx, _ny, _bend = nearest(rows, 0, rows.shape[0], q[3 * i] - ox, q[3 * i + 1] - oy)
        gap = min(gap, d - half[i])
    return gap


def gap_mm(section: Section, tool: Tool, place_mm: tuple[float, float] = (0.0, 0.0)) -> float:
    """Smallest gap between sheet and tool, taken at the nodes; below 0 when they run into each other. [mm]"""
    sheet = section.sheet()
    return float(least_gap(packed(tool.contour), sheet.q, sheet.half, *place_mm))


def first_touch_mm(
    section: Section,
    tool: Tool,
    direction: tuple[float, float],
    place_mm: tuple[float, float] = (0.0, 0.0),
    reach_mm: float = 200.0,
) -> float:
    """How far the tool can travel along `direction` before it touches the sheet; negative when it has to go back. [mm]

    Parameters
    ----------
    direction : towards the sheet, any length.
    place_mm : where the tool stands. [mm]
    reach_mm : search range either way. [mm]

    Raises
    ------
    InputError
        When the tool meets no sheet on its way, or stands inside it everywhere within reach.

    Notes
    -----
    Steps a fortieth of a millimetre coarser than the gap allow no passage: the tool is led by its own gap (a gap cannot
    close faster than the tool moves), then the touch is bisected to a tenth of a nanometre.
    """
    require_range("reach_mm", reach_mm, 1e-3, 1e5, "mm")
    ux, uy = require_finite("direction", direction[0]), require_finite("direction", direction[1])
    size = math.hypot(ux, uy)
    if size == 0.0:
        raise InputError("direction", direction, "", "a direction", "say which way the tool moves")
    ux, uy = ux / size, uy / size
    sheet, rows = section.sheet(), packed(tool.contour)

    def gap(s: float) -> float:
        return float(least_gap(rows, sheet.q, sheet.half, place_mm[0] + s * ux, place_mm[1] + s * uy))

    s = 0.0
    while gap(s) <= 0.0:
        s -= max(0.05, -gap(s))
        if s < -reach_mm:
            raise InputError(
                f"{tool.name}: place",
                place_mm,
                "mm",
                "where the tool can be drawn clear of the sheet",
                "check that the free side of its contour is on the left of travel",
            )
    clear = s
    while True:
        step = gap(clear)
        if step <= 1e-10:
            return clear
        if gap(clear + step + 1e-3) <= 0.0:
            break
        clear += step
        if clear > reach_mm:
            raise InputError(
                f"{tool.name}: direction", direction, "", "towards the sheet", "the tool meets no sheet on its way"
            )
    low, high = clear, clear + step + 1e-3
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if gap(middle) > 0.0 else (low, middle)
    return low


def deepest_between_nodes_mm(section: Section, tool: Tool, place_mm: tuple[float, float], points: int = 3) -> float:
    """How far the sheet's face runs into the tool, looked at between the nodes too (0 when nowhere). [mm]

    The mid-line between nodes is taken as the cubic through node places and angles.
    """
    x, y = _curve(section, points)
    half = np.repeat(0.5 * section.thickness_mm, points + 1)
    half = np.append(half, half[-1])
    q = np.zeros(3 * x.size)
    q[0::3], q[1::3] = x, y
    return max(0.0, -float(least_gap(packed(tool.contour), q, half, *place_mm)))


def _curve(section: Section, points: int) -> tuple[Vector, Vector]:
    """Nodes and points between them on Hermite cubics."""
    u = np.arange(points + 1) / (points + 1)
    h00, h10 = 2 * u**3 - 3 * u**2 + 1, u**3 - 2 * u**2 + u
    h01, h11 = -2 * u**3 + 3 * u**2, u**3 - u**2
    length = section.lengths_mm()[:, None]
    c, s = np.cos(section.angle_rad), np.sin(section.angle_rad)
    curve = []
    for place, slope in ((section.x_mm, c), (section.y_mm, s)):
        a, b = place[:-1, None], place[1:, None]
        ta, tb = slope[:-1, None] * length, slope[1:, None] * length
        curve.append(np.append((h00 * a + h10 * ta + h01 * b + h11 * tb).ravel(), place[-1]))
    return curve[0], curve[1]
