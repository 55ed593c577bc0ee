"""The ring on its segments seen along the axis: at true scale, and with every departure from round drawn larger."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, circle, polyline
from hoopwright.papers.hooping.view import HitView, Trace
from hoopwright.papers.numbers import written
from hoopwright.process.workpiece import Array

BORE_SHARE = 0.55
"""Radius to which a segment is sketched inward, as share of the turned radius."""

ARC_POINTS = 25
DEPARTURE_SHARE = 0.12
TIMES = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
"""Factors a departure is drawn larger by."""


def place(radius_mm: float, clock_rad: float) -> Point:
    """Point at a clock angle: 0 at the top, clockwise."""
    return radius_mm * math.sin(clock_rad), radius_mm * math.cos(clock_rad)


def _polar(x: Array, y: Array) -> tuple[Array, Array]:
    return np.arctan2(x, y), np.hypot(x, y)


def segment_outline(view: HitView, position_mm: float) -> tuple[Array, Array]:
    """Rounded face of segment 1 as clock angle [rad] and radius [mm], edge to edge, shapes (m,)."""
    r, half, blunt = view.turned_mm, 0.5 * view.slot_mm, view.edge_radius_mm
    # the face's arc ends where the edge's rounding begins, which ends square to the slot's side
    end = 0.5 * view.pitch_rad - math.asin((half + blunt) / (r - blunt))
    arc = np.linspace(-end, end, ARC_POINTS)
    turn = np.linspace(0.0, 0.5 * view.pitch_rad + 0.5 * math.pi - end, 7)
    cx, cy = (r - blunt) * math.sin(end), (r - blunt) * math.cos(end)
    ex, ey = cx + blunt * np.sin(end + turn), cy + blunt * np.cos(end + turn)
    x = np.concatenate((-ex[::-1], r * np.sin(arc), ex))
    y = np.concatenate((ey[::-1], r * np.cos(arc), ey)) + (position_mm - r)
    return _polar(x, y)


def exaggeration(view: HitView, state: str) -> float:
    """Largest round factor that keeps the ring's departure from its mean radius within a tenth of the radius."""
    trace = _state(view, state)
    most = float(np.max(np.abs(trace.radius_mm - trace.mean_mm)))
    room = DEPARTURE_SHARE * trace.mean_mm
    return max((times for times in TIMES if times * most <= room), default=1.0)


def _state(view: HitView, state: str) -> Trace:
    known = {"incoming": view.incoming, "loaded": view.loaded, "free": view.free}
    if state not in known:
        raise InputError("state of the ring", state, "", "one of " + ", ".join(known), "take one of these")
    return known[state]


def ring_on_segments(view: HitView, state: str = "loaded", times: float = 1.0) -> Drawing:
    """The ring's axis on or off the segments; `times` draws departures from its mean radius that much larger.

    state : "incoming", "loaded" or "free"; the segments stand at the end of the hit. At `times` above 1 the mean circle
    of the ring is drawn on that of the segments' faces, so that a loaded ring touches where it does.

    Raises
    ------
    InputError
        A state that is none; a factor not above 0.
    """
    require_positive("exaggeration", times)
    trace = _state(view, state)
    shift = view.loaded.mean_mm - trace.mean_mm if times > 1.0 else 0.0
    trace = Trace(trace.clock_rad, trace.radius_mm + shift)
    base = view.loaded.mean_mm
    height = base - view.position_mm
    items: list[Item] = []
    angle, radius = segment_outline(view, view.position_mm)
    # the rounded edges fall away steeply: drawn out they would cross the middle of the picture
    face = np.maximum(base + times * (radius + height - base), (1.0 - DEPARTURE_SHARE) * base)
    bore = BORE_SHARE * view.turned_mm
    for k in range(view.count):
        turn = k * view.pitch_rad
        side = math.asin(min(1.0, 0.5 * view.slot_mm / bore))
        rim = [place(float(a), float(b + turn)) for a, b in zip(face, angle, strict=True)]
        back = [place(bore, turn + s * (0.5 * view.pitch_rad - side)) for s in (1.0, 0.5, 0.0, -0.5, -1.0)]
        items.append(Path(polyline([*rim, *back], closed=True), "narrow", "metal", True, title=f"segment {k + 1}"))
        items.append(Text(place(0.5 * (bore + base), turn), str(k + 1), 3.9, "figures-bold", "middle", (0.0, -1.3)))
    if times > 1.0:
        items.append(Path(circle((0.0, 0.0), base), "hair", title="mean radius"))
    items.append(_line(trace, base, times, "reckoned", f"the ring, {state}"))
    if view.seam_rad is not None:
        items += _seam(trace, view.seam_rad, base, times)
    words = f"{view.name}, hit {view.number} of {view.of}, {_WORDS[state]}"
    scale = "at true scale" if times == 1.0 else f"departures from round × {written(times, 0)}"
    return Drawing(tuple(items), f"{words}, {scale}", f"{view.count} segments; {scale}")


_WORDS = {"incoming": "as welded", "loaded": "on the segments", "free": "let off"}


def _line(trace: Trace, base: float, times: float, pen: str, title: str) -> Path:
    points = [
        place(base + times * (float(r) - base), float(t)) for t, r in zip(trace.clock_rad, trace.radius_mm, strict=True)
    ]
    return Path(polyline(points, closed=True), pen, title=title)


def _seam(trace: Trace, seam: float, base: float, times: float) -> list[Item]:
    radius = base + times * (float(np.interp(seam, trace.clock_rad, trace.radius_mm, period=2.0 * np.pi)) - base)
    tick = 0.035 * base
    ends = place(radius - tick, seam), place(radius + tick, seam)
    side = "start" if math.sin(seam) >= 0.0 else "end"
    word = Text(place(radius + 1.6 * tick, seam), "seam", 2.95, "figures", side, (0.0, -1.0))  # type: ignore[arg-type]
    return [Path((line(*ends),), "wide", title="the seam"), word]
