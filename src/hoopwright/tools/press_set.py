"""What both press tools of an end plate share: plates with rows of holes, pillars, stops, placing on the port circle.

Bodies stand with the press's axis along z, forward down; a face's x becomes z, its y the radius. Units mm.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scipy.integrate import quad

from hoopwright.errors import require_positive
from hoopwright.kernels.profile import Point, Profile, line
from hoopwright.kernels.profile_integrals import region
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import closed

PILLARS, PILLAR_DIA, PILLAR_FIT = 4, 25.0, 0.04
"""Guide pillars: number, diameter, clearance on it (common practice, no source)."""
RIM = 30.0
"""Plate outside the blank, for pillars and clamps."""
STEEL, PALE, DARK = (0.55, 0.57, 0.60), (0.70, 0.68, 0.62), (0.35, 0.37, 0.42)


@dataclass(frozen=True, slots=True)
class Circle:
    """Where ports lie. first_rad : angle of the first."""

    count: int
    radius_mm: float
    first_rad: float

    def around(self, body: Body) -> tuple[Body, ...]:
        """The body, made on the axis, at every place."""
        step = 2.0 * math.pi / self.count
        out = solids.moved(body, self.radius_mm, 0.0, 0.0)
        return tuple(
            solids.turned(out, self.first_rad + k * step).named(f"{body.name} {k + 1}", body.colour)
            for k in range(self.count)
        )

    @property
    def chord_mm(self) -> float:
        """From one to the next."""
        return 2.0 * self.radius_mm * math.sin(math.pi / self.count)


def ring_section(name: str, low: float, high: float, inner: float, outer: float) -> Profile:
    """Closed section of a plain ring."""
    return closed(name, [(low, inner), (low, outer), (high, outer), (high, inner)], None, [])


def cylinder(name: str, radius: float, low: float, high: float) -> Body:
    """A round bar on the axis."""
    require_positive(f"{name}: length", high - low, "mm")
    return solids.revolved(name, ring_section(name, low, high, 0.0, radius))


def cylinder_volume(radius: float, length: float) -> float:
    """Of a round bar. [mm^3]"""
    return math.pi * radius * radius * length


def pillar_places(radius: float) -> tuple[tuple[float, float], ...]:
    """Centres of the pillars, clear of the port circle's first place."""
    return tuple(
        (radius * math.cos(a), radius * math.sin(a))
        for a in (math.pi / PILLARS + 2.0 * math.pi * k / PILLARS for k in range(PILLARS))
    )


def placed(body: Body, places: Sequence[tuple[float, float]]) -> tuple[Body, ...]:
    """Copies of a body made on the axis."""
    return tuple(
        solids.moved(body, x, y, 0.0).named(f"{body.name} {k}", body.colour) for k, (x, y) in enumerate(places, 1)
    )


def bored(body: Body, places: Sequence[tuple[float, float]], low: float, high: float) -> Body:
    """A plate with its holes for the pillars."""
    hole = cylinder("pillar hole", 0.5 * (PILLAR_DIA + PILLAR_FIT), low - 1.0, high + 1.0)
    return solids.cut(body, *placed(hole, places))


def pillar_holes_volume(height: float) -> float:
    """What the pillars' holes take of a plate. [mm^3]"""
    return PILLARS * cylinder_volume(0.5 * (PILLAR_DIA + PILLAR_FIT), height)


def to_axis(name: str, contour: Profile, low: float) -> Profile:
    """A face that ends on a level above the axis, closed along the axis and back at x = low."""
    (_, y0), (x1, _) = contour.start, contour.end
    head: list[Point] = [(low, 0.0), (low, y0)]
    return closed(name, head, contour, [(x1, 0.0)])


def upto(contour: Profile, last: Point) -> Profile:
    """A face whose last straight ends at a point on it."""
    tail = contour.segments[-1]
    return Profile((*contour.segments[:-1], line(tail.start, last)), contour.name)


def scalloped_volume(
    drop: Callable[[float], float], low: float, high: float, at: float, radius: float, depth: float
) -> float:
    """What one round recess takes of a ring's face, the recess wider than the ring. [mm^3]

    Parameters
    ----------
    drop : how far the face lies below its level at a radius (rounded edges). low, high : radii of the ring's walls.
    at, radius, depth : of the recess, its axis at radius `at`.
    """

    def part(r: float) -> float:
        cosine = (r * r + at * at - radius * radius) / (2.0 * r * at)
        return 2.0 * r * math.acos(min(1.0, max(-1.0, cosine))) * max(0.0, depth - drop(r))

    a, b = max(low, at - radius), min(high, at + radius)
    value: float = quad(part, a, b, epsabs=1e-9, epsrel=1e-12, limit=400)[0]
    return value


def revolved_volume(section: Profile) -> float:
    """Of a closed section turned about the axis. [mm^3]"""
    return region(section).revolved_volume
