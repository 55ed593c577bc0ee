"""Press tool for pads and port lips: die block, plungers, pad punches on their plate, holder plate, pillars, stops. mm.

Drawn with the press open on the flat sheet: its mid-plane is z = 0. Shut, the punches and their plate have moved by
`punch_way` (downward, below 0) and the plungers by `plunger_way`. Air leaves through the bores of the die, which stand
open round the plungers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.profile import Profile, line
from hoopwright.tools import solids
from hoopwright.tools.press_set import (
    DARK,
    PALE,
    PILLAR_DIA,
    RIM,
    STEEL,
    Circle,
    bored,
    cylinder,
    cylinder_volume,
    pillar_holes_volume,
    pillar_places,
    placed,
    revolved_volume,
    ring_section,
    to_axis,
)
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import closed

FLOOR, HOLDER, PLATE, SHANK = 34.0, 24.0, 30.0, 34.0
"""Metal under the die's floor, holder plate, punch plate, length of a punch behind the holder at the stop."""
STOP_DIA = 20.0
STOP_TURN_RAD = 0.4
"""Turn of the stops from the pillars."""
CLAMP = 25.0
"""Length of a plunger that its plate holds."""


@dataclass(frozen=True, slots=True, eq=False)
class PadSet:
    """The tool. die, punch, plunger, holder : faces of one port about its own axis, press open. circle : of ports.

    nose_end : radius of the flat tip of a plunger. mouth : bore of the die. inner, outer : radii of the plates.
    """

    name: str
    thickness_mm: float
    circle: Circle
    die: Profile
    punch: Profile
    plunger: Profile
    holder: Profile
    mouth_mm: float
    bore_mm: float
    nose_mm: float
    foot_from_mm: float
    holder_from_mm: float
    holder_edge_mm: float
    inner_mm: float
    outer_mm: float
    punch_way_mm: float
    plunger_way_mm: float

    @property
    def face_z(self) -> float:
        """Face of the die block."""
        return -0.5 * self.thickness_mm

    @property
    def bottom_z(self) -> float:
        """Underside of the die block."""
        return self.die.bounds[0] - FLOOR + 12.0

    @property
    def holder_top_z(self) -> float:
        """Back of the holder plate on the flat sheet."""
        return 0.5 * self.thickness_mm + HOLDER

    @property
    def plate_z(self) -> float:
        """Face of the punch plate, press open."""
        return self.holder_top_z + self.stop_height_mm - self.punch_way_mm

    @property
    def stop_height_mm(self) -> float:
        """Stops between holder plate and punch plate: they end the stroke."""
        return SHANK

    @property
    def pillar_radius_mm(self) -> float:
        """Circle of the pillars."""
        return self.outer_mm - 0.5 * RIM

    @property
    def shut_height_mm(self) -> float:
        """From the die block's underside to the punch plate's back, shut."""
        return self.plate_z + self.punch_way_mm + PLATE - self.bottom_z

    def cavity(self, top: float) -> Profile:
        """Closed section of what one port takes of the die block, up to a level above its face."""
        face = self.die.reversed().segments[:-1]
        foot = face[-1].end
        head = [(self.bottom_z, 0.0), (self.bottom_z, self.mouth_mm)]
        return closed("cavity", head, Profile(face), [(top, foot[1]), (top, 0.0)])

    def holder_hole(self, bottom: float) -> Profile:
        """Closed section of what one port takes of the holder plate, down to a level below its face."""
        face = self.holder.segments[:-1]
        edge = face[-1].end
        head = [(self.holder_top_z, 0.0), (self.holder_top_z, self.holder_from_mm)]
        return closed("hole", head, Profile(face), [(bottom, edge[1]), (bottom, 0.0)])

    def punch_section(self) -> Profile:
        """Closed section of a pad punch."""
        outer = self.punch.end[1]
        return closed("pad punch", [(self.plate_z, self.bore_mm)], self.punch, [(self.plate_z, outer)])

    def plunger_section(self) -> Profile:
        """Closed section of a plunger."""
        tip = self.plunger.segments[-1]
        face = Profile((*self.plunger.segments[:-1], line(tip.start, (tip.start[0], 0.0))))
        return to_axis("plunger", face, self.plunger_low)

    @property
    def plunger_low(self) -> float:
        """Lower end of a plunger, press open: through the die block and its stroke into its plate."""
        return self.bottom_z - self.plunger_way_mm - CLAMP

    def volumes(self) -> dict[str, float]:
        """Exact volume of every part."""
        block = self.face_z - self.bottom_z
        plain = math.pi * (self.outer_mm**2 - self.inner_mm**2)
        count = self.circle.count
        return {
            "die block": plain * block - count * revolved_volume(self.cavity(self.face_z)) - pillar_holes_volume(block),
            "holder plate": plain * HOLDER
            - count * revolved_volume(self.holder_hole(0.5 * self.thickness_mm))
            - pillar_holes_volume(HOLDER),
            "punch plate": plain * PLATE - pillar_holes_volume(PLATE),
            "pad punch": revolved_volume(self.punch_section()),
            "plunger": revolved_volume(self.plunger_section()),
            "pillar": cylinder_volume(0.5 * PILLAR_DIA, self.pillar_length_mm),
            "stop": cylinder_volume(0.5 * STOP_DIA, self.stop_height_mm),
        }

    @property
    def pillar_length_mm(self) -> float:
        """Pillars: from the die block's underside to flush with the punch plate when shut."""
        return self.shut_height_mm

    def parts(self) -> dict[str, Body]:
        """One body of every part, each where it is with the press open; punch and plunger on the axis."""
        places = pillar_places(self.pillar_radius_mm)
        top, half = self.holder_top_z, 0.5 * self.thickness_mm
        block = solids.revolved(
            "die block", ring_section("die block", self.bottom_z, self.face_z, self.inner_mm, self.outer_mm)
        )
        cavity = solids.revolved("cavity", self.cavity(self.face_z + 2.0))
        die = bored(solids.cut(block, *self.circle.around(cavity)), places, self.bottom_z, self.face_z)
        plate = solids.revolved("holder plate", ring_section("holder plate", half, top, self.inner_mm, self.outer_mm))
        hole = solids.revolved("hole", self.holder_hole(half - 2.0))
        holder = bored(solids.cut(plate, *self.circle.around(hole)), places, half, top)
        back = solids.revolved(
            "punch plate",
            ring_section("punch plate", self.plate_z, self.plate_z + PLATE, self.inner_mm, self.outer_mm),
        )
        return {
            "die block": die.named("die block", STEEL),
            "holder plate": holder.named("holder plate", PALE),
            "punch plate": bored(back, places, self.plate_z, self.plate_z + PLATE).named("punch plate", PALE),
            "pad punch": solids.revolved("pad punch", self.punch_section()).named("pad punch", STEEL),
            "plunger": solids.revolved("plunger", self.plunger_section()).named("plunger", DARK),
            "pillar": cylinder("pillar", 0.5 * PILLAR_DIA, self.bottom_z, self.bottom_z + self.pillar_length_mm).named(
                "pillar", DARK
            ),
            "stop": cylinder("stop", 0.5 * STOP_DIA, top, top + self.stop_height_mm).named("stop", DARK),
        }

    def shut(self, parts: dict[str, Body]) -> tuple[Body, ...]:
        """The whole tool, shut."""
        places = pillar_places(self.pillar_radius_mm)
        down, up = self.punch_way_mm, self.plunger_way_mm
        c, s = math.cos(STOP_TURN_RAD), math.sin(STOP_TURN_RAD)
        turned = tuple((x * c - y * s, x * s + y * c) for x, y in places)
        return (
            parts["die block"],
            parts["holder plate"],
            solids.moved(parts["punch plate"], 0.0, 0.0, down),
            *self.circle.around(solids.moved(parts["pad punch"], 0.0, 0.0, down)),
            *self.circle.around(solids.moved(parts["plunger"], 0.0, 0.0, up)),
            *placed(parts["pillar"], places),
            *placed(parts["stop"], turned),
        )
