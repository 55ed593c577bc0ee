"""Trim plug: carries the sized ring on its inside while the edges are cut. Units mm.

A ring can only be slid on where the plug nowhere stands above what must pass over it, so the plug follows the least
inside
radius met so far from the leading end, less a fit; the ring sits on its throats.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.profile import Point, Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.segment_retract import Contour, End
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import closed, through

BORE, STOP_WIDTH, STOP_HEIGHT, TOP = 15.0, 12.0, 4.0, 2.0
SIMPLER_MM, SLIGHT_MM = 0.01, 0.02


@dataclass(frozen=True, slots=True)
class PlugForm:
    """A plug, its stop down, u upward as on the segment set.

    contour : its outside. inside : of the ring, same frame.
    """

    name: str
    contour: Profile
    inside: Contour
    section: Profile
    fit_mm: float

    @property
    def volume_mm3(self) -> float:
        """Exact (Pappus)."""
        return region(self.section).revolved_volume

    def body(self) -> Body:
        """The plug."""
        return solids.revolved(self.name, self.section).named(self.name, (0.55, 0.60, 0.50))

    def least_room_mm(self) -> float:
        """Least radial room with the ring home, at the stations of its inside."""
        line = np.array([s.start for s in self.contour.segments] + [self.contour.end])
        keep = (self.inside.z_mm >= line[0, 0]) & (self.inside.z_mm <= line[-1, 0])
        return float(np.min(self.inside.radius_mm[keep] - np.interp(self.inside.z_mm[keep], line[:, 0], line[:, 1])))


def plug_form(name: str, ring: Contour, leading: End, fit_mm: float) -> PlugForm:
    """The plug of a ring from its inside as sized.

    Parameters
    ----------
    ring : inside face, z along the engine. leading : the end over which the ring leaves its segments; same here.
    """
    sign = 1.0 if leading == "plus" else -1.0
    order = np.argsort(sign * ring.z_mm)
    u = sign * ring.z_mm[order]
    u, r = u - u[0] + STOP_WIDTH, ring.radius_mm[order]
    passing = np.minimum.accumulate(r) - fit_mm
    points = lowered(u, passing, SIMPLER_MM)
    contour = Profile(through(points), name)
    last = points[-1]
    stop = float(r[0]) + STOP_HEIGHT
    before: list[Point] = [(0.0, BORE), (0.0, stop), (STOP_WIDTH, stop)]
    after: list[Point] = [(last[0] + TOP, last[1]), (last[0] + TOP, BORE)]
    return PlugForm(name, contour, Contour(u, r), closed(name, before, contour, after), fit_mm)


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
