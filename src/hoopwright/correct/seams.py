"""Seams of a shell turned clear of ports, holes and one another; lobes matched where clamps cannot close them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.design.shapes import HolePattern, Liner, Ring
from hoopwright.errors import InputError
from hoopwright.kernels.arrays import Vector
from hoopwright.kernels.wayback.clocking import Clocking, apart, clock, gap_range

NEIGHBOURS_DEG, ANY_TWO_DEG = 60.0, 30.0
HOLE_CLEAR_MM = 3.0
"""Least distance from a hole's edge to a seam (house rule, common practice, no source)."""

Lobes = Mapping[int, tuple[float, float]]
"""Order to (amplitude [mm], crest angle from the seam [deg]), only orders that clamps cannot close."""


@dataclass(frozen=True, slots=True)
class SeamCheck:
    """A ring's seam: angle to the nearest neighbour, to any other, from the nearest port's middle [deg], hole edge
    [mm]."""

    ring: str
    seam_deg: float
    neighbour_deg: float
    any_other_deg: float
    port_deg: float
    hole_edge_mm: float
    ok: bool


def mid_port_angles(liner: Liner) -> tuple[float, ...]:
    """Angles half way between ports. [deg]"""
    pitch = 360.0 / liner.ports
    return tuple((liner.first_port_theta_deg + (k + 0.5) * pitch) % 360.0 for k in range(liner.ports))


def hole_edge_distance(
    pattern: HolePattern, radius_mm: float, seam_deg: float, first_deg: float | None = None
) -> float:
    """Arc from a seam to the nearest hole's edge on a face of this radius; below 0 the seam cuts a hole. [mm]"""
    pitch = 360.0 / pattern.count
    first = pattern.first_theta_deg if first_deg is None else first_deg
    away = (seam_deg - first) % pitch
    nearest = min(away, pitch - away)
    return math.radians(nearest) * radius_mm - 0.5 * pattern.diameter_mm


def face_radius(ring: Ring, z_mm: float) -> float:
    """Outside radius of a ring where it stands at z, largest where the contour passes there more than once. [mm]"""
    st = ring.section.stations(0.05)
    near = np.nonzero(np.abs(st.x - z_mm) < 0.1)[0]
    if near.size == 0:
        raise InputError("hole z_mm", z_mm, "mm", f"on {ring.id}", "correct the hole pattern")
    return float(st.y[near].max()) + 0.5 * ring.thickness_mm


def check_seams(liner: Liner, seams: Mapping[str, float] | None = None) -> tuple[SeamCheck, ...]:
    """Every ring's seam against the rules; `seams` instead of the liner's own."""
    rows = []
    for side in ("outer", "inner"):
        rings = sorted((r for r in liner.rings if r.side == side), key=lambda r: r.order)
        angle = {r.id: (seams or {}).get(r.id, r.seam_theta_deg) for r in rings}
        for k, ring in enumerate(rings):
            others = [apart(angle[ring.id], angle[o.id]) for o in rings if o is not ring]
            beside = [apart(angle[ring.id], angle[rings[n].id]) for n in (k - 1, k + 1) if 0 <= n < len(rings)]
            ports = [apart(angle[ring.id], p + 180.0 / liner.ports) for p in mid_port_angles(liner)]
            edges = [hole_edge_distance(h, face_radius(ring, h.z_mm), angle[ring.id]) for h in liner.holes_of(ring.id)]
            edge = min(edges, default=math.inf)
            near, far = min(beside, default=180.0), min(others, default=180.0)
            ok = near >= NEIGHBOURS_DEG - 1e-9 and far >= ANY_TWO_DEG - 1e-9 and edge >= HOLE_CLEAR_MM
            rows.append(SeamCheck(ring.id, angle[ring.id], near, far, min(ports), edge, ok))
    return tuple(rows)


def clock_shell(
    liner: Liner,
    side: str,
    gaps_mm: Mapping[str, float],
    lobes: Mapping[str, Lobes],
    limits_mm: tuple[float, float] = (-0.02, 0.08),
    step_deg: float | None = None,
) -> tuple[Clocking, ...]:
    """The ten best clockings of a shell: rules first, then the smallest margin of the local gaps.

    gaps_mm : mean radial gap of each lap between two rings. lobes : of each ring, about its seam. step_deg : grid of
    seam places; None for the places half way between ports.
    """
    rings = sorted((r for r in liner.rings if r.side == side), key=lambda r: r.order)
    if len(rings) < 2:
        raise InputError("side", side, "", "a shell of two rings or more", "name outer or inner")
    places = mid_port_angles(liner) if step_deg is None else tuple(np.arange(0.0, 360.0, step_deg))
    allowed = [[p for p in places if _clear(liner, ring, p)] for ring in rings]
    margins = [_margin(liner, one, two, gaps_mm, lobes, limits_mm) for one, two in itertools.pairwise(rings)]
    return clock(allowed, margins, NEIGHBOURS_DEG, ANY_TWO_DEG)


def _clear(liner: Liner, ring: Ring, seam: float) -> bool:
    """Whether a seam place is clear of the ports; film rows are drilled half a pitch from the seam, so they follow."""
    port = 180.0 / liner.ports
    near_port = min(apart(seam, p + port) for p in mid_port_angles(liner))
    wide = [h for h in liner.holes_of(ring.id) if h.kind != "film"]
    edges = [hole_edge_distance(h, face_radius(ring, h.z_mm), seam) for h in wide]
    return near_port > 0.25 * port and all(e >= HOLE_CLEAR_MM for e in edges)


def _shape(lobes: Lobes, seam: float) -> Callable[[Vector], Vector]:
    def radius(th: Vector) -> Vector:
        total = np.zeros_like(th)
        for order, (amplitude, crest) in lobes.items():
            total += amplitude * np.cos(order * (th - math.radians(seam + crest)))
        return total

    return radius


def _margin(
    liner: Liner,
    one: Ring,
    two: Ring,
    gaps: Mapping[str, float],
    lobes: Mapping[str, Lobes],
    limits: tuple[float, float],
) -> Callable[[float, float], float]:
    joint = next((j for j in liner.joints if {j.outer, j.inner} == {one.id, two.id}), None)
    if joint is None:
        raise InputError("joint", f"{one.id} to {two.id}", "", "a lap of the liner", "add the joint")
    gap = gaps.get(joint.id, joint.gap_mm if joint.gap_mm is not None else 0.05)
    first, second = lobes.get(one.id, {}), lobes.get(two.id, {})
    half = 0.5 * (limits[1] - limits[0])
    known: dict[float, float] = {}

    def margin(a: float, b: float) -> float:
        turn = round((a - b) % 360.0, 6)
        if turn not in known:
            outer_a = joint.outer == one.id
            shape_a, shape_b = _shape(first, turn), _shape(second, 0.0)
            outer, inner = (shape_a, shape_b) if outer_a else (shape_b, shape_a)
            low, high = gap_range(gap, outer, inner, 0.0)
            known[turn] = min(low - limits[0], limits[1] - high) / half
        return known[turn]

    return margin


def seams_of(shell: Sequence[Ring], clocking: Clocking) -> dict[str, float]:
    """Ring to seam angle of a clocking. [deg]"""
    return dict(zip((r.id for r in shell), clocking.seams, strict=True))
