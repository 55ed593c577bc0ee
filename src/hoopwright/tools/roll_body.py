"""Rolls as bodies: contour, guide collars, reliefs, bore and keyway. Units mm; x along the roll, y radius.

The inner roll carries a collar at each strip edge that guides it; the outer roll ends between them. Where the roll axes
are tilted towards each other such collars would foul, and plates at the entry guide the edges instead.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.slotted_volume import strip_in_circle
from hoopwright.tools import solids
from hoopwright.tools.rolls import RollPair
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import between_x, closed

COLLAR_WIDTH, COLLAR_HEIGHT = 6.0, 3.0
RELIEF_WIDTH, RELIEF_DEPTH = 0.8, 0.5
CHAMFER = 0.5
GUIDE_RUN = 5.0
"""What a contour goes on beyond the strip's edge (plan of the passes)."""

KEYS: tuple[tuple[float, float, float], ...] = (
    (22.0, 8.0, 3.3),
    (30.0, 10.0, 3.3),
    (38.0, 12.0, 3.3),
    (44.0, 14.0, 3.8),
    (50.0, 16.0, 4.3),
    (58.0, 18.0, 4.4),
    (65.0, 20.0, 4.9),
    (75.0, 22.0, 5.4),
    (85.0, 25.0, 5.4),
    (95.0, 28.0, 6.4),
    (110.0, 0.0, 0.0),
)
"""Shaft above this diameter: width of the parallel key and depth in the hub; ISO 773 (from memory)."""


@dataclass(frozen=True, slots=True)
class Keyway:
    """Parallel keyway in a hub: width, and depth beyond the bore."""

    width_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True)
class RollForm:
    """One roll. contour : the working part. section : closed half section, collars and reliefs in it."""

    name: str
    contour: Profile
    section: Profile
    bore_mm: float
    key: Keyway

    @property
    def length_mm(self) -> float:
        """Length between the end faces."""
        return self.section.bounds[2] - self.section.bounds[0]

    @property
    def volume_mm3(self) -> float:
        """Exact: Pappus on the section, less the keyway beyond the bore."""
        radius, half = 0.5 * self.bore_mm, 0.5 * self.key.width_mm
        key = 2.0 * half * (radius + self.key.depth_mm) - strip_in_circle(radius, half)
        return region(self.section).revolved_volume - key * self.length_mm

    @property
    def wall_mm(self) -> float:
        """Least metal between the contour or its reliefs and the keyway's floor."""
        return self.contour.bounds[1] - RELIEF_DEPTH - 0.5 * self.bore_mm - self.key.depth_mm

    def body(self) -> Body:
        """The roll, axis along z."""
        x0, _, x1, _ = self.section.bounds
        half = 0.5 * self.key.width_mm
        key = solids.box("keyway", (0.0, -half, x0 - 1.0), (0.5 * self.bore_mm + self.key.depth_mm, half, x1 + 1.0))
        return solids.cut(solids.revolved(self.name, self.section), key)


@dataclass(frozen=True, slots=True)
class RollSet:
    """Both rolls of a ring. guided : collars on the inner roll; tilt_rad : turn of the inner roll about the pitch
    point.

    side_mm : collar to the end of the outer roll.
    """

    inner: RollForm
    outer: RollForm
    pair: RollPair
    thickness_mm: float
    guided: bool
    tilt_rad: float
    side_mm: float


def keyway_for(shaft_dia_mm: float) -> Keyway:
    """Keyway of a shaft.

    Raises
    ------
    InputError
        A shaft outside the table.
    """
    for (above, width, depth), (next_above, _, _) in itertools.pairwise(KEYS):
        if above < shaft_dia_mm <= next_above:
            return Keyway(width, depth)
    raise InputError("roll shaft diameter", shaft_dia_mm, "mm", "above 22 and at most 110", "enter another shaft")


