"""Metric screw threads of the tools: which one, its stress area, the hole it goes through. Units mm, mm^2.

Bodies carry a thread as a plain cylinder of its nominal diameter; the drawing says which thread it is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import CardError, InputError, require_positive

COARSE: tuple[tuple[int, float], ...] = (
    (8, 1.25),
    (10, 1.5),
    (12, 1.75),
    (16, 2.0),
    (20, 2.5),
    (24, 3.0),
    (30, 3.5),
    (36, 4.0),
    (42, 4.5),
    (48, 5.0),
    (56, 5.5),
    (64, 6.0),
)
"""Nominal diameter and pitch, first choice of the coarse series; ISO 261 and 262 (from memory)."""

HOLES = {8: 9.0, 10: 11.0, 12: 13.5, 16: 17.5, 20: 22.0}
"""Hole that a screw goes through, medium fit; ISO 273 (from memory)."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A coarse metric thread."""

    nominal_mm: int
    pitch_mm: float

    @property
    def designation(self) -> str:
        """As drawings name it; coarse pitch is not written."""
        return f"M{self.nominal_mm}"

    @property
    def stress_area_mm2(self) -> float:
        """Area that a pull is taken over: pi/4 (d - 0.9382 P)^2, ISO 898-1 (from memory)."""
        return 0.25 * math.pi * (self.nominal_mm - 0.9382 * self.pitch_mm) ** 2


def largest_thread(room_mm: float) -> Thread:
    """Largest first-choice thread that goes into a diameter.

    Raises
    ------
    InputError
        Room for none.
    """
    fits = [Thread(nominal, pitch) for nominal, pitch in COARSE if nominal <= require_positive("stud", room_mm, "mm")]
    if not fits:
        raise InputError("room for a thread", round(room_mm, 2), "mm diameter", f"{COARSE[0][0]} or more", "widen it")
    return fits[-1]


def clearance_hole(nominal: int) -> float:
    """Diameter of the hole a screw goes through. [mm]

    Raises
    ------
    CardError
        A screw that is not in the table.
    """
    if nominal not in HOLES:
        raise CardError(f"no through hole for M{nominal}; there are {', '.join(f'M{m}' for m in HOLES)}")
    return HOLES[nominal]
