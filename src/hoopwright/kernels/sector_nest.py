"""Annular sectors on a sheet: columns of stacked sectors, side by side, staggered, or head to tail. mm, rad.

A column is a stack along the sectors' symmetry axis with the least pitch p at which the cut gap holds: the grown
sector's top less the plain sector's bottom, at its largest. For ends that point forward this is
sqrt((Ro + g)^2 - Ri^2 sin^2 h) - Ri cos h, h the half angle of the inner corners.

Neighbouring columns stand the same way round ("side by side" on one level, "staggered" by a phase) or every other one
is turned by half a turn ("head to tail"). The least distance of two endless columns at a phase is the largest of
right outline less left outline over one pitch; phases are tried in equal steps, and the one with most sectors kept.

Outlines are polygons that contain the sectors (`sector_shape.outline`), and differences of straight pieces are largest
at their ends, so no nest overlaps; it may miss a tenth of a millimetre. It is a sound nest, not the best possible one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.kernels.arrays import Vector
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.sector_shape import Sector, outline
from hoopwright.kernels.strip_nest import SheetPlate, fitting

Points = NDArray[np.float64]
Along = Literal["rolling", "across"]
Layout = Literal["side by side", "staggered", "head to tail"]

PHASES = 12
"""Phases tried for staggered columns and for columns head to tail."""


@dataclass(frozen=True, slots=True, eq=False)
class SectorNest:
    """Sectors on one sheet, x along the rolling direction.

    along : direction of the tangent at a sector's middle. apex_mm : shape (count, 2), may lie off the sheet.
    axis_rad : direction from the apex to the sector's middle, from +x, shape (count,). pitch_mm : of the stacks.
    yield_share : sectors' area over the sheet's.
    """

    along: Along
    layout: Layout
    apex_mm: Points
    axis_rad: Vector
    pitch_mm: float
    yield_share: float

    @property
    def count(self) -> int:
        """Sectors on the sheet."""
        return int(self.axis_rad.size)


def placed_outline(nest: SectorNest, sector: Sector, number: int, tolerance: float = 0.05) -> Points:
    """Outline of one placed sector in the sheet's frame, shape (n, 2)."""
    points = outline(sector, 0.0, tolerance)
    turn = float(nest.axis_rad[number]) - 0.5 * math.pi
    c, s = math.cos(turn), math.sin(turn)
    return points @ np.array([[c, s], [-s, c]]) + nest.apex_mm[number]


def nest_sectors(sheet: SheetPlate, sector: Sector, along: Along = "rolling") -> SectorNest:
    """The nest with most sectors of the three layouts, tangents along the given direction; count 0 where none fits."""
    if along not in ("rolling", "across"):
        raise InputError("along", along, "", "rolling or across", "name the direction of the sectors")
    plain, grown = outline(sector), outline(sector, sheet.cut_gap_mm)
    across, up = sheet.usable_length_mm, sheet.usable_width_mm
    if along == "across":
        across, up = up, across
    pitch = _clearance(plain[:, ::-1], grown[:, ::-1], (0.0,))
    best: tuple[Layout, Points, Vector] = ("side by side", np.empty((0, 2)), np.empty(0))
    for layout, phase, turned in _candidates(pitch):
        apex, flip = _columns(plain, grown, pitch, sheet.cut_gap_mm, (across, up), phase, turned)
        if apex.shape[0] > best[1].shape[0]:
            best = (layout, apex, flip)
    layout, apex, flip = best
    axis = np.where(flip, -0.5 * math.pi, 0.5 * math.pi)
    if along == "across":
        # the nest was laid out with the tangent along x: exchange the axes
        apex, axis = apex[:, ::-1], 0.5 * math.pi - axis
    share = axis.size * sector.area_mm2 / (sheet.length_mm * sheet.width_mm)
    return SectorNest(along, layout, apex + sheet.border_mm, axis, pitch, share)


def stack_pitch(sector: Sector, cut_gap: float) -> float:
    """Pitch of a stack of sectors whose ends point forward, in closed form (module text). [mm]"""
    half = sector.corner_rad(sector.inner_mm)
    if half > 0.5 * math.pi:
        raise InputError("sector angle", sector.angle_rad, "rad", "at most half a turn, allowances included", "")
    side = sector.inner_mm * math.sin(half)
    return math.sqrt((sector.outer_mm + cut_gap) ** 2 - side**2) - sector.inner_mm * math.cos(half)


