"""The line under a figure that tells its ground: the firmer the line, the firmer the ground."""

from __future__ import annotations

from typing import Final

from hoopwright.errors import InputError
from hoopwright.findings import BASES, Basis
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text
from hoopwright.papers.drawing.lettering import text_width
from hoopwright.papers.drawing.pens import Face

BASIS_WORDS: Final[dict[Basis, str]] = {
    "measured": "measured",
    "read": "read in a source",
    "given": "given by the drawing",
    "derived": "derived here",
    "practice": "shop practice",
    "memory": "from memory",
}


def underline(at: Point, width_mm: float, basis: Basis) -> tuple[Item, ...]:
    """The underline of this basis from `at` to the right; mm on paper."""
    (x, y), end = at, at[0] + width_mm

    def rule(pen: str, down: float = 0.0) -> Path:
        return Path((line((x, y - down), (end, y - down)),), pen)

    if basis == "measured":
        return (rule("measured"),)
    if basis == "read":
        return (rule("fine"), rule("fine", 0.6))
    if basis == "given":
        # a thin line with a tick at its end: somebody drew it
        return (rule("fine"), Path((line((end, y - 0.6), (end, y + 0.6)),), "fine"))
    if basis == "derived":
        return (rule("fine"),)
    if basis == "practice":
        return (rule("dashed"),)
    if basis == "memory":
        return (rule("dotted"),)
    raise InputError("basis", basis, "", "one of " + ", ".join(BASES), "take one of these")


def underlined(at: Point, text: str, size_mm: float, basis: Basis, face: Face = "figures-bold") -> tuple[Item, ...]:
    """A figure on its base line with the underline of its basis."""
    return (Text(at, text, size_mm, face), *underline((at[0], at[1] - 0.95), text_width(text, size_mm, face), basis))


def basis_legend(width_mm: float) -> Drawing:
    """Every underline with its words; mm on paper, origin top left."""
    items: list[Item] = [Text((0.0, -3.0), "The firmer the line, the firmer the ground:", 2.95)]
    x, y = 0.0, -8.0
    for basis in BASES:
        word = BASIS_WORDS[basis]
        size = text_width(word, 2.95, "figures-bold")
        if x + size > width_mm:
            x, y = 0.0, y - 5.0
        items += underlined((x, y), word, 2.95, basis)
        x += size + 6.0
    return Drawing(tuple(items), "underlines and their grounds")
