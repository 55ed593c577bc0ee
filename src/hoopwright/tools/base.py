"""Base: a round plate with a radial slot for each segment's tongue, a bore for the pin, and bolt holes. Units mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.slotted_volume import strip_in_circle
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.threads import clearance_hole
from hoopwright.tools.turned import closed

THICKNESS, PIN_ROOM, RIM = 32.0, 1.0, 14.0
FLOOR_ROOM, END_ROOM = 0.5, 1.0
BOLT = 12
BOLT_DIA = clearance_hole(BOLT)


@dataclass(frozen=True, slots=True)
class BaseForm:
    """A base plate; its top is at u = 0.

    bore_mm : radius. slot_* : width, depth, and end of the straight part from the axis; the end is half round.
    """

    name: str
    count: int
    radius_mm: float
    bore_mm: float
    slot_width_mm: float
    slot_depth_mm: float
    slot_to_mm: float
    bolts: int
    bolt_circle_mm: float

    @property
    def volume_mm3(self) -> float:
        """Exact."""
        half = 0.5 * self.slot_width_mm
        slot = self.slot_width_mm * self.slot_to_mm - strip_in_circle(self.bore_mm, half) + 0.5 * math.pi * half * half
        plate = math.pi * (self.radius_mm**2 - self.bore_mm**2) * THICKNESS
        return plate - self.count * slot * self.slot_depth_mm - self.bolts * 0.25 * math.pi * BOLT_DIA**2 * THICKNESS

    @property
    def rim_mm(self) -> float:
        """Metal outside the slots."""
        return self.radius_mm - self.slot_to_mm - 0.5 * self.slot_width_mm

    @property
    def floor_mm(self) -> float:
        """Metal under the slots."""
        return THICKNESS - self.slot_depth_mm

    @property
    def web_mm(self) -> float:
        """Metal between two slots at the bore."""
        return 2.0 * self.bore_mm * math.sin(math.pi / self.count) - self.slot_width_mm

    def body(self) -> Body:
        """The plate, axis along z."""
        ring = closed(
            self.name,
            [(-THICKNESS, self.bore_mm), (-THICKNESS, self.radius_mm), (0.0, self.radius_mm), (0.0, self.bore_mm)],
            None,
            [],
        )
        plate = solids.revolved(self.name, ring)
        slot = solids.extruded("slot", slot_outline(self.slot_width_mm, self.slot_to_mm), -self.slot_depth_mm, 1.0)
        pitch = 2.0 * math.pi / self.count
        cuts = [solids.turned(slot, k * pitch) for k in range(self.count)]
        bolt = solids.revolved(
            "bolt hole",
            closed(
                "bolt",
                [(-THICKNESS - 1.0, 0.0), (-THICKNESS - 1.0, 0.5 * BOLT_DIA), (1.0, 0.5 * BOLT_DIA), (1.0, 0.0)],
                None,
                [],
            ),
        )
        step = 2.0 * math.pi / self.bolts
        for k in range(self.bolts):
            cuts.append(solids.turned(solids.moved(bolt, self.bolt_circle_mm, 0.0, 0.0), (0.5 * pitch) + k * step))
        return solids.cut(plate, *cuts).named(self.name, (0.50, 0.55, 0.52))


def slot_outline(width: float, to: float) -> Profile:
    """A slot from the axis outward along x, its end half round."""
    h = 0.5 * width
    return Profile(
        (
            line((0.0, -h), (to, -h)),
            arc((to, -h), (to, h), (to, 0.0), True),
            line((to, h), (0.0, h)),
            line((0.0, h), (0.0, -h)),
        )
    )


def base_form(
    name: str, count: int, tongue_width: float, tongue_depth: float, tongue_to: float, pin_bore: float, slide: float
) -> BaseForm:
    """The base of a set.

    Parameters
    ----------
    tongue_* : of the segments in the loaded position. slide : clearance of a tongue, each side.
    """
    to = tongue_to + END_ROOM
    width = tongue_width + 2.0 * slide
    radius = to + 0.5 * width + RIM + BOLT_DIA
    bolts = count // 2 if count % 2 == 0 else count
    return BaseForm(
        name,
        count,
        radius,
        pin_bore + PIN_ROOM,
        width,
        tongue_depth + FLOOR_ROOM,
        to,
        bolts,
        radius - 0.5 * RIM - 0.5 * BOLT_DIA,
    )
