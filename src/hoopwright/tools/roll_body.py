"""Rolls as bodies: contour, collars, reliefs, bore and keyway; guide plates. Units mm; x along the roll, y radius.

One pair is closed in steps, and the strip draws in from pass to pass. What guides it is therefore a pair of plates at
the entry, set anew for each pass. The inner roll's collars stand clear of the widest strip that ever enters and keep it
from running off; they are straight, because only where an edge lies at the foot of the contour would a taper follow the
depth. The outer roll ends between them. Where the roll axes are tilted towards each other collars would foul: there
the plates stand alone.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.slotted_volume import strip_in_circle
from hoopwright.tools import solids
from hoopwright.tools.rolls import RollPair, extended
from hoopwright.tools.solids import Body
from hoopwright.tools.strip_run import StripPass
from hoopwright.tools.turned import between_x, closed

COLLAR_WIDTH, COLLAR_HEIGHT = 6.0, 3.0
RELIEF_WIDTH, RELIEF_DEPTH = 0.8, 0.5
CHAMFER = 0.5
PLATE_LONG, PLATE_HALF_HIGH, PLATE_THICK, PLATE_CLEAR = 60.0, 8.0, 8.0, 3.0
"""Guide plates: length along the feed, half height about the pitch plane, thickness, and room to the rolls."""

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
    def collar_radii_mm(self) -> tuple[float, float]:
        """Outside of the collars, forward and aft; of the roll's ends where it has none."""
        x0, _, x1, _ = self.section.bounds
        points = [segment.start for segment in self.section.segments]
        ends = (max(r for x, r in points if abs(x - end) <= COLLAR_WIDTH + 1e-9) for end in (x0, x1))
        forward, aft = ends
        return forward, aft

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
    """Both rolls of a ring. collared : collars on the inner roll. tilt_rad : turn of the inner roll about the pitch
    point.

    side_mm : collar to the end of the outer roll. guide_mm : strip edge to collar and plate. strip : where the strip's
    edges run in every pass.
    """

    inner: RollForm
    outer: RollForm
    pair: RollPair
    thickness_mm: float
    collared: bool
    tilt_rad: float
    side_mm: float
    guide_mm: float
    strip: tuple[StripPass, ...]

    @property
    def collars_mm(self) -> tuple[float, float]:
        """Inner faces of the collars along x; where there are none, of the plates in the first pass."""
        low, high = widest(self.strip)
        return low - self.guide_mm, high + self.guide_mm

    def opening_mm(self, row: StripPass) -> float:
        """Opening between the guide plates for a pass."""
        return row.entering_width_mm + 2.0 * self.guide_mm

    def plate_from_end_mm(self, row: StripPass) -> float:
        """Forward plate's face aft of the forward end of the inner roll; negative where it stands ahead of it."""
        return row.entering_mm[0] - self.guide_mm - self.inner.section.bounds[0]


def widest(strip: Sequence[StripPass]) -> tuple[float, float]:
    """Outermost places that the strip reaches in any pass, before it or after."""
    runs = [edges for row in strip for edges in (row.entering_mm, row.leaving_mm)]
    return min(low for low, _ in runs), max(high for _, high in runs)


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
    name: str,
    pair: RollPair,
    thickness_mm: float,
    shaft_mm: float,
    guide_mm: float,
    side_mm: float,
    strip: tuple[StripPass, ...],
) -> RollSet:
    """Both rolls of a pair.

    Parameters
    ----------
    guide_mm : strip edge to collar and guide plate. side_mm : collar to the end of the outer roll. strip : its edges in
    every pass, in the frame of the contours.

    Raises
    ------
    GeometryError
        A contour whose ends are not straight.
    """
    key = keyway_for(shaft_mm)
    collared = abs(pair.cone_deg) < 1e-9
    low, high = widest(strip)
    low, high = low - guide_mm, high + guide_mm
    if not collared:
        inner_contour, outer_contour = pair.inner, pair.outer
        inner_section, outer_section = (_plain(c, 0.5 * shaft_mm) for c in (inner_contour, outer_contour))
    else:
        inner_contour = between_x(_reaching(pair.inner, low, high), low + RELIEF_WIDTH, high - RELIEF_WIDTH)
        ends = low + side_mm + CHAMFER, high - side_mm - CHAMFER
        outer_contour = between_x(_reaching(pair.outer, low, high), *ends)
        whole = between_x(_reaching(pair.inner, low, high), low, high)
        inner_section = _collared(whole, inner_contour, 0.5 * shaft_mm, thickness_mm)
        outer_section = _plain(outer_contour, 0.5 * shaft_mm)
    inner = RollForm(f"{name} inner roll", inner_contour, inner_section, shaft_mm, key)
    outer = RollForm(f"{name} outer roll", outer_contour, outer_section, shaft_mm, key)
    tilt = math.radians(pair.cone_deg)
    return RollSet(inner, outer, pair, thickness_mm, collared, tilt, side_mm, guide_mm, strip)


def _reaching(contour: Profile, low: float, high: float) -> Profile:
    """The contour, gone on straight where it ends before both places."""
    missing = max(contour.start[0] - low, high - contour.end[0], 0.0)
    return extended(contour, 2.0 * missing) if missing > 0.0 else contour


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


def guide_plates(rolls: RollSet, number: int = 1) -> tuple[Body, Body]:
    """Plates at the entry as set for a pass: a flat bar at each strip edge, in the frame of the pitch line."""
    row = rolls.strip[number - 1]
    low, high = row.entering_mm[0] - rolls.guide_mm, row.entering_mm[1] + rolls.guide_mm
    pitch = rolls.pair.pitch_radius_mm
    x0, x1 = pitch - PLATE_HALF_HIGH, pitch + PLATE_HALF_HIGH
    y0 = plates_from_mm(rolls)
    y1 = y0 + PLATE_LONG
    return (
        solids.box("guide plate, forward edge", (x0, y0, low - PLATE_THICK), (x1, y1, low)),
        solids.box("guide plate, aft edge", (x0, y0, high), (x1, y1, high + PLATE_THICK)),
    )


def plates_from_mm(rolls: RollSet) -> float:
    """How far before the plane of the axes the plates end, clear of collars and rolls."""
    largest = max(form.section.bounds[3] for form in (rolls.inner, rolls.outer))
    lean = max(form.length_mm for form in (rolls.inner, rolls.outer)) * abs(math.sin(rolls.tilt_rad))
    level = rolls.pair.pitch_radius_mm - PLATE_HALF_HIGH
    return math.sqrt(max((largest + lean) ** 2 - level * level, 0.0)) + PLATE_CLEAR


def room_beside_collars(rolls: RollSet, inner: Body) -> tuple[tuple[float, float], ...]:
    """Room from the strip's edges to the collars of the roll's body, nearer side, before and after every pass.

    A feeler at the strip's edge, at collar height, is held against the body: nothing of how the collars were placed is
    used.
    """
    x = rolls.inner.contour
    feelers = []
    for row in rolls.strip:
        sides = []
        for low, high in (row.entering_mm, row.leaving_mm):
            rooms = []
            for edge, way, foot in ((low, 1.0, x.start[1]), (high, -1.0, x.end[1])):
                top = foot + rolls.thickness_mm + COLLAR_HEIGHT - CHAMFER - 0.2
                far = edge + way * 0.4
                feeler = solids.box("feeler", (top - 0.8, -0.2, min(edge, far)), (top, 0.2, max(edge, far)))
                rooms.append(solids.distance(feeler, inner))
            sides.append(min(rooms))
        feelers.append((sides[0], sides[1]))
    return tuple(feelers)
