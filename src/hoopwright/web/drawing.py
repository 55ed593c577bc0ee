"""Our drawings on the page: the SVG of the papers, in pixels, with coordinates no finer than a screen can show."""

from __future__ import annotations

import math
import re
from itertools import pairwise

from markupsafe import Markup

from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.drawing.strokes import Box
from hoopwright.papers.drawing.svg import svg

PX_PER_MM = 4.1
"""Pixels for each mm on paper: the least lettering, 2.95 mm, is 12 px high."""

_SIZE = re.compile(r'width="([0-9.]+)mm" height="([0-9.]+)mm"')
_FINE = re.compile(r"(\d\.\d\d)\d+(?=[ LMAZ\"])")


_DATA = re.compile(r'd="([^"]*)"')
_POINT = re.compile(r"-?\d+(?:\.\d+)?")
STRAIGHT_MM = 0.008
"""Points nearer than this to the line through their neighbours are left out: 0.03 px."""


def _lean(found: re.Match[str]) -> str:
    """Path data of straight pieces without points that a screen cannot show; arcs stay as they are."""
    data = found.group(1)
    if "A" in data or data.count("L") < 3:
        return found.group(0)
    return f'd="{"".join(_piece(piece) for piece in data.split("M") if piece)}"'


def _piece(piece: str) -> str:
    numbers = [float(n) for n in _POINT.findall(piece)]
    points = list(zip(numbers[0::2], numbers[1::2], strict=True))
    kept = [points[0]]
    for here, ahead in pairwise(points[1:]):
        (x0, y0), (x1, y1) = kept[-1], ahead
        span = math.hypot(x1 - x0, y1 - y0)
        off = abs((x1 - x0) * (here[1] - y0) - (y1 - y0) * (here[0] - x0)) / span if span else 1.0
        if off > STRAIGHT_MM:
            kept.append(here)
    kept.append(points[-1])
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in kept) + ("Z" if piece.endswith("Z") else "")


def screen(
    drawing: Drawing, scale: float = 1.0, box: Box | None = None, px_per_mm: float = PX_PER_MM, look: str = ""
) -> Markup:
    """A drawing as SVG for the page.

    Parameters
    ----------
    scale : mm on paper for each mm of the thing drawn.
    look : class of the element.
    """
    text = svg(drawing, scale, box=box, style=False)

    def pixels(found: re.Match[str]) -> str:
        width, height = (px_per_mm * float(found.group(k)) for k in (1, 2))
        named = f' class="{look}"' if look else ""
        return f'width="{width:.1f}" height="{height:.1f}"{named}'

    head, close, rest = text.partition(">")
    sized = _SIZE.sub(pixels, head, count=1).replace(' xmlns="http://www.w3.org/2000/svg"', "")
    return Markup(sized + close + _DATA.sub(_lean, _FINE.sub(r"\1", rest)))
