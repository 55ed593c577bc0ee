"""Reading a formed section: turns and radii of its bends, its deviation from a nominal mid-line. Units mm, rad."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section.contour import nearest, packed
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.shapes import Matrix


def start_arc_mm(section: Section) -> Vector:
    """Distance of each node along the section in its unstrained start: the name of a material point. Shape (n,).
    [mm]"""
    return np.concatenate(([0.0], np.cumsum(section.length_start_mm)))


def at_material(section: Section, arc_mm: float) -> tuple[float, float, float]:
    """Place and direction (x, y, angle) of the material point at a distance along the unstrained section. [mm, mm,
    rad]"""
    s = start_arc_mm(section)
    if not 0.0 <= require_finite("arc_mm", arc_mm, "mm") <= s[-1]:
        raise InputError("arc_mm", arc_mm, "mm", f"from 0 to {s[-1]:.3f}", "give a place on the section")
    return (
        float(np.interp(arc_mm, s, section.x_mm)),
        float(np.interp(arc_mm, s, section.y_mm)),
        float(np.interp(arc_mm, s, np.unwrap(section.angle_rad))),
    )


@dataclass(frozen=True, slots=True)
class Bends:
    """Bends of a formed section. turn_rad : signed turn of each, between the middles of its straights, shape (b,).
    radius_mm : mid-line radius by a line through the angles of the middle 70 % of the arc, shape (b,)."""

    turn_rad: Vector
    radius_mm: Vector


def bends(section: Section, nominal: Profile, start_mm: float = 0.0) -> Bends:
    """Turns and radii of the bends a section should have.

    Parameters
    ----------
    nominal : mid-line wanted, straights and arcs in turn, ends straight.
    start_mm : distance along the unstrained section at which the nominal contour begins (a margin). [mm]

    Notes
    -----
    The radius of a short arc scatters by a tenth of a millimetre with the place of the nodes: trust turns and the
    profile first.
    """
    s, angle = start_arc_mm(section), np.unwrap(section.angle_rad)
    breaks = nominal.breaks + start_mm
    arcs = [k for k, segment in enumerate(nominal) if segment.is_arc]
    if not arcs or arcs[0] == 0 or arcs[-1] == len(nominal) - 1 or any(b - a < 2 for a, b in pairwise(arcs)):
        raise InputError(
            "nominal", len(nominal), "segments", "straights with arcs between them", "start and end with a straight"
        )
    turn, radius = [], []
    for k in arcs:
        before, after = (0.5 * (breaks[m] + breaks[m + 1]) for m in (k - 1, k + 1))
        turn.append(float(np.interp(after, s, angle) - np.interp(before, s, angle)))
        middle, reach = 0.5 * (breaks[k] + breaks[k + 1]), 0.35 * (breaks[k + 1] - breaks[k])
        inside = np.abs(s - middle) <= reach
        if np.count_nonzero(inside) < 2:
            raise InputError("elements", section.elements, "", "at least 3 nodes in every bend", "use more elements")
        slope = float(np.polyfit(s[inside], angle[inside], 1)[0])
        radius.append(math.inf if slope == 0.0 else 1.0 / abs(slope))
    return Bends(np.array(turn), np.array(radius))


@compiled
def deviations(rows: Matrix, x: Vector, y: Vector, out: Matrix) -> None:
    """Signed distance and normal of each point to a packed contour into out (n, 3)."""
    for i in range(x.shape[0]):
        d, nx, ny, _bend = nearest(rows, 0, rows.shape[0], x[i], y[i])
        out[i, 0], out[i, 1], out[i, 2] = d, nx, ny


@dataclass(frozen=True, slots=True)
class Fit:
    """A section laid on its nominal mid-line by rigid motion.

    x_mm, y_mm (n,) : nodes after the fit. deviation_mm (n,) : normal distance, positive to the left of travel; NaN in
    the edges left out. greatest_mm, rms_mm : over the rest. turn_rad : turn of the fit.
    """

    x_mm: Vector
    y_mm: Vector
    deviation_mm: Vector
    greatest_mm: float
    rms_mm: float
    turn_rad: float

    def y_at(self, section: Section, arc_mm: float) -> float:
        """Height of a material point after the fit. [mm]"""
        return float(np.interp(arc_mm, start_arc_mm(section), self.y_mm))


def fit_profile(section: Section, nominal: Profile, edge_mm: float = 3.0) -> Fit:
    """Least-squares rigid fit of the nodes to a nominal mid-line, normal distance, `edge_mm` of either edge left out.

    Gauss-Newton on shift and turn, weighted by node spacing, until the motion is below 1e-10.
    """
    s = start_arc_mm(section)
    inside = (s >= edge_mm - 1e-9) & (s <= s[-1] - edge_mm + 1e-9)
    if np.count_nonzero(inside) < 4:
        raise InputError("edge_mm", edge_mm, "mm", "small enough to leave 4 nodes", "leave out less")
    rows = packed(nominal)
    weight = np.sqrt(np.gradient(s))[inside]
    x, y, turned = section.x_mm.copy(), section.y_mm.copy(), 0.0
    out = np.zeros((x.size, 3))
    for _ in range(100):
        deviations(rows, x, y, out)
        cx, cy = float(x[inside].mean()), float(y[inside].mean())
        lever = (x - cx) * out[:, 2] - (y - cy) * out[:, 1]
        matrix = np.stack((out[inside, 1], out[inside, 2], lever[inside]), axis=1) * weight[:, None]
        step = np.linalg.lstsq(matrix, -out[inside, 0] * weight, rcond=None)[0]
        c, sn = math.cos(step[2]), math.sin(step[2])
        x, y = cx + c * (x - cx) - sn * (y - cy) + step[0], cy + sn * (x - cx) + c * (y - cy) + step[1]
        turned += float(step[2])
        if float(np.max(np.abs(step))) < 1e-10:
            break
    deviations(rows, x, y, out)
    deviation = np.where(inside, out[:, 0], np.nan)
    kept = out[inside, 0]
    rms = math.sqrt(float(np.sum(kept**2 * weight**2) / np.sum(weight**2)))
    return Fit(x, y, deviation, float(np.max(np.abs(kept))), rms, turned)


def width_mm(section: Section) -> float:
    """Extent along x, mid-line to mid-line of the ends. [mm]"""
    return float(np.ptp(section.x_mm))
