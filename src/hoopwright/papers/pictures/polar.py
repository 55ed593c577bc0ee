"""Roundness as a picture: readings round the ring with segments and seam, the ring unrolled, amplitudes of its orders.

mm on paper. Readings are dots, what was reckoned from them is a line; a slot between two segments is dotted.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import (
    Dot,
    Drawing,
    Hatch,
    Item,
    Path,
    Text,
    bow,
    circle,
    polyline,
    rectangle,
)
from hoopwright.papers.numbers import written

OUTER_MM, BASE_MM, REACH_MM = 60.0, 40.0, 13.0
STRIP_MM, STRIP_LENGTH_MM = 11.0, 98.0


@dataclass(frozen=True, slots=True)
class Turn:
    """One turn of readings. angle_deg from the middle of segment 1, clockwise from forward; deviation_mm radial.

    waves : (order, cosine, sine) of what was fitted. seam_deg : None where it is not known.
    """

    serial: str
    angle_deg: tuple[float, ...]
    deviation_mm: tuple[float, ...]
    segments: int
    waves: tuple[tuple[int, float, float], ...]
    mean_mm: float
    radius_mm: float
    seam_deg: float | None = None
    words: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if len(self.angle_deg) != len(self.deviation_mm) or len(self.angle_deg) < 5:
            raise InputError(
                "readings", len(self.angle_deg), "", "5 or more, one deviation an angle", "read a full turn"
            )

    def wave(self, angle_deg: float, orders: Sequence[int]) -> float:
        """Sum of the waves of these orders at an angle. [mm]"""
        t = math.radians(angle_deg)
        return sum(a * math.cos(k * t) + b * math.sin(k * t) for k, a, b in self.waves if k in orders)


def _at(radius: float, clock_deg: float) -> Point:
    t = math.radians(90.0 - clock_deg)
    return (radius * math.cos(t), radius * math.sin(t))


def polar(turn: Turn) -> Drawing:
    """The ring seen along its axis, deviations enlarged."""
    most = max(max(abs(d - turn.mean_mm) for d in turn.deviation_mm), 1e-3)
    times = REACH_MM / most
    items: list[Item] = [*_segments(turn.segments)]
    step = _round(most / 2.0)
    for k in (-2, -1, 0, 1, 2):
        radius = BASE_MM + times * step * k
        if 0.0 < radius < OUTER_MM - 4.0:
            items.append(Path(circle((0.0, 0.0), radius), "narrow" if k == 0 else "hair"))
            text = "0" if k == 0 else written(step * k, 2, sign=True)
            if k != 1 and k != -1:
                items.append(Text(_at(radius, 112.0), text, 2.95, colour="ink2", anchor="middle", knockout=True))
    orders = tuple(k for k, _, _ in turn.waves)
    low = tuple(k for k in orders if k <= 2)
    for chosen, pen in ((low, "reckoned-narrow"), (orders, "reckoned")):
        points = [_at(BASE_MM + times * turn.wave(a, chosen), a) for a in range(0, 361, 3)]
        items.append(Path(polyline(points), pen))
    spots = [
        _at(BASE_MM + times * (d - turn.mean_mm), a) for a, d in zip(turn.angle_deg, turn.deviation_mm, strict=True)
    ]
    items += [Dot(spot, 0.75, "lead") for spot in spots]
    if turn.seam_deg is not None:
        place = _at(BASE_MM + times * turn.wave(turn.seam_deg, orders), turn.seam_deg)
        items += [
            Path((line(place, _at(OUTER_MM + 3.0, turn.seam_deg)),), "fine"),
            Path(circle(place, 1.5), "wide", "sheet", True),
            Text(_at(OUTER_MM + 4.0, turn.seam_deg), "seam", 3.3),
        ]
    items += _middle(turn, times)
    enlarged = times * turn.radius_mm / BASE_MM
    words = f"{len(spots)} readings, deviation drawn {enlarged:.0f} times larger than the ring"
    return Drawing(tuple(items), f"{turn.serial}: roundness on {turn.segments} segments", words)


def _round(value: float) -> float:
    """A round step at or below a value."""
    size = 10.0 ** math.floor(math.log10(value))
    return next(m * size for m in (5.0, 2.0, 1.0) if m * size <= value * 1.0001)


def _segments(count: int) -> list[Item]:
    pitch = 360.0 / count
    items: list[Item] = []
    inner = OUTER_MM - 4.0
    for k in range(count):
        middle, half = k * pitch, 0.5 * pitch - 1.1
        far = bow((0.0, 0.0), OUTER_MM, 90.0 - middle + half, 90.0 - middle - half)
        near = bow((0.0, 0.0), inner, 90.0 - middle - half, 90.0 - middle + half)
        items.append(Path((far, line(far.end, near.start), near, line(near.end, far.start)), "fine", "panel", True))
        x, y = _at(0.5 * (OUTER_MM + inner), middle)
        items.append(Text((x, y - 1.1), str(k + 1), 2.95, colour="ink2", anchor="middle"))
        edge = middle + 0.5 * pitch
        items.append(Path((line(_at(20.0, edge), _at(inner - 1.0, edge)),), "slot"))
    return items


def _middle(turn: Turn, times: float) -> list[Item]:
    enlarged = times * turn.radius_mm / BASE_MM
    rows = [Text((0.0, 7.0), turn.serial, 6.6, "sentences", "middle")]
    rows += [
        Text((0.0, 2.0 - 4.2 * k), words, 2.95, "figures", "middle", colour="ink2")
        for k, words in enumerate(turn.words)
    ]
    low = 2.0 - 4.2 * len(turn.words) - 0.8
    said = (f"deviation drawn {enlarged:.0f} times", "larger than the ring")
    return [*rows, *(Text((0.0, low - 4.4 * k), w, 3.3, "italic", "middle", colour="ink2") for k, w in enumerate(said))]


@dataclass(frozen=True, slots=True)
class Strip:
    """One unrolled strip: words, orders taken out, peak to valley left [mm], its limit in words, limit [mm]."""

    words: str
    removed: tuple[int, ...]
    left_mm: float
    limit_words: str = ""
    limit_mm: float | None = None


def unrolled(turn: Turn, strips: Sequence[Strip]) -> Drawing:
    """The ring unrolled, order after order taken out, all strips to one scale."""
    width = STRIP_LENGTH_MM
    most = max(max(turn.deviation_mm) - min(turn.deviation_mm), 1e-6)
    scale = 26.0 / most

    def x(angle: float) -> float:
        return width * (angle % 360.0) / 360.0

    items: list[Item] = []
    pitch = 360.0 / turn.segments
    for k in range(turn.segments + 1):
        items.append(Text((width * k / turn.segments, 3.0), str(k % turn.segments + 1), 2.95, anchor="middle"))
    y = -3.0
    for strip in strips:
        left = [
            d - turn.mean_mm - turn.wave(a, strip.removed)
            for a, d in zip(turn.angle_deg, turn.deviation_mm, strict=True)
        ]
        half = 0.5 * scale * (max(left) - min(left)) + 2.6
        middle = y - 5.4 - half
        items += [
            Text((0.0, y - 3.0), strip.words, 2.95, colour="ink2"),
            Text((width, y - 3.0), strip.limit_words, 2.95, anchor="end", colour="ink2"),
            Text((width * 0.62, y - 3.0), written(strip.left_mm, 3), 3.66, "figures-bold", "end", colour="lead"),
        ]
        if strip.limit_mm is not None and strip.limit_mm * scale < 3.0 * half:
            reach = 0.5 * strip.limit_mm * scale
            items.append(Path(rectangle(0.0, middle - reach, width, middle + reach), "hair", "panel", True))
        items.append(Path((line((0.0, middle), (width, middle)),), "hair"))
        for k in range(turn.segments):
            at = x((k + 0.5) * pitch)
            items.append(Path((line((at, middle - half), (at, middle + half)),), "slot"))
        points = sorted((x(a), middle + scale * v) for a, v in zip(turn.angle_deg, left, strict=True))
        items.append(Path(polyline([*points, (width, points[0][1])]), "measured"))
        items += [Dot(p, 0.55, "lead") for p in points]
        y = middle - half
    for k in range(0, 361, 45):
        items.append(Text((width * k / 360.0, y - 5.0), f"{k}°", 2.95, anchor="middle"))
    items.append(Path((line((0.0, y - 1.2), (width, y - 1.2)),), "fine"))
    return Drawing(tuple(items), "Segments under the ring, and the ring unrolled", f"{len(strips)} strips, one scale")


def amplitudes(turn: Turn, most: int = 12) -> Drawing:
    """Amplitude by number of waves round the ring; the set's own number bold."""
    known = {k: math.hypot(a, b) for k, a, b in turn.waves}
    top = max([*known.values(), 1e-6])
    width, height = STRIP_LENGTH_MM / most, 16.0
    items: list[Item] = [Path((line((0.0, 0.0), (STRIP_LENGTH_MM, 0.0)),), "fine")]
    for k in range(1, most + 1):
        middle = width * (k - 0.5)
        own = k == turn.segments
        items.append(Text((middle, -4.0), str(k), 2.95, "figures-bold" if own else "figures", "middle"))
        value = known.get(k, 0.0)
        if value > 0.0:
            tall = height * value / top
            bar = rectangle(middle - 0.25 * width, 0.0, middle + 0.25 * width, max(tall, 0.15))
            items.append(Path(bar, None, "lead", True))
            if own:
                items.append(Hatch((bar,), 45.0, 0.8, "near"))
            if value > 0.06 * top:
                items.append(
                    Text((middle, tall + 1.2), written(value, 3), 2.95, "figures-bold", "middle", colour="lead")
                )
    items.append(Text((0.0, -9.4), "amplitude by number of waves round the ring, mm", 3.66, "italic", colour="ink2"))
    return Drawing(tuple(items), "Amplitude by number of waves", f"greatest {top:.3f} mm")
