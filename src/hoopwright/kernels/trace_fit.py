"""A traced section against its nominal of lines and arcs: best fit by orthogonal distance, free or held. mm, rad.

The trace is moved (along, across, turned about its middle) until the sum of squared orthogonal distances to the nominal
is least: Gauss-Newton on signed distances, nearest points found anew at each step. Directions may be held: a radius
that the drawing sizes must not be fitted away.

References
----------
Iterated nearest point with linearised distances (normal-distance form), textbook. Known motions are found again in
tests/exact/test_point_fit_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.arrays import Vector, finite_vector, same_length
from hoopwright.kernels.profile import Profile, Segment


@dataclass(frozen=True, slots=True, eq=False)
class TraceFit:
    """The motion that brings trace to nominal (shift after a turn about the trace's middle), and distances left.

    distance : signed, positive left of the nominal's direction [mm]. segment : on which segment. Both (n,).
    """

    shift_x: float
    shift_y: float
    turn_rad: float
    distance: Vector
    segment: Vector

    @property
    def form_mm(self) -> float:
        """Width of a profile zone lying evenly about the nominal: twice the largest distance."""
        return 2.0 * float(np.abs(self.distance).max())

    @property
    def rms_mm(self) -> float:
        """Root mean square distance."""
        return math.sqrt(float((self.distance**2).mean()))


def _nearest(segment: Segment, x: Vector, y: Vector) -> tuple[Vector, Vector, Vector]:
    """Signed distance to a segment run on at its ends as its tangent line, its normal there; shape (n,) each."""
    if segment.centre is None:
        angle = segment.angle_at(0.0)
        nx, ny = -math.sin(angle), math.cos(angle)
        along = (x - segment.start[0]) * math.cos(angle) + (y - segment.start[1]) * math.sin(angle)
        over = np.maximum(np.maximum(-along, along - segment.length), 0.0)
        return (x - segment.start[0]) * nx + (y - segment.start[1]) * ny, over, np.full_like(x, angle)
    cx, cy = segment.centre
    sense = 1.0 if segment.ccw else -1.0
    dx, dy = x - cx, y - cy
    r = np.hypot(dx, dy)
    start = math.atan2(segment.start[1] - cy, segment.start[0] - cx)
    turn = (sense * (np.arctan2(dy, dx) - start) + math.pi) % (2.0 * math.pi) - math.pi
    span = abs(segment.sweep)
    turn = np.where(turn < -0.5 * (2.0 * math.pi - span), turn + 2.0 * math.pi, turn)
    over = np.maximum(np.maximum(-turn, turn - span), 0.0) * segment.radius
    return sense * (segment.radius - r), over, np.arctan2(dy, dx) + sense * 0.5 * math.pi


def signed_distances(nominal: Profile, x: Vector, y: Vector) -> tuple[Vector, Vector, Vector]:
    """Distance to the nominal (left +) [mm], direction there [rad], number of the segment; shape (n,) each.

    A point past an open end is measured to the end's tangent, as a trace always overruns.
    """
    best = np.full(x.shape, math.inf)
    distance, angle, number = np.zeros_like(x), np.zeros_like(x), np.zeros_like(x)
    for k, segment in enumerate(nominal.segments):
        d, over, a = _nearest(segment, x, y)
        outer = (k == 0) | (k == len(nominal) - 1)
        away = np.hypot(d, over) if not outer else np.where(over > 0.0, np.hypot(d, 1e-3 * over), np.abs(d))
        # past an inner joint the neighbour is nearer; only the two free ends run on
        if outer and len(nominal) > 1:
            inner_side = _past_inner_end(segment, k == 0, x, y)
            away = np.where(inner_side, np.hypot(d, over), away)
        better = away < best
        best = np.where(better, away, best)
        distance, angle = np.where(better, d, distance), np.where(better, a, angle)
        number = np.where(better, float(k), number)
    return distance, angle, number


def _past_inner_end(segment: Segment, first: bool, x: Vector, y: Vector) -> NDArray[np.bool_]:
    """Whether a point lies past the end by which an outer segment joins its neighbour."""
    place = segment.end if first else segment.start
    angle = segment.angle_at(segment.length if first else 0.0)
    along = (x - place[0]) * math.cos(angle) + (y - place[1]) * math.sin(angle)
    return np.asarray(along > 0.0 if first else along < 0.0, dtype=np.bool_)


def fit_trace(
    nominal: Profile, x: ArrayLike, y: ArrayLike, free: tuple[str, ...] = ("along", "across", "turn")
) -> TraceFit:
    """Best fit of traced points [mm] to the nominal; what is not in `free` is held at nought.

    Raises
    ------
    InputError
        Fewer than five points, or an unknown freedom.
    NotConverged
        The trace does not settle: it is of another section, or columns are exchanged.
    """
    xs, ys = finite_vector("trace x", x, "mm", 5), finite_vector("trace y", y, "mm", 5)
    same_length("trace y", ys, "trace x", xs)
    names = ("along", "across", "turn")
    if set(free) - set(names):
        raise InputError("free", free, "", "along, across or turn", "name freedoms of the fit")
    mid_x, mid_y = float(xs.mean()), float(ys.mean())
    held = np.array([name not in free for name in names])
    motion = np.zeros(3)
    reach = float(np.hypot(xs - mid_x, ys - mid_y).max())
    last = math.inf
    for _ in range(200):
        px, py = _moved(xs, ys, mid_x, mid_y, motion)
        d, angle, number = signed_distances(nominal, px, py)
        if held.all():
            return TraceFit(0.0, 0.0, 0.0, d, number)
        nx, ny = -np.sin(angle), np.cos(angle)
        spin = -(py - mid_y - motion[1]) * nx + (px - mid_x - motion[0]) * ny
        rows = np.column_stack((nx, ny, spin))[:, ~held]
        step = np.zeros(3)
        step[~held] = np.linalg.lstsq(rows, -d, rcond=1e-9)[0]
        motion = motion + step
        size = max(abs(step[0]), abs(step[1]), abs(step[2]) * reach)
        if size < 1e-11:
            return TraceFit(float(motion[0]), float(motion[1]), float(motion[2]), d, number)
        last = size
    if last < 1e-6:
        return TraceFit(float(motion[0]), float(motion[1]), float(motion[2]), d, number)
    raise NotConverged("the trace does not settle on the nominal", motion, "check section, face and columns")


def _moved(x: Vector, y: Vector, mid_x: float, mid_y: float, motion: Vector) -> tuple[Vector, Vector]:
    cosine, sine = math.cos(motion[2]), math.sin(motion[2])
    dx, dy = x - mid_x, y - mid_y
    return mid_x + motion[0] + cosine * dx - sine * dy, mid_y + motion[1] + sine * dx + cosine * dy
