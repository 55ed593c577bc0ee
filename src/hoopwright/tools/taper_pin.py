"""Taper pin: the cone that drives the segments, a head above and a pull stud below. Units mm, N."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import GeometryError, InputError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.tools import solids
from hoopwright.tools.solids import Body
from hoopwright.tools.threads import Thread, largest_thread
from hoopwright.tools.turned import closed

ABOVE, HEAD, STUD, STUD_STEP = 8.0, 12.0, 45.0, 3.0


@dataclass(frozen=True, slots=True)
class PinForm:
    """A pin in the loaded position; u = 0 at the top of the base.

    bore_mm : radius of the cone there. stroke_mm, height_mm : longest stroke and tallest set it serves. pull_N :
    largest.
    """

    name: str
    half_angle_rad: float
    bore_mm: float
    stroke_mm: float
    height_mm: float
    pull_N: float

    @property
    def small_end_mm(self) -> float:
        """Radius of the cone's lower end, a stroke below the base."""
        return self.bore_mm - self.stroke_mm * math.tan(self.half_angle_rad)

    @property
    def large_end_mm(self) -> float:
        """Radius of the cone's upper end."""
        return self.bore_mm + (self.height_mm + ABOVE) * math.tan(self.half_angle_rad)

    @property
    def thread(self) -> Thread:
        """Thread of the pull stud: the largest that stands clear of the cone's small end.

        Raises
        ------
        GeometryError
            The stroke leaves no room for a stud.
        """
        try:
            return largest_thread(2.0 * (self.small_end_mm - STUD_STEP))
        except InputError:
            raise GeometryError(
                f"{self.name}: pull stud",
                round(2.0 * (self.small_end_mm - STUD_STEP), 2),
                "mm diameter",
                "8 or more",
                "take a bigger bore or less travel",
            ) from None

    @property
    def stud_mm(self) -> float:
        """Radius of the pull stud below the cone: its thread's nominal one."""
        return 0.5 * self.thread.nominal_mm

    @property
    def pull_stress_MPa(self) -> float:
        """Largest pull over the stress area of the stud's thread."""
        return self.pull_N / self.thread.stress_area_mm2

    @property
    def section(self) -> Profile:
        """Closed half section on the axis, the thread as a cylinder. Raises GeometryError where no stud has room."""
        low, high = -self.stroke_mm, self.height_mm + ABOVE
        points = [
            (low - STUD, 0.0),
            (low - STUD, self.stud_mm - 1.0),
            (low - STUD + 1.0, self.stud_mm),
            (low, self.stud_mm),
            (low, self.small_end_mm),
            (high, self.large_end_mm),
            (high + HEAD - 1.0, self.large_end_mm),
            (high + HEAD, self.large_end_mm - 1.0),
            (high + HEAD, 0.0),
        ]
        return closed(self.name, points, None, [])

    @property
    def volume_mm3(self) -> float:
        """Exact (Pappus)."""
        return region(self.section).revolved_volume

    def body(self, raised_mm: float = 0.0) -> Body:
        """The pin, raised by `raised_mm` from its loaded position."""
        made = solids.revolved(self.name, self.section).named(self.name, (0.45, 0.50, 0.58))
        return solids.moved(made, 0.0, 0.0, raised_mm) if raised_mm else made
