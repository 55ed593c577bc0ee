"""Nodes along meridians for the linear shell: even, finer near given marks. mm; profile x = axial z, y = radius r."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.profile import Profile

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Strand:
    """One meridian as a chain of straight elements.

    s : distance along the profile. z, r : nodes. All shape (n,). thickness : of the sheet. [mm]
    """

    s: Vector
    z: Vector
    r: Vector
    thickness: float

    @property
    def nodes(self) -> int:
        """Number of nodes."""
        return int(self.s.size)

    def node_at(self, s: float) -> int:
        """Nearest node to a distance along the profile."""
        return int(np.argmin(np.abs(self.s - s)))


def strand(
    profile: Profile, thickness: float, marks: tuple[float, ...] = (), step: float = 1.0, fine: float = 0.5,
    reach: float = 10.0,
) -> Strand:  # fmt: skip
    """Nodes along a profile.

    Parameters
    ----------
    profile : Profile
        x is the axial coordinate, y the radius. [mm]
    thickness : float
        [mm]
    marks : tuple of float
        Distances along the profile that must be nodes. Two closer than 1e-6 become one (an element without length has
        no stiffness). [mm]
    step, fine, reach : float
        Longest element, longest element within `reach` of a mark. [mm]

    Raises
    ------
    InputError
        A mark off the profile, or a step that is not above 0.
    """
    for name, value in (("thickness", thickness), ("step", step), ("fine step", fine), ("reach", reach)):
        require_positive(name, value, "mm")
    length = profile.length
    for mark in marks:
        if not -1e-6 <= mark <= length + 1e-6:
            raise InputError("mark along the meridian", mark, "mm", f"from 0 to {length:g}", "move it onto the part")
    edges = [b for m in marks for b in (m - reach, m + reach) if 0.0 < b < length]
    fixed = np.unique(np.clip(np.concatenate((profile.breaks, np.array(marks, dtype=np.float64), edges)), 0.0, length))
    keep = np.concatenate(([True], np.diff(fixed) > 1e-6))
    fixed = fixed[keep]
    fixed[-1] = length
    at = np.array(marks, dtype=np.float64)
    parts = [np.array([0.0])]
    for begin, end in pairwise(fixed):
        middle = 0.5 * (begin + end)
        longest = fine if at.size and float(np.min(np.abs(at - middle))) < reach else step
        count = max(1, int(np.ceil((end - begin) / longest - 1e-9)))
        parts.append(begin + (end - begin) * np.arange(1, count + 1) / count)
    s = np.concatenate(parts)
    points = np.array([profile.point_at(float(v)) for v in s])
    return Strand(s, points[:, 0].copy(), points[:, 1].copy(), float(thickness))
