"""Exact integrals over line-and-arc profiles: along the line, over a sheet of constant thickness, over a closed region.

Units mm. y is the distance from the axis of revolution (the x axis). All formulas are elementary integrals of lines and
arcs (Green's theorem for regions, Pappus for volumes), derived here; checked against polygons in tests/exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import GeometryError, require_positive
from hoopwright.kernels.profile import Profile, Segment


@dataclass(frozen=True, slots=True)
class LineMoments:
    """Integrals along a profile: length [mm], of x and y [mm^2], of y^2 [mm^3]."""

    length: float
    x: float
    y: float
    yy: float


def line_moments(profile: Profile) -> LineMoments:
    """Length [mm], and the integrals of x, y [mm^2] and y^2 [mm^3] along the profile."""
    rows = [_segment_moments(segment) for segment in profile]
    return LineMoments(*(math.fsum(row[k] for row in rows) for k in range(4)))


def _segment_moments(segment: Segment) -> tuple[float, float, float, float]:
    size = segment.length
    (x0, y0), (x1, y1) = segment.start, segment.end
    if segment.centre is None:
        return size, size * 0.5 * (x0 + x1), size * 0.5 * (y0 + y1), size * (y0 * y0 + y0 * y1 + y1 * y1) / 3.0
    (cx, cy), radius = segment.centre, segment.radius
    a = math.atan2(y0 - cy, x0 - cx)
    b = a + segment.sweep
    sense = 1.0 if segment.ccw else -1.0
    cosines = sense * radius * (math.sin(b) - math.sin(a))
    sines = sense * radius * (math.cos(a) - math.cos(b))
    squares = sense * radius * 0.5 * ((b - a) - 0.5 * (math.sin(2.0 * b) - math.sin(2.0 * a)))
    return (
        size,
        cx * size + radius * cosines,
        cy * size + radius * sines,
        cy * cy * size + 2.0 * cy * radius * sines + radius * radius * squares,
    )


@dataclass(frozen=True, slots=True)
class SheetSection:
    """A sheet of constant thickness along a profile, which is its mid-surface.

    area [mm^2]; centroid_y: distance of the centroid from the axis [mm]; second_moment about the line
    y = centroid_y [mm^4]; revolved_volume about the x axis [mm^3].
    """

    area: float
    centroid_y: float
    second_moment: float
    revolved_volume: float

    @property
    def second_moment_about_axis(self) -> float:
        """About the axis of revolution: second_moment + area * centroid_y^2 (Steiner). [mm^4]"""
        return self.second_moment + self.area * self.centroid_y**2


def sheet_section(profile: Profile, thickness: float) -> SheetSection:
    """Exact properties of the band of `thickness` [mm] about the profile.

    Notes
    -----
    With n the distance to the left and k the curvature, dA = (1 - k n) dn ds and y = y_m + n cos(angle):
    area = L t; int y dA = t int y_m ds - t^3/12 int k cos ds; int y^2 dA = t int y_m^2 ds + t^3/12 int cos^2 ds
    - t^3/6 int k y_m cos ds. Odd powers of n vanish, so nothing is left out.

    Raises
    ------
    GeometryError
        When an inside radius would vanish (radius below half the thickness).
    """
    t = require_positive("thickness", thickness, "mm")
    cube = t**3 / 12.0
    first: list[float] = []
    second: list[float] = []
    for number, segment in enumerate(profile):
        if segment.is_arc and segment.radius <= 0.5 * t:
            raise GeometryError(f"radius of arc {number}", segment.radius, "mm", f"above {0.5 * t:g}", "widen the arc")
        _, _, y, yy = _segment_moments(segment)
        cos1, cos2, y_cos = _cosine_moments(segment)
        k = segment.curvature
        first.append(t * y - cube * k * cos1)
        second.append(t * yy + cube * cos2 - 2.0 * cube * k * y_cos)
    area = profile.length * t
    moment = math.fsum(first)
    centre = moment / area
    return SheetSection(area, centre, math.fsum(second) - area * centre * centre, 2.0 * math.pi * moment)


def _cosine_moments(segment: Segment) -> tuple[float, float, float]:
    """Integrals along the segment of cos(angle), cos^2(angle) and y cos(angle)."""
    size = segment.length
    (x0, y0), (x1, y1) = segment.start, segment.end
    if segment.centre is None:
        cosine = (x1 - x0) / size
        return size * cosine, size * cosine * cosine, 0.5 * (y0 + y1) * size * cosine
    cy, radius = segment.centre[1], segment.radius
    a = math.atan2(y0 - cy, x0 - segment.centre[0])
    b = a + segment.sweep
    sense = 1.0 if segment.ccw else -1.0
    # angle of travel = spoke + sense * pi/2, so cos(angle) = -sense * sin(spoke); ds = sense * radius * d spoke
    cos1 = -radius * (math.cos(a) - math.cos(b))
    cos2 = sense * radius * 0.5 * ((b - a) - 0.5 * (math.sin(2.0 * b) - math.sin(2.0 * a)))
    y_cos = cy * cos1 - radius * radius * 0.5 * ((b - a) - 0.5 * (math.sin(2.0 * b) - math.sin(2.0 * a)))
    return cos1, cos2, y_cos


@dataclass(frozen=True, slots=True)
class Region:
    """A closed region. area [mm^2], positive; centroid_x, centroid_y [mm]; revolved_volume about the x axis [mm^3]."""

    area: float
    centroid_x: float
    centroid_y: float
    revolved_volume: float


def region(profile: Profile) -> Region:
    """Area, centroid and revolved volume of the region a closed profile encloses, whichever way it runs.

    Raises
    ------
    GeometryError
        When the profile is not closed within 1e-6 mm.
    """
    gap = math.dist(profile.start, profile.end)
    if gap > 1e-6:
        raise GeometryError("gap between end and start", gap, "mm", "0", "close the contour")
    rows = [_green(segment) for segment in profile]
    area, x_area, y_area = (math.fsum(row[k] for row in rows) for k in range(3))
    if area == 0.0:
        raise GeometryError("enclosed area", 0.0, "mm2", "above 0", "check the contour")
    sign = 1.0 if area > 0.0 else -1.0
    return Region(sign * area, x_area / area, y_area / area, 2.0 * math.pi * sign * y_area)


def _green(segment: Segment) -> tuple[float, float, float]:
    """Boundary integrals: 1/2 (x dy - y dx), 1/2 x^2 dy, -1/2 y^2 dx."""
    (x0, y0), (x1, y1) = segment.start, segment.end
    area = 0.5 * (x0 * y1 - x1 * y0)
    x_area = (y1 - y0) * (x0 * x0 + x0 * x1 + x1 * x1) / 6.0
    y_area = -(x1 - x0) * (y0 * y0 + y0 * y1 + y1 * y1) / 6.0
    if segment.centre is None:
        return area, x_area, y_area
    # the cap between chord and arc, with the centroid on the bisector of the arc
    (cx, cy), radius, turn = segment.centre, segment.radius, segment.sweep
    cap = 0.5 * radius * radius * (turn - math.sin(turn))
    reach = 2.0 * radius**3 * math.sin(0.5 * turn) ** 3 / 3.0
    spoke = math.atan2(y0 - cy, x0 - cx) + 0.5 * turn
    return (
        area + cap,
        x_area + cx * cap + reach * math.cos(spoke),
        y_area + cy * cap + reach * math.sin(spoke),
    )
