"""A drawing as SVG: self-contained, in millimetres, with titles for readers who cannot see it. Same input, same bytes.

On screen every line has a class and the style sheet asks the page for its colours (`var(--ink, ...)`), so that a dark
page darkens its drawings; on paper colours are written out, black.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from hoopwright.kernels.profile import Point, Segment
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.items import Chain, Drawing
from hoopwright.papers.drawing.pens import FACES, FALLBACKS, PENS, THEMES, Theme, colour, pen
from hoopwright.papers.drawing.strokes import Box, Cluster, Primitive, Stroke, Words, box_of

MARGIN_MM = 1.0


@dataclass(frozen=True, slots=True)
class _Writer:
    """Where the paper's top left lies, how colours are said, and whether lettering is written."""

    left: float
    top: float
    theme: Theme
    lettering: bool

    def xy(self, p: Point) -> str:
        return f"{number(p[0] - self.left)} {number(self.top - p[1])}"


def number(value: float) -> str:
    """A coordinate to the micrometre, without needless zeros.

    >>> number(1.5), number(-0.00001), number(12.34567)
    ('1.5', '0', '12.346')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def svg(
    drawing: Drawing,
    scale: float = 1.0,
    theme: Theme = "screen",
    box: Box | None = None,
    style: bool = True,
    identity: str = "",
) -> str:
    """The drawing as one SVG element.

    Parameters
    ----------
    scale : mm on paper for each mm of the thing drawn.
    box : part of the paper to show (y up); None shows everything with a small margin. [mm]
    style : whether the style sheet stands inside; a page that shows many drawings carries it once (`style_sheet`).
    identity : id of the element, for a page that points to it.
    """
    parts = expand(drawing, scale)
    if box is None:
        x0, y0, x1, y1 = box_of(parts)
        box = (x0 - MARGIN_MM, y0 - MARGIN_MM, x1 + MARGIN_MM, y1 + MARGIN_MM)
    return svg_of(parts, box, drawing.title, drawing.description, theme, style, identity=identity)


def svg_of(
    parts: Sequence[Primitive],
    box: Box,
    title: str,
    description: str = "",
    theme: Theme = "screen",
    style: bool = True,
    lettering: bool = True,
    identity: str = "",
) -> str:
    """Strokes and words as one SVG element; `lettering` off leaves the words to another writer."""
    writer = _Writer(box[0], box[3], theme, lettering)
    width, height = number(box[2] - box[0]), number(box[3] - box[1])
    # a drawing with links in it is a group: as an image its links would be hidden from assistive tools
    role = "group" if _has_link(parts) else "img"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg"{f" id={quoteattr(identity)}" if identity else ""} '
        f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" role="{role}" '
        f"aria-label={quoteattr(title)}>"
    )
    about = f"<title>{escape(title)}</title>" + (f"<desc>{escape(description)}</desc>" if description else "")
    sheet = f"<style>{style_sheet()}</style>" if style and theme == "screen" else ""
    return head + about + sheet + "".join(_part(p, writer) for p in parts) + "</svg>"


def style_sheet() -> str:
    """Style of all drawings on screen: one class a pen, a fill and a face; colours asked from the page."""
    table = THEMES["screen"]

    def shade(role: str) -> str:
        return f"var(--{role},{table[role]})"

    rules = []
    for name, kind in PENS.items():
        dash = f";stroke-dasharray:{' '.join(number(d) for d in kind.dashes_mm)}" if kind.dashes_mm else ""
        cap = ";stroke-linecap:round" if kind.dots else ""
        rules.append(f".hw-{name}{{stroke:{shade(kind.colour)};stroke-width:{number(kind.width_mm)}{dash}{cap}}}")
    rules += [f".hf-{role}{{fill:{shade(role)}}}" for role in table]
    for name, (family, weight, slant) in FACES.items():
        # the page's own style for text must not change lettering that was measured in these fonts
        font = f"font-family:{FALLBACKS[family]};font-weight:{weight};font-style:{slant}"
        rules.append(f".ht-{name}{{{font};font-feature-settings:'tnum'}}")
    return ".hn{fill:none}.hw{stroke-linejoin:round}" + "".join(rules)


def _has_link(parts: Sequence[Primitive]) -> bool:
    return any(isinstance(p, Cluster) and (bool(p.href) or _has_link(p.parts)) for p in parts)


def _has_words(parts: Sequence[Primitive]) -> bool:
    return any(isinstance(p, Words) or (isinstance(p, Cluster) and _has_words(p.parts)) for p in parts)


def _part(part: Primitive, writer: _Writer) -> str:
    if isinstance(part, Stroke):
        return _stroke(part, writer)
    if isinstance(part, Words):
        return _words(part, writer) if writer.lettering else ""
    inner = "".join(_part(p, writer) for p in part.parts)
    title = f"<title>{escape(part.title)}</title>" if part.title else ""
    if part.href and _has_words(part.parts):
        # lettering inside a link is its name already: a second one would be read beside it
        return f"<a href={quoteattr(part.href)}>{inner}</a>"
    if part.href:
        label = f" aria-label={quoteattr(part.title)}" if part.title else ""
        return f"<a href={quoteattr(part.href)}{label}>{title}{inner}</a>"
    return f"<g>{title}{inner}</g>"


def path_data(chain: Chain, closed: bool, writer: _Writer) -> str:
    """Path commands of a chain; an arc stays an arc."""
    return f"M{writer.xy(chain[0].start)}" + "".join(_command(s, writer) for s in chain) + ("Z" if closed else "")


HALF_AND_MORE_RAD = 2.0
"""Sweep from which an arc is written in two pieces: near a half turn its ends say too little about its centre."""


def _command(s: Segment, writer: _Writer) -> str:
    if s.centre is None:
        return f"L{writer.xy(s.end)}"
    size = number(s.radius)
    # y is down in SVG, so a counter-clockwise arc is drawn with the sweep flag off
    sense = "0" if s.ccw else "1"
    pieces = max(1, math.ceil(abs(s.sweep) / HALF_AND_MORE_RAD))
    ends = [s.point_at(s.length * k / pieces) for k in range(1, pieces)]
    return "".join(f"A{size} {size} 0 0 {sense} {writer.xy(p)}" for p in (*ends, s.end))


def _stroke(stroke: Stroke, writer: _Writer) -> str:
    data = "".join(path_data(c, stroke.closed, writer) for c in (stroke.segments, *stroke.more))
    look = _screen_look(stroke) if writer.theme == "screen" else _paper_look(stroke)
    if stroke.title:
        return f'<path d="{data}"{look}><title>{escape(stroke.title)}</title></path>'
    return f'<path d="{data}"{look}/>'


def _screen_look(stroke: Stroke) -> str:
    fill = f"hf-{stroke.fill}" if stroke.fill else "hn"
    return f' class="{fill} hw hw-{stroke.pen}"' if stroke.pen else f' class="{fill}"'


def _paper_look(stroke: Stroke) -> str:
    fill = colour(stroke.fill, "paper") if stroke.fill else "none"
    if stroke.pen is None:
        return f' fill="{fill}"'
    kind = pen(stroke.pen)
    dash = f' stroke-dasharray="{" ".join(number(d) for d in kind.dashes_mm)}"' if kind.dashes_mm else ""
    cap = ' stroke-linecap="round"' if kind.dots else ""
    line = f'stroke="{colour(kind.colour, "paper")}" stroke-width="{number(kind.width_mm)}"'
    return f' fill="{fill}" {line} stroke-linejoin="round"{dash}{cap}'


def _words(words: Words, writer: _Writer) -> str:
    x, y = words.at[0] - writer.left, writer.top - words.at[1]
    anchor = "" if words.anchor == "start" else f' text-anchor="{words.anchor}"'
    place = f'x="{number(x)}" y="{number(y)}"'
    if words.turn_deg:
        place = f'transform="translate({number(x)} {number(y)}) rotate({number(-words.turn_deg)})"'
    if writer.theme == "screen":
        look = f'class="ht-{words.face} hf-{words.colour}"'
    else:
        family, weight, slant = FACES[words.face]
        look = (
            f'font-family="{FALLBACKS[family]}" font-weight="{weight}" font-style="{slant}" '
            f'fill="{colour(words.colour, "paper")}" style="font-feature-settings:\'tnum\'"'
        )
    return f'<text {place} font-size="{number(words.size_mm)}" {look}{anchor}>{escape(words.text)}</text>'
