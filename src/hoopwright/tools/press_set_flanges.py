"""Press tool for the flanges: punch, two dies, pad and holder, turned, with room for pads and lips of the ports. mm.

Drawn with the press open on the flat sheet: its mid-plane is z = 0. Shut, punch and pad have moved by `way` (downward,
below 0).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.profile import Profile, line
from hoopwright.tools import solids
from hoopwright.tools.press_set import (
    DARK,
    PALE,
    STEEL,
    Circle,
    cylinder,
    cylinder_volume,
    revolved_volume,
    scalloped_volume,
)
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import closed


@dataclass(frozen=True, slots=True, eq=False)
class FlangeSet:
    """The tool. punch, outer_die, inner_die, pad, holder : faces, press open. circle : of ports, None without.

    pad_edge_mm : radius of the pad's edges. lip_room_mm, lip_depth_mm : radius and depth of the recess for a lip in the
    punch; foot_room_mm, foot_depth_mm : of that for a port's pad in the pad. inner, outer : radii of the dies.
    """

    name: str
    thickness_mm: float
    circle: Circle | None
    punch: Profile
    outer_die: Profile
    inner_die: Profile
    pad: Profile
    holder: Profile
    pad_edge_mm: float
    lip_room_mm: float
    lip_depth_mm: float
    foot_room_mm: float
    foot_depth_mm: float
    inner_mm: float
    outer_mm: float
    way_mm: float

    def sections(self) -> dict[str, Profile]:
        """Closed half sections of all parts, recesses left out."""
        low = self.outer_die.end[0]
        face = self.outer_die.start[0]
        outer = Profile((line((face, self.outer_mm), self.outer_die.segments[0].end), *self.outer_die.segments[1:]))
        last = self.inner_die.segments[-1]
        inner = Profile((*self.inner_die.segments[:-1], line(last.start, (face, self.inner_mm))))
        top = self.holder.start[0]
        tail = self.holder.segments[-1]
        holder = Profile((*self.holder.segments[:-1], line(tail.start, (tail.start[0], self.outer_mm))))
        return {
            "punch": Profile((*self.punch.segments, line(self.punch.end, self.punch.start)), "punch"),
            "outer die": closed("outer die", [(low, self.outer_mm)], outer, []),
            "inner die": Profile(
                (*inner.segments, line(inner.end, (low, self.inner_mm)), line((low, self.inner_mm), inner.start))
            ),
            "pad": Profile((*self.pad.segments, line(self.pad.end, self.pad.start)), "pad"),
            "holder": Profile(
                (*holder.segments, line(holder.end, (top, self.outer_mm)), line((top, self.outer_mm), holder.start))
            ),
        }

    @property
    def punch_face_z(self) -> float:
        """Flat of the punch."""
        return 0.5 * self.thickness_mm

    @property
    def pad_face_z(self) -> float:
        """Flat of the pad."""
        return self.pad.bounds[2]

    def volumes(self) -> dict[str, float]:
        """Exact volume of every part; the pad's recesses by quadrature."""
        found = {name: revolved_volume(section) for name, section in self.sections().items()}
        if self.circle is not None:
            count = self.circle.count
            found["punch"] -= count * cylinder_volume(self.lip_room_mm, self.lip_depth_mm)
            low, high = self.pad.bounds[1], self.pad.bounds[3]
            edge = self.pad_edge_mm

            def drop(r: float) -> float:
                into = max(low + edge - r, r - high + edge, 0.0)
                return edge - math.sqrt(max(edge * edge - into * into, 0.0))

            found["pad"] -= count * scalloped_volume(
                drop, low, high, self.circle.radius_mm, self.foot_room_mm, self.foot_depth_mm
            )
        return found

    def parts(self) -> dict[str, Body]:
        """Every part, press open."""
        made = {name: solids.revolved(name, section) for name, section in self.sections().items()}
        if self.circle is not None:
            z = self.punch_face_z
            lip = cylinder("room for a lip", self.lip_room_mm, z - 1.0, z + self.lip_depth_mm)
            made["punch"] = solids.cut(made["punch"], *self.circle.around(lip))
            z = self.pad_face_z
            foot = cylinder("room for a pad", self.foot_room_mm, z - self.foot_depth_mm, z + 1.0)
            made["pad"] = solids.cut(made["pad"], *self.circle.around(foot))
        colours = {"punch": STEEL, "outer die": PALE, "inner die": PALE, "pad": DARK, "holder": DARK}
        return {name: body.named(name, colours[name]) for name, body in made.items()}

    def shut(self, parts: dict[str, Body]) -> tuple[Body, ...]:
        """The whole tool, shut."""
        moved = {"punch", "pad"}
        return tuple(
            solids.moved(body, 0.0, 0.0, -self.way_mm) if name in moved else body for name, body in parts.items()
        )

    @property
    def shut_height_mm(self) -> float:
        """From the dies' underside to the punch's back, shut."""
        low = min(self.outer_die.end[0], self.pad.bounds[0] - self.way_mm)
        return max(self.punch.bounds[2] - self.way_mm, self.holder.bounds[2]) - low
