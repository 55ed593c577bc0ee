"""What a tool has left: how often its profile can be ground again, and what that moves. Units mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.cards.toolroom import ToolRoom


@dataclass(frozen=True, slots=True)
class ToolLife:
    """Regrinds of a profile. total_mm, each_mm : metal in all and by one; used_mm : gone so far."""

    total_mm: float
    each_mm: float
    used_mm: float
    limited_by: str

    @property
    def regrinds_left(self) -> int:
        """Whole regrinds left."""
        return max(0, math.floor((self.total_mm - self.used_mm) / self.each_mm + 1e-9))

    @property
    def left_mm(self) -> float:
        """Metal left for regrinds."""
        return max(0.0, self.total_mm - self.used_mm)


def tool_life(room: ToolRoom, wall_mm: float, centre_left_mm: float | None = None, used_mm: float = 0.0) -> ToolLife:
    """Life of a ground profile.

    Parameters
    ----------
    wall_mm : metal between profile and what lies behind it. centre_left_mm : how far both roll centres may still come
        together on their machine, halved; None for a tool that needs no centre distance.
    """
    limits = [
        (room.regrind_total_mm.value, "the shop's own limit"),
        (wall_mm - room.wall_min_mm.value, "the wall behind the profile"),
    ]
    if centre_left_mm is not None:
        limits.append((centre_left_mm, "the closest roll centres of the machine"))
    total, words = min(limits)
    return ToolLife(max(0.0, total), room.regrind_each_mm.value, used_mm, words)