def _candidates(pitch: float) -> list[tuple[Layout, float, bool]]:
    phases = [pitch * k / PHASES for k in range(PHASES)]
    rows: list[tuple[Layout, float, bool]] = [("side by side", 0.0, False)]
    rows += [("staggered", phase, False) for phase in phases[1:]]
    rows += [("head to tail", phase, True) for phase in phases]
    return rows


def _columns(
    plain: Points, grown: Points, pitch: float, gap: float, room: tuple[float, float], phase: float, turned: bool
) -> tuple[Points, Vector]:
    """Apexes in a room (across, up), and which sectors are turned over; columns alternate between two kinds."""
    low, high = float(plain[:, 1].min()), float(plain[:, 1].max())
    wide = float(plain[:, 0].max() - plain[:, 0].min())
    left = float(plain[:, 0].min())
    other = -plain if turned else plain
    other_low = float(other[:, 1].min())
    # second column's apex when it starts `phase` above the first one's start
    rise = (low - other_low) + phase
    shifts = tuple(rise + pitch * k for k in range(-_reach(high - low, pitch), _reach(high - low, pitch) + 1))
    step = _clearance(other, grown, shifts)
    # columns of one kind stand two steps apart on one level
    step = max(step, 0.5 * (wide + gap))
    columns = fitting(room[0] - wide, step, 0.0) + 1 if wide <= room[0] + 1e-6 else 0
    counts = [max(0, math.floor((room[1] - start - (high - low) + 1e-6) / pitch) + 1) for start in (0.0, phase)]
    apex, flip = [], []
    for column in range(columns):
        kind = column % 2
        start, base = (phase, other_low) if kind else (0.0, low)
        x = column * step - left
        apex += [(x, start - base + pitch * row) for row in range(counts[kind])]
        flip += [bool(kind and turned)] * counts[kind]
    return np.array(apex, dtype=np.float64).reshape(-1, 2), np.array(flip, dtype=bool)


def _reach(height: float, pitch: float) -> int:
    return math.ceil(height / pitch) + 1


def _clearance(plain: Points, grown: Points, shifts: tuple[float, ...]) -> float:
    """Least distance along x at which `plain`, shifted in y by each of `shifts`, stands clear and right of `grown`."""
    best = clearance(np.ascontiguousarray(plain), np.ascontiguousarray(grown), np.array(shifts))
    if best == -math.inf:
        raise InputError("shifts", shifts, "mm", "such that the outlines meet", "check the pitch")
    return float(best)


@compiled
def rightmost(polygon: Points, y: Vector) -> Vector:
    """Largest x of a closed polygon at each y, edges with their ends; -inf [mm] where it does not stand at y.

    polygon : [mm], shape (n, 2). y : [mm], shape (k,).
    """
    found = np.full(y.size, -np.inf)
    count = polygon.shape[0]
    for k in range(count):
        x0, y0 = polygon[k, 0], polygon[k, 1]
        x1, y1 = polygon[(k + 1) % count, 0], polygon[(k + 1) % count, 1]
        low, high = min(y0, y1) - 1e-9, max(y0, y1) + 1e-9
        rise = y1 - y0
        for i in range(y.size):
            if low <= y[i] <= high:
                if abs(rise) > 1e-12:
                    share = min(max((y[i] - y0) / rise, 0.0), 1.0)
                    x = x0 + share * (x1 - x0)
                else:
                    x = max(x0, x1)
                if x > found[i]:
                    found[i] = x
    return found


@compiled
def clearance(plain: Points, grown: Points, shifts: Vector) -> float:
    """Compiled loop of `_clearance`: -inf [mm] where the outlines meet at no shift.

    plain, grown : [mm], shapes (n, 2), (m, 2). shifts : [mm], shape (k,).
    """
    best = -np.inf
    mirrored = np.empty_like(plain)
    grown_low, grown_high = grown[:, 1].min(), grown[:, 1].max()
    for shift in shifts:
        mirrored[:, 0], mirrored[:, 1] = -plain[:, 0], plain[:, 1] + shift
        low, high = max(grown_low, mirrored[:, 1].min()), min(grown_high, mirrored[:, 1].max())
        y = np.concatenate((grown[:, 1], mirrored[:, 1]))
        y = y[(y >= low) & (y <= high)]
        if y.size:
            best = max(best, (rightmost(grown, y) + rightmost(mirrored, y)).max())
    return float(best)
