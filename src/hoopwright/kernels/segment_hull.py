"""A hoop drawn round N equal rigid segments: the string hull. mm, rad.

N segments were turned together to the radius R, with slots of width w between them, and stand d outside (+) or inside
(-) the place where they were turned. The hoop is a string: it lies on the arcs and spans every gap as a chord.
Angles are polar angles about the axis; 0 is the middle of a segment, b = pi/N the middle of a gap.

    half slot        g0 = asin(w / 2R),  half arc of a segment  ae = b - g0
    envelope         rho(th) = d cos th + sqrt(R^2 - d^2 sin^2 th)
    gap              g = w + 2 d sin b
    chord distance   h = d cos b + R cos g0
    hull length      N (2 ae R + g);  its mean radius is that over 2 pi

The arc's outward normal at a segment's edge points at ae < b, so the hull is convex and touches every arc in full, for
d of either sign, as long as the gap is open.

References
----------
Derived here; checked against convex hulls of points in tests/exact/test_segment_hull_exact.py. Figures of the method
paper: tests/reference/test_segment_reference.py, and of an expanding mandrel: test_tool_cases_reference.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import Vector, finite_vector, gauss_rule, whole_count


@dataclass(frozen=True, slots=True)
class SegmentCircle:
    """N segments at one axial station.

    count : N, from 2. turned_radius_mm : R, of the arc, to the surface the hull is wanted for (add the distance to a
    reference axis where the axis curve is wanted). standing_mm : d, out of the turned position (+) or inside it (-).
    slot_mm : w, between the faces where d = 0, 0 for no slot.

    Raises InputError when the slot swallows a segment or the standing position closes the gaps.
    """

    count: int
    turned_radius_mm: float
    standing_mm: float = 0.0
    slot_mm: float = 0.0

    def __post_init__(self) -> None:
        whole_count("number of segments", self.count, 2, 400)
        radius = require_positive("turned radius", self.turned_radius_mm, "mm")
        slot = require_finite("slot", self.slot_mm, "mm")
        require_finite("standing", self.standing_mm, "mm")
        widest = 2.0 * radius * math.sin(self.half_pitch_rad)
        if not 0.0 <= slot < widest:
            raise InputError("slot", slot, "mm", f"from 0 to below {widest:.6g}", "narrow the slot")
        if self.gap_mm < 0.0:
            least = -slot / (2.0 * math.sin(self.half_pitch_rad))
            raise InputError(
                "standing", self.standing_mm, "mm", f"{least:.6g} or more: there the slots are shut", "widen the slots"
            )
        if self.chord_distance_mm <= 0.0:
            raise InputError("standing", self.standing_mm, "mm", "less far inside the axis", "check the sign")

    @property
    def half_pitch_rad(self) -> float:
        """b = pi/N."""
        return math.pi / self.count

    @property
    def half_slot_rad(self) -> float:
        """Half the angle a slot takes where it was turned."""
        return math.asin(self.slot_mm / (2.0 * self.turned_radius_mm))

    @property
    def half_arc_rad(self) -> float:
        """Half the angle of a segment about its own centre."""
        return self.half_pitch_rad - self.half_slot_rad

    @property
    def gap_mm(self) -> float:
        """Width of a gap as the segments stand."""
        return self.slot_mm + 2.0 * self.standing_mm * math.sin(self.half_pitch_rad)

    @property
    def middle_radius_mm(self) -> float:
        """Radius of a segment's middle."""
        return self.turned_radius_mm + self.standing_mm

    @property
    def edge_radius_mm(self) -> float:
        """Radius of a segment's (sharp) edge."""
        return math.hypot(
            self.standing_mm + self.turned_radius_mm * math.cos(self.half_arc_rad),
            self.turned_radius_mm * math.sin(self.half_arc_rad),
        )

    @property
    def edge_polar_rad(self) -> float:
        """Polar angle of a segment's edge."""
        return math.atan2(
            self.turned_radius_mm * math.sin(self.half_arc_rad),
            self.standing_mm + self.turned_radius_mm * math.cos(self.half_arc_rad),
        )

    @property
    def chord_distance_mm(self) -> float:
        """Distance of a gap's chord from the axis: radius of the hull in the middle of a gap."""
        return self.standing_mm * math.cos(self.half_pitch_rad) + self.turned_radius_mm * math.cos(self.half_slot_rad)

    @property
    def peak_to_valley_mm(self) -> float:
        """Largest less smallest radius of the hull; about d (1 - cos b) + w^2/8R for d above 0."""
        middle, edge, chord = self.middle_radius_mm, self.edge_radius_mm, self.chord_distance_mm
        return max(middle, edge) - min(middle, edge, chord)

    @property
    def hull_length_mm(self) -> float:
        """Length once round the hull: what a girth tape reads."""
        return self.count * (2.0 * self.half_arc_rad * self.turned_radius_mm + self.gap_mm)

    @property
    def mean_radius_mm(self) -> float:
        """Radius of the circle as long as the hull: half of what a girth tape shows as diameter."""
        return self.hull_length_mm / (2.0 * math.pi)

    @property
    def girth_loss_mm(self) -> float:
        """Diameter across segment middles less the girth tape's diameter."""
        return 2.0 * (self.middle_radius_mm - self.mean_radius_mm)


