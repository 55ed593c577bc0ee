"""Sections from contours: nodes along a mid-line, layers through the thickness. Units mm, rad."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Point, Profile, line
from hoopwright.kernels.section.section import Mode, Section


def split_gauss(points_per_half: int = 4) -> tuple[Vector, Vector]:
    """Layer places (-0.5 to 0.5) and weights (sum 1) of a Gauss rule on each half of the thickness.

    A rule over the whole thickness under-integrates |zeta|, of which a nearly plastic bend is made: with 4 points in
    each half the moment of a bend is within 0.5 %, with 9 over the whole within 1.5 %.
    """
    if isinstance(points_per_half, bool) or not isinstance(points_per_half, int) or not 1 <= points_per_half <= 40:
        raise InputError(
            "points_per_half", points_per_half, "", "a whole number from 1 to 40", "use 4, or 8 for a flat curl"
        )
    x, w = np.polynomial.legendre.leggauss(points_per_half)
    half = 0.25 * (x + 1.0)
    return np.concatenate((half - 0.5, half)), np.concatenate((0.25 * w, 0.25 * w))


def mesh_points(
    x_mm: Vector,
    y_mm: Vector,
    angle_rad: Vector,
    thickness_mm: float | Vector,
    mode: Mode = "revolution",
    points_per_half: int = 4,
) -> Section:
    """A stress-free section through given nodes.

    Parameters
    ----------
    x_mm, y_mm, angle_rad : nodes and direction of travel there, shape (n,). The angles should be those of the true
    curve:
        their difference to the chords is taken as the unstrained state.
    thickness_mm : one value or one per element, shape (n - 1,). [mm]
    mode : "revolution" about the x axis, or "prism", a straight strip.
    points_per_half : layers in each half of the thickness.
    """
    x, y = np.array(x_mm, dtype=np.float64), np.array(y_mm, dtype=np.float64)
    angle = np.unwrap(np.array(angle_rad, dtype=np.float64))
    if x.ndim != 1 or x.size < 2 or y.shape != x.shape or angle.shape != x.shape:
        raise InputError(
            "section nodes", x.shape, "", "three equal lists of at least 2", "give x, y and angle of each node"
        )
    if mode not in ("revolution", "prism"):
        raise InputError("mode", mode, "", "revolution or prism", "choose one")
    thick = np.broadcast_to(np.asarray(thickness_mm, dtype=np.float64), (x.size - 1,)).copy()
    if not (np.all(np.isfinite(thick)) and np.all(thick > 0.0)):
        raise InputError("thickness_mm", float(np.min(thick)), "mm", "above 0", "enter the sheet thickness")
    if not (np.all(np.isfinite(x)) and np.all(np.isfinite(y)) and np.all(np.isfinite(angle))):
        raise InputError("section nodes", "not finite", "mm", "finite", "mend the points")
    length = np.hypot(np.diff(x), np.diff(y))
    if not np.all(length > 0.0):
        raise InputError("element length", 0.0, "mm", "above 0", "remove doubled nodes")
    middle = 0.5 * (angle[1:] + angle[:-1])
    chord = np.arctan2(np.diff(y), np.diff(x))
    offset = np.arctan2(np.sin(middle - chord), np.cos(middle - chord))
    if np.any(np.abs(offset) > 0.3):
        raise InputError(
            "node angle",
            round(float(np.abs(offset).max()), 3),
            "rad",
            "the direction of travel within 0.3 of the chords",
            "use more elements in the bends",
        )
    share, weight = split_gauss(points_per_half)
    turning = angle[1:] - angle[:-1]
    zeta = share[None, :] * thick[:, None]
    ym = 0.5 * (y[1:] + y[:-1])
    revolution = mode == "revolution"
    fibre = ym[:, None] + zeta * np.cos(middle)[:, None] if revolution else np.ones((x.size - 1, share.size))
    a0 = length[:, None] - zeta * turning[:, None]
    if np.any(a0 <= 0.0) or np.any(fibre <= 0.0):
        raise InputError(
            "section",
            "folded",
            "",
            "wider in its bends than half the thickness and off the axis",
            "use a larger bend radius, or move the section off the axis",
        )
    return Section(
        x,
        y,
        angle,
        thick,
        share,
        a0 * fibre * thick[:, None] * weight[None, :],
        np.zeros((x.size - 1, share.size, 5)),
        offset,
        mode,
        0.0 if revolution else 1.0,
        1.0 if revolution else 0.0,
        0.0,
        2.0 * math.pi if revolution else 1.0,
        length.copy(),
        ym.copy() if revolution else np.ones(x.size - 1),
        thick.copy(),
    )


def mesh_profile(
    midline: Profile,
    thickness_mm: float,
    elements: int = 120,
    mode: Mode = "revolution",
    points_per_half: int = 4,
    nodes_at_mm: Sequence[float] = (),
) -> Section:
    """A stress-free section along a mid-line contour, elements of equal length.

    Parameters
    ----------
    midline : contour of the middle of the sheet, (x, y) with y the radius or height.
    thickness_mm : sheet thickness. [mm]
    elements : number of elements; use 320 where an element is longer than a fifteenth of the inner bend radius.
    nodes_at_mm : distances along the mid-line at which a node must lie (a later cut). The nearest nodes are moved. [mm]
    """
    if isinstance(elements, bool) or not isinstance(elements, int) or not 2 <= elements <= 5000:
        raise InputError("elements", elements, "", "a whole number from 2 to 5000", "use 120, or 320 for tight bends")
    require_positive("thickness_mm", thickness_mm, "mm")
    s = np.linspace(0.0, midline.length, elements + 1)
    for place in nodes_at_mm:
        if not 0.0 < place < midline.length:
            raise InputError(
                "nodes_at_mm", place, "mm", f"between 0 and {midline.length:.3f}", "give a place on the mid-line"
            )
        s[1 + int(np.argmin(np.abs(s[1:-1] - place)))] = place
    s = np.sort(s)
    if np.any(np.diff(s) < 1e-6):
        raise InputError("nodes_at_mm", tuple(nodes_at_mm), "mm", "apart from each other", "use more elements")
    points = np.array([midline.point_at(float(v)) for v in s])
    angles = np.array([midline.angle_at(float(v)) for v in s])
    return mesh_points(points[:, 0], points[:, 1], angles, thickness_mm, mode, points_per_half)


def mesh_line(
    start: Point,
    end: Point,
    thickness_mm: float,
    elements: int = 120,
    mode: Mode = "revolution",
    points_per_half: int = 4,
) -> Section:
    """A stress-free straight section: a flat disc or annulus (from one radius to another), a tube wall, a strip."""
    return mesh_profile(Profile((line(start, end),)), thickness_mm, elements, mode, points_per_half)
