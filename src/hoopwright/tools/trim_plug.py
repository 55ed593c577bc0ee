"""Trim plug: an expanding plug that carries the sized ring on its inside while the edges are cut. Units mm.

A sleeve slit from both ends in turn opens evenly on a taper arbor that a bolt draws in. A ring can only be slid on
where the sleeve nowhere stands above what must pass over it, so the closed sleeve follows the least inside radius met
so far from the leading end, less a fit; opened, it takes up its fit and what free rings differ by, and holds the ring
on its throats.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Point, Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.segment_retract import Contour, End
from hoopwright.kernels.slotted_volume import slotted_volume
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.threads import clearance_hole
from hoopwright.tools.turned import clipped, closed, through

STOP_WIDTH, STOP_HEIGHT, TOP = 12.0, 4.0, 2.0
SIMPLER_MM, SLIGHT_MM = 0.01, 0.02
WALL, LEAST_WALL, LEAST_BORE = 16.0, 6.0, 9.0
SLITS, SLIT, BRIDGE = 4, 2.0, 8.0
"""Slits from each end, their width, and the metal left at the other end (common practice, no source)."""
HALF_ANGLE_RAD = math.radians(8.0)
"""Of the arbor: above the friction angle of dry steel, so that the sleeve comes off by itself (common practice)."""
SPARE_MM = 0.15
"""What free rings differ by on radius, and the plug must take up beyond its fit (common practice, no source)."""
BOLTS = (16, 12, 8)


@dataclass(frozen=True, slots=True)
class PlugForm:
    """A plug, its stop down, u upward as on the segment set.

    contour : its outside, closed. inside : of the ring, same frame. section : half section of the sleeve, closed.
    bore_mm : radius of its taper bore at u = 0; the bore widens upward. bolt : M number of the draw bolt.
    """

    name: str
    contour: Profile
    inside: Contour
    section: Profile
    fit_mm: float
    bore_mm: float
    bolt: int

    @property
    def height_mm(self) -> float:
        """Height of the sleeve."""
        return self.section.bounds[2]

    @property
    def opening_mm(self) -> float:
        """What the sleeve opens by, on radius."""
        return self.fit_mm + SPARE_MM

    @property
    def stroke_mm(self) -> float:
        """How far the arbor is drawn in to open the sleeve."""
        return self.opening_mm / math.tan(HALF_ANGLE_RAD)

    @property
    def wall_mm(self) -> float:
        """Least metal between taper bore and outside."""
        tan = math.tan(HALF_ANGLE_RAD)
        return min(s[1] - self.bore_mm - s[0] * tan for s in corners(self.contour))

    @property
    def volume_mm3(self) -> float:
        """Of the slit sleeve, exact: Pappus, less every slit over its own length."""
        from_top = clipped(self.section, BRIDGE, self.height_mm)
        from_below = clipped(self.section, 0.0, self.height_mm - BRIDGE)
        taken = sum(region(part).revolved_volume - slotted_volume(part, 1, SLIT) for part in (from_top, from_below))
        return region(self.section).revolved_volume - SLITS * taken

    @property
    def arbor_section(self) -> Profile:
        """Closed half section of the arbor at rest: in the sleeve, room below for its stroke, bored for its bolt."""
        tan, hole = math.tan(HALF_ANGLE_RAD), 0.5 * clearance_hole(self.bolt)
        low, high = self.stroke_mm + 1.0, self.height_mm + self.stroke_mm + 2.0
        points = [
            (low, hole),
            (low, self.bore_mm + low * tan),
            (high, self.bore_mm + high * tan),
            (high, hole),
        ]
        return closed(f"{self.name} arbor", points, None, [])

    @property
    def arbor_volume_mm3(self) -> float:
        """Of the arbor, exact (Pappus)."""
        return region(self.arbor_section).revolved_volume

    def body(self) -> Body:
        """The slit sleeve, closed."""
        reach, top, half = self.section.bounds[3] + 5.0, self.height_mm, 0.5 * SLIT
        cuts = []
        for k in range(2 * SLITS):
            low, high = (BRIDGE, top + 1.0) if k % 2 == 0 else (-1.0, top - BRIDGE)
            slit = solids.box(f"slit {k + 1}", (0.0, -half, low), (reach, half, high))
            cuts.append(solids.turned(slit, k * math.pi / SLITS))
        sleeve = solids.revolved(self.name, self.section)
        return solids.cut(sleeve, *cuts).named(self.name, (0.55, 0.60, 0.50))

    def arbor(self, drawn_in_mm: float = 0.0) -> Body:
        """The arbor, drawn in from where it rests."""
        made = solids.revolved(f"{self.name} arbor", self.arbor_section).named(f"{self.name} arbor", (0.45, 0.50, 0.58))
        return solids.moved(made, 0.0, 0.0, -drawn_in_mm) if drawn_in_mm else made

    def least_room_mm(self) -> float:
        """Least radial room with the ring home on the closed sleeve, at the stations of its inside."""
        line = np.array(corners(self.contour))
        keep = (self.inside.z_mm >= line[0, 0]) & (self.inside.z_mm <= line[-1, 0])
        return float(np.min(self.inside.radius_mm[keep] - np.interp(self.inside.z_mm[keep], line[:, 0], line[:, 1])))


def corners(contour: Profile) -> list[Point]:
    """Where the straights of a contour begin, and the last ends."""
    return [s.start for s in contour.segments] + [contour.end]


def plug_form(name: str, ring: Contour, leading: End, fit_mm: float) -> PlugForm:
    """The plug of a ring from its inside as sized.

    Parameters
    ----------
    ring : inside face, z along the engine. leading : the end over which the ring leaves its segments; same here.

    Raises
    ------
    GeometryError
        A ring too small, or too long for its least radius, to leave a sleeve and an arbor inside it.
    """
    sign = 1.0 if leading == "plus" else -1.0
    order = np.argsort(sign * ring.z_mm)
    u = sign * ring.z_mm[order]
    u, r = u - u[0] + STOP_WIDTH, ring.radius_mm[order]
    passing = np.minimum.accumulate(r) - fit_mm
    points = lowered(u, passing, SIMPLER_MM)
    contour = Profile(through(points), name)
    last, stop = points[-1], float(r[0]) + STOP_HEIGHT
    top, tan = last[0] + TOP, math.tan(HALF_ANGLE_RAD)
    bore = _bore(name, [*points, (top, last[1])])
    before: list[Point] = [(0.0, bore), (0.0, stop), (STOP_WIDTH, stop)]
    after: list[Point] = [(top, last[1]), (top, bore + top * tan)]
    bolt = next((m for m in BOLTS if 0.5 * clearance_hole(m) + 4.0 <= bore), BOLTS[-1])
    section = closed(name, before, contour, after)
    return PlugForm(name, contour, Contour(u, r), section, fit_mm, bore, bolt)


def _bore(name: str, points: list[Point]) -> float:
    """Radius of the taper bore at its lower end: a wall's thickness inside the thinnest place, in half millimetres."""
    room = min(r - u * math.tan(HALF_ANGLE_RAD) for u, r in points)
    bore = math.floor(2.0 * (room - min(WALL, max(LEAST_WALL, 0.35 * room)))) / 2.0
    if bore < LEAST_BORE:
        raise GeometryError(
            f"{name}: taper bore",
            round(bore, 2),
            "mm radius",
            f"{LEAST_BORE:g} or more",
            "hold this ring in a chuck from outside: it is too small for an expanding plug",
        )
    return bore


