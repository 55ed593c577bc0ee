"""A roll pair: both contours closed on each other, or one roll as it is turned. Units mm; x along the roll."""

from __future__ import annotations

import math
from itertools import pairwise

from hoopwright.errors import GeometryError, require_positive
from hoopwright.kernels.profile import Point, Profile, Segment, line
from hoopwright.papers.drawing.items import (
    Chain,
    Drawing,
    Hatch,
    Item,
    LinearDimension,
    Path,
    Text,
)
from hoopwright.papers.numbers import radius
from hoopwright.papers.pictures.callouts import Callout, row_of_callouts
from hoopwright.tools.rolls import RollPair

BREAK_MM = 5.0
"""Depth shown below the deepest place of a contour, where the picture is broken off."""


def turning_chain(contour: Profile) -> Chain:
    """Closed chain of a roll's half section: contour, both ends down to the axis, and the axis (y = 0)."""
    if contour.bounds[1] <= 0.0:
        raise GeometryError("roll contour", contour.bounds[1], "mm", "above the roll axis", "use bigger rolls")
    (x0, y0), (x1, y1) = contour.start, contour.end
    return (
        *contour.segments,
        line((x1, y1), (x1, 0.0)),
        line((x1, 0.0), (x0, 0.0)),
        line((x0, 0.0), (x0, y0)),
    )


def flat_radii(contour: Profile, least_mm: float = 1.0) -> tuple[tuple[Point, float], ...]:
    """Middle and radius of every straight of the contour that runs along the roll (a cylinder)."""
    found = []
    for segment in contour.segments:
        level = abs(segment.end[1] - segment.start[1]) < 1e-6
        if not segment.is_arc and level and segment.length >= least_mm:
            found.append((segment.point_at(0.5 * segment.length), segment.start[1]))
    return tuple(found)


def roll_drawing(contour: Profile, name: str, digits: int = 3) -> Drawing:
    """One roll as it is turned, to its axis; layers CONTOUR (closed), CENTRE (axis). Dimensions true."""
    chain = turning_chain(contour)
    (x0, _), (x1, _) = contour.start, contour.end
    top = contour.bounds[3]
    items: list[Item] = [
        Path(chain, "wide", None, True, "CONTOUR", f"half section of {name}"),
        Path((line((x0 - 5.0, 0.0), (x1 + 5.0, 0.0)),), "centre", layer="CENTRE"),
        LinearDimension((x0, 0.0), (x1, 0.0), -8.0, digits, "x"),
    ]
    for (x, r), _r in ((place, value) for place, value in flat_radii(contour)):
        items.append(LinearDimension((x, 0.0), (x, r), 0.0, digits, "y", prefix="R "))
    items.append(Text((x0, top), name, 3.9, "figures-bold", shift=(0.0, 3.0)))
    return Drawing(tuple(items), name, f"roll contour {name}, axis at y = 0")


def _band(contour: Profile, depth: float) -> Chain:
    """The contour closed by a broken edge at y = depth (a zigzag, so that nobody measures there)."""
    (x0, y0), (x1, y1) = contour.start, contour.end
    steps = 6
    points = [(x1 + (x0 - x1) * k / steps, depth + (0.35 if k % 2 else 0.0)) for k in range(steps + 1)]
    edge: list[Segment] = [line(a, b) for a, b in pairwise(points)]
    return (*contour.segments, line((x1, y1), points[0]), *edge, line(points[-1], (x0, y0)))


def _turned_over(contour: Profile, centre_distance: float) -> Profile:
    """The other roll as it stands opposite: y measured from its own axis, far above."""
    return contour.mirrored_y().moved(0.0, centre_distance)


def pair_drawing(
    pair: RollPair, scale: float, strip: Profile | None = None, thickness_mm: float = 0.0, spread_mm: float = 0.0
) -> Drawing:
    """Both rolls about the sheet, broken off towards their axes, with the radius of every flat.

    Parameters
    ----------
    scale : paper scale the labels are laid out for; the drawing is to be shown at it.
    strip : mid-surface of the sheet between them in the frame of the inner roll; None leaves it out.
    spread_mm : what the outer roll is drawn away from the inner one, so that both contours can be read.
    """
    apart = 2.0 * require_positive("pitch radius", pair.pitch_radius_mm, "mm")
    upper = _turned_over(pair.outer, apart + spread_mm)
    low, high = pair.inner.bounds[1] - BREAK_MM, upper.bounds[3] + BREAK_MM
    below, above = _band(pair.inner, low), _band(upper, high)
    items: list[Item] = [
        Path(below, "narrow", "sheet", True),
        Hatch((below,), 45.0, 2.2),
        Path(pair.inner.segments, "wide", title="inner roll"),
        Path(above, "narrow", "sheet", True),
        Hatch((above,), -45.0, 2.2),
        Path(upper.segments, "wide", title="outer roll"),
    ]
    if strip is not None and thickness_mm > 0.0:
        items.append(Path(strip.segments, "other", title="middle of the sheet"))
    below_row = [Callout(place, (radius(r),)) for place, r in flat_radii(pair.inner)]
    above_row = [Callout(place, (radius(apart + spread_mm - r),)) for place, r in flat_radii(upper)]
    items += row_of_callouts(below_row, low - 6.5 / scale, scale)
    items += row_of_callouts(above_row, high + 4.0 / scale, scale)
    words = "inner roll below, outer roll above; radii from each roll's own axis"
    return Drawing(tuple(items), "roll contours", words)


def arcs_of(contour: Profile) -> tuple[tuple[float, float, float], ...]:
    """Every arc of a contour: x of its middle, radius, turn [deg]."""
    found = []
    for segment in contour.segments:
        if segment.is_arc:
            x, _ = segment.point_at(0.5 * segment.length)
            found.append((x, segment.radius, math.degrees(abs(segment.sweep))))
    return tuple(found)
