"""Blocks of a sheet: things of a known height that are set one under the other, and broken over pages between them.

A block's own origin is its top left corner; it draws downward, mm on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hoopwright.errors import InputError
from hoopwright.papers.drawing.items import Drawing, Item, Placed
from hoopwright.papers.drawing.strokes import Box


@dataclass(frozen=True, slots=True)
class Block:
    """Something of a known height. title : what it is, for a reader who cannot see it.

    keep : it stays on one page with the block after it (a heading with its table). again : what is said again above
    it where it opens a page (the heads of a table that runs on).
    """

    height_mm: float
    items: tuple[Item, ...]
    title: str = ""
    keep: bool = False
    again: Block | None = None


def placed(block: Block, x: float, top: float) -> Placed:
    """The block with its top left corner at (x, top)."""
    return Placed(Drawing(block.items, block.title), (x, top), 1.0)


def stacked(blocks: Sequence[Block], gap_mm: float = 0.0, title: str = "", keep: bool = False) -> Block:
    """Blocks under each other, as one that is not broken."""
    items: list[Item] = []
    down = 0.0
    for number, block in enumerate(blocks):
        down += gap_mm if number else 0.0
        items.append(placed(block, 0.0, -down))
        down += block.height_mm
    return Block(down, tuple(items), title, keep)


def beside(blocks: Sequence[tuple[float, Block]], title: str = "", keep: bool = False) -> Block:
    """Blocks beside each other at their x, as one."""
    items = tuple(placed(block, x, 0.0) for x, block in blocks)
    return Block(max(block.height_mm for _, block in blocks), items, title, keep)


def kept(block: Block) -> Block:
    """The block bound to the one after it."""
    return replace(block, keep=True)


def space(height_mm: float) -> Block:
    """Nothing, of this height."""
    return Block(height_mm, ())


def picture(drawing: Drawing, box: Box, scale: float, x: float = 0.0, title: str = "") -> Block:
    """A drawing as a block: `box` is what it covers on paper at this scale, about its own origin. [mm]"""
    x0, _, _, y1 = box
    return Block(box[3] - box[1], (Placed(drawing, (x - x0, -y1), scale),), title or drawing.title)


def flowed(blocks: Sequence[Block], first_mm: float, next_mm: float) -> tuple[tuple[tuple[float, Block], ...], ...]:
    """Blocks set into pages: for each page, each block with its distance from the top of the text area.

    Raises
    ------
    InputError
        A block, with those it is bound to, is taller than a page.
    """
    pages: list[list[tuple[float, Block]]] = [[]]
    down, room = 0.0, first_mm
    for bundle in _bundles(blocks):
        height = sum(block.height_mm for block in bundle)
        if down + height > room + 1e-6:
            if height > next_mm + 1e-6:
                title = next((b.title for b in bundle if b.title), "block")
                raise InputError(f"height of {title}", round(height, 1), "mm", f"at most {next_mm:g}", "break it")
            pages.append([])
            down, room = 0.0, next_mm
            again = bundle[0].again
            if again is not None and again.height_mm + height <= next_mm + 1e-6:
                pages[-1].append((0.0, again))
                down = again.height_mm
        for block in bundle:
            # nothing but air at the top of a page would look like a mistake
            if not (down == 0.0 and not block.items):
                pages[-1].append((down, block))
                down += block.height_mm
    return tuple(tuple(page) for page in pages if page)


def _bundles(blocks: Sequence[Block]) -> list[list[Block]]:
    """Blocks that must stay on one page, together."""
    bundles: list[list[Block]] = []
    bound = False
    for block in blocks:
        if bound:
            bundles[-1].append(block)
        else:
            bundles.append([block])
        bound = block.keep
    return bundles
