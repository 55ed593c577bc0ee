"""Fit-up before the closing weld: mismatch along the contour, gap, clamps and tabs, against level or house card."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.limits import HouseLimits
from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.findings import Check, Figure, Finding, Source, gravest_first, judged
from hoopwright.process.working import reckoned, stated

Array = NDArray[np.float64]
Level = Literal["B", "C", "D", "house"]

MISALIGNMENT: Final = {"D": (0.25, 3.0), "C": (0.15, 2.0), "B": (0.10, 2.0)}
"""Share of the thickness and most [mm]: ISO 13919-1, from memory; verify against the issue in force."""
EXCESS: Final = {"D": 0.30, "C": 0.20, "B": 0.15}
"""Excess weld 0.2 mm plus this share of the thickness, at most 5 mm."""
PORE: Final = {"D": (0.5, 5.0), "C": (0.4, 3.0), "B": (0.3, 2.0)}
UNDERCUT: Final = {"D": (0.15, 1.0), "C": (0.10, 0.5), "B": (0.05, 0.5)}
READ_SECOND_HAND: Final = Source(
    "read", "ISO 13919-1 (1996), limits as fractions of t, read second hand in a review of thick-section laser welding"
)
FROM_MEMORY: Final = Source("memory", "ISO 13919-1, from memory; verify against the issue in force")
GAUGED: Final = Source("measured", "fit-up readings before welding")
ROLLED: Final = Source("derived", "section of both strip ends after rolling")
SPOT_OVER_GAP: Final = Source("memory", "from memory: laser handbooks, spot at least twice the gap")


@dataclass(frozen=True, slots=True)
class WeldShapeLimits:
    """Limits of a quality level for one thickness. [mm]"""

    level: str
    misalignment_mm: float
    excess_mm: float
    pore_mm: float
    undercut_mm: float


def level_limits(level: Level, thickness_mm: float) -> WeldShapeLimits:
    """Limits of a level of the standard.

    Raises
    ------
    InputError
        No such level.
    """
    t = require_positive("sheet thickness", thickness_mm, "mm")
    if level not in EXCESS:
        raise InputError("quality level", level, "", "B, C or D", "name the level of the drawing")

    def cut(table: dict[str, tuple[float, float]]) -> float:
        share, most = table[level]
        return min(share * t, most)

    return WeldShapeLimits(level, cut(MISALIGNMENT), min(0.2 + EXCESS[level] * t, 5.0), cut(PORE), cut(UNDERCUT))


@dataclass(frozen=True, slots=True)
class EndGeometry:
    """Mismatch of two strip ends. place_mm : along the contour; mismatch_mm : of the second over the first, normal to
    the contour, shapes (n,); the mean is taken out where the clamp may set it."""

    place_mm: tuple[float, ...]
    mismatch_mm: tuple[float, ...]

    @property
    def worst(self) -> tuple[float, float]:
        """Place and mismatch of the worst point. [mm]"""
        k = int(np.argmax(np.abs(self.mismatch_mm)))
        return self.place_mm[k], self.mismatch_mm[k]


def mismatch_of_ends(first: Array, second: Array, clamped: bool = True) -> EndGeometry:
    """Mismatch along the contour from the (z, r) points of both ends, shape (n, 2), same stations.

    clamped : the clamp may shift one end as a whole, so shift and tilt that least squares finds are taken out.

    Raises
    ------
    InputError
        Outlines of different lengths, fewer than 4 points, or a value that is no number.
    """
    if first.shape != second.shape or first.ndim != 2 or first.shape[1] != 2 or len(first) < 4:
        raise InputError("end outlines", (first.shape, second.shape), "", "two of equal shape (n, 2), n 4 or more", "")
    if not (np.all(np.isfinite(first)) and np.all(np.isfinite(second))):
        raise InputError("end outlines", "not finite", "mm", "finite", "measure again")
    tangent = np.gradient(first, axis=0)
    tangent /= np.hypot(tangent[:, 0], tangent[:, 1])[:, None]
    normal = np.column_stack([-tangent[:, 1], tangent[:, 0]])
    apart = ((second - first) * normal).sum(axis=1)
    place = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(first, axis=0).T))])
    if clamped:
        arm = first[:, 0] - first[:, 0].mean()
        turned = np.column_stack([normal[:, 0], normal[:, 1], arm * normal[:, 1]])
        found, *_ = np.linalg.lstsq(turned, apart, rcond=None)
        apart = apart - turned @ found
    return EndGeometry(tuple(map(float, place)), tuple(map(float, apart)))


@dataclass(frozen=True, slots=True)
class FitUp:
    """Readings before welding. mismatch_mm : forward, middle, aft or more; gap_mm : the same."""

    part: str
    mismatch_mm: tuple[float, ...]
    gap_mm: tuple[float, ...]
    thickness_mm: float
    spot_dia_mm: float


@dataclass(frozen=True, slots=True)
class FitUpPlan:
    """Fit-up judged."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def judge_fit_up(fit: FitUp, limits: HouseLimits, level: Level = "house") -> FitUpPlan:
    """Mismatch and gap against the level or the house card, gap against the spot.

    Raises
    ------
    InputError
        No reading; a gap below 0.
    """
    mismatch = _worst("mismatch", fit.mismatch_mm)
    gap = _worst("gap", fit.gap_mm)
    t = require_positive("sheet thickness", fit.thickness_mm, "mm")
    allowed, source = limits.butt_mismatch_max_t.value * t, limits.butt_mismatch_max_t.source
    if level != "house":
        allowed, source = level_limits(level, t).misalignment_mm, FROM_MEMORY
    worst = stated(f"{fit.part}/fit-up/mismatch", "worst mismatch along the seam", mismatch, "mm", GAUGED, 2)
    open_ = stated(f"{fit.part}/fit-up/gap", "widest gap along the seam", gap, "mm", GAUGED, 2)
    spot = reckoned(
        f"{fit.part}/fit-up/spot-over-gap",
        "gap bridged by this spot",
        0.5 * fit.spot_dia_mm,
        "mm",
        "d / 2",
        stated("", "spot", fit.spot_dia_mm, "mm", SPOT_OVER_GAP).as_input("d"),
        digits=2,
    )
    checks = (
        (
            Check(
                "edges meet",
                mismatch,
                allowed,
                "<=",
                "mm",
                source,
                "stop",
                "loosen the clamps, set the edges flush and read again",
                worst.identity,
            ),
            f"The edges of {fit.part} are {mismatch:.2f} mm out; {allowed:.2f} mm is allowed.",
            "fit-up-mismatch",
        ),
        (
            Check(
                "gap is closed",
                gap,
                min(limits.butt_gap_max_mm.value, 0.10 * t),
                "<=",
                "mm",
                limits.butt_gap_max_mm.source,
                "stop",
                "press the ends together; cut them again if they do not meet",
                open_.identity,
            ),
            f"The gap of {fit.part} is {gap:.2f} mm; {min(limits.butt_gap_max_mm.value, 0.10 * t):.2f} mm is allowed.",
            "fit-up-gap",
        ),
        (
            Check(
                "spot covers the gap",
                gap,
                0.5 * fit.spot_dia_mm,
                "<=",
                "mm",
                SPOT_OVER_GAP,
                "caution",
                "take a wider spot or close the gap",
                spot.identity,
            ),
            f"A gap of {gap:.2f} mm is more than half the spot.",
            "fit-up-spot",
        ),
    )
    found = [judged(check, sentence, topic) for check, sentence, topic in checks if not check.ok]
    return FitUpPlan((worst, open_, spot), gravest_first(f for f in found if f is not None))


def _worst(name: str, values: Sequence[float]) -> float:
    if not values:
        raise InputError(f"{name} readings", "none", "", "three places or more", "read forward, middle and aft")
    read = [require_finite(name, v, "mm") for v in values]
    if min(read) < 0.0:
        raise InputError(name, min(read), "mm", "0 or more", "enter the size of it, without a sign")
    return max(read)


def fixture_words(thickness_mm: float) -> tuple[str, ...]:
    """What the fixture must do, as short sentences; common practice, no source, but for the reckoned clamp distance."""
    t = require_positive("sheet thickness", thickness_mm, "mm")
    return (
        f"Clamps follow the contour, {max(3.0, 4.0 * t):.0f} to {max(6.0, 8.0 * t):.0f} mm from the seam; nearer than "
        "10 mm and stiff, they take shrinkage, and the hoop springs when let go.",
        f"Copper backing with a groove {max(2.0, 3.0 * t):.1f} mm wide; shielding gas on face and root.",
        "Run-on and run-off tabs of the same sheet, as thick, tacked flush; start and end of the bead lie on them.",
        "Edges cut the same shift, brushed with clean stainless, cleaned; no sulphur, lead, zinc or chlorine.",
    )
