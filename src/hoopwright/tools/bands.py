"""Retaining bands: a coil spring closed to a ring in a groove, which pulls the segments in. Units mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.turned import full_circle

WIRE = 4.0


@dataclass(frozen=True, slots=True)
class BandForm:
    """A band as it lies in its groove with the set loaded: outside diameter of the coil, radius of the groove's
    floor.
    """

    name: str
    height_mm: float
    floor_mm: float
    coil_mm: float = WIRE

    @property
    def section(self) -> Profile:
        """The coil's circle."""
        return Profile(full_circle((self.height_mm, self.floor_mm + 0.5 * self.coil_mm), 0.5 * self.coil_mm))

    @property
    def volume_mm3(self) -> float:
        """Exact (Pappus), the coil taken as solid."""
        return region(self.section).revolved_volume

    def free_length_mm(self, travel_mm: float, pull_share: float = 0.9) -> float:
        """Length of the closed coil when slack: shorter than its way round the collapsed set, so that it still
        pulls.
        """
        return pull_share * 2.0 * math.pi * (self.floor_mm - travel_mm)

    def body(self) -> Body:
        """The band."""
        return solids.revolved(self.name, self.section).named(self.name, (0.20, 0.22, 0.25))
