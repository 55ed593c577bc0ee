"""A roll pair: both contours closed on each other, or one roll as it is turned. Units mm; x along the roll."""

from __future__ import annotations

import math
from itertools import pairwise

from hoopwright.errors import GeometryError, require_positive
from hoopwright.kernels.profile import Profile, Segment, line
from hoopwright.papers.drawing.items import Chain, Drawing, Hatch, Item, LinearDimension, Path, Text
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


def is_cylinder(segment: Segment, least_mm: float = 1.0) -> bool:
    """Whether a segment runs along the roll."""
    return not segment.is_arc and abs(segment.end[1] - segment.start[1]) < 1e-6 and segment.length >= least_mm


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
    for segment in contour.segments:
        if is_cylinder(segment):
            x, r = segment.point_at(0.5 * segment.length)
            items.append(LinearDimension((x, 0.0), (x, r), 0.0, digits, "y", prefix="R "))
    for x, r in (contour.start, contour.end):
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


def standing(pair: RollPair, spread_mm: float = 0.0) -> tuple[Profile, Profile]:
    """Inner and outer contour as they stand closed on the sheet, in the frame of the section; pitch point at (0, R_p).

    Conical rolls are cut each in the frame of its own axis; here each is turned back by the tilt of its axis.
    spread_mm : what the outer one is lifted off.
    """
    radius = require_positive("pitch radius", pair.pitch_radius_mm, "mm")
    pitch = (0.0, radius)
    over = pair.outer.mirrored_y().moved(0.0, 2.0 * radius)
    tilt = math.radians(pair.cone_deg)
    return pair.inner.turned(tilt, pitch), over.turned(-tilt, pitch).moved(0.0, spread_mm)


def pair_drawing(pair: RollPair, scale: float, spread_mm: float = 0.0) -> Drawing:
    """Both rolls closed on the sheet, broken off towards their axes, with the radius of every cylinder.

    Parameters
    ----------
    scale : paper scale the labels are laid out for; the drawing is to be shown at it.
    spread_mm : what the outer roll is drawn away from the inner one.
    """
    inner, upper = standing(pair, spread_mm)
    low, high = inner.bounds[1] - BREAK_MM, upper.bounds[3] + BREAK_MM
    below, above = _band(inner, low), _band(upper, high)
    items: list[Item] = [
        Path(below, "narrow", "sheet", True),
        Hatch((below,), 45.0, 2.2),
        Path(inner.segments, "wide", title="inner roll"),
        Path(above, "narrow", "sheet", True),
        Hatch((above,), -45.0, 2.2),
        Path(upper.segments, "wide", title="outer roll"),
    ]
    right = max(inner.bounds[2], upper.bounds[2])
    items += row_of_callouts(_cylinders(pair.inner, inner), low - 6.5 / scale, scale, right_x=right)
    items += row_of_callouts(_cylinders(pair.outer, upper), high + 4.0 / scale, scale, right_x=right)
    words = "inner roll below, outer roll above; radii from each roll's own axis"
    return Drawing(tuple(items), "roll contours", words)


def _cylinders(own: Profile, shown: Profile) -> list[Callout]:
    """Radius of every cylinder of a roll, read in its own frame, led out from where it is shown."""
    found = []
    for mine, there in zip(own.segments, shown.segments, strict=True):
        if is_cylinder(mine):
            found.append(Callout(there.point_at(0.5 * there.length), (radius(mine.start[1]),)))
    return found


def corner_points(contour: Profile) -> tuple[tuple[float, float, float], ...]:
    """Where every segment of a contour begins, and the last ends: x, radius there, radius of the arc that follows.

    The last figure is 0 where a straight follows, positive where the arc bulges away from the axis, else negative.
    """
    found = []
    for segment in contour.segments:
        bend = 0.0 if segment.centre is None else math.copysign(segment.radius, -1.0 if segment.ccw else 1.0)
        found.append((segment.start[0], segment.start[1], bend))
    return (*found, (contour.end[0], contour.end[1], 0.0))