def lowered(u: NDArray[np.float64], r: NDArray[np.float64], tolerance: float) -> list[Point]:
    """Fewer points through a falling curve: nowhere above it, all turned to the thousandth. [mm]"""
    kept = _simpler(u, r, tolerance)
    fewer = np.interp(u, u[kept], r[kept])
    drop = max(0.0, float(np.max(fewer - r)))
    return _stepped([(float(u[k]), round(float(r[k]) - drop - 5e-4, 3)) for k in kept])


def _stepped(points: list[Point]) -> list[Point]:
    """Falls too slight to be turned made level, at the lower radius."""
    made = [points[-1]]
    for u, r in reversed(points[:-1]):
        made.append((u, made[-1][1] if r - made[-1][1] < SLIGHT_MM else r))
    return made[::-1]


def _simpler(u: NDArray[np.float64], r: NDArray[np.float64], tolerance: float) -> list[int]:
    """Numbers of the points kept, by halving at the farthest one (Ramer, Douglas, Peucker)."""
    kept, open_spans = {0, len(u) - 1}, [(0, len(u) - 1)]
    while open_spans:
        a, b = open_spans.pop()
        if b - a < 2:
            continue
        between = np.arange(a + 1, b)
        miss = np.abs(r[between] - np.interp(u[between], [u[a], u[b]], [r[a], r[b]]))
        worst = int(between[int(np.argmax(miss))])
        if float(miss.max()) > tolerance:
            kept.add(worst)
            open_spans += [(a, worst), (worst, b)]
    return sorted(kept)
