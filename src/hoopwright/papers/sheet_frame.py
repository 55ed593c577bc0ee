"""The frame of a sheet: A4, 20 mm at the left and 10 mm elsewhere, centring marks, head, foot (manner of ISO 5457,
from memory). A sheet that a stop holds back says so in its head, and has no lines to sign on.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, placed
from hoopwright.papers.drawing.items import Item, Mark, Path, Text, rectangle
from hoopwright.papers.drawing.lettering import printable, text_width
from hoopwright.papers.prose import runs

LEFT, RIGHT, BOTTOM, TOP = 20.0, 200.0, 10.0, 287.0
INNER_LEFT, INNER_RIGHT = 24.0, 196.0
INNER_WIDTH = INNER_RIGHT - INNER_LEFT
FOOT_MM = 12.0
HEAD_MM, NEXT_HEAD_MM = 24.0, 12.5
AIR_MM = 3.0
SIGNATURES = ("made", "checked", "released")


@dataclass(frozen=True, slots=True)
class Title:
    """What a sheet says of itself.

    number, purpose : large in the head. marks : short statements under it ("all data invented"). held : sentence of the
    stop that holds it back; "" when none does. drawn_from, revision, inputs, date : foot, as printed.
    """

    number: str
    purpose: str
    drawn_from: str
    revision: str
    inputs: str
    date: str
    marks: tuple[str, ...] = ()
    held: str = ""
    more_stops: int = 0


def head_height(title: Title, first: bool) -> float:
    """Height of the head of a first or a following page. [mm]"""
    if not first:
        return NEXT_HEAD_MM
    below = max(5.0, _marks(title).height_mm + 1.8) if title.marks else 0.0
    return max(HEAD_MM + below, _held(title).height_mm + 6.0 if title.held else 0.0)


def text_room(title: Title, first: bool) -> float:
    """Height between head and foot that blocks may use. [mm]"""
    return TOP - BOTTOM - FOOT_MM - head_height(title, first) - 2.0 * AIR_MM


def text_top(title: Title, first: bool) -> float:
    """Height above the lower edge at which blocks begin. [mm]"""
    return TOP - head_height(title, first) - AIR_MM


def framed(title: Title, page: int, pages: int) -> tuple[Item, ...]:
    """Frame, centring marks, head and foot of one page."""
    first = page == 1
    below = TOP - head_height(title, first)
    items: list[Item] = [
        Path(rectangle(LEFT, BOTTOM, RIGHT, TOP), "frame", None, True),
        Path((line((LEFT, below), (RIGHT, below)),), "wide"),
        *(Path((line(a, b),), "wide") for a, b in CENTRING),
        *(_first_head(title) if first else _next_head(title)),
        *_foot(title, page, pages),
    ]
    return tuple(items)


CENTRING = (
    ((105.0, TOP + 5.0), (105.0, TOP)),
    ((105.0, BOTTOM - 5.0), (105.0, BOTTOM)),
    ((LEFT - 5.0, 148.5), (LEFT, 148.5)),
    ((RIGHT + 5.0, 148.5), (RIGHT, 148.5)),
)


def _first_head(title: Title) -> list[Item]:
    number, face = printable(title.number, "sentences")[0]
    size = min(11.0, 11.0 * 70.0 / max(70.0, text_width(number, 11.0, face)))
    items: list[Item] = [Text((INNER_LEFT, TOP - 11.8), number, size, face)]
    purpose, face = printable(title.purpose, "figures")[0]
    items.append(Text((INNER_LEFT, TOP - 19.5), purpose, 3.9, face))
    if title.marks:
        items.append(placed(_marks(title), INNER_LEFT, TOP - 21.6))
    if title.held:
        items.append(Mark((INNER_LEFT + 85.5, TOP - 7.0), 1, "stop"))
        items.append(placed(_held(title), INNER_LEFT + 90.5, TOP - 3.0))
        return items
    for k, word in enumerate(SIGNATURES):
        x = INNER_LEFT + 92.0 + 27.5 * k
        items.append(Text((x, TOP - 6.4), word, 2.95))
        items.append(Path((line((x, TOP - 19.5), (x + 24.0, TOP - 19.5)),), "narrow"))
    return items


def _marks(title: Title) -> Block:
    """Short statements under the purpose: across the sheet, or left of what holds it back."""
    width = 80.0 if title.held else INNER_WIDTH
    return runs((("; ".join(title.marks) + ".", "figures-bold"),), width, 3.2, 0.0)


def _held(title: Title) -> Block:
    more = f"{title.more_stops} more below." if title.more_stops else ""
    pieces = (("Held back.", "sentences-bold"), (title.held, "sentences"), (more, "sentences"))
    return runs([p for p in pieces if p[0]], INNER_WIDTH - 90.5, 3.4, 0.0)  # type: ignore[misc]


def _next_head(title: Title) -> list[Item]:
    number, face = printable(title.number, "sentences")[0]
    items: list[Item] = [Text((INNER_LEFT, TOP - 8.6), number, 6.0, face)]
    right = ("Held back. " if title.held else "") + "; ".join([title.purpose, *title.marks])
    words, face = printable(right, "figures")[0]
    items.append(Text((INNER_RIGHT, TOP - 8.4), words, 2.95, face, "end"))
    return items


def _foot(title: Title, page: int, pages: int) -> list[Item]:
    cells = (
        ("drawn from", title.drawn_from, 46.0),
        ("set", title.revision, 20.0),
        ("inputs", title.inputs, 38.0),
        ("date", title.date, 34.0),
        ("sheet", f"{page} of {pages}", 24.0),
        ("size", "A4", 18.0),
    )
    top = BOTTOM + FOOT_MM
    items: list[Item] = [Path((line((LEFT, top), (RIGHT, top)),), "wide")]
    x = LEFT
    for number, (head, value, width) in enumerate(cells):
        if number:
            items.append(Path((line((x, BOTTOM), (x, top)),), "narrow"))
        items.append(Text((x + 1.6, top - 4.2), head, 2.95))
        text, face = printable(value, "figures-bold")[0]
        size = min(3.9, 3.9 * (width - 3.0) / max(width - 3.0, text_width(text, 3.9, face)))
        items.append(Text((x + 1.6, BOTTOM + 2.3), text, size, face))
        x += width
    return items
