"""What an eye would find on a sheet: lettering over lettering, lettering over lines, anything outside the frame."""

from __future__ import annotations

from functools import cache

from shapely import STRtree
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.hatching import chain_points
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.drawing.lettering import CAPITAL
from hoopwright.papers.drawing.strokes import Stroke, Words, flat, stroke_box, words_box

SLACK_MM = 0.15


def core(words: Words, room_mm: float = -SLACK_MM) -> BaseGeometry:
    """Where ink of a line of lettering is: between base line and capital height, a hair smaller; room_mm : grown by."""
    left = {"start": 0.0, "middle": -0.5 * words.width_mm, "end": -words.width_mm}[words.anchor]
    level = box(left - room_mm, -room_mm, left + words.width_mm + room_mm, CAPITAL * words.size_mm + room_mm)
    return translate(rotate(level, words.turn_deg, origin=(0.0, 0.0)), *words.at)


def text_over_text(sheet: Drawing, room_mm: float = -SLACK_MM) -> list[tuple[str, str]]:
    """Pairs of lettering that overlap, or come nearer than twice the room asked for."""
    words = [p for p in flat(expand(sheet)) if isinstance(p, Words) and p.text.strip()]
    boxes = [core(w, room_mm) for w in words]
    tree = STRtree(boxes)
    pairs = {(min(a, b), max(a, b)) for a, b in zip(*tree.query(boxes, predicate="intersects"), strict=True) if a != b}
    return [(words[a].text, words[b].text) for a, b in sorted(pairs)]


def text_over_lines(sheet: Drawing, skip: frozenset[str] = frozenset(), room_mm: float = -SLACK_MM) -> list[str]:
    """Lettering that a line crosses, or comes nearer than the room asked for, and no patch of the sheet keeps clear."""
    parts = flat(expand(sheet))
    lines: list[tuple[int, BaseGeometry]] = []
    patches: list[tuple[int, BaseGeometry]] = []
    for k, part in enumerate(parts):
        if isinstance(part, Stroke):
            if part.pen is None:
                if part.fill == "sheet":
                    patches.append((k, Polygon(chain_points(part.segments, 0.05))))
            else:
                lines.append((k, _line(part)))
    tree = STRtree([shape for _, shape in lines])
    found = []
    for word in parts:
        if not isinstance(word, Words) or not word.text.strip() or word.text in skip:
            continue
        place = core(word, room_mm)
        for hit in tree.query(place, predicate="intersects"):
            order = lines[int(hit)][0]
            if not any(k > order and patch.buffer(0.3).contains(place) for k, patch in patches):
                found.append(word.text)
                break
    return found


def _line(stroke: Stroke) -> BaseGeometry:
    chains = (stroke.segments, *stroke.more)
    return MultiLineString([LineString(chain_points(chain, 0.05)) for chain in chains])


def beyond_column(sheet: Drawing, left: float, right: float, foot: float) -> list[str]:
    """Lettering above the foot that runs beyond the column of text."""
    words = [p for p in flat(expand(sheet)) if isinstance(p, Words) and p.text.strip() and p.at[1] > foot]
    boxes = [(w.text, core(w, 0.0).bounds) for w in words]
    return [text for text, (x0, _, x1, _) in boxes if x0 < left - 0.1 or x1 > right + 0.1]


def outside(sheet: Drawing, frame: tuple[float, float, float, float]) -> list[str]:
    """Lettering and lines that leave the frame, the frame's own marks left out."""
    x0, y0, x1, y1 = frame
    found = []
    for part in flat(expand(sheet)):
        a = words_box(part) if isinstance(part, Words) else stroke_box(part)
        inside = a[0] >= x0 - 0.4 and a[1] >= y0 - 0.4 and a[2] <= x1 + 0.4 and a[3] <= y1 + 0.4
        if not inside and not _centring(part):
            found.append(part.text if isinstance(part, Words) else f"{part.pen} line {a}")
    return found


@cache
def _marks() -> frozenset[tuple[tuple[float, float], tuple[float, float]]]:
    from hoopwright.papers.sheet_frame import CENTRING

    return frozenset(CENTRING)


def _centring(part: Stroke | Words) -> bool:
    return isinstance(part, Stroke) and (part.segments[0].start, part.segments[0].end) in _marks()


def smallest_text_mm(sheet: Drawing) -> float:
    """Smallest lettering on a sheet. [mm]"""
    return min(p.size_mm for p in flat(expand(sheet)) if isinstance(p, Words))
