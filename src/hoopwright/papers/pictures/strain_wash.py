"""Section of a workpiece with the wash: strain as share of its limit, in six steps, and the line of it underneath.

Where the band reaches the limit the section is hatched singly, where the reckoned value passes it, both ways. No step
of the wash means good or bad; only the hatching speaks of the limit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Chain, Drawing, Hatch, Item, Path, Text, polyline
from hoopwright.papers.drawing.pens import WASH_STEPS_PCT, wash_step
from hoopwright.papers.numbers import share_pct as share_text
from hoopwright.process.workpiece import Workpiece

Array = NDArray[np.float64]

LIMIT_PCT = 100.0
_FINE_HATCH_MM = 0.65


@dataclass(frozen=True, slots=True, eq=False)
class Strained:
    """A section and how much of its limit every station uses; arrays of shape (n,).

    share_pct : reckoned. share_high_pct : upper end of the band; the reckoned value where no band is known.
    """

    piece: Workpiece
    share_pct: Array
    share_high_pct: Array

    def __post_init__(self) -> None:
        for name in ("share_pct", "share_high_pct"):
            shape = getattr(self, name).shape
            if shape != self.piece.s_mm.shape:
                raise InputError(name, shape, "", f"of shape {self.piece.s_mm.shape}", "give one share a station")
            if not np.all(np.isfinite(getattr(self, name))):
                raise InputError(name, "not finite", "pct", "finite", "check the reckoning")

    @property
    def peak_pct(self) -> float:
        """Greatest reckoned share."""
        return float(self.share_pct.max())


def drawn_angle(piece: Workpiece) -> Array:
    """Direction of the line through z and r, shape (n,). [rad]

    A strip off an arc blank keeps the direction its section has in the ring, but its heights are counted from the
    pitch line, so that its line is drawn less steep than that.
    """
    if piece.form == "hoop" or piece.s_mm.size < 3:
        return piece.angle_rad
    return np.asarray(np.arctan2(np.gradient(piece.r_mm, piece.s_mm), np.gradient(piece.z_mm, piece.s_mm)))


def cell_edges(piece: Workpiece) -> tuple[list[Point], list[Point]]:
    """Points of the left and of the right face at the n + 1 edges of the stations' cells. [mm]"""
    half = 0.5 * piece.weight_mm
    angle = drawn_angle(piece)
    along = np.column_stack((np.cos(angle), np.sin(angle)))
    middle = np.column_stack((piece.z_mm, piece.r_mm))
    before, after = middle - half[:, None] * along, middle + half[:, None] * along
    place = np.vstack((before[:1], 0.5 * (after[:-1] + before[1:]), after[-1:]))
    turn = np.concatenate((angle[:1], 0.5 * (angle[:-1] + angle[1:]), angle[-1:]))
    t = piece.thickness_mm
    thick = 0.5 * np.concatenate((t[:1], 0.5 * (t[:-1] + t[1:]), t[-1:]))
    normal = np.column_stack((-np.sin(turn), np.cos(turn))) * thick[:, None]
    left, right = place + normal, place - normal
    return [(float(x), float(y)) for x, y in left], [(float(x), float(y)) for x, y in right]


def section_wash(strained: Strained, title: str = "") -> Drawing:
    """The section in mm of the workpiece, washed and hatched."""
    left, right = cell_edges(strained.piece)
    shares, highs = strained.share_pct.tolist(), strained.share_high_pct.tolist()
    items: list[Item] = []
    for step, run in _runs([wash_step(s) for s in shares]):
        items.append(Path(_band(left, right, run), None, f"wash{step}", True))
    marks = [2 if s > LIMIT_PCT else 1 if h >= LIMIT_PCT else 0 for s, h in zip(shares, highs, strict=True)]
    for mark, run in _runs(marks):
        if mark:
            items.append(Hatch((_band(left, right, run),), 45.0, _FINE_HATCH_MM, "near"))
        if mark == 2:
            items.append(Hatch((_band(left, right, run),), -45.0, _FINE_HATCH_MM, "over"))
    items.append(Path(polyline([*left, *reversed(right)], closed=True), "fine", None, True))
    peak = share_text(0.01 * strained.peak_pct)
    words = f"{title or strained.piece.part}: section, strain as share of its limit, at most {peak}"
    return Drawing(tuple(items), words)


