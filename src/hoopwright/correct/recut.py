"""Metal off a segment set: which stations, how much, how far over-open to run it, and what that costs in lobes.

Wanted change d_k on radius (+ bigger); metal only comes off: open o = max(0, max d), grind g_k = o - d_k. It can be had
when g_k is within the stock and o (1 - cos b) within the share of the roundness zone that lobes may take.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.segment_hull import lobe_factor

LOBE_SHARE = 1.0 / 3.0
"""Share of the roundness zone that lobes may take (house rule, common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Recut:
    """open_mm : how far past turned the set then runs. grind_mm : off each station. lobes_mm against limit_mm.

    possible : whether stock and lobes allow it. why : in words, one reason a line.
    """

    stations: tuple[str, ...]
    open_mm: float
    grind_mm: tuple[float, ...]
    lobes_mm: float
    limit_mm: float
    largest_open_mm: float
    stock_mm: float
    possible: bool
    why: str


def recut(
    stations: Sequence[str], wanted_mm: Sequence[float], count: int, stock_mm: float, roundness_zone_mm: float,
    lobe_share: float = LOBE_SHARE,
) -> Recut:  # fmt: skip
    """Cheapest way to a changed profile with one set of segments: grind the rest, run over-open."""
    if len(stations) != len(wanted_mm) or not stations:
        raise InputError("wanted changes", len(wanted_mm), "", f"{len(stations)}, one a station", "enter them all")
    d = [require_finite(f"wanted change {n}", v, "mm") for n, v in zip(stations, wanted_mm, strict=True)]
    stock = require_range("stock", stock_mm, 0.0, 100.0, "mm")
    limit = require_range("lobe share", lobe_share, 0.0, 1.0) * require_positive(
        "roundness zone", roundness_zone_mm, "mm"
    )
    factor = lobe_factor(count)
    opened = max(0.0, *d)
    grind = tuple(opened - v for v in d)
    lobes = opened * factor
    reasons = []
    if max(grind) > stock:
        reasons.append(f"grind {max(grind):.3f} mm is over the stock of {stock:g} mm")
    if lobes > limit:
        reasons.append(f"lobes {lobes:.3f} mm are over {limit:.3f} mm")
    if all(v < 0.0 for v in d):
        reasons.append("smaller at every station: first move the stop, that costs no metal")
    why = "; ".join(reasons) or f"stock and lobes allow it (lobes {lobes:.3f} of {limit:.3f} mm)"
    possible = max(grind) <= stock and lobes <= limit
    return Recut(tuple(stations), opened, grind, lobes, limit, limit / factor, stock, possible, why)


@dataclass(frozen=True, slots=True)
class Regrind:
    """A roll pair or other tool ground all over: growth_mm of the contour against stock_mm on radius."""

    growth_mm: float
    stock_mm: float

    @property
    def possible(self) -> bool:
        """Whether the stock carries it."""
        return self.growth_mm <= self.stock_mm
