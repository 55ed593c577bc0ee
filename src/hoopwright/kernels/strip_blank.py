"""Straight strip for a hoop: lengths, width, thickness and mass by the hand rule. mm, kg; strains as said.

    L0 = 2 pi r_min / (1 + e_min),   cut = L0 + shrinkage,   rough = cut + 2 end trim, up to a step
    mean strain = ln(r_mean/r_min) + ln(1 + e_min),   width = developed * exp(mean strain/2) + 2 edge trim, up to a step

A strip pulled along its length narrows and thins by half the strain each. The rule takes the fibre at the smallest
radius as the one that keeps its length while the strip is closed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import rounded_up


@dataclass(frozen=True, slots=True)
class StripRule:
    """What a shop sets: least stretch (engineering), weld shrinkage, trims and steps. mm but the first."""

    least_stretch_eng: float
    weld_shrink_mm: float
    end_trim_mm: float
    edge_trim_mm: float
    length_step_mm: float
    width_step_mm: float

    def __post_init__(self) -> None:
        if require_finite("least stretch", self.least_stretch_eng) <= -1.0:
            raise InputError("least stretch", self.least_stretch_eng, "", "above -1", "enter the strain as a share")
        for name in ("weld_shrink_mm", "end_trim_mm", "edge_trim_mm"):
            if require_finite(name, getattr(self, name), "mm") < 0.0:
                raise InputError(name, getattr(self, name), "mm", "0 or more", "enter 0 or a value above it")
        require_positive("length step", self.length_step_mm, "mm")
        require_positive("width step", self.width_step_mm, "mm")


@dataclass(frozen=True, slots=True)
class StripBlank:
    """The strip. developed_mm : of the section; width_net_mm : before rounding up. Strains are of the finished stretch.

    sized_thickness_mm : mean thickness after it.
    """

    developed_mm: float
    hoop_length_mm: float
    cut_length_mm: float
    rough_length_mm: float
    width_net_mm: float
    width_mm: float
    mean_strain_log: float
    largest_strain_log: float
    sized_thickness_mm: float

    def mass_kg(self, thickness: float, density: float) -> float:
        """Mass of the rough strip; thickness [mm], density [kg/m3]."""
        volume = self.rough_length_mm * self.width_mm * require_positive("thickness", thickness, "mm")
        return volume * require_positive("density", density, "kg/m3") * 1e-9


def hoop_length(smallest_radius: float, least_stretch: float) -> float:
    """Length once round before the stretch, on the smallest mid-surface radius: 2 pi r/(1 + e). [mm]"""
    share = 1.0 + require_finite("least stretch", least_stretch)
    return 2.0 * math.pi * require_positive("smallest radius", smallest_radius, "mm") / require_positive("1 + e", share)


def strip_blank(
    developed: float, smallest: float, mean: float, largest: float, thickness: float, rule: StripRule
) -> StripBlank:
    """Strip for a section of `developed` length, with smallest, (length-weighted) mean and largest radius. [mm]

    Examples
    --------
    >>> rule = StripRule(0.015, 0.12, 25.0, 3.0, 1.0, 0.5)
    >>> strip = strip_blank(47.832, 123.4, 124.196, 125.75, 0.8, rule)
    >>> round(strip.hoop_length_mm, 2), strip.rough_length_mm, round(strip.width_net_mm, 3), strip.width_mm
    (763.89, 815.0, 54.345, 54.5)
    """
    low, middle, high = (require_positive("radius", r, "mm") for r in (smallest, mean, largest))
    if not low <= middle <= high:
        raise InputError("mean radius", mean, "mm", f"from {low:g} to {high:g}", "check the section")
    base = math.log1p(rule.least_stretch_eng)
    strain = math.log(middle / low) + base
    length = hoop_length(low, rule.least_stretch_eng)
    cut = length + rule.weld_shrink_mm
    width = require_positive("developed length", developed, "mm") * math.exp(0.5 * strain) + 2.0 * rule.edge_trim_mm
    return StripBlank(
        developed_mm=developed,
        hoop_length_mm=length,
        cut_length_mm=cut,
        rough_length_mm=rounded_up(cut + 2.0 * rule.end_trim_mm, rule.length_step_mm),
        width_net_mm=width,
        width_mm=rounded_up(width, rule.width_step_mm),
        mean_strain_log=strain,
        largest_strain_log=math.log(high / low) + base,
        sized_thickness_mm=require_positive("thickness", thickness, "mm") * math.exp(-0.5 * strain),
    )


def radius_range_log(smallest: float, largest: float) -> float:
    """Hoop strain difference across a section on a straight strip: ln(r_max/r_min)."""
    low, high = require_positive("smallest radius", smallest, "mm"), require_positive("largest radius", largest, "mm")
    if high < low:
        raise InputError("largest radius", largest, "mm", f"at least the smallest ({low:g})", "swap the two")
    return math.log(high / low)
