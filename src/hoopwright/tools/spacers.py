"""Slot spacers: ground plates that hold the segments in the loaded position while the profile is ground. Units mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.tools import solids
from hoopwright.tools.segment_body import BAND_DEPTH, DROP, SetForm
from hoopwright.tools.solids import Body

BELOW, IN = 2.0, 1.5


@dataclass(frozen=True, slots=True)
class SpacerForm:
    """One of `count` equal plates: thickness is the slot; they stand from `from_mm` to `to_mm` off the axis."""

    name: str
    count: int
    thickness_mm: float
    height_mm: float
    from_mm: float
    to_mm: float

    @property
    def volume_mm3(self) -> float:
        """Exact, of one."""
        return self.thickness_mm * self.height_mm * (self.to_mm - self.from_mm)

    def body(self) -> Body:
        """A plate along x."""
        half = 0.5 * self.thickness_mm
        plate = solids.box(self.name, (self.from_mm, -half, 0.0), (self.to_mm, half, self.height_mm))
        return plate.named(self.name, (0.75, 0.75, 0.55))

    def placed(self, form: SetForm, number: int) -> Body:
        """Plate `number` in the slot after segment `number`."""
        return solids.turned(self.body(), -(number - 0.5) * form.pitch_rad).named(f"{self.name} {number}")


def spacer_form(form: SetForm) -> SpacerForm:
    """Plates that reach from the bore to just below everything that is ground."""
    top = form.bore_mm + form.height_mm * math.tan(form.half_angle_rad)
    low = min(form.profile.bounds[1], form.profile.end[1] - form.edge_radius_mm - DROP - BAND_DEPTH)
    return SpacerForm(f"{form.name} spacer", form.count, form.slot_mm, form.height_mm, top + IN, low - BELOW)
