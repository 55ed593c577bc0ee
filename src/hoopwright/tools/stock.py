"""Metal left on a tool at each stage: as bought, roughed, finish-turned before hardening, as hardened, as ground.
mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.cards.tool_steel import ToolSteel
from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check, Figure, Finding, judged
from hoopwright.process.working import reckoned

LEAST_LEFT_MM = 0.1
"""Metal that must be left to grind at the worst size change (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Stage:
    """One radius through the stages.

    hardened_* : where it may stand after hardening; left_* : metal then left to grind.
    """

    name: str
    roughed_mm: float
    turned_mm: float
    hardened_low_mm: float
    hardened_high_mm: float
    ground_mm: float

    @property
    def left_low_mm(self) -> float:
        """Least metal left to grind."""
        return self.hardened_low_mm - self.ground_mm

    @property
    def left_high_mm(self) -> float:
        """Most metal left to grind."""
        return self.hardened_high_mm - self.ground_mm


@dataclass(frozen=True, slots=True)
class Stock:
    """Bar to buy and every control radius through the stages."""

    bar_diameter_mm: float
    bar_length_mm: float
    bar_mass_kg: float
    stages: tuple[Stage, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def stock_of(
    tool: str, radii: tuple[tuple[str, float], ...], outer_mm: float, length_mm: float, steel: ToolSteel, room: ToolRoom
) -> Stock:
    """Stock of a turned tool.

    Parameters
    ----------
    radii : name and finished radius of each place that is held. outer_mm, length_mm : largest radius and length,
    finished.
    """
    rough, finish = room.rough_stock_side_mm, room.finish_stock_side_mm
    diameter = math.ceil(2.0 * (outer_mm + rough.value + finish.value))
    length = math.ceil(length_mm + 2.0 * (rough.value + finish.value))
    mass = math.pi / 4.0 * diameter**2 * length * steel.density_kg_per_m3.value * 1e-9
    # turned so that the middle of the size change leaves the wished stock
    middle = 0.005 * (steel.size_change_low_pct + steel.size_change_high_pct)
    stages = tuple(_stage(name, r, rough.value, finish.value, middle, steel) for name, r in radii)
    worst = min(stages, key=lambda stage: stage.left_low_mm)
    left = reckoned(
        f"{tool}/stock/left-least",
        f"least metal left to grind after hardening, {worst.name}",
        worst.left_low_mm,
        "mm",
        "( R + s ) ( 1 + g_low ) / ( 1 + g ) - R",
        finish.as_input("s"),
        steel.size_change_pct.as_input("g"),
        digits=3,
        note=f"size change {steel.size_change_low_pct:+.2f} to {steel.size_change_high_pct:+.2f} % on every size",
    )
    check = Check(
        "metal is left to grind at the worst size change",
        left.value,
        LEAST_LEFT_MM,
        ">=",
        "mm",
        steel.size_change_pct.source,
        "caution",
        "leave more finish stock before hardening",
        left.identity,
    )
    found = judged(
        check,
        f"Hardening may leave only {left.value:.3f} to grind on {tool}; the shop wants {LEAST_LEFT_MM}.",
        "tool-stock",
    )
    return Stock(float(diameter), float(length), mass, stages, (left,), (found,) if found else ())


def _stage(name: str, radius: float, rough: float, finish: float, middle: float, steel: ToolSteel) -> Stage:
    turned = round((radius + finish) / (1.0 + middle), 2)
    low, high = (turned * (1.0 + 0.01 * g) for g in (steel.size_change_low_pct, steel.size_change_high_pct))
    return Stage(name, round(turned + rough, 1), turned, low, high, radius)
