"""Length over which a strip takes its shape before the tools close on it, and the edge strain of it. mm, rad.

Work of bending at the hinges against work of stretching what is moved, rigid and plastic; its least gives the length L
over which the shape runs up (as (x/L)^2) and the largest edge strain (log, before elastic relief):

    flange a turned by theta            L = sqrt(8 a^3 theta / 3t)       e = 3 t theta / 4a
    land c lifted by h over a run b     L = sqrt(4 b c' h / t)           e = h t / 2 b c',    c' = c + b/3

n equal passes divide e by n and L by sqrt(n). Both are upper estimates: a strip without pull shares the strain.

Below first yield nothing of the strain stays; up to two or three times that some wave or camber does (judgement, no
test). Ends formed within about L of the strip's end flare: trim at least L of the last pass.

References
----------
Bhattacharyya, Smith, Yee, Collins, J. Mech. Working Technology 9, 1984 (flange; from memory, derived anew here);
joggle derived here. tests/published/roll_forming, tests/exact/test_forming_zone_exact.py (the minimum itself).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import require_finite, require_positive
from hoopwright.kernels.arrays import whole_count


@dataclass(frozen=True, slots=True)
class FormingZone:
    """length_mm : L. edge_strain_log : e, the largest. kind : "flange" or "joggle". passes : it was divided over."""

    kind: str
    length_mm: float
    edge_strain_log: float
    passes: int = 1

    def over(self, passes: int) -> FormingZone:
        """The same shape made in this many equal passes (of one made in one)."""
        n = whole_count("passes", passes, 1, 1000)
        first_length = self.length_mm * math.sqrt(self.passes)
        first_strain = self.edge_strain_log * self.passes
        return FormingZone(self.kind, first_length / math.sqrt(n), first_strain / n, n)

    def passes_for(self, strain_allowed: float) -> int:
        """Least number of equal passes that keeps the edge strain (log) at or below `strain_allowed`."""
        allowed = require_positive("allowed edge strain", strain_allowed)
        return max(1, math.ceil(self.edge_strain_log * self.passes / allowed - 1e-9))


def flange_zone(width: float, turn: float, thickness: float) -> FormingZone:
    """A flange of `width` a [mm] turned by `turn` theta [rad] in one pass.

    Examples
    --------
    >>> import math
    >>> zone = flange_zone(25.0, math.radians(10.0), 1.0)
    >>> round(zone.length_mm, 1), round(zone.edge_strain_log, 5)
    (85.3, 0.00524)
    """
    a, theta = require_positive("flange width", width, "mm"), require_positive("turn", turn, "rad")
    t = require_positive("thickness", thickness, "mm")
    return FormingZone("flange", math.sqrt(8.0 * a**3 * theta / (3.0 * t)), 0.75 * t * theta / a)


def joggle_zone(run: float, land: float, height: float, thickness: float) -> FormingZone:
    """A land of width `land` c lifted by `height` h over the run b, in one pass [mm].

    The land is what lies beyond the run, to the strip's edge. Give a drop by its size, as a lift.

    Examples
    --------
    >>> zone = joggle_zone(5.02, 8.57, 1.90, 0.8)
    >>> round(zone.length_mm), round(zone.edge_strain_log, 4)
    (22, 0.0148)
    """
    b, c = require_positive("run", run, "mm"), require_positive("land", land, "mm")
    h, t = require_positive("height", height, "mm"), require_positive("thickness", thickness, "mm")
    lever = b * (c + b / 3.0)
    return FormingZone("joggle", math.sqrt(4.0 * lever * h / t), h * t / (2.0 * lever))


def straight_path_strain(width: float, turn: float, length: float) -> float:
    """Edge strain (engineering) of a flange that runs straight from flat to turned over `length` [mm].

    sqrt(L^2 + c^2)/L - 1 with the chord c = 2 a sin(theta/2): a lower bound to the peak of `flange_zone`.
    """
    chord = 2.0 * require_positive("flange width", width, "mm") * math.sin(0.5 * require_finite("turn", turn, "rad"))
    return math.hypot(1.0, chord / require_positive("length", length, "mm")) - 1.0


def end_trim_needed(last_pass: FormingZone) -> float:
    """Length at each end of the strip that is not formed right: L of the last pass. [mm]"""
    return last_pass.length_mm
