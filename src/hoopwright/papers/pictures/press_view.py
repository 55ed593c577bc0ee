"""The set from above as the press man sees it: segments, pin, ring, where the seam was and where it goes. mm."""

from __future__ import annotations

import math

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Drawing, Hatch, Item, Path, Text, bow, circle, polyline

RING_MM = 52.0
"""Radius of the ring on the picture; segments are drawn in proportion."""

BORE_SHARE, PIN_SHARE, SLOT_MM = 0.46, 0.42, 1.9


def press_view(count: int, seam_deg: float | None, to_deg: float | None) -> Drawing:
    """Segments numbered clockwise from 1 at the top, segment 1 hatched.

    Parameters
    ----------
    seam_deg : where the seam is now, clockwise from the middle of segment 1; to_deg : where it goes.
    """
    if count < 3:
        raise InputError("segments", count, "", "3 or more", "give the count of the set")
    items: list[Item] = [Path(circle((0.0, 0.0), RING_MM), "heavy")]
    items += [item for k in range(count) for item in _segment(k, count)]
    items.append(Path(circle((0.0, 0.0), PIN_SHARE * RING_MM), "centre"))
    items.append(Text((0.0, -1.6), "pin", 4.8, anchor="middle"))
    if seam_deg is not None and to_deg is not None and abs(seam_deg - to_deg) > 0.5:
        items += _turn(seam_deg, to_deg)
        items.append(Path(circle(_polar(RING_MM, seam_deg), 1.9), "dashed", "sheet", True))
        items.append(Text(_beside(seam_deg), "was here", 4.2, anchor="start" if seam_deg >= 0 else "end"))
    if to_deg is not None:
        items.append(Path(circle(_polar(RING_MM, to_deg), 2.7), "narrow", "ink", True))
        items.append(Text(_beside(to_deg), "seam to here", 5.4, "figures-bold", "start" if to_deg >= 0 else "end"))
    words = "" if to_deg is None else f": seam at {to_deg:.1f}° from the middle of segment 1, clockwise"
    return Drawing(tuple(items), f"{count} segments from above{words}")


def _polar(radius: float, clock_deg: float) -> Point:
    t = math.radians(90.0 - clock_deg)
    return (radius * math.cos(t), radius * math.sin(t))


def _beside(clock_deg: float) -> Point:
    x, y = _polar(RING_MM + 9.0, clock_deg)
    return (x, y)


def _segment(k: int, count: int) -> list[Item]:
    pitch, outer, inner = 360.0 / count, RING_MM - 1.6, BORE_SHARE * RING_MM
    middle = k * pitch
    a = 0.5 * pitch - math.degrees(0.5 * SLOT_MM / outer)
    b = 0.5 * pitch - math.degrees(0.5 * SLOT_MM / inner)
    far = bow((0.0, 0.0), outer, 90.0 - middle + a, 90.0 - middle - a)
    near = bow((0.0, 0.0), inner, 90.0 - middle - b, 90.0 - middle + b)
    chain = (far, line(far.end, near.start), near, line(near.end, far.start))
    x, y = _polar(0.78 * RING_MM, middle)
    hatch: list[Item] = [Hatch((chain,), 45.0, 1.5)] if k == 0 else []
    return [
        Path(chain, "narrow", "sheet", True),
        *hatch,
        Text((x, y - 1.8), str(k + 1), 5.2, "figures-bold", "middle", knockout=k == 0),
    ]


def _turn(from_deg: float, to_deg: float) -> list[Item]:
    """An arrow along the ring from where the seam is to where it goes."""
    radius, sign = RING_MM + 5.5, 1.0 if to_deg > from_deg else -1.0
    start, end = from_deg + sign * 1.0, to_deg - sign * 3.0
    tip = _polar(radius, end + sign * 2.4)
    wings = (_polar(radius + 1.5, end), tip, _polar(radius - 1.5, end))
    return [
        Path((bow((0.0, 0.0), radius, 90.0 - start, 90.0 - end),), "wide"),
        Path(polyline(list(wings), True), "fine", "ink", True),
    ]
