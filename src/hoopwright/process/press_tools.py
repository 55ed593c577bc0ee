"""What a press closes on a sheet: faces of tools, strokes, and a blank holder by force or by gap.

The axis of the press is x, the radius y, as the section kernel has them; a face is drawn where it first touches or may
touch the sheet before the stroke, its free side on the left of travel. "forward" tools stand on the side of -x.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.kernels.section.contour import packed
from hoopwright.kernels.section.measure import deviations

Side = Literal["forward", "aft"]
OVER_SHEET_MM = 0.02
"""Least gap between shut faces above the sheet: the kernel has no stress through the thickness."""
FACING = -0.97
"""Cosine between two normals that still face each other."""
SAMPLE_MM, FAR_MM = 0.1, 1e6
Row = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PressTool:
    """One rigid face.

    contour : in (x, y) [mm]. side : of the sheet on which it stands. friction : Coulomb number, None for the card's.
    """

    name: str
    contour: Profile
    side: Side
    friction: float | None = None


@dataclass(frozen=True, slots=True)
class Stroke:
    """Travel of tools along the axis, all at once; tools that are not named stand still.

    travel_mm : (tool, travel along +x). increments : at least so many. parts : states looked at on the way.
    """

    name: str
    travel_mm: tuple[tuple[str, float], ...]
    increments: int = 40
    parts: int = 8

    def __post_init__(self) -> None:
        for tool, travel in self.travel_mm:
            require_finite(f"{self.name}: travel of {tool}", travel, "mm")
        if not 1 <= self.parts <= self.increments:
            raise InputError(f"{self.name}: parts", self.parts, "", f"from 1 to {self.increments}", "use 8")

    def of(self, tool: str) -> float:
        """Travel of one tool. [mm]"""
        return dict(self.travel_mm).get(tool, 0.0)


@dataclass(frozen=True, slots=True)
class HolderForce:
    """A blank holder that presses with a force, of one part."""

    tool: PressTool
    force_N: float

    def __post_init__(self) -> None:
        force = require_finite(f"{self.tool.name}: force", self.force_N, "N")
        if force <= 0.0:
            raise InputError(
                f"{self.tool.name}: force",
                self.force_N,
                "N",
                "above 0",
                "enter the holder force, give a gap instead, or leave the holder out",
            )


@dataclass(frozen=True, slots=True)
class HolderGap:
    """A blank holder that stands at a gap from the face opposite; its face is drawn on the sheet."""

    tool: PressTool
    gap_mm: float

    def __post_init__(self) -> None:
        require_positive(f"{self.tool.name}: gap", self.gap_mm, "mm")

    def placed(self, thickness_mm: float) -> PressTool:
        """The holder where it stands.

        Raises
        ------
        InputError
            A gap below the sheet with its 0.02.
        """
        least = thickness_mm + OVER_SHEET_MM
        if self.gap_mm < least - 1e-9:
            raise InputError(
                f"{self.tool.name}: gap", self.gap_mm, "mm", f"at least {least:g}", "open it, or hold by force"
            )
        back = self.gap_mm - thickness_mm
        away = -back if self.tool.side == "forward" else back
        return PressTool(self.tool.name, self.tool.contour.moved(away, 0.0), self.tool.side, self.tool.friction)


@dataclass(frozen=True, slots=True)
class HolderCushion:
    """A blank holder on an elastic cushion, under which the sheet may draw out; its face is drawn on the sheet.

    pressure_MPa : when it has closed on the flat sheet. rate_MPa_per_mm : by which the pressure grows with thickness.
    """

    tool: PressTool
    pressure_MPa: float
    rate_MPa_per_mm: float = 20.0

    def __post_init__(self) -> None:
        if require_finite(f"{self.tool.name}: pressure", self.pressure_MPa, "MPa") <= 0.0:
            raise InputError(
                f"{self.tool.name}: pressure",
                self.pressure_MPa,
                "MPa",
                "above 0",
                "enter the holder pressure, give a gap instead, or leave the holder out",
            )
        require_positive(f"{self.tool.name}: rate", self.rate_MPa_per_mm, "MPa/mm")

    def placed(self, thickness_mm: float) -> PressTool:
        """The face pre-set into the sheet by pressure over rate.

        Raises
        ------
        InputError
            A cushion so soft that it would be pre-set by more than the sheet.
        """
        depth = self.pressure_MPa / self.rate_MPa_per_mm
        if depth >= thickness_mm:
            raise InputError(
                f"{self.tool.name}: rate",
                self.rate_MPa_per_mm,
                "MPa/mm",
                f"above {self.pressure_MPa / thickness_mm:g}",
                "take a stiffer cushion",
            )
        into = depth if self.tool.side == "forward" else -depth
        return PressTool(self.tool.name, self.tool.contour.moved(into, 0.0), self.tool.side, self.tool.friction)


Holder = HolderForce | HolderGap | HolderCushion


def face_points(contour: Profile, step_mm: float = SAMPLE_MM) -> Row:
    """Points of a face with the normal to its free side, shape (n, 4)."""
    count = max(2, math.ceil(contour.length / step_mm))
    places = (np.arange(count) + 0.5) * contour.length / count
    rows = []
    for s in places:
        angle = contour.angle_at(float(s))
        rows.append((*contour.point_at(float(s)), -math.sin(angle), math.cos(angle)))
    return np.array(rows, dtype=np.float64)


def shut_gap_mm(tools: Iterable[PressTool], travel_mm: dict[str, float], radii_mm: tuple[float, float]) -> float:
    """Least gap between faces that look at each other when the press is shut, between two radii; inf where none do.

    travel_mm : of each tool to the shut press.
    """
    placed = [(tool.side, tool.contour.moved(travel_mm.get(tool.name, 0.0), 0.0)) for tool in tools]
    least = math.inf
    for _, one in (p for p in placed if p[0] == "forward"):
        points = face_points(one)
        points = np.ascontiguousarray(points[(points[:, 1] >= radii_mm[0]) & (points[:, 1] <= radii_mm[1])])
        if not points.size:
            continue
        for _, two in (p for p in placed if p[0] == "aft"):
            out = np.zeros((points.shape[0], 3))
            deviations(packed(two), np.ascontiguousarray(points[:, 0]), np.ascontiguousarray(points[:, 1]), out)
            facing = np.sum(points[:, 2:] * out[:, 1:], axis=1) < FACING
            if np.any(facing):
                least = min(least, float(np.min(out[facing, 0])))
    return least


def rooms_over_sheet(section: Section, placed: Iterable[tuple[Side, Profile]]) -> Row:
    """Room between two faces that look at each other less the sheet between them, at every node; inf elsewhere. [mm]

    placed : side and face, each where it stands. Shape (n,).
    """
    x, y = np.ascontiguousarray(section.x_mm), np.ascontiguousarray(section.y_mm)
    half = 0.25 * (
        np.append(section.thickness_mm, section.thickness_mm[-1])
        + np.insert(section.thickness_mm, 0, section.thickness_mm[0])
    )
    near = {side: np.full((x.size, 3), FAR_MM) for side in ("forward", "aft")}
    for side, contour in placed:
        out = np.zeros((x.size, 3))
        deviations(packed(contour), x, y, out)
        nearer = np.abs(out[:, 0]) < np.abs(near[side][:, 0])
        near[side][nearer] = out[nearer]
    one, two = near["forward"], near["aft"]
    both = (one[:, 0] < 3.0 * half) & (two[:, 0] < 3.0 * half)
    both &= np.sum(one[:, 1:] * two[:, 1:], axis=1) < FACING
    return np.where(both, one[:, 0] + two[:, 0] - 2.0 * half, np.inf)


def room_over_sheet(section: Section, placed: Iterable[tuple[Side, Profile]]) -> tuple[float, float]:
    """The least of these rooms and its radius; inf where no two faces hold the sheet. [mm]"""
    over = rooms_over_sheet(section, placed)
    worst = int(np.argmin(over))
    return float(over[worst]), float(section.y_mm[worst])
