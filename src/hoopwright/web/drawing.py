"""Our drawings on the page: the SVG of the papers, in pixels, with coordinates no finer than a screen can show."""

from __future__ import annotations

import re

from markupsafe import Markup

from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.drawing.strokes import Box
from hoopwright.papers.drawing.svg import svg

PX_PER_MM = 4.1
"""Pixels for each mm on paper: the least lettering, 2.95 mm, is 12 px high."""

_SIZE = re.compile(r'width="([0-9.]+)mm" height="([0-9.]+)mm"')
_FINE = re.compile(r"(\d\.\d\d)\d+(?=[ LMAZ\"])")


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
    return Markup(sized + close + _FINE.sub(r"\1", rest))
