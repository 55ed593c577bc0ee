"""Rigid tool contours of lines and arcs: packing, and the signed distance of a point. Units mm, rad.

Plane (x, y); the free side, where the sheet is, lies on the LEFT of travel. An arc that turns clockwise is therefore
convex as the sheet sees it. Beyond the two ends of a contour the end point itself is nearest, always from outside.
Packed rows: line [0, x0, y0, tx, ty, length, 0, 0]; arc [1, cx, cy, radius, mx, my, cos(half sweep), +1 convex or
-1 hollow] with (mx, my) the direction of its middle; end point [2, x, y, 0, ...].
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import GeometryError, InputError, require_positive
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.profile import Profile, Segment, line
from hoopwright.kernels.profile_crossing import self_crossings

Matrix = NDArray[np.float64]

SLACK = 1e-4
"""How far beyond its ends a line still counts, so that a kink of a fifth of a degree leaves no gap. [mm]"""


@compiled
def nearest(rows: Matrix, first: int, last: int, x: float, y: float) -> tuple[float, float, float, float]:
    """Signed distance of (x, y) to the contour in rows[first:last], its outward normal and how fast that turns.

    Returns
    -------
    (d, nx, ny, bend) : distance, positive on the free side [mm]; unit normal towards the free side; bend such that
        d normal = bend * t (t . dx) with t = (ny, -nx) the direction of travel [1/mm].
    """
    best, nx, ny, bend = 1e300, 0.0, 1.0, 0.0
    for i in range(first, last):
        kind = rows[i, 0]
        dx, dy = x - rows[i, 1], y - rows[i, 2]
        if kind == 0.0:
            tx, ty = rows[i, 3], rows[i, 4]
            along = dx * tx + dy * ty
            if along < -SLACK or along > rows[i, 5] + SLACK:
                continue
            d = dy * tx - dx * ty
            if abs(d) < abs(best):
                best, nx, ny, bend = d, -ty, tx, 0.0
            continue
        rho = math.sqrt(dx * dx + dy * dy)
        if rho < 1e-12:
            continue
        if kind == 1.0:
            if dx * rows[i, 4] + dy * rows[i, 5] < rho * rows[i, 6] - 1e-9 * rho:
                continue
            side = rows[i, 7]
            d = side * (rho - rows[i, 3])
            if abs(d) < abs(best):
                best, nx, ny, bend = d, side * dx / rho, side * dy / rho, side / rho
        elif rho < abs(best):
            best, nx, ny, bend = rho, dx / rho, dy / rho, 1.0 / rho
    return best, nx, ny, bend


def _row(segment: Segment) -> list[float]:
    (x0, y0), (x1, y1) = segment.start, segment.end
    if segment.centre is None:
        size = segment.length
        return [0.0, x0, y0, (x1 - x0) / size, (y1 - y0) / size, size, 0.0, 0.0]
    middle = math.atan2(y0 - segment.centre[1], x0 - segment.centre[0]) + 0.5 * segment.sweep
    half = 0.5 * abs(segment.sweep)
    side = -1.0 if segment.ccw else 1.0
    return [1.0, *segment.centre, segment.radius, math.cos(middle), math.sin(middle), math.cos(half), side]


def packed(contour: Profile) -> Matrix:
    """The contour as rows for compiled code, shape (segments + 2, 8)."""
    rows = [_row(segment) for segment in contour]
    rows += [[2.0, *point, 0.0, 0.0, 0.0, 0.0, 0.0] for point in (contour.start, contour.end)]
    return np.array(rows, dtype=np.float64)


def extended(contour: Profile, length_mm: float) -> Profile:
    """The contour with a straight of `length_mm` added in line at either end. [mm]"""
    require_positive("length_mm", length_mm, "mm")
    a, b = contour.angle_at(0.0), contour.segments[-1].angle_at(contour.segments[-1].length)
    (x0, y0), (x1, y1) = contour.start, contour.end
    before = line((x0 - length_mm * math.cos(a), y0 - length_mm * math.sin(a)), (x0, y0))
    after = line((x1, y1), (x1 + length_mm * math.cos(b), y1 + length_mm * math.sin(b)))
    return Profile((before, *contour.segments, after), contour.name)


def check_contour(name: str, contour: Profile, thickness_mm: float) -> None:
    """Refuse a contour that crosses itself, has a kink or an arc the sheet cannot follow.

    Raises
    ------
    GeometryError
        Naming the tool, the segment, what is wrong and the remedy.
    """
    for number, segment in enumerate(contour):
        if segment.is_arc and segment.radius < thickness_mm:
            raise GeometryError(
                f"{name}: radius of segment {number}",
                round(segment.radius, 4),
                "mm",
                f"at least the sheet thickness {thickness_mm:g}",
                "use a larger radius; a sharper bend is outside what a thin shell can say",
            )
        if segment.is_arc and abs(segment.sweep) > 1.99 * math.pi:
            raise GeometryError(
                f"{name}: sweep of segment {number}",
                round(segment.sweep, 4),
                "rad",
                "less than a full turn",
                "split it",
            )
    for number, (one, two) in enumerate(zip(contour.segments, contour.segments[1:], strict=False)):
        turn = (two.angle_at(0.0) - one.angle_at(one.length) + math.pi) % (2.0 * math.pi) - math.pi
        if abs(turn) > math.radians(0.2):
            raise GeometryError(
                f"{name}: kink after segment {number}",
                round(math.degrees(turn), 3),
                "deg",
                "0 within 0.2",
                "put a fillet there",
            )
    crossing = self_crossings(contour)
    if crossing:
        one_number, two_number, point = crossing[0]
        raise GeometryError(
            f"{name}: contour",
            f"crossing itself at ({point[0]:.3f}, {point[1]:.3f})",
            "",
            f"free of crossings (segments {one_number} and {two_number})",
            "shorten the fillets or the straights between them",
        )


def require_contour(name: str, contour: object) -> None:
    """Refuse anything that is no profile, by name."""
    if not isinstance(contour, Profile):
        raise InputError(f"{name}: contour", type(contour).__name__, "", "a Profile", "build it with from_corners")
