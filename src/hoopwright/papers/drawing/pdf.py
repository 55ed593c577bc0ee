"""Drawings as the pages of a PDF: the lines of the SVG and real text in embedded fonts. Same input, same bytes.

Nothing is ever pasted into the typesetter's source: everything goes in as JSON.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from hoopwright.errors import InputError
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.drawing.lettering import FONTS, missing
from hoopwright.papers.drawing.pens import FACES, colour
from hoopwright.papers.drawing.strokes import Primitive, Words, flat
from hoopwright.papers.drawing.svg import svg_of
from hoopwright.papers.numbers import THIN

A4_MM: Final = (210.0, 297.0)
TEMPLATE: Final = Path(__file__).resolve().parent / "sheet.typ"
BACK: Final = {"start": 0.0, "middle": 0.5, "end": 1.0}


def pdf(sheets: Sequence[Drawing], title: str, date: dt.date, size_mm: tuple[float, float] = A4_MM) -> bytes:
    """Sheets as one PDF (PDF/A-2b), one page each; a sheet's origin is its lower left corner, in mm.

    Raises
    ------
    InputError
        No sheet, or lettering with a character its font does not have.
    """
    if not sheets:
        raise InputError("sheets", 0, "", "at least one", "give a sheet to print")
    import typst

    job = {
        "title": title,
        "year": date.year,
        "month": date.month,
        "day": date.day,
        "width": size_mm[0],
        "height": size_mm[1],
        "sheets": [_page(sheet, size_mm) for sheet in sheets],
    }
    # the moment of making is the date on the sheet, so that the same input gives the same bytes
    moment = int(dt.datetime(date.year, date.month, date.day, tzinfo=dt.UTC).timestamp())
    made: bytes = typst.compile(
        TEMPLATE,
        font_paths=[FONTS],
        ignore_system_fonts=True,
        timestamp=moment,
        pdf_standards="a-2b",
        sys_inputs={"job": json.dumps(job, ensure_ascii=False)},
    )
    return made


def _page(sheet: Drawing, size_mm: tuple[float, float]) -> dict[str, Any]:
    parts = expand(sheet)
    box = (0.0, 0.0, size_mm[0], size_mm[1])
    lines = svg_of(parts, box, sheet.title, sheet.description, "paper", lettering=False)
    return {"title": sheet.title, "lines": lines, "words": _words(parts, size_mm[1])}


def _words(parts: Sequence[Primitive], height_mm: float) -> list[dict[str, Any]]:
    found = []
    for words in flat(parts):
        if isinstance(words, Words) and words.text:
            _require_letters(words)
            family, weight, slant = FACES[words.face]
            found.append(
                {
                    "text": words.text.replace(THIN, " "),
                    "x": round(words.at[0], 4),
                    "y": round(height_mm - words.at[1], 4),
                    "size": words.size_mm,
                    "font": family,
                    "weight": weight,
                    "slant": slant,
                    "fill": colour(words.colour, "paper"),
                    "turn": round(words.turn_deg, 4),
                    "back": BACK[words.anchor],
                }
            )
    return found


def _require_letters(words: Words) -> None:
    strange = missing(words.text, words.face)
    if strange:
        raise InputError(
            f"lettering {words.text!r}",
            strange,
            "",
            f"letters that {FACES[words.face][0]} has",
            "write it in other letters, or set it in the other family",
        )
