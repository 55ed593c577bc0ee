"""Weld fixture: a backing bar inside the seam and a clamp bar outside, both to the ring's own faces. Units mm.

Both are pieces of revolution about the ring's axis. The backing bar has a gas groove along the seam.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.profile_integrals import region
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.slotted_volume import slotted_volume
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import closed

DEPTH, HALF_WIDTH, GROOVE_WIDTH, GROOVE_DEPTH = 14.0, 20.0, 3.0, 1.5


@dataclass(frozen=True, slots=True)
class WeldFixture:
    """Bars of a closing weld.

    middle : mid-surface of the hoop as closed, x = z, y = radius. thickness_mm : of the sheet.
    """

    name: str
    middle: Profile
    thickness_mm: float

    @property
    def inside(self) -> Profile:
        """The ring's inside face: top of the backing bar."""
        return offset(self.middle, -0.5 * self.thickness_mm)

    @property
    def outside(self) -> Profile:
        """The ring's outside face: underside of the clamp."""
        return offset(self.middle, 0.5 * self.thickness_mm)

    @property
    def span_rad(self) -> float:
        """Angle each bar takes of the turn."""
        return 2.0 * math.asin(HALF_WIDTH / self.middle.bounds[1])

    def _backing_section(self) -> Profile:
        face = self.inside
        floor = face.bounds[1] - DEPTH
        (x0, _), (x1, _) = face.start, face.end
        return closed("backing bar", [(x0, floor)], face, [(x1, floor)])

    def _clamp_section(self) -> Profile:
        face = self.outside
        top = face.bounds[3] + DEPTH
        (x0, _), (x1, _) = face.start, face.end
        return closed("clamp bar", [(x0, top)], face, [(x1, top)])

    def _groove_section(self) -> Profile:
        face = self.inside
        back = face.moved(0.0, -GROOVE_DEPTH).reversed()
        down, up = line(face.end, back.start), line(back.end, face.start)
        return Profile((*face.segments, down, *back.segments, up), "gas groove")

    @property
    def backing_volume_mm3(self) -> float:
        """Exact: Pappus, less the groove (what one slot takes of the ribbon under the face)."""
        ribbon = self._groove_section()
        groove = region(ribbon).revolved_volume - slotted_volume(ribbon, 1, GROOVE_WIDTH)
        return region(self._backing_section()).revolved_volume * self.span_rad / (2.0 * math.pi) - groove

    @property
    def clamp_volume_mm3(self) -> float:
        """Exact (Pappus)."""
        return region(self._clamp_section()).revolved_volume * self.span_rad / (2.0 * math.pi)

    @property
    def wall_mm(self) -> float:
        """Metal under the groove at the throat."""
        return DEPTH - GROOVE_DEPTH

    def faces(self, turn_rad: float = 0.02) -> tuple[Body, Body]:
        """Both faces that hold the sheet, over a small turn: what the nearest distance is taken between."""
        return solids.surface("backing face", self.inside, turn_rad), solids.surface(
            "clamp face", self.outside, turn_rad
        )

    def bodies(self) -> tuple[Body, Body]:
        """Backing bar and clamp bar about the x axis, closed on the sheet."""
        start = -0.5 * self.span_rad
        backing = solids.revolved(f"{self.name} backing bar", self._backing_section(), self.span_rad, start)
        ribbon = solids.revolved("gas groove", self._groove_section(), self.span_rad, start)
        reach = self.middle.bounds[3] + 5.0
        (x0, _), (x1, _) = self.middle.start, self.middle.end
        slab = solids.box(
            "groove", (0.0, -0.5 * GROOVE_WIDTH, min(x0, x1) - 5.0), (reach, 0.5 * GROOVE_WIDTH, max(x0, x1) + 5.0)
        )
        clamp = solids.revolved(f"{self.name} clamp bar", self._clamp_section(), self.span_rad, start)
        copper, steel = (0.80, 0.50, 0.30), (0.55, 0.57, 0.60)
        return (
            solids.cut(backing, solids.common(ribbon, slab)).named(backing.name, copper),
            clamp.named(clamp.name, steel),
        )
