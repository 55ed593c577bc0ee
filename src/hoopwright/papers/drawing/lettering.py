"""Widths of words in the shipped fonts, and breaking them into lines. Units mm.

widths.json beside the fonts holds the advance of every character with tabular figures on; kerning is left out, so a
width is a little generous. The zero of Hoop Figures is slashed as drawn: the family has, and needs, no feature for it.
"""

from __future__ import annotations

import json
import unicodedata
from functools import lru_cache
from pathlib import Path
from typing import Final

from hoopwright.papers.drawing.pens import Face

FONTS: Final = Path(__file__).resolve().parent.parent / "fonts"

FONT_FILES: Final[dict[str, str]] = {
    "figures": "HoopFigures-Regular.ttf",
    "figures-bold": "HoopFigures-SemiBold.ttf",
    "sentences": "HoopSentences-Regular.ttf",
    "sentences-bold": "HoopSentences-SemiBold.ttf",
    "italic": "HoopSentences-Italic.ttf",
}

CAPITAL: Final = 0.67
"""Height of capitals and figures as share of the font size, both families."""

DESCENT: Final = 0.24
"""Depth of g, j, p below the base line as share of the font size."""

_SPACES: Final = {"\u00a0": None, "\u202f": 200, "\u2009": 200}


@lru_cache(maxsize=1)
def _tables() -> dict[str, dict[str, int]]:
    tables: dict[str, dict[str, int]] = json.loads((FONTS / "widths.json").read_text(encoding="utf-8"))
    return tables


def missing(text: str, face: Face) -> str:
    """Characters of `text` that the face cannot show (thin spaces are made by the writers)."""
    table = _tables()[face]
    return "".join(sorted({c for c in text if c not in table and c not in _SPACES}))


@lru_cache(maxsize=16384)
def text_width(text: str, size_mm: float, face: Face = "figures") -> float:
    """Width of one line of text. [mm]

    >>> round(text_width("00", 10.0), 2) == round(text_width("11", 10.0), 2)
    True
    """
    table = _tables()[face]
    space = table[" "]
    total = 0
    for character in text:
        special = _SPACES.get(character, 0)
        total += table.get(character, 600) if special == 0 else (space if special is None else special)
    return total * size_mm / 1000.0


def wrapped(text: str, size_mm: float, width_mm: float, face: Face = "figures") -> tuple[str, ...]:
    """Break text at plain spaces so that no line is wider than `width_mm`; a longer word stands alone."""
    lines: list[str] = []
    for block in text.split("\n"):
        words = [w for w in block.split(" ") if w]
        current = ""
        for word in words:
            longer = f"{current} {word}" if current else word
            if current and text_width(longer, size_mm, face) > width_mm:
                lines.append(current)
                current = word
            else:
                current = longer
        lines.append(current)
    return tuple(lines)


def wrapped_rich(
    runs: tuple[tuple[str, Face], ...], size_mm: float, width_mm: float
) -> tuple[tuple[tuple[str, Face], ...], ...]:
    """Break runs of text in several faces into lines of runs; runs are joined by a space."""
    lines: list[list[tuple[str, Face]]] = [[]]
    used = 0.0
    for text, face in runs:
        for word in (w for w in text.split(" ") if w):
            gap = text_width(" ", size_mm, face) if lines[-1] else 0.0
            size = text_width(word, size_mm, face)
            if lines[-1] and used + gap + size > width_mm:
                lines.append([])
                used = gap = 0.0
            if lines[-1] and lines[-1][-1][1] == face:
                lines[-1][-1] = (f"{lines[-1][-1][0]} {word}", face)
            else:
                lines[-1].append((word, face))
            used += gap + size
    return tuple(tuple(line) for line in lines)


_STAND_INS: Final = {
    "→": "to",
    "≤": "at most",
    "≥": "at least",
    "≈": "about",
    "√": "root ",
    "∆": "Δ",
    "∅": "Ø",
    "⌀": "Ø",
    "‑": "-",
    "\u2007": " ",
    "\t": " ",
}


def printable(text: str, face: Face) -> tuple[tuple[str, Face], ...]:
    """Text in letters the fonts have: Greek goes to the serif, signs neither family has are said in words.

    A letter that cannot be said otherwise becomes "?", so that a name in another script never stops a sheet.

    >>> printable("ε ≤ 3", "figures")
    (('ε at most 3', 'sentences'),)
    """
    if not missing(text, face):
        return ((text, face),)
    plain = "".join(_STAND_INS.get(c, c) for c in text)
    serif: dict[str, Face] = {"figures": "sentences", "figures-bold": "sentences", "sentences-bold": "sentences"}
    if not missing(plain, face):
        return ((plain, face),)
    other = serif.get(face, face)
    lost = set(missing(plain, other))
    if lost:
        folded = unicodedata.normalize("NFKD", plain)
        plain = "".join(c for c in folded if not unicodedata.combining(c)) if lost else plain
        lost = set(missing(plain, other))
    return (("".join("?" if c in lost else c for c in plain), other),)
