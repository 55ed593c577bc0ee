"""Roundness of a ring from radial readings: four circles, orders per turn with removal, what the readings cannot say.

Steps: convert to points where the table is off centre by more than 1 mm (else false orders appear), fit orders with
readings that do not belong left out, and say of each one left out whether it is a wrong reading or a feature: next to
the seam or a slot, or two side by side, it is measured again in small steps.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.findings import Finding
from hoopwright.kernels.arrays import Vector, finite_vector
from hoopwright.kernels.circles.alike import aliases, readings_needed
from hoopwright.kernels.circles.fits import (
    Circle,
    circumscribed_circle,
    inscribed_circle,
    least_squares_circle,
    minimum_zone_circle,
)
from hoopwright.kernels.circles.orders import Orders, fit_orders, points_of, recentred, robust_orders, without_orders

NEAR_FEATURE_DEG = 15.0
OFF_CENTRE_MM = 1.0


@dataclass(frozen=True, slots=True)
class RoundnessSettings:
    """segments : of the set the ring was last stretched on. base_radius_mm : nominal radius of the circle.

    seam_deg, slots_deg : places that may look like wrong readings. noise_mm : sd of one reading.
    """

    segments: int
    base_radius_mm: float
    support: str = "free"
    seam_deg: float | None = None
    slots_deg: tuple[float, ...] = ()
    noise_mm: float = 0.012


@dataclass(frozen=True, slots=True)
class Roundness:
    """What the readings say. orders : fitted; circles by the four rules; left_deg : angles of readings left out.

    peak_to_valley_mm : raw, and with orders taken out: key "0" for raw (mean only), "1", "1,2", "1,2,N".
    """

    settings: RoundnessSettings
    readings: int
    orders: Orders
    least_squares: Circle
    minimum_zone: Circle
    circumscribed: Circle
    inscribed: Circle
    peak_to_valley_mm: tuple[tuple[str, float], ...]
    left_deg: tuple[float, ...]
    findings: tuple[Finding, ...]

    def left_after(self, removed: str) -> float:
        """Peak-to-valley with these orders taken out ("0", "1", "1,2", "1,2,N"). [mm]"""
        for name, value in self.peak_to_valley_mm:
            if name == removed:
                return value
        names = ", ".join(name for name, _ in self.peak_to_valley_mm)
        raise InputError("orders taken out", removed, "", f"one of {names}", "name one of these")


def evaluate_roundness(
    angle_deg: Sequence[float], deviation_mm: Sequence[float], settings: RoundnessSettings
) -> Roundness:
    """Evaluate one turn of radial deviations.

    Raises
    ------
    InputError
        Readings too few for any statement (under 5), not finite, or of unlike number.
    """
    th = np.deg2rad(finite_vector("angle", angle_deg, "deg", 5))
    dev = finite_vector("deviation", deviation_mm, "mm", 5)
    base = require_positive("base radius", settings.base_radius_mm, "mm")
    require_positive("noise", settings.noise_mm, "mm")
    first = fit_orders(th, dev, (1,))
    findings = list(_too_few(th.size, settings))
    if first.order(1).amplitude > OFF_CENTRE_MM:
        findings.append(_off_centre(first.order(1).amplitude, base))
        th, dev = recentred(th, dev, base)
    x, y = points_of(th, dev, base)
    enough = th.size > 2 * settings.segments + 8
    orders = robust_orders(th, dev, settings.segments, settings.noise_mm) if enough else _plain(th, dev)
    left = tuple(float(a) for a, kept in zip(np.rad2deg(th), orders.kept, strict=True) if not kept)
    findings += _left_out(left, settings, th.size)
    return Roundness(
        settings, th.size, orders, least_squares_circle(x, y), minimum_zone_circle(x, y), circumscribed_circle(x, y),
        inscribed_circle(x, y), _peak_to_valley(th, dev, settings.segments), left, tuple(findings),
    )  # fmt: skip


def _plain(th: Vector, dev: Vector) -> Orders:
    """As many orders from 1 on as the readings carry."""
    most = max(1, min(4, (th.size - 2) // 2))
    return fit_orders(th, dev, tuple(range(1, most + 1)))


def _peak_to_valley(th: Vector, dev: Vector, segments: int) -> tuple[tuple[str, float], ...]:
    rows = [("0", float(np.ptp(dev)))]
    removals = (("1", (1,)), ("1,2", (1, 2)), ("1,2,N", (1, 2, segments)))
    for name, orders in removals:
        if th.size > 2 * len(orders) + 1:
            rows.append((name, float(np.ptp(without_orders(th, dev, orders)))))
    return tuple(rows)


def _too_few(count: int, settings: RoundnessSettings) -> list[Finding]:
    n = settings.segments
    needed = readings_needed(n)
    if count >= 4 * n + 1 and count % n:
        return []
    same = ", ".join(str(k) for k in aliases(n, count, 4 * n)) or "none up to " + str(4 * n)
    sentence = f"{count} readings a turn are not enough to tell {n} lobes apart: order {n} reads like {same}."
    remedy = f"measure {needed} or more readings a turn"
    why = f"N and 2N need 4N + 1 = {4 * n + 1} readings, better no multiple of N."
    return [Finding("caution", sentence, remedy, "roundness", "roundness-too-few", why)]


def _off_centre(amplitude: float, base: float) -> Finding:
    false = amplitude**2 / (4.0 * base)
    sentence = f"The ring stood {amplitude:.2f} mm off the table's centre: a false oval of {false:.4f} mm."
    why = "The readings are converted to points and evaluated about their own centre."
    return Finding("note", sentence, "centre within 1 mm next time", "roundness", "roundness-off-centre", why)


def _left_out(left: Sequence[float], settings: RoundnessSettings, count: int) -> list[Finding]:
    """Left-out readings near seam or slot, or side by side, are features to measure again; others wrong readings."""
    findings = []
    step = 360.0 / count
    for angle in left:
        places = [("seam", settings.seam_deg)] if settings.seam_deg is not None else []
        places += [("slot", s) for s in settings.slots_deg]
        near = [name for name, place in places if place is not None and _apart(angle, place) <= NEAR_FEATURE_DEG]
        beside = any(0.0 < _apart(angle, other) <= 1.5 * step for other in left)
        where = f"at {angle % 360.0:.0f} deg"
        if near or beside:
            what = f"beside the {near[0]}" if near else "next to another that is left out"
            sentence = f"The reading {where}, {what}, does not fit the rest: it may be a feature."
            remedy = f"measure {angle - 10:.0f} to {angle + 10:.0f} deg again in steps of 1 to 2 deg"
            findings.append(Finding("caution", sentence, remedy, "roundness", "roundness-feature"))
        else:
            sentence = f"The reading {where} does not fit the rest and is left out."
            findings.append(Finding("note", sentence, "read it once more", "roundness", "roundness-left-out"))
    return findings


def _apart(one: float, two: float) -> float:
    turn = (one - two) % 360.0
    return min(turn, 360.0 - turn)


def order_finding(rolled_section_seen: bool) -> Finding | None:
    """The section is inspected before sizing, which hides a bad roll pass."""
    if rolled_section_seen:
        return None
    return Finding(
        "caution", "The rolled section was not inspected before sizing: sizing hides a bad roll pass.",
        "trace the section of the next ring before it is sized", "roundness", "section-not-seen",
    )  # fmt: skip


def diameters_from(angle_deg: Sequence[float], diameter_mm: Sequence[float]) -> tuple[float, float, float]:
    """Mean, largest and smallest of two-point diameters round a half turn. [mm]

    The mean is free of orders that the angles sample evenly; single diameters are blind to odd orders.
    """
    angles = finite_vector("angle", angle_deg, "deg", 2)
    values = finite_vector("diameter", diameter_mm, "mm", 2)
    require_range("span of the angles", float(np.ptp(angles)), 1e-9, 360.0, "deg")
    return float(values.mean()), float(values.max()), float(values.min())


def three_point_diameter(bisector_mm: float, included_angle_deg: float) -> float:
    """Diameter from a V of this included angle: distance of its apex to the far side of a true circle. [mm]

    apex to centre is R / sin(angle/2), so the distance is R (1 + 1/sin(angle/2)).
    """
    reach = require_positive("apex to far side", bisector_mm, "mm")
    half = math.radians(require_range("included angle", included_angle_deg, 10.0, 170.0, "deg")) / 2.0
    return 2.0 * reach / (1.0 + 1.0 / math.sin(half))
