"""Words on a sheet as blocks: paragraphs, findings with their marks, tables, headings, boxed cautions. mm on paper."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, placed, stacked
from hoopwright.papers.drawing.items import Anchor, Item, Mark, Path, Text, rectangle
from hoopwright.papers.drawing.lettering import printable, text_width, wrapped_rich
from hoopwright.papers.drawing.pens import LEAST_TEXT_MM, Face
from hoopwright.papers.numbers import NO_BREAK

SHORT_TABLE = 16
"""Rows up to which a table is not broken."""

LEADING = 1.36
"""Distance of base lines as share of the font size."""


def paragraph(
    text: str, width_mm: float, size_mm: float = 3.2, face: Face = "sentences", after_mm: float = 1.0
) -> Block:
    """A paragraph in one face."""
    return runs(((text, face),), width_mm, size_mm, after_mm)


def runs(pieces: Sequence[tuple[str, Face]], width_mm: float, size_mm: float, after_mm: float = 1.0) -> Block:
    """A paragraph of pieces in several faces, run on."""
    ready = tuple(piece for text, face in pieces if text for piece in printable(text, face))
    step = LEADING * size_mm
    items: list[Item] = []
    lines = wrapped_rich(ready, size_mm, width_mm)
    for number, row in enumerate(lines):
        x = 0.0
        for text, face in row:
            items.append(Text((x, -(number + 1) * step + 0.3 * size_mm), text, size_mm, face))
            x += text_width(text, size_mm, face) + text_width(" ", size_mm, face)
    return Block(len(lines) * step + after_mm, tuple(items), "paragraph")


def heading(letter: str, words: str, width_mm: float = 180.0) -> Block:
    """A view letter and what the view shows; bound to what follows."""
    shift = 2.2 + text_width(letter, 6.0, "figures-bold")
    items: tuple[Item, ...] = (
        Text((0.0, -6.2), letter, 6.0, "figures-bold"),
        *(Text((shift, -6.2), words_, 3.6, face) for words_, face in printable(words, "figures")[:1]),
    )
    return Block(8.6, items, words, keep=True)


_UNIT = re.compile(r"(?<=\d) (?=(?:%|°|mm|kN|N|MPa|GPa|kg|s|J|t)(?![A-Za-z]))")
_SIGN = re.compile(r"(?<=[ØR±]) (?=[\d])|(?<=\d) (?=±)|(?<=\bz) (?=\d)")


def bound(text: str) -> str:
    """Numbers bound to their units and signs by no-break spaces, so that no line ends between them.

    >>> bound("uses 102 % of R 3.00 at 5 mm")
    'uses 102\xa0% of R\xa03.00 at 5\xa0mm'
    """
    return _SIGN.sub(NO_BREAK, _UNIT.sub(NO_BREAK, text))


def said(text: str, capital: bool = True) -> str:
    """A finding's words as a whole sentence: first letter (where wanted), full stop, numbers bound to their units."""
    words = bound(text.strip())
    if not words:
        return ""
    head = words[0].upper() if capital else words[0]
    return head + words[1:] + ("" if words.endswith((".", "?")) else ".")


def finding_block(finding: Finding, number: int, width_mm: float, size_mm: float = 3.2) -> Block:
    """A finding: its mark, the sentence bold, the reason, and the remedy."""
    inner = width_mm - 8.5
    text = runs(((said(finding.sentence), "sentences-bold"), (said(finding.why), "sentences")), inner, size_mm, 0.4)
    remedy = said(finding.remedy, capital=False)
    if remedy:
        body = stacked([text, runs((("Do:", "figures-bold"), (remedy, "figures")), inner, LEAST_TEXT_MM, 0.0)])
    else:
        body = text
    items: list[Item] = [Mark((3.2, -3.4), number, finding.level)]
    items.append(placed(body, 8.5, 0.0))
    return Block(max(body.height_mm, 7.0) + 2.2, tuple(items), f"finding {number}")


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its head, width [mm], where its cells stand and their face."""

    head: str
    width_mm: float
    anchor: Anchor = "end"
    face: Face = "figures"


def table(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], size_mm: float = 2.95, marked: int | None = None,
    barred: tuple[int, int] | None = None, title: str = "table",
) -> tuple[Block, ...]:  # fmt: skip
    """A table as one block a row: a short one stays on one page, a long one breaks between rows, its heads said again.

    marked : row printed in reverse. barred : first and last row beside which a heavy rule stands.

    Raises
    ------
    InputError
        A row has not one cell a column.
    """
    width = sum(c.width_mm for c in columns)
    step = 1.6 * size_mm
    heads = _cells(columns, [c.head for c in columns], step, size_mm, "ink", "figures-bold")
    head = Block(step + 0.6, (*heads, Path((line((0.0, -step), (width, -step)),), "wide")), title, True)
    blocks = [head]
    for number, cells in enumerate(rows):
        if len(cells) != len(columns):
            raise InputError(f"{title} row {number}", len(cells), "", f"{len(columns)} cells", "fill every column")
        items: list[Item] = []
        reverse = number == marked
        if reverse:
            items.append(Path(rectangle(0.0, -step, width, 0.0), None, "ink", True))
        items += _cells(columns, list(cells), step, size_mm, "sheet" if reverse else "ink", None)
        if not reverse:
            items.append(Path((line((0.0, -step), (width, -step)),), "fine"))
        if barred is not None and barred[0] <= number <= barred[1]:
            items.append(Path((line((-1.2, 0.0), (-1.2, -step)),), "heavy"))
        blocks.append(Block(step, tuple(items), title, number + 1 < len(rows) <= SHORT_TABLE, head))
    return tuple(blocks)


def _cells(
    columns: Sequence[Column], cells: Sequence[str], step: float, size: float, colour: str, face: Face | None
) -> list[Item]:
    items: list[Item] = []
    x, y = 0.0, -step + 0.42 * size
    for column, cell in zip(columns, cells, strict=True):
        at = {"start": x + 0.8, "middle": x + 0.5 * column.width_mm, "end": x + column.width_mm - 0.8}[column.anchor]
        for text, used in printable(cell, face or column.face)[:1]:
            items.append(Text((at, y), text, size, used, column.anchor, colour=colour))
        x += column.width_mm
    return items


def boxed(block: Block, width_mm: float, pad_mm: float = 2.6) -> Block:
    """A block in a wide frame."""
    height = block.height_mm + 2.0 * pad_mm
    frame = Path(rectangle(0.25, -height + 0.25, width_mm - 0.25, -0.25), "wide", None, True)
    return Block(height, (frame, placed(block, pad_mm, -pad_mm)), block.title)
