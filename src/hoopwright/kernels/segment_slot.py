"""Slots between segments, and the flats a hoop keeps over them. mm, rad.

Pulling N segments in by s closes every gap by 2 s sin(pi/N) at every radius, because faces move parallel to themselves.
Parallel faces meet all at once; radial faces (slot narrowing towards the axis) meet first at the bore radius.

References
----------
Derived here; the widening of the gap by rounded edges is a fit to 18 runs of a contact kernel (thickness 1.2, radius
140, gaps 3 to 16, edge radii 0.5 and 2, within 0.15 mm). Figures: tests/reference/test_segment_reference.py.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import whole_count


def gap_closing(count: int, travel: float) -> float:
    """How much every gap closes when the segments are pulled in by `travel`: 2 s sin(pi/N). [mm]"""
    n = whole_count("number of segments", count, 2, 400)
    return 2.0 * _not_negative("travel", travel) * math.sin(math.pi / n)


def slot_needed(count: int, travel: float, clearance: float = 0.0) -> float:
    """Width of parallel slots for a travel, with `clearance` left when pulled in. [mm]

    >>> round(slot_needed(8, 5.5, 0.3), 2)
    4.51
    """
    return gap_closing(count, travel) + _not_negative("slot clearance", clearance)


def slot_needed_radial(
    count: int, travel: float, outer_radius: float, bore_radius: float, clearance: float = 0.0
) -> float:
    """Width at the outer radius of radial slots for a travel, with `clearance` left at the bore. [mm]"""
    outer, bore = _radii(outer_radius, bore_radius)
    return slot_needed(count, travel, clearance) * outer / bore


def travel_allowed(count: int, slot: float, clearance: float = 0.0) -> float:
    """Travel that parallel slots allow: (w - clearance) / (2 sin(pi/N)); of one wire cut, w is its kerf. [mm]

    >>> round(travel_allowed(8, 3.0), 3)
    3.92
    """
    n = whole_count("number of segments", count, 2, 400)
    left = _not_negative("slot", slot) - _not_negative("slot clearance", clearance)
    if left < 0.0:
        raise InputError("slot clearance", clearance, "mm", f"at most the slot ({slot:g})", "widen the slot")
    return left / (2.0 * math.sin(math.pi / n))


def travel_allowed_radial(
    count: int, slot: float, outer_radius: float, bore_radius: float, clearance: float = 0.0
) -> float:
    """Travel that radial slots, `slot` wide at the outer radius, allow. [mm]

    >>> round(travel_allowed_radial(8, 3.0, 137.0, 30.0), 3)
    0.858
    """
    outer, bore = _radii(outer_radius, bore_radius)
    return travel_allowed(count, slot * bore / outer, clearance)


def flat_depth(radius: float, gap: float) -> float:
    """How far a chord over the gap lies inside the circle: R - sqrt(R^2 - g^2/4), about g^2/8R. [mm]"""
    r = require_positive("radius", radius, "mm")
    half = 0.5 * _not_negative("gap", gap)
    if half > r:
        raise InputError("gap", gap, "mm", f"at most {2.0 * r:g}", "check gap and radius")
    return half * half / (r + math.sqrt(r * r - half * half))


def effective_half_gap(gap: float, edge_radius: float) -> float:
    """Half width of the flat where the segments' edges are rounded: g/2 + 0.95 re - 0.5, never below g/2. [mm]

    Fit to kernel runs (module text), so only an estimate; the hoop's stiffness holds it off a blunt edge.
    """
    half = 0.5 * _not_negative("gap", gap)
    return max(half, half + 0.95 * _not_negative("edge radius", edge_radius) - 0.5)


def least_flat(count: int, radius: float, travel: float) -> float:
    """Least depth of the flats when the slots must allow `travel`: s^2 sin^2(pi/N) / 2R. [mm]

    >>> round(least_flat(8, 139.2, 9.8), 3)
    0.051
    """
    return gap_closing(count, travel) ** 2 / (8.0 * require_positive("radius", radius, "mm"))


def _radii(outer_radius: float, bore_radius: float) -> tuple[float, float]:
    outer = require_positive("outer radius", outer_radius, "mm")
    bore = require_positive("bore radius", bore_radius, "mm")
    if bore >= outer:
        raise InputError("bore radius", bore, "mm", f"below the outer radius ({outer:g})", "check the two radii")
    return outer, bore


def _not_negative(field: str, value: float) -> float:
    number = require_finite(field, value, "mm")
    if number < 0.0:
        raise InputError(field, value, "mm", "0 or more", "enter 0 or a value above it")
    return number