def hull_radius(circle: SegmentCircle, angle: ArrayLike) -> Vector:
    """Radius of the hull at polar angles [rad] from a segment's middle, shape (n,). [mm]"""
    theta = finite_vector("angle", angle, "rad")
    pitch = 2.0 * circle.half_pitch_rad
    within = np.abs(theta - pitch * np.round(theta / pitch))
    d, radius = circle.standing_mm, circle.turned_radius_mm
    arc = d * np.cos(within) + np.sqrt(radius**2 - (d * np.sin(within)) ** 2)
    chord = circle.chord_distance_mm / np.cos(circle.half_pitch_rad - within)
    return np.where(within <= circle.edge_polar_rad, arc, chord)


def hull_harmonic(circle: SegmentCircle, order: int) -> float:
    """Amplitude [mm] of cos(order N th) in the hull, exact to quadrature (32 Gauss points on arc and on chord).

    The sign is that of the cosine: positive where segment middles are crests.
    """
    k = whole_count("order", order, 1, 1000) * circle.count
    edge, pitch = circle.edge_polar_rad, circle.half_pitch_rad
    nodes, weights = gauss_rule(32 * (1 + order))
    total = 0.0
    for low, high in ((0.0, edge), (edge, pitch)):
        theta = 0.5 * (low + high) + 0.5 * (high - low) * nodes
        # radius is taken relative to the middle, so that no digits are lost to the large mean
        rise = hull_radius(circle, theta) - circle.middle_radius_mm
        total += 0.5 * (high - low) * float(weights @ (rise * np.cos(k * theta)))
    return 2.0 / pitch * total


def envelope_harmonic(count: int, standing: float, order: int = 1) -> float:
    """Amplitude [mm] of cos(order N th) of the arcs alone, to first order in d/R.

        a_kN = (-1)^(k+1) 2 d (N/pi) sin(pi/N) / ((kN)^2 - 1)

    The second-order term adds 1 to 3 % at d = 2 to 4 on R = 140; `hull_harmonic` has it, and the flats over the gaps.
    """
    n = whole_count("number of segments", count, 2, 400)
    k = whole_count("order", order, 1, 1000)
    d = require_finite("standing", standing, "mm")
    sign = 1.0 if k % 2 else -1.0
    return sign * 2.0 * d * girth_factor(n) / ((k * n) ** 2 - 1.0)


def flat_harmonic(count: int, radius: float, half_gap: float) -> float:
    """Amplitude [mm] that flats of half width a add to cos(N th): 2 N a^3 / (3 pi R^2).

    Take the effective half gap of `segment_slot.effective_half_gap` where edges are rounded.
    """
    n = whole_count("number of segments", count, 2, 400)
    r = require_positive("radius", radius, "mm")
    a = require_finite("half gap", half_gap, "mm")
    if not 0.0 <= a < r:
        raise InputError("half gap", a, "mm", f"from 0 to below {r:g}", "check the gap")
    return 2.0 * n * a**3 / (3.0 * math.pi * r**2)


def girth_factor(count: int) -> float:
    """What a girth tape reads of a change of the diameter across segment middles: sin b / b, b = pi/N.

    >>> round(girth_factor(8), 5)
    0.9745
    """
    b = math.pi / whole_count("number of segments", count, 2, 400)
    return math.sin(b) / b


def lobe_factor(count: int) -> float:
    """Peak-to-valley of the lobes per mm of standing: 1 - cos(pi/N) (no slot; the exact hull is a little lower)."""
    return 1.0 - math.cos(math.pi / whole_count("number of segments", count, 2, 400))