def roll_set(
    name: str, pair: RollPair, thickness_mm: float, shaft_mm: float, guide_mm: float, side_mm: float
) -> RollSet:
    """Both rolls of a pair.

    Parameters
    ----------
    guide_mm : strip edge to collar. side_mm : collar to the end of the outer roll.

    Raises
    ------
    GeometryError
        A contour whose ends are not straight.
    """
    key = keyway_for(shaft_mm)
    guided = abs(pair.cone_deg) < 1e-9
    low, high = _strip_edges(pair)
    low, high = low - guide_mm, high + guide_mm
    if not guided:
        inner_contour, outer_contour = pair.inner, pair.outer
        inner_section, outer_section = (_plain(c, 0.5 * shaft_mm) for c in (inner_contour, outer_contour))
    else:
        inner_contour = between_x(pair.inner, low + RELIEF_WIDTH, high - RELIEF_WIDTH)
        outer_contour = between_x(pair.outer, low + side_mm + CHAMFER, high - side_mm - CHAMFER)
        whole = between_x(pair.inner, low, high)
        inner_section = _collared(whole, inner_contour, 0.5 * shaft_mm, thickness_mm)
        outer_section = _plain(outer_contour, 0.5 * shaft_mm)
    inner = RollForm(f"{name} inner roll", inner_contour, inner_section, shaft_mm, key)
    outer = RollForm(f"{name} outer roll", outer_contour, outer_section, shaft_mm, key)
    return RollSet(inner, outer, pair, thickness_mm, guided, math.radians(pair.cone_deg), side_mm)


def _strip_edges(pair: RollPair) -> tuple[float, float]:
    """Places along x beyond which the strip does not reach, on neither face."""
    lows, highs = [], []
    for contour in (pair.inner, pair.outer):
        lows.append(contour.point_at(GUIDE_RUN)[0])
        highs.append(contour.point_at(contour.length - GUIDE_RUN)[0])
    return min(lows), max(highs)


def _plain(contour: Profile, bore: float) -> Profile:
    (x0, y0), (x1, y1) = contour.start, contour.end
    before = [(x0 - CHAMFER, bore), (x0 - CHAMFER, y0 - CHAMFER)]
    return closed("roll", before, contour, [(x1 + CHAMFER, y1 - CHAMFER), (x1 + CHAMFER, bore)])


def _collared(whole: Profile, contour: Profile, bore: float, thickness: float) -> Profile:
    (xw, yw), (xv, yv) = whole.start, whole.end
    (x0, y0), (x1, y1) = contour.start, contour.end
    first, last = (y + thickness + COLLAR_HEIGHT for y in (max(yw, y0), max(yv, y1)))
    before = [
        (xw - COLLAR_WIDTH, bore),
        (xw - COLLAR_WIDTH, first - CHAMFER),
        (xw - COLLAR_WIDTH + CHAMFER, first),
        (xw, first),
        (xw, yw - RELIEF_DEPTH),
        (x0, y0 - RELIEF_DEPTH),
    ]
    after = [
        (x1, y1 - RELIEF_DEPTH),
        (xv, yv - RELIEF_DEPTH),
        (xv, last),
        (xv + COLLAR_WIDTH - CHAMFER, last),
        (xv + COLLAR_WIDTH, last - CHAMFER),
        (xv + COLLAR_WIDTH, bore),
    ]
    return closed("roll", before, contour, after)


def closed_bodies(rolls: RollSet) -> tuple[Body, Body]:
    """Both rolls closed on the sheet, each about its own axis."""
    return _stood(rolls, rolls.inner.body(), rolls.outer.body())


def closed_faces(rolls: RollSet, turn_rad: float = 0.2) -> tuple[Body, Body]:
    """The working faces near the nip, closed on the sheet."""
    inner = solids.surface("inner face", rolls.inner.contour, turn_rad, -0.5 * turn_rad)
    outer = solids.surface("outer face", rolls.outer.contour, turn_rad, -0.5 * turn_rad)
    return _stood(rolls, inner, outer)


def _stood(rolls: RollSet, inner: Body, outer: Body) -> tuple[Body, Body]:
    pitch = rolls.pair.pitch_radius_mm
    over = solids.moved(solids.turned(outer, math.pi), 2.0 * pitch, 0.0, 0.0)
    if rolls.tilt_rad == 0.0:
        return inner, over
    about = (pitch, 0.0, 0.0)
    return solids.turned(inner, rolls.tilt_rad, "y", about), solids.turned(over, -rolls.tilt_rad, "y", about)


def guide_plates(rolls: RollSet, clearance_mm: float) -> tuple[Body, ...]:
    """Plates at the entry where collars cannot guide: a flat bar at each strip edge, in the frame of the pitch line."""
    if rolls.guided:
        return ()
    low, high = _strip_edges(rolls.pair)
    pitch = rolls.pair.pitch_radius_mm
    return (
        solids.box(
            "guide plate, forward edge",
            (pitch - 8.0, 30.0, low - clearance_mm - 8.0),
            (pitch + 8.0, 90.0, low - clearance_mm),
        ),
        solids.box(
            "guide plate, aft edge",
            (pitch - 8.0, 30.0, high + clearance_mm),
            (pitch + 8.0, 90.0, high + clearance_mm + 8.0),
        ),
    )