def _runs(values: list[int]) -> list[tuple[int, tuple[int, int]]]:
    """Equal neighbours put together: value, and first and last cell."""
    found = []
    begin = 0
    for value, group in groupby(values):
        count = sum(1 for _ in group)
        found.append((value, (begin, begin + count - 1)))
        begin += count
    return found


def _band(left: list[Point], right: list[Point], run: tuple[int, int]) -> Chain:
    first, last = run
    return polyline([*left[first : last + 2], *reversed(right[first : last + 2])], closed=True)


def strain_line(strained: Strained, scale: float, height_mm: float, top_pct: float = 110.0) -> Drawing:
    """Share of the limit along the section, drawn under it at the same x; mm on paper, base line at y = 0.

    scale : mm on paper for each mm of the section. height_mm : of `top_pct` on paper.
    """
    up = height_mm / max(top_pct, strained.peak_pct)
    z, half = strained.piece.z_mm, 0.5 * strained.piece.weight_mm * np.cos(drawn_angle(strained.piece))
    x0, x1 = scale * float(z[0] - half[0]), scale * float(z[-1] + half[-1])
    curve = [(x0, up * float(strained.share_pct[0]))]
    curve += [(scale * float(a), up * float(b)) for a, b in zip(z, strained.share_pct, strict=True)]
    curve.append((x1, up * float(strained.share_pct[-1])))
    limit = up * LIMIT_PCT
    peak = share_text(0.01 * strained.peak_pct)
    items: list[Item] = [
        Path((line((x0, 0.0), (x1, 0.0)),), "hair"),
        Path((line((x0, limit), (x1, limit)),), "limit"),
        Path(polyline(_thinned(curve)), "reckoned-narrow"),
        Text((x1 + 1.2, 0.2), peak, 2.95, "figures-bold", colour="blue"),
    ]
    return Drawing(tuple(items), f"share of the limit along the section, peak {peak}, dotted line at the limit")


def _thinned(points: list[Point]) -> list[Point]:
    """The curve without points that lie on the straight between their neighbours, within 0.01 mm on paper."""
    kept = [points[0]]
    for here, ahead in pairwise(points[1:]):
        (x0, y0), (x1, y1) = kept[-1], ahead
        span = math.hypot(x1 - x0, y1 - y0)
        off = abs((x1 - x0) * (here[1] - y0) - (y1 - y0) * (here[0] - x0)) / span if span else 1.0
        if off > 0.01:
            kept.append(here)
    return [*kept, points[-1]]


def wash_legend(width_mm: float, of_what: str) -> Drawing:
    """The six steps and both hatches with their words, in one or two lines; mm on paper, origin top left."""
    ends = [0.0, *WASH_STEPS_PCT]
    words = [f"{a:.0f} to {b:.0f}" for a, b in pairwise(ends)]
    words = [f"under {ends[1]:.0f}", *words[1:], f"over {ends[-1]:.0f} %"]
    items: list[Item] = [Text((0.0, -3.0), of_what, 2.95)]
    x, y = 0.0, -8.0
    entries = [(word, f"wash{k}", 0) for k, word in enumerate(words)]
    entries += [("band reaches the limit", "wash5", 1), ("limit passed", "wash5", 2)]
    for word, fill, mark in entries:
        size = 8.0 + 1.75 * len(word)
        if x + size > width_mm:
            x, y = 0.0, y - 5.0
        patch = polyline([(x, y - 0.4), (x + 6.0, y - 0.4), (x + 6.0, y + 2.2), (x, y + 2.2)], closed=True)
        items.append(Path(patch, "fine", fill, True))
        if mark:
            items.append(Hatch((patch,), 45.0, _FINE_HATCH_MM, "near"))
        if mark == 2:
            items.append(Hatch((patch,), -45.0, _FINE_HATCH_MM, "over"))
        items.append(Text((x + 7.2, y), word, 2.95))
        x += size
    return Drawing(tuple(items), "steps of the wash")
