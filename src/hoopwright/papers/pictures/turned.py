"""A turned tool in half section: hatched above its axis, the radii that matter led out, lengths below. Units mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoopwright.kernels.profile import Profile, line
from hoopwright.papers.drawing.items import Drawing, Hatch, Item, LinearDimension, Path, RadiusDimension
from hoopwright.papers.pictures.callouts import Callout, row_of_callouts


def turned_drawing(
    name: str,
    section: Profile,
    scale: float,
    callouts: Sequence[Callout] = (),
    lengths: Sequence[tuple[float, float]] = (),
    finished: Profile | None = None,
    corners: Profile | None = None,
    digits: int = 2,
) -> Drawing:
    """The section with its axis.

    Parameters
    ----------
    callouts : places and words, led out above. lengths : pairs of x dimensioned below, the first nearest.
    finished : contour drawn on it as a second line (what is left after the next step). corners : its arcs are lettered.
    """
    x0, y0, x1, y1 = section.bounds
    items: list[Item] = [
        Hatch((section.segments,), 45.0, 2.2),
        Path(section.segments, "wide", None, True, "CONTOUR", name),
    ]
    axis = y0 <= 1e-6
    if axis:
        items.append(Path((line((x0 - 4.0 / scale, 0.0), (x1 + 4.0 / scale, 0.0)),), "centre", layer="CENTRE"))
    if finished is not None:
        items.append(Path(finished.segments, "other", title="finished contour"))
    if corners is not None:
        items += _corners(corners, digits)
    items += row_of_callouts(callouts, y1 + 10.0 / scale, scale, right_x=x1)
    for k, (a, b) in enumerate(lengths):
        items.append(LinearDimension((a, y0), (b, y0), -7.0 - 7.0 * k, digits, "x"))
    return Drawing(tuple(items), name, f"half section of {name}")


def _corners(contour: Profile, digits: int) -> list[Item]:
    items: list[Item] = []
    for segment in contour.segments:
        if segment.centre is not None:
            middle = segment.point_at(0.5 * segment.length)
            spoke = math.degrees(math.atan2(middle[1] - segment.centre[1], middle[0] - segment.centre[0]))
            inward = middle[1] > segment.centre[1]
            items.append(RadiusDimension(segment.centre, segment.radius, spoke, -6.0 if inward else 6.0, digits))
    return items
